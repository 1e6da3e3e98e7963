//! Heads of columns in the words of the trade, and what else a head says: `Rate (UGX) excl. VAT`, `Price per 1000`.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::notes::{TaxSaid, tax_said};
use super::units;

/// Our columns. The first eight are those of a list in our own form, in their order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Column {
    /// Work, material, labour or plant.
    Kind,
    /// Our code.
    Code,
    /// The list's words.
    Description,
    /// Unit.
    Unit,
    /// Rate.
    Rate,
    /// ISO 4217 code.
    Currency,
    /// Day of the rate.
    Date,
    /// Who said so.
    Source,
    /// Per cent of tax in the rate.
    Tax,
    /// For how many units the rate is.
    Per,
}

impl Column {
    /// All, in order.
    pub const ALL: [Self; 10] = [
        Self::Kind,
        Self::Code,
        Self::Description,
        Self::Unit,
        Self::Rate,
        Self::Currency,
        Self::Date,
        Self::Source,
        Self::Tax,
        Self::Per,
    ];

    /// Those of a list in our own form.
    pub(crate) fn own() -> impl Iterator<Item = Self> {
        Self::ALL.into_iter().take(8)
    }

    /// Its name in our own form.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Kind => "kind",
            Self::Code => "code",
            Self::Description => "description",
            Self::Unit => "unit",
            Self::Rate => "rate",
            Self::Currency => "currency",
            Self::Date => "date",
            Self::Source => "source",
            Self::Tax => "tax",
            Self::Per => "per",
        }
    }

    /// Other heads it goes by, those that leave no doubt first; and those that give way to any other.
    const fn words(self) -> (&'static [&'static str], &'static [&'static str]) {
        match self {
            Self::Kind => (&["type", "category", "class"], &[]),
            Self::Code => {
                (&["our code", "work code", "item code", "price code"], &["ref", "reference", "sku"])
            }
            Self::Description => (
                &[
                    "desc",
                    "item description",
                    "description of work",
                    "description of works",
                    "particulars",
                    "item name",
                    "description of item",
                    "description of goods",
                    "product",
                    "product name",
                    "product description",
                ],
                &[
                    "item",
                    "items",
                    "material",
                    "materials",
                    "name",
                    "goods",
                    "article",
                    "work",
                    "works",
                    "details",
                    "trade",
                ],
            ),
            Self::Unit => (
                &["units", "uom", "unit of measure", "unit of measurement", "u m", "measure"],
                &["qty unit", "pack"],
            ),
            Self::Rate => (
                &[
                    "unit rate",
                    "price",
                    "unit price",
                    "rates",
                    "prices",
                    "price per unit",
                    "rate per unit",
                    "unit cost",
                    "cost per unit",
                    "selling price",
                    "basic price",
                    "basic rate",
                ],
                &["cost"],
            ),
            Self::Currency => (&["curr", "ccy"], &[]),
            Self::Date => (
                &[
                    "price date",
                    "date of price",
                    "dated",
                    "as of",
                    "as at",
                    "valid from",
                    "effective date",
                    "effective from",
                    "quotation date",
                    "date of quotation",
                ],
                &["updated", "last updated"],
            ),
            Self::Source => (
                &[
                    "supplier",
                    "shop",
                    "vendor",
                    "merchant",
                    "quoted by",
                    "quotation",
                    "dealer",
                    "source of price",
                ],
                &["from", "where", "obtained from", "supplied by", "remarks on source"],
            ),
            Self::Tax => (&["tax rate", "tax included"], &[]),
            Self::Per => (&["price for", "rate for", "price basis"], &[]),
        }
    }
}

/// What the user says of heads, by [`head_key`]: the column it is, or none where nothing reads it.
pub type Heads = BTreeMap<String, Option<Column>>;

/// What a head is known by: its words in small letters.
#[must_use]
pub fn head_key(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// A column of a list, and what it was taken as.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Headed {
    /// As the list heads it.
    pub head: String,
    /// What it is; `None` where nothing reads it.
    pub column: Option<Column>,
    /// The first cell below it that says anything.
    pub sample: String,
}

/// Reads a head as the user says, else by its words.
pub(crate) fn read_as(text: &str, said: &Heads) -> Option<HeadCell> {
    let Some(told) = said.get(&head_key(text)) else { return read(text) };
    let column = (*told)?;
    let seen = read(text).filter(|h| h.column == column);
    // In a head of other words only brackets tell a currency from a word in capitals.
    let inside = text.split(['(', '[']).nth(1).and_then(|t| t.split([')', ']']).next());
    let inside = inside.map(str::trim).filter(|t| t.len() == 3 && t.bytes().all(|b| b.is_ascii_uppercase()));
    let new =
        || HeadCell { column, rank: 0, currency: inside.map(str::to_owned), tax: tax_said(text), per: None };
    Some(HeadCell { rank: 0, ..seen.unwrap_or_else(new) })
}

/// The longest head, in bytes.
const LONGEST: usize = 80;

/// What the head of one column says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct HeadCell {
    pub(crate) column: Column,
    /// 0 our own name, 1 another, 2 a name that gives way.
    pub(crate) rank: u8,
    pub(crate) currency: Option<String>,
    pub(crate) tax: TaxSaid,
    /// Of a rate: for how many units.
    pub(crate) per: Option<u32>,
}

