//! What the place a report goes to can show.

/// What the place a report goes to can show; decided by the caller, who knows the terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Style {
    /// Columns a line may take; 0 is read as 1.
    pub width: usize,
    /// Whether colour and weight may be used. They never carry a meaning alone.
    pub colour: bool,
    /// Whether rules, gauges and marks may leave ASCII. Names and texts are shown as they are either way.
    pub unicode: bool,
}

impl Default for Style {
    /// An 80 column screen, without colour.
    fn default() -> Self {
        Self { width: 80, colour: false, unicode: true }
    }
}
