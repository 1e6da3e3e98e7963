//! Trade words as data (`rates/wording.toml`): heads of columns, units, marks of a list, and lines by their words.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::parts::Parts;
use tankwright_geometry::{Ratio, parse};
use tankwright_quantities::problem::{Place, Problem};
use toml::de::{DeTable, DeValue};

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Column {
    /// The words.
    Description,
    /// The unit.
    Unit,
    /// The quantity.
    Quantity,
    /// Price of a unit.
    Rate,
    /// Quantity x rate.
    Amount,
    /// How many times.
    Number,
    /// First dimension.
    Length,
    /// Second.
    Breadth,
    /// Third.
    Depth,
    /// Of a circle.
    Diameter,
    /// Their own numbering.
    Reference,
}

impl Column {
    /// All, with the key of their heads.
    pub const ALL: [(Self, &'static str); 11] = [
        (Self::Description, "description"),
        (Self::Unit, "unit"),
        (Self::Quantity, "quantity"),
        (Self::Rate, "rate"),
        (Self::Amount, "amount"),
        (Self::Number, "number"),
        (Self::Length, "length"),
        (Self::Breadth, "breadth"),
        (Self::Depth, "depth"),
        (Self::Diameter, "diameter"),
        (Self::Reference, "reference"),
    ];
}

/// One of their units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TheirUnit {
    /// The program's unit: `m3`.
    pub is: String,
    /// How many of those one of theirs is.
    pub factor: Ratio,
}

/// What a line of these words covers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Entry {
    /// Ids of works.
    pub works: Vec<String>,
    /// One word of each group must be there.
    pub needs: Vec<Vec<String>>,
    /// Words that make it likelier.
    pub also: Vec<String>,
    /// Words that rule it out.
    pub not: Vec<String>,
    /// Meant only where a size of its specification stands in the line; goes before these works then.
    pub by_size: Vec<String>,
}

/// What stands in the place of a rate, where it is no figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// It is in another rate.
    Included,
    /// Nothing is charged.
    Nil,
    /// It is left to others, or to later.
    NotPriced,
}

/// What the quantity and the rate of a row make.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Makes {
    /// Their product.
    #[default]
    Product,
    /// So many per cent of an amount.
    Share,
    /// What rounds an amount: no product.
    Rounding,
}

/// All of it.
#[derive(Clone, Debug, Default)]
pub struct Wording {
    heads: Vec<(Column, Vec<String>)>,
    money: Vec<String>,
    units: BTreeMap<String, TheirUnit>,
    ditto: Vec<String>,
    total: Vec<String>,
    brought: Vec<String>,
    deduct: Vec<String>,
    percent: Vec<String>,
    rounded: Vec<String>,
    parts: Parts,
    answers: Vec<(Answer, Vec<String>)>,
    specifications: BTreeMap<String, Vec<String>>,
    short: BTreeMap<String, String>,
    /// Lines by their words.
    pub lines: Vec<Entry>,
}

static BUILTIN: LazyLock<Wording> = LazyLock::new(|| of(include_str!("../../../rates/wording.toml")));

/// The built-in words.
#[must_use]
pub fn builtin() -> &'static Wording {
    &BUILTIN
}

/// Words of one's own in place of the built-in ones.
///
/// # Errors
/// `T009`: what is no TOML, or has no heads, units or lines.
pub fn own(file: &str, text: &str) -> Result<Wording, Box<Problem>> {
    let wrong = |line: usize, message: String| {
        let place = Place { file: file.to_owned(), span: 0..0, line };
        let hint = "`tankwright rates --export DIR` writes the built-in file: begin with that";
        Err(Box::new(Problem::error("T009", Some(place), message).hint(hint)))
    };
    if let Err(e) = DeTable::parse(text) {
        let at = e.span().map_or(0, |s| s.start);
        let line = 1 + text.get(..at).unwrap_or_default().matches('\n').count();
        return wrong(line, format!("these trade words cannot be read: {}", e.message()));
    }
    let wording = of(text);
    let known =
        |w: &Entry| !w.works.is_empty() && w.needs.iter().all(|g| !g.is_empty()) && !w.needs.is_empty();
    let whole = !wording.heads.iter().all(|(_, w)| w.is_empty()) && !wording.units.is_empty();
    if !whole || wording.lines.is_empty() || !wording.lines.iter().all(known) {
        return wrong(1, "these trade words lack heads, units, or the works and needs of a line".to_owned());
    }
    Ok(wording)
}

