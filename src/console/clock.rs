//! What time it is, and whose hand it is: the library does not know by itself.

use std::fmt;
use std::sync::Arc;

use crate::book::Occasion;

/// Tells the time, who works here, and a number that is another one each time.
#[derive(Clone)]
pub struct Clock(Arc<dyn Fn() -> Occasion + Send + Sync>);

impl Clock {
    /// A clock that asks a function.
    pub fn new(tell: impl Fn() -> Occasion + Send + Sync + 'static) -> Self {
        Self(Arc::new(tell))
    }

    /// Now.
    pub fn now(&self) -> Occasion {
        (self.0)()
    }
}

impl fmt::Debug for Clock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Clock")
    }
}
