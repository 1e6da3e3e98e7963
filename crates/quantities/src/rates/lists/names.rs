//! What a row may price, by code and by words. Words count only where they are ours to the last one: a near match is a
//! suggestion for the map, never a price.

use std::collections::{BTreeMap, BTreeSet};

use super::asked::Asked;
use super::sized::Sizes;
use crate::rates::{PriceKind, Stock, builtin_files, read_prices};
use crate::works;

/// Works, materials, and the words of bills and of the built-in lists for them.
#[derive(Clone, Debug, Default)]
pub struct Names {
    works: BTreeSet<&'static str>,
    materials: BTreeSet<String>,
    /// Words in order of the alphabet; whom they name.
    words: BTreeMap<Vec<String>, Vec<Named>>,
    /// The same of what one job asks for.
    asked: BTreeMap<Vec<String>, Vec<Named>>,
    /// Works by words and sizes.
    sizes: Sizes,
    /// Currencies without a smaller unit.
    whole: BTreeSet<String>,
}

/// A code with its kind and the unit of the list that words come from.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Named {
    kind: PriceKind,
    code: String,
    unit: String,
}

/// Words that say nothing of what is priced.
pub(super) const FILL: [&str; 9] = ["of", "the", "a", "an", "per", "in", "and", "with", "to"];

impl Names {
    /// From the data of a run.
    #[must_use]
    pub fn new(stock: &Stock) -> Self {
        let works = works::all().iter().filter(|w| !w.void).map(|w| w.id).collect();
        let materials = stock.recipes.goods.iter().map(|g| g.id.clone()).collect();
        let whole =
            stock.currencies.values().filter(|(c, _)| c.digits == 0).map(|(c, _)| c.code.clone()).collect();
        let (words, asked) = (BTreeMap::new(), BTreeMap::new());
        let mut names = Self { works, materials, words, asked, sizes: Sizes::default(), whole };
        for goods in stock.recipes.goods.iter().filter(|g| !g.title.contains('{')) {
            names.add(
                &goods.title,
                Named { kind: PriceKind::Material, code: goods.id.clone(), unit: goods.unit.clone() },
            );
        }
        // The words of a bill, where no size or mix stands in them.
        for work in works::all().iter().filter(|w| !w.void) {
            let title = crate::words::in_english(work.id);
            if title != work.id && !title.contains('{') {
                let unit = work.unit.id().to_owned();
                names.add(title, Named { kind: PriceKind::Work, code: work.id.to_owned(), unit });
            }
        }
        for (path, text) in builtin_files().iter().filter(|(path, _)| path.starts_with("prices/")) {
            for row in read_prices(path, text).map(|list| list.rows).unwrap_or_default() {
                if row.kind == PriceKind::Work {
                    names.sizes.add(&row.description, &row.unit, &row.code);
                }
                names.add(&row.description, Named { kind: row.kind, code: row.code, unit: row.unit });
            }
        }
        names
    }

    /// And what a job asks of its list: a row that has the very words and the unit of one of these prices it.
    #[must_use]
    pub fn asked(mut self, rows: &[Asked]) -> Self {
        for Asked { kind, code, description, unit } in rows {
            let whom = self.asked.entry(words(description)).or_default();
            let named = Named { kind: *kind, code: code.clone(), unit: unit.clone() };
            if !whom.contains(&named) {
                whom.push(named);
            }
        }
        self
    }

    fn add(&mut self, title: &str, named: Named) {
        for key in [words(title), without_packs(title)] {
            let whom = self.words.entry(key).or_default();
            if !whom.contains(&named) {
                whom.push(named.clone());
            }
        }
    }

    /// Has the currency no smaller unit?
    pub(crate) fn whole(&self, currency: &str) -> bool {
        self.whole.contains(currency)
    }

    /// The kind that a code of ours is of: `bars/Y12` in kg is a work, by the piece or the metre a material.
    pub(crate) fn kind_of(&self, code: &str, unit: &str, description: &str) -> Option<PriceKind> {
        let family = code.split('/').next().unwrap_or_default();
        match (self.works.contains(family), self.materials.contains(family)) {
            (true, false) => Some(PriceKind::Work),
            (false, true) => Some(PriceKind::Material),
            (false, false) => {
                let same =
                    |n: &&Named| n.code == code && matches!(n.kind, PriceKind::Labour | PriceKind::Plant);
                self.words.values().flatten().find(same).map(|n| n.kind)
            }
            (true, true) => {
                let mut kinds: Vec<PriceKind> = Vec::new();
                for named in
                    self.words.values().flatten().filter(|n| n.code.split('/').next() == Some(family))
                {
                    if named.unit == unit && !kinds.contains(&named.kind) {
                        kinds.push(named.kind);
                    }
                }
                if let [one] = kinds[..] { Some(one) } else { titled(family, description) }
            }
        }
    }