impl Wording {
    /// The column a head names.
    #[must_use]
    pub fn head(&self, text: &str) -> Option<Column> {
        let text = text.trim().trim_end_matches([':', '.']).to_lowercase();
        let bare = text.split(['(', '[']).next().unwrap_or_default().trim().to_owned();
        // "Rate, UGX", "Amount Shs": the money is no part of the head.
        let end = bare.rsplit([' ', ',']).next().unwrap_or_default().trim_end_matches('.');
        let money = self.money.iter().any(|m| m == end);
        let plain = bare.strip_suffix(end).filter(|_| money).unwrap_or(&bare).trim_end_matches([' ', ',']);
        let is = |words: &[String]| words.iter().any(|w| *w == text || *w == bare || w == plain);
        self.heads.iter().find(|(_, words)| is(words)).map(|(c, _)| *c)
    }

    /// The unit a text names.
    #[must_use]
    pub fn unit(&self, text: &str) -> Option<&TheirUnit> {
        self.units.get(&text.trim().to_lowercase())
    }

    /// Does the text say "as above"? Gives what else it says.
    #[must_use]
    pub fn ditto<'a>(&self, text: &'a str) -> Option<&'a str> {
        let trimmed = text.trim_start();
        let lower = trimmed.to_lowercase();
        if lower == "do" {
            return Some("");
        }
        let starts = |w: &&String| {
            let rest = lower.strip_prefix(w.as_str());
            rest.is_some_and(|r| w.ends_with(',') || r.chars().next().is_none_or(|c| !c.is_alphanumeric()))
        };
        let word = self.ditto.iter().filter(starts).max_by_key(|w| w.len())?;
        trimmed.get(word.len()..).map(|rest| rest.trim_start_matches([',', ';', ':', '.', '-']).trim())
    }

    /// Is the line a total of lines above?
    #[must_use]
    pub fn is_total(&self, text: &str) -> bool {
        let text = spaced(text);
        let starts = |w: &String| {
            let rest = text.strip_prefix(&format!(" {w}"));
            rest.is_some_and(|r| r.starts_with(' ') || r.starts_with("s "))
        };
        let first = self.total.iter().any(starts);
        first || self.total.iter().any(|w| w.contains(' ') && text.contains(&format!(" {w} ")))
    }

    /// Does the line end as a total does that has its name before it: `A Earthworks, total`?
    #[must_use]
    pub fn ends_in_total(&self, text: &str) -> bool {
        let text = spaced(text);
        self.total.iter().any(|w| text.ends_with(&format!(" {w} ")))
    }

    /// What quantity and rate of a row with this unit make.
    #[must_use]
    pub fn makes(&self, unit: &str) -> Makes {
        let unit = unit.trim().to_lowercase();
        let is = |words: &[String]| words.contains(&unit);
        match () {
            () if is(&self.percent) => Makes::Share,
            () if is(&self.rounded) => Makes::Rounding,
            () => Makes::Product,
        }
    }

    /// Does the line take something off those above?
    #[must_use]
    pub fn is_deduction(&self, text: &str) -> bool {
        let text = spaced(text);
        self.deduct.iter().any(|w| text.starts_with(&format!(" {w} ")))
    }

    /// Headings, a line each, as lines under them are known by it: without what names two parts of the job at once.
    #[must_use]
    pub fn heading(&self, text: &str) -> String {
        text.lines().map(|line| self.parts.told(line)).collect()
    }

    /// A text as [`spaced`], its shortened words written out: `conc` is concrete.
    #[must_use]
    pub fn written_out(&self, text: &str) -> String {
        let text = spaced(text);
        let words = text.trim().split(' ').map(|w| self.short.get(w).map_or(w, String::as_str));
        format!(" {} ", words.collect::<Vec<_>>().join(" "))
    }

    /// What else people call a part of a specification.
    #[must_use]
    pub fn called(&self, part: &str) -> &[String] {
        self.specifications.get(part).map_or(&[], Vec::as_slice)
    }

    /// What words in the place of a rate say; `not included` is said before `included`.
    #[must_use]
    pub fn answer(&self, text: &str) -> Option<Answer> {
        let text = spaced(text);
        let says = |words: &[String]| words.iter().any(|w| text.contains(&format!(" {w} ")));
        self.answers.iter().find(|(_, words)| says(words)).map(|(answer, _)| *answer)
    }

    /// Is it a total carried over from another page?
    #[must_use]
    pub fn is_brought(&self, text: &str) -> bool {
        let text = spaced(text);
        self.brought.iter().any(|w| text.contains(&format!(" {w} ")))
    }
}

