//! What lines outside the table say of the whole list: currency, day, source, tax.

use rust_decimal::Decimal;

use super::days::{self, NoDay};
use super::heads::percent;

/// What a text says of tax.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct TaxSaid {
    /// Tax is named.
    pub(crate) named: bool,
    /// Whether the rates have it in them.
    pub(crate) included: Option<bool>,
    /// It says both.
    pub(crate) both: bool,
    /// Its per cent.
    pub(crate) percent: Option<Decimal>,
}

const IN: [&str; 9] =
    ["inclusive", "including", "included", "includes", "include", "incl", "inc", "with", "gross"];
const OUT: [&str; 15] = [
    "exclusive",
    "excluding",
    "excluded",
    "excludes",
    "exclude",
    "excl",
    "exc",
    "ex",
    "without",
    "plus",
    "net",
    "before",
    "extra",
    "added",
    "no",
];

/// What a text says of tax, clause by clause: `Prices include 18 % VAT`, `excl. of GST`.
pub(crate) fn tax_said(text: &str) -> TaxSaid {
    let lower = text.to_lowercase().replace("v.a.t", "vat").replace("g.s.t", "gst").replace("per cent", "%");
    let lower = lower.replace("percent", "%").replace('%', " % ");
    let mut said = TaxSaid::default();
    // A point ends a clause unless it stands in a number or behind a short word (`incl.`).
    for clause in lower.split([';', ',', '(', ')']).flat_map(|c| c.split(". ")) {
        let words: Vec<&str> = clause
            .split(|c: char| !c.is_alphanumeric() && c != '%' && c != '.')
            .filter(|w| !w.is_empty())
            .collect();
        let words: Vec<&str> = words.iter().map(|w| w.trim_matches('.')).collect();
        said.percent = said.percent.or_else(|| {
            let pair = words.windows(2).find(|w| w.get(1) == Some(&"%"))?;
            percent(pair.first()?)
        });
        let tax = words.iter().any(|w| ["vat", "gst", "tax", "taxes"].contains(w));
        // `Rate excl. VAT` is cut at its point: the clause before it may hold the word alone.
        let short = words.last().is_some_and(|w| ["incl", "excl", "inc", "exc", "ex"].contains(w));
        if !tax && !short {
            continue;
        }
        said.named |= tax;
        let not = words.contains(&"not");
        for included in [
            words.iter().any(|w| IN.contains(w)).then_some(!not),
            words.iter().any(|w| OUT.contains(w)).then_some(not),
        ]
        .into_iter()
        .flatten()
        {
            said.both |= said.included.is_some_and(|before| before != included);
            said.included = Some(included);
        }
    }
    if said.named { said } else { TaxSaid::default() }
}

/// What is said of the whole list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Notes {
    pub(crate) currency: Option<String>,
    pub(crate) date: Option<Result<String, NoDay>>,
    pub(crate) source: Option<String>,
    pub(crate) tax: TaxSaid,
}

impl Notes {
    /// What a line of cells says.
    pub(crate) fn read(cells: &[&str]) -> Self {
        let mut distinct: Vec<&str> = Vec::new();
        for cell in cells.iter().map(|c| c.trim()).filter(|c| !c.is_empty()) {
            if distinct.last() != Some(&cell) {
                distinct.push(cell);
            }
        }
        let text = distinct.join(" ");
        let (label, value) = label(&distinct);
        let mut notes = Self { tax: tax_said(&text), ..Self::default() };
        match label.as_str() {
            "currency" | "prices in" | "all prices in" => notes.currency = capitals(&value),
            "source" | "supplier" | "shop" | "quotation" | "quoted by" | "quotation from" | "prices from"
            | "merchant" | "vendor" | "dealer" => notes.source = Some(value).filter(|v| !v.is_empty()),
            "date" | "dated" | "price date" | "date of prices" | "prices of" | "as of" | "as at"
            | "valid from" | "effective" | "effective from" | "effective date" => {
                notes.date = Some(days::find(&value).unwrap_or(Err(NoDay::Other)));
            }
            _ => {
                let lower = format!(" {} ", text.to_lowercase());
                let says = |words: &[&str]| words.iter().any(|w| lower.contains(&format!(" {w} ")));
                if says(&["as of", "as at", "dated", "effective", "valid from", "prices of", "date"]) {
                    notes.date = days::find(&text);
                }
                if says(&["price", "prices", "rate", "rates", "amounts"]) {
                    let mut words = text.split_whitespace();
                    notes.currency =
                        words.position(|w| w == "in").and_then(|_| words.next()).and_then(capitals);
                }
            }
        }
        notes
    }