    /// Is it a code of ours that names a work as well as a material?
    pub(crate) fn of_two_kinds(&self, code: &str) -> bool {
        let family = code.split('/').next().unwrap_or_default();
        self.works.contains(family) && self.materials.contains(family)
    }

    /// Does a price list of this kind know the code?
    pub(crate) fn knows(&self, kind: PriceKind, code: &str) -> bool {
        let family = code.split('/').next().unwrap_or_default();
        match kind {
            PriceKind::Work => self.works.contains(family),
            PriceKind::Material => self.materials.contains(family),
            PriceKind::Labour | PriceKind::Plant => !family.is_empty(),
        }
    }

    /// Whom the words name, where they name one: all words, or all but the size of a bag. The unit decides between two.
    pub(crate) fn by_words(
        &self,
        description: &str,
        unit: &str,
        kind: Option<PriceKind>,
    ) -> Option<(PriceKind, String)> {
        let fits = |n: &&Named| kind.is_none_or(|k| n.kind == k);
        let asked = self.asked.get(&words(description)).into_iter().flatten();
        let asked: Vec<&Named> = asked.filter(fits).filter(|n| n.unit == unit).collect();
        if let [one] = asked[..] {
            return Some((one.kind, one.code.clone()));
        }
        [words(description), without_packs(description)].into_iter().filter(|key| !key.is_empty()).find_map(
            |key| {
                let whom: Vec<&Named> = self.words.get(&key)?.iter().filter(fits).collect();
                let in_unit: Vec<&Named> = whom.iter().copied().filter(|n| n.unit == unit).collect();
                let whom = if in_unit.is_empty() { whom } else { in_unit };
                let mut codes: Vec<(PriceKind, &str)> =
                    whom.iter().map(|n| (n.kind, n.code.as_str())).collect();
                codes.sort_unstable();
                codes.dedup();
                if let [(kind, code)] = codes[..] { Some((kind, code.to_owned())) } else { None }
            },
        )
    }

    /// The work that words and sizes name in this unit, sizes as people write them.
    pub(crate) fn by_sizes(&self, description: &str, unit: &str) -> Option<String> {
        self.sizes.work(description, unit).map(str::to_owned)
    }

    /// Who might be meant: the name that shares most of its words, half of them at least.
    pub(crate) fn perhaps(&self, description: &str, kind: Option<PriceKind>) -> Option<(PriceKind, String)> {
        let mine = words(description);
        let mut best: Option<(usize, usize, &Named)> = None;
        let figure = |w: &&String| w.starts_with(|c: char| c.is_ascii_digit());
        let mut other_size = false;
        for (theirs, whom) in &self.words {
            let shared =
                theirs.iter().filter(|w| mine.contains(w) && w.chars().any(char::is_alphabetic)).count();
            let all = theirs.len() + mine.len() - shared;
            let Some(named) = whom.iter().find(|n| kind.is_none_or(|k| n.kind == k)) else { continue };
            if shared == 0 || shared * 2 < theirs.len().min(mine.len()) {
                continue;
            }
            // Larger share of shared words: a / b > c / d.
            if best.is_none_or(|(s, a, _)| shared * a > s * all) {
                best = Some((shared, all, named));
                other_size = theirs.iter().filter(figure).any(|w| !mine.contains(w));
            }
        }
        // Of another size only what it is may be meant: `pipe`, where the list has 160 mm and ours 100.
        let meant = |code: &str| match code.split_once('/') {
            Some((family, _)) if other_size => family.to_owned(),
            _ => code.to_owned(),
        };
        best.map(|(_, _, n)| (n.kind, meant(&n.code)))
    }
}

/// The kind whose own words these are, sizes apart: `Pipe 160 mm, laid and jointed` is the work `pipe`.
fn titled(work: &str, description: &str) -> Option<PriceKind> {
    let bare = |text: &str| -> Vec<String> {
        let blanked: String =
            text.split('{').map(|t| t.split_once('}').map_or(t, |(_, rest)| rest)).collect();
        let figure = |w: &String| w.contains(|c: char| c.is_ascii_digit());
        words(&blanked).into_iter().filter(|w| !figure(w)).collect()
    };
    (bare(crate::words::in_english(work)) == bare(description)).then_some(PriceKind::Work)
}

/// Words in order of the alphabet, lower case, without a plural's s, digits parted from letters.
pub(crate) fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = plain(text).into_iter().filter(|w| !FILL.contains(&w.as_str())).collect();
    words.sort_unstable();
    words
}

