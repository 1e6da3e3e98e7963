//! Where a figure comes from.

/// A citation: a publication, or plainly "recalled" or "common practice, no source".
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Source {
    /// Title, body, year, clause or table, in one line; or "common practice, no source".
    pub text: String,
    /// Where it was read; empty when it was not.
    pub seen: String,
    /// A value from memory.
    pub recalled: bool,
    /// Since when it holds as far as the source says, else when it was entered: `1974`, `2026-11-25`.
    pub from: String,
    /// Anything to add.
    pub note: String,
}

impl std::fmt::Display for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text)?;
        if self.recalled { f.write_str(" (recalled)") } else { Ok(()) }
    }
}