/// Lower case, words parted and closed in by single blanks; marks inside a word stay.
#[must_use]
pub fn spaced(text: &str) -> String {
    let lower = text.to_lowercase();
    let part = |c: char| !(c.is_alphanumeric() || matches!(c, '-' | '.' | '/' | ':' | '%'));
    let words: Vec<&str> =
        lower.split(part).map(|w| w.trim_matches(['-', '.', '/', ':'])).filter(|w| !w.is_empty()).collect();
    format!(" {} ", words.join(" "))
}

/// Is a word, or the beginning of one of at least six letters, in a spaced text?
#[must_use]
pub fn has(spaced: &str, word: &str) -> bool {
    let start = format!(" {word}");
    let whole =
        |at: usize| spaced.get(at + start.len()..).is_some_and(|rest| rest.starts_with([' ', '-', '/']));
    let plural = |at: usize| spaced.get(at + start.len()..).is_some_and(|rest| rest.starts_with("s "));
    let found: Vec<usize> = spaced.match_indices(&start).map(|(i, _)| i).collect();
    found.iter().any(|i| whole(*i) || plural(*i)) || (word.len() >= 6 && !found.is_empty())
}

fn of(text: &str) -> Wording {
    let mut wording = Wording::default();
    let Ok(table) = DeTable::parse(text) else { return wording };
    let top = table.get_ref();
    let sub = |key: &str| top.get(key).and_then(|v| v.get_ref().as_table());
    if let Some(heads) = sub("heads") {
        wording.money = words(heads, "money");
        wording.heads = Column::ALL.iter().map(|(c, key)| (*c, words(heads, key))).collect();
    }
    if let Some(list) = sub("list") {
        wording.ditto = words(list, "ditto");
        wording.total = words(list, "total");
        wording.brought = words(list, "brought");
        wording.deduct = words(list, "deduct");
        wording.percent = words(list, "percent");
        wording.rounded = words(list, "rounded");
        wording.parts = Parts::read(list);
        let answers =
            [(Answer::NotPriced, "not_priced"), (Answer::Nil, "nil"), (Answer::Included, "included")];
        wording.answers = answers.into_iter().map(|(answer, key)| (answer, words(list, key))).collect();
    }
    for unit in tables(top, "unit") {
        let factor = parse::decimal(&word(unit, "factor")).unwrap_or(Ratio::UNKNOWN);
        let of = TheirUnit { is: word(unit, "is"), factor };
        wording.units.extend(words(unit, "words").into_iter().map(|w| (w, of.clone())));
    }
    for spec in tables(top, "specification") {
        wording.specifications.insert(word(spec, "is"), words(spec, "words"));
    }
    if let Some(short) = sub("short") {
        let keys = short.keys().map(|key| key.get_ref().to_string());
        wording.short =
            keys.flat_map(|k| words(short, &k).into_iter().map(move |w| (w, k.clone()))).collect();
    }
    for line in tables(top, "line") {
        let groups = line.get("needs").and_then(|v| v.get_ref().as_array());
        let needs = groups.into_iter().flat_map(|g| g.iter()).map(|g| texts(g.get_ref())).collect();
        let [works, also, not, by_size] = ["works", "also", "not", "by_size"].map(|key| words(line, key));
        wording.lines.push(Entry { works, needs, also, not, by_size });
    }
    wording
}

fn tables<'a, 'd>(top: &'d DeTable<'a>, key: &str) -> Vec<&'d DeTable<'a>> {
    let list = top.get(key).and_then(|v| v.get_ref().as_array());
    list.into_iter().flat_map(|l| l.iter()).filter_map(|v| v.get_ref().as_table()).collect()
}

