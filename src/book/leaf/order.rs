//! Where a new field goes among those that are there.

/// The canonical order of a record's fields. A nested field stands in it by its path, `makeup.strength`; what is not in
/// it comes after what is, by name.
#[derive(Debug, Clone, Copy)]
pub(in crate::book) struct Order<'o>(pub(in crate::book) &'o [&'o str]);

impl Order<'_> {
    /// What to sort the field of a struct by; `within` is the path of the struct, empty for the record itself.
    pub(in crate::book) fn key<'n>(self, within: &str, name: &'n str) -> (usize, &'n str) {
        let dotted = if within.is_empty() { name.to_owned() } else { format!("{within}.{name}") };
        (self.0.iter().position(|o| *o == dotted).unwrap_or(usize::MAX), name)
    }

    /// Where a field goes among others: before the first that comes after it, or at the end.
    pub(in crate::book) fn place<'n>(
        self,
        within: &str,
        mut others: impl ExactSizeIterator<Item = &'n str>,
        name: &str,
    ) -> usize {
        let count = others.len();
        let key = self.key(within, name);
        others.position(|other| self.key(within, other) > key).unwrap_or(count)
    }
}
