//! Currencies and amounts.

/// An ISO 4217 currency.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Currency {
    /// Three letters.
    pub code: String,
    /// Minor digits.
    pub digits: u32,
    /// Name of the unit in words, plural, as "shillings".
    pub unit: String,
    /// Name of the minor unit in words, plural, as "cents".
    pub minor: String,
}
