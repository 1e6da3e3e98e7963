//! Currencies and amounts.

/// How large numbers are grouped, in figures and in words.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grouping {
    /// Thousand, million, billion (a thousand million) and so on; 12 345 678.
    #[default]
    Thousands,
    /// Thousand, lakh, crore; 1,23,45,678.
    LakhCrore,
}

impl Grouping {
    /// As `[job] numbers` says it; thousands where it says nothing.
    #[must_use]
    pub fn said(word: &str) -> Self {
        if word == "lakh-crore" { Self::LakhCrore } else { Self::Thousands }
    }

    /// As `[job] numbers` says it.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Thousands => "thousands",
            Self::LakhCrore => "lakh-crore",
        }
    }
}

/// An ISO 4217 currency.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Currency {
    /// Three letters.
    pub code: String,
    /// Minor digits.
    pub digits: u32,
    /// Name of the unit in words, plural, as "shillings".
    pub unit: String,
    /// Name of the minor unit in words, plural, as "cents"; empty where the smallest part has no name.
    pub minor: String,
    /// Names of one unit and of one minor unit; empty where they are the plural less its s.
    pub one: [String; 2],
    /// How this job's amounts are grouped.
    pub grouping: Grouping,
}

impl Currency {
    /// The name for so many units.
    #[must_use]
    pub fn unit_for(&self, n: u128) -> &str {
        counted(n, &self.unit, &self.one[0])
    }

    /// The name for so many minor units.
    #[must_use]
    pub fn minor_for(&self, n: u128) -> &str {
        counted(n, &self.minor, &self.one[1])
    }
}

fn counted<'a>(n: u128, many: &'a str, one: &'a str) -> &'a str {
    match (n, one) {
        (1, "") => many.strip_suffix('s').unwrap_or(many),
        (1, one) => one,
        _ => many,
    }
}