fn word(table: &DeTable<'_>, key: &str) -> String {
    table.get(key).and_then(|v| v.get_ref().as_str()).unwrap_or_default().to_owned()
}

pub(crate) fn words(table: &DeTable<'_>, key: &str) -> Vec<String> {
    table.get(key).map(|v| texts(v.get_ref())).unwrap_or_default()
}

fn texts(value: &DeValue<'_>) -> Vec<String> {
    let list = value.as_array();
    let text = |v: &toml::Spanned<DeValue<'_>>| v.get_ref().as_str().map(str::to_owned);
    list.into_iter().flat_map(|l| l.iter()).filter_map(text).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use tankwright_quantities::works;

    #[test]
    fn the_data_are_whole() {
        let w = builtin();
        assert!(w.heads.len() == 11 && w.heads.iter().all(|(_, words)| !words.is_empty()));
        assert!(w.units.values().all(|u| u.factor.is_known()));
        // A foot is 0.3048 m: a square foot 0.3048 x 0.3048, a cubic yard (3 x 0.3048) cubed.
        let foot = Ratio::of(3048, 10_000);
        let yard = foot * Ratio::int(3);
        assert_eq!(w.unit("Sq.ft").map(|u| u.factor), Some(foot * foot));
        assert_eq!(w.unit("cu yd").map(|u| u.factor), Some(yard * yard * yard));
        for work in works::all().into_iter().filter(|w| !w.void) {
            assert!(w.lines.iter().any(|l| l.works == [work.id]), "no words for {}", work.id);
        }
        let known = |id: &String| works::all().iter().any(|w| w.id == id.as_str());
        assert!(w.lines.iter().all(|l| l.works.iter().all(known) && !l.needs.is_empty()));
    }

    #[test]
    fn words_of_ones_own() {
        let text = include_str!("../../../rates/wording.toml");
        assert_eq!(own("w.toml", text).map(|w| w.lines.len()).ok(), Some(builtin().lines.len()));
        let code = |text: &str| own("w.toml", text).err().map(|p| (p.code, p.place.map(|p| p.line)));
        assert_eq!(code("[heads]\nunit = ["), Some(("T009", Some(2))));
        assert_eq!(code("source = \"ours\""), Some(("T009", Some(1))));
    }

    #[test]
    fn answers_in_the_place_of_a_rate() {
        let answer = |text| builtin().answer(text);
        assert_eq!(answer("Incl. in A3"), Some(Answer::Included));
        assert_eq!(answer("NOT INCLUDED"), Some(Answer::NotPriced));
        assert_eq!(answer("nil"), Some(Answer::Nil));
        assert_eq!(answer("N/A"), Some(Answer::NotPriced));
        assert_eq!((answer("see letter"), answer("-")), (None, None));
    }

    #[test]
    fn words_and_marks() {
        let w = builtin();
        assert_eq!(w.ditto("Ditto, 1.50 - 3.00 m"), Some("1.50 - 3.00 m"));
        assert_eq!((w.ditto("Do not deduct"), w.ditto("do")), (None, Some("")));
        assert_eq!(w.ditto("Door"), None);
        assert!(w.is_total("Sub-total carried forward") && w.is_total("Page total"));
        assert!(
            !w.is_total("Wall, total height 1.6 m") && !w.is_total("Sump in base") && w.is_total("Totals")
        );
        assert!(w.is_total("Collection") && w.is_total("Summary of bill"));
        assert_eq!(w.written_out("R.C. 1:2:4 conc. in fdns"), " r.c 1:2:4 concrete in foundation ");
        assert_eq!(w.head("Quantity (m3)"), Some(Column::Quantity));
        assert_eq!((w.head("Rate, UGX"), w.head("Amount Shs.")), (Some(Column::Rate), Some(Column::Amount)));
        assert_eq!((w.head("Unit rate (KES)"), w.head("UGX")), (Some(Column::Rate), None));
        let text = spaced("Excavation for septic tank, n.e. 1.5 m deep");
        assert!(has(&text, "excavat") && has(&text, "septic") && !has(&text, "sept"));
    }
}