pub(super) fn plain(text: &str) -> Vec<String> {
    let mut spaced = String::new();
    let mut before = ' ';
    for c in text.to_lowercase().chars() {
        let point = c == '.' && before.is_ascii_digit();
        let c = if c.is_alphanumeric() || point || c == ':' || c == '/' { c } else { ' ' };
        // `160mm` is `160 mm`; `Y12` stays.
        if before.is_ascii_digit() && c.is_alphabetic() {
            spaced.push(' ');
        }
        spaced.push(c);
        before = c;
    }
    let single = |w: &str| {
        let w = w.trim_matches(['.', ':', '/']);
        let plural = w.len() > 3 && w.ends_with('s') && !w.ends_with("ss");
        if plural { w.trim_end_matches('s').to_owned() } else { w.to_owned() }
    };
    spaced.split_whitespace().map(single).filter(|w| !w.is_empty()).collect()
}

/// The words without what says how it is packed: `bag of 50 kg`, `20 l`.
fn without_packs(text: &str) -> Vec<String> {
    let words = plain(text);
    let mut left = Vec::new();
    let mut skip = false;
    for (i, word) in words.iter().enumerate() {
        let number = word.starts_with(|c: char| c.is_ascii_digit());
        let next = words.get(i + 1).map(String::as_str);
        if std::mem::take(&mut skip) || (number && matches!(next, Some("kg" | "l" | "litre"))) {
            skip = number;
            continue;
        }
        if !["bag", "packet", "drum"].contains(&word.as_str()) && !FILL.contains(&word.as_str()) {
            left.push(word.clone());
        }
    }
    left.sort_unstable();
    left
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rates::builtin;

    fn names() -> Names {
        Names::new(&builtin().0)
    }

    #[test]
    fn words_of_ours_name_a_code() {
        let names = names();
        let by =
            |text: &str, unit: &str| names.by_words(text, unit, None).map(|(k, c)| format!("{} {c}", k.id()));
        let some = |text: &str| Some(text.to_owned());
        for text in ["Cement, bag of 50 kg", "CEMENT 50KG BAG", "cement", "Cement (25 kg)"] {
            assert_eq!(by(text, "bag"), some("material cement"), "{text}");
        }
        assert_eq!(by("Sand, building", "m3"), some("material sand-building"));
        assert_eq!(by("Drain pipe 160mm", "m"), some("material pipe/160"));
        assert_eq!(by("Drain pipes 160 mm", "m"), some("material pipe/160"));
        assert_eq!(by("Mason", "day"), some("labour mason"));
        assert_eq!(by("Excavate pit by hand", "m3"), some("work excavation-pit"));
        assert_eq!(by("Drainage stone in trench round the pipe", "m3"), some("work drain-stone"));
        assert_eq!(by("Aggregate 20 mm", "m3"), some("material aggregate-20"));
        for (text, unit) in [("Aggregate 40 mm", "m3"), ("Poling boards, 25 mm", "m2")] {
            assert_eq!(by(text, unit), None, "{text} is another size");
        }
        for text in ["White cement", "Drain pipe 200 mm", "sand", "", "of"] {
            assert_eq!(by(text, "bag"), None, "{text}");
        }
    }

    #[test]
    fn words_are_whole_and_in_the_singular() {
        assert_eq!(
            plain("Bags of BRASS gas taps, 160mm (10 pcs.)"),
            ["bag", "of", "brass", "gas", "tap", "160", "mm", "10", "pcs"]
        );
    }

    #[test]
    fn the_unit_tells_steel_fixed_from_steel_bought() {
        let names = names();
        assert_eq!(names.kind_of("bars/Y12", "kg", ""), Some(PriceKind::Work));
        assert_eq!(names.kind_of("bars/Y12", "m", ""), Some(PriceKind::Material));
        assert_eq!(names.kind_of("bars/Y12", "bundle", ""), None);
        // A work and a material, both by the metre: the bill's own words tell.
        assert_eq!(names.kind_of("pipe/160", "m", "Pipe 160 mm"), None);
        assert_eq!(names.kind_of("pipe/160", "m", "Pipe 160 mm, laid and jointed"), Some(PriceKind::Work));
        assert_eq!(names.kind_of("cement", "bag", ""), Some(PriceKind::Material));
        assert_eq!(names.kind_of("concrete-base/1:2:4", "m3", ""), Some(PriceKind::Work));
        assert_eq!(names.kind_of("mason", "day", ""), Some(PriceKind::Labour));
        assert_eq!(names.kind_of("A-1034", "m", ""), None);
    }

    #[test]
    fn near_words_are_suggested_only() {
        let names = names();
        assert_eq!(
            names.perhaps("White cement 40 kg", None),
            Some((PriceKind::Material, "cement".to_owned()))
        );
        assert_eq!(names.perhaps("Wheelbarrow", None), None);
        let cement = Some((PriceKind::Material, "cement".to_owned()));
        assert_eq!(names.perhaps("White cement 40 kg", Some(PriceKind::Material)), cement);
        // Two words of three are more than one of three.
        let pipe = Some((PriceKind::Material, "pipe".to_owned()));
        assert_eq!(names.perhaps("Cement drain pipe", None), pipe);
    }
}
