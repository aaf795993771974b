//! How loud a piece of text is.

/// How loud a piece of text is. It shows only where colour may be used, so the words must do without it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tone {
    /// As any other text.
    #[default]
    Plain,
    /// What the eye should find first.
    Strong,
    /// What may be skipped.
    Quiet,
    /// Where it should be.
    Good,
    /// Worth a second look.
    Warn,
}