/// Reads a head; nothing where it is none of ours.
pub(crate) fn read(text: &str) -> Option<HeadCell> {
    if text.len() > LONGEST {
        return None;
    }
    let tax = tax_said(text);
    let mut currency = None;
    let mut words = Vec::new();
    let spaced: String =
        text.chars().map(|c| if c.is_alphanumeric() || c == '%' { c } else { ' ' }).collect();
    for word in spaced.split_whitespace() {
        let capitals = word.len() == 3 && word.bytes().all(|b| b.is_ascii_uppercase());
        let lower = word.to_lowercase();
        let of_tax =
            tax.named && (is_tax_word(&lower) || word.starts_with(|c: char| c.is_ascii_digit() || c == '%'));
        if capitals && !is_ours(&lower) && !is_tax_word(&lower) {
            currency = Some(word.to_owned());
        } else if !of_tax {
            words.push(lower);
        }
    }
    if words.last().is_some_and(|w| w == "in") {
        words.pop();
    }
    let mut phrase = words.join(" ");
    if phrase.is_empty() && tax.named {
        let head = HeadCell { column: Column::Tax, rank: 0, currency: None, tax, per: None };
        return Some(head);
    }
    if phrase.is_empty() && currency.is_some() {
        // A column headed `UGX` holds money in it.
        phrase = "cost".to_owned();
    }
    let mut per = None;
    if let Some((front, many)) = phrase.split_once(" per ") {
        let seen = units::read(&format!("per {many}"));
        if let Some(seen) = seen.ok().filter(|s| s.per > 1) {
            (per, phrase) = (Some(seen.per), front.to_owned());
        }
    }
    let of = |column: Column| {
        let (clear, weak) = column.words();
        let rank = if phrase == column.name() {
            0
        } else if clear.contains(&phrase.as_str()) {
            1
        } else if weak.contains(&phrase.as_str()) {
            2
        } else {
            return None;
        };
        Some((column, rank))
    };
    let (column, rank) = Column::ALL.into_iter().find_map(of)?;
    let per = per.filter(|_| column == Column::Rate);
    Some(HeadCell { column, rank, currency, tax, per })
}

/// A word of any head: in a head of capitals it is no currency.
fn is_ours(word: &str) -> bool {
    let of = |column: Column| {
        let (clear, weak) = column.words();
        column.name() == word || clear.iter().chain(weak).any(|phrase| phrase.split(' ').any(|w| w == word))
    };
    ["qty", "and", "all", "the"].contains(&word) || Column::ALL.into_iter().any(of)
}

fn is_tax_word(word: &str) -> bool {
    [
        "vat",
        "gst",
        "tax",
        "taxes",
        "incl",
        "inc",
        "inclusive",
        "including",
        "included",
        "excl",
        "exc",
        "ex",
        "excluding",
        "exclusive",
        "excluded",
        "with",
        "without",
        "of",
        "net",
        "gross",
        "before",
        "after",
        "plus",
    ]
    .contains(&word)
}

/// The per cent that a cell of a tax column states: `18`, `18 %`.
pub(crate) fn percent(text: &str) -> Option<Decimal> {
    let text = text.trim().trim_end_matches('%').trim_end();
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    let digits = |t: &str| (1..=4).contains(&t.len()) && t.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole) || !digits(part) {
        return None;
    }
    Decimal::from_str_exact(text).ok().filter(|p| *p <= Decimal::ONE_HUNDRED)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(text: &str) -> Option<(Column, u8)> {
        read(text).map(|h| (h.column, h.rank))
    }

    #[test]
    fn heads_in_the_words_of_the_trade() {
        for column in Column::own() {
            assert_eq!(seen(column.name()), Some((column, 0)));
            let (clear, weak) = column.words();
            for word in clear {
                assert_eq!(seen(&word.to_uppercase()), Some((column, 1)), "{word}");
            }
            for word in weak {
                assert_eq!(seen(word), Some((column, 2)), "{word}");
            }
        }
        assert_eq!(seen("Unit Price:"), Some((Column::Rate, 1)));
        assert_eq!(seen("U/M"), Some((Column::Unit, 1)));
        assert_eq!(seen("VAT %"), Some((Column::Tax, 0)));
        assert_eq!(seen("VAT incl."), Some((Column::Tax, 0)));
        for text in ["", "qty", "amount", "No.", "S/N", "total", "%"] {
            assert_eq!(seen(text), None, "{text}");
        }
    }

    #[test]
    fn what_else_a_head_says() {
        let rate = read("Rate (UGX) excl. VAT").map(|h| (h.column, h.currency, h.tax.included));
        assert_eq!(rate, Some((Column::Rate, Some("UGX".to_owned()), Some(false))));
        let rate = read("Unit price in KES, incl. 16 % VAT")
            .map(|h| (h.column, h.currency, h.tax.included, h.tax.percent));
        assert_eq!(rate, Some((Column::Rate, Some("KES".to_owned()), Some(true), Some(Decimal::from(16)))));
        assert_eq!(read("Price per 1000").map(|h| (h.column, h.per)), Some((Column::Rate, Some(1000))));
        assert_eq!(read("UGX").map(|h| (h.column, h.currency)), Some((Column::Rate, Some("UGX".to_owned()))));
        assert_eq!(read("RATE").map(|h| (h.column, h.currency)), Some((Column::Rate, None)));
        assert_eq!(read("REF").map(|h| h.column), Some(Column::Code));
    }

    #[test]
    fn per_cents() {
        assert_eq!(percent("18"), Some(Decimal::from(18)));
        assert_eq!(percent("7.5 %"), Some(Decimal::new(75, 1)));
        for text in ["", "yes", "-1", "101", "18 VAT", "%"] {
            assert_eq!(percent(text), None, "{text}");
        }
    }
}