    /// Takes what is not said yet; true where the tax is said otherwise.
    pub(crate) fn take(&mut self, more: Self) -> bool {
        let against = match (self.tax.included, more.tax.included) {
            (Some(a), Some(b)) => a != b,
            _ => false,
        } || matches!((self.tax.percent, more.tax.percent), (Some(a), Some(b)) if a != b);
        self.currency = self.currency.take().or(more.currency);
        self.date = self.date.take().or(more.date);
        self.source = self.source.take().or(more.source);
        self.tax.named |= more.tax.named;
        self.tax.included = self.tax.included.or(more.tax.included);
        self.tax.percent = self.tax.percent.or(more.tax.percent);
        against || more.tax.both
    }
}

/// `Supplier: X`, or `Supplier` and X in the next cell.
fn label(cells: &[&str]) -> (String, String) {
    let first = cells.first().copied().unwrap_or_default();
    let rest = cells.get(1..).unwrap_or_default().join(" ");
    match first.split_once(':') {
        Some((label, value)) => {
            (label.trim().to_lowercase(), format!("{} {rest}", value.trim()).trim().to_owned())
        }
        None if rest.is_empty() => (String::new(), String::new()),
        None => (first.to_lowercase(), rest),
    }
}

fn capitals(text: &str) -> Option<String> {
    let word = text.split(|c: char| !c.is_alphanumeric()).find(|w| !w.is_empty())?;
    (word.len() == 3 && word.bytes().all(|b| b.is_ascii_uppercase())).then(|| word.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_of_tax() {
        let of = |text: &str| {
            let said = tax_said(text);
            (said.named, said.included, said.percent.map(|p| p.to_string()))
        };
        let percent = |p: &str| Some(p.to_owned());
        for text in [
            "Prices include 18 % VAT",
            "incl. VAT 18%",
            "All rates inclusive of V.A.T. (18 %)",
            "With 18 per cent tax",
        ] {
            assert_eq!(of(text), (true, Some(true), percent("18")), "{text}");
        }
        for text in [
            "VAT not included",
            "excl. VAT",
            "Prices are exclusive of GST",
            "ex VAT",
            "VAT extra",
            "plus VAT",
            "net of tax",
        ] {
            assert_eq!(of(text), (true, Some(false), None), "{text}");
        }
        assert_eq!(of("VAT 7.5%"), (true, None, percent("7.5")));
        assert_eq!(of("Prices include delivery; VAT 18% extra"), (true, Some(false), percent("18")));
        assert_eq!(of("Prices include delivery"), (false, None, None));
        assert!(tax_said("VAT included or excluded").both);
    }

    #[test]
    fn lines_above_a_table() {
        let of = |cells: &[&str]| Notes::read(cells);
        assert_eq!(of(&["Currency: UGX", ""]).currency.as_deref(), Some("UGX"));
        assert_eq!(of(&["Currency", "", "UGX"]).currency.as_deref(), Some("UGX"));
        assert_eq!(of(&["All prices in KES and net of VAT"]).currency.as_deref(), Some("KES"));
        assert_eq!(of(&["Supplier", "Hill Road Hardware"]).source.as_deref(), Some("Hill Road Hardware"));
        assert_eq!(
            of(&["Source: Hill Road, by telephone"]).source.as_deref(),
            Some("Hill Road, by telephone")
        );
        assert_eq!(of(&["Date: 1 Oct 2026"]).date, Some(Ok("2026-10-01".to_owned())));
        assert_eq!(of(&["Prices as of 2026-10-01"]).date, Some(Ok("2026-10-01".to_owned())));
        assert_eq!(of(&["Date", "1/10/2026"]).date, Some(Err(NoDay::Order)));
        assert_eq!(of(&["Hill Road Hardware, price list"]), Notes::default());
        let mut notes = of(&["VAT 18 % included"]);
        assert!(notes.take(of(&["excl. VAT"])));
        assert!(!notes.take(of(&["incl. VAT"])));
    }
}
