//! Which work a line of theirs is: by its words, its unit and its sizes. Unsure lines are left to the map.

use std::collections::BTreeMap;

use tankwright_geometry::{Ratio, parse};
use tankwright_quantities::sheet::{Item, Sheet};
use tankwright_quantities::works::Unit;

use crate::read::Entry;
use crate::wording::{self, TheirUnit, Wording, has};
use crate::world::Pick;

/// How a line was understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Match {
    /// It is this.
    Sure(Vec<Pick>),
    /// It may be one of these.
    Unsure(Vec<String>),
    /// It is work that this job does not have.
    NotHere(Vec<String>),
    /// The words are this work's, the unit is not.
    Unit(String),
    /// Nothing in its words says what it is.
    Unknown,
}

/// Works of the bill by id, with their items.
pub(crate) type Works<'a> = BTreeMap<&'static str, Vec<&'a Item>>;

/// The billed works of a sheet.
pub(crate) fn works(sheet: &Sheet) -> Works<'_> {
    let mut all: Works<'_> = BTreeMap::new();
    // What is in the rate of another item is no row of anybody's bill.
    for item in sheet.items.iter().filter(|i| !i.unbilled) {
        all.entry(item.work.id).or_default().push(item);
    }
    all
}

/// The works that lines are surely of, by line: for lists of which no map is made.
#[must_use]
pub fn surely(entries: &[&Entry], words: &Wording, sheet: &Sheet) -> BTreeMap<usize, Vec<Pick>> {
    let works = works(sheet);
    let sure = |e: &&Entry| match of(e, words, &works, entries) {
        Match::Sure(picks) => Some((e.line, picks)),
        _ => None,
    };
    entries.iter().filter_map(sure).collect()
}

/// Understands a line.
pub(crate) fn of(entry: &Entry, words: &Wording, works: &Works<'_>, all: &[&Entry]) -> Match {
    let own = words.written_out(if entry.own.is_empty() { &entry.text } else { &entry.own });
    let text = words.written_out(&entry.text);
    let over = words.written_out(&words.heading(&entry.heading));
    let mut scored: Vec<(usize, Vec<String>)> = Vec::new();
    let sizes = compact(&entry.text);
    // Works that others may be told from by their size.
    let rivals: Vec<&String> = words.lines.iter().flat_map(|l| &l.by_size).collect();
    for line in &words.lines {
        let sized =
            line.works.iter().any(|id| works.get(id.as_str()).is_some_and(|items| sized(items, &sizes)));
        let more = match (line.by_size.is_empty(), sized) {
            (false, false) => continue,
            (false, true) => BY_SIZE,
            (true, true) if line.works.iter().any(|id| rivals.contains(&id)) => BY_SIZE + 1,
            _ => 0,
        };
        if let Some(score) = score(line, &own, &text, &over) {
            scored.push((score + more, line.works.clone()));
        }
    }
    scored.sort_by_key(|s| std::cmp::Reverse(s.0));
    let Some(best) = scored.first().map(|(s, _)| *s) else { return Match::Unknown };
    let names = |list: &[(usize, Vec<String>)]| list.iter().map(|(_, w)| w.join("+")).collect::<Vec<_>>();
    let here = |w: &Vec<String>| -> Vec<String> {
        w.iter().filter(|id| works.contains_key(id.as_str())).cloned().collect()
    };
    let mut top: Vec<(usize, Vec<String>)> = scored.iter().filter(|(s, _)| *s == best).cloned().collect();
    if top.iter().all(|(_, w)| here(w).is_empty()) {
        return Match::NotHere(names(&top));
    }
    for (_, w) in &mut top {
        *w = here(w);
    }
    top.retain(|(_, w)| !w.is_empty());
    top.dedup_by(|a, b| a.1 == b.1);
    let fits = |w: &Vec<String>| {
        let mut items = w.iter().filter_map(|id| works.get(id.as_str())).filter_map(|i| i.first());
        items.all(|i| entry.unit.as_ref().is_none_or(|u| comparable(i, u).is_some()))
    };
    if let [(_, only)] = top.as_slice()
        && !fits(only)
    {
        return Match::Unit(only.join("+"));
    }
    top.retain(|(_, w)| fits(w));
    match top.as_slice() {
        [(_, only)] => {
            let spec = |id: &String| specification(entry, works.get(id.as_str())?, all, words);
            Match::Sure(only.iter().map(|id| Pick { work: id.clone(), spec: spec(id) }).collect())
        }
        _ => Match::Unsure(names(&top)),
    }
}

/// What a size of its own is worth to a line: more than all words that make it likelier.
const BY_SIZE: usize = 5;

/// Does a thickness of the items' specifications stand in a text without blanks?
fn sized(items: &[&Item], text: &str) -> bool {
    let number = |t: &&str| t.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    let mut sizes = items.iter().flat_map(|i| i.spec.split('/')).filter(number);
    sizes.any(|size| stands(text, &format!("{size}mm")))
}

/// More for words of the line itself than for those of its heading; nothing where a need is not met.
fn score(line: &wording::Entry, own: &str, text: &str, over: &str) -> Option<usize> {
    if line.not.iter().any(|w| has(own, w)) {
        return None;
    }
    let mut score = 0;
    let mut by_line = false;
    for group in &line.needs {
        let any = |text: &str| group.iter().any(|w| has(text, w));
        score += match () {
            () if any(own) => 8,
            () if any(text) => 7,
            () if any(over) => 5,
            () => return None,
        };
        by_line |= any(text);
    }
    let also = line.also.iter().filter(|w| has(text, w)).count();
    by_line.then_some(score + also.min(4) + 2 * (line.works.len() - 1))
}

/// What an item leaves away in one of their units; nothing where the two cannot be compared.
pub(crate) fn comparable(item: &Item, unit: &TheirUnit) -> Option<crate::measure::Drop> {
    use crate::measure::Drop;
    let of = item.work.unit;
    match (of, unit.is.as_str()) {
        (of, is) if of.id() == is => Some(Drop::Nothing),
        (Unit::M3, "m2") if item.work.by_area => Some(Drop::Thickness),
        (Unit::M3, "m2") if item.work.slab => Some(Drop::Last),
        (Unit::M2, "m") if item.unit == Unit::M => Some(Drop::Thickness),
        (Unit::M2, "m") => Some(Drop::Last),
        _ => None,
    }
}

/// The one specification a line's sizes point at; nothing where it says none, or there is only one.
fn specification(entry: &Entry, items: &[&Item], all: &[&Entry], words: &Wording) -> Option<String> {
    let mut specs: Vec<&str> = items.iter().map(|i| i.spec.as_str()).collect();
    specs.sort_unstable();
    specs.dedup();
    if specs.len() < 2 {
        return None;
    }
    // Words of a specification (working space) that other lines name set those that do not name them apart.
    let said = |text: &str, t: &str| {
        let line = compact(text);
        stands(&line, &compact(t)) || words.called(t).iter().any(|w| line.contains(&compact(w)))
    };
    let named = |t: &str| all.iter().any(|e| said(&e.text, t));
    let by = |text: &str| {
        let found = |spec: &&str| shared(spec, &specs, text, &said, &named);
        let best = specs.iter().map(found).max().unwrap_or(0);
        let least = specs.iter().map(found).min().unwrap_or(0);
        let mut at_best = specs.iter().filter(|s| found(s) == best);
        match (best > least, at_best.next(), at_best.next()) {
            (true, Some(one), None) => Some((*one).to_owned()),
            _ => None,
        }
    };
    by(&entry.own).or_else(|| by(&entry.text))
}

/// How many sizes of a specification, that not all others have, stand in a text.
fn shared(
    spec: &str,
    all: &[&str],
    text: &str,
    said: &dyn Fn(&str, &str) -> bool,
    named: &dyn Fn(&str) -> bool,
) -> i32 {
    let own = spec.split('/').filter(|t| !all.iter().all(|s| s.split('/').any(|o| o == *t)));
    let numbers = numbers(text);
    let token = |t: &str| match band(t) {
        Some((from, to)) if numbers.contains(&to) => 2 + 2 * i32::from(numbers.contains(&from)),
        Some(_) => 0,
        None if said(text, t) => 2,
        None if bar(t).is_some_and(|mm| stands(&compact(text), &format!("{mm}mm"))) => 1,
        None => -i32::from(t.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') && named(t)),
    };
    own.map(token).sum()
}

/// Lower case without blanks and dashes, so that sizes and words are found however they are parted.
fn compact(text: &str) -> String {
    text.to_lowercase().chars().filter(|c| !c.is_whitespace() && *c != '-').collect()
}

/// The diameter of a bar as drawings write it: `Y10`.
fn bar(text: &str) -> Option<&str> {
    let digits = text.strip_prefix(|c: char| c.is_ascii_uppercase())?;
    (!digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit())).then_some(digits)
}

/// A depth band: `1.5-3.0`.
fn band(text: &str) -> Option<(Ratio, Ratio)> {
    let (from, to) = text.split_once('-')?;
    Some((parse::decimal(from)?, parse::decimal(to)?))
}

/// The numbers of a text.
fn numbers(text: &str) -> Vec<Ratio> {
    let part = |c: char| !(c.is_ascii_digit() || c == '.');
    text.split(part).filter_map(|t| parse::decimal(t.trim_matches('.'))).collect()
}

/// A size as it stands by itself: `110` is not in `1100`.
fn stands(compact: &str, size: &str) -> bool {
    let edge = |c: Option<char>| c.is_none_or(|c| !(c.is_ascii_digit() || c == '.'));
    let mut places = compact.match_indices(size);
    !size.is_empty()
        && places.any(|(i, _)| {
            edge(compact.get(..i).and_then(|t| t.chars().next_back()))
                && edge(compact.get(i + size.len()..).and_then(|t| t.chars().next()))
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mistakes::fixture::{JOB, with};
    use crate::read::read;
    use crate::rows::of_csv;
    use crate::wording::builtin;

    fn job() -> String {
        let job = JOB.replace("\"exact\"", "\"east-africa\"").replace(
            "manholes = []",
            "manholes = [[\"600 mm\", \"500 mm\"], [\"600 mm\", \"500 mm\"]]\nmembrane = true",
        );
        format!(
            "{job}[[tank.ring_beams]]\nabove_floor = \"700 mm\"\ndepth = \"150 mm\"\n\
             [tank.plaster]\nthickness = \"20 mm\"\nmix = \"1:3\"\nscreed = {{ thickness = \"30 mm\", mix = \"1:3\" }}\n\
             [tank.pipes]\ninlet = {{ diameter = \"110 mm\", below_top = \"250 mm\", length = \"9 m\" }}\n\
             outlet = {{ diameter = \"110 mm\", below_top = \"300 mm\", length = \"6 m\" }}\n\
             trench = {{ width = \"450 mm\", depth = \"700 mm\" }}\n\
             [soak_pit]\ndiameter = \"2 m\"\ndepth = \"3 m\"\nfill_depth = \"2 m\"\n"
        )
    }

    fn matched(csv: &str) -> Vec<String> {
        with(&job(), &[], |case| {
            let sheet = &case.world.estimate.sheet;
            let theirs = read("x.csv", &of_csv(csv), builtin()).unwrap_or_default();
            let lines = theirs.entries.iter().filter(|e| e.kind == crate::read::Kind::Line);
            let all: Vec<&Entry> = lines.clone().collect();
            let name = |p: &Pick| {
                let spec = p.spec.as_ref().map(|s| format!("/{s}"));
                format!("{}{}", p.work, spec.unwrap_or_default())
            };
            let said = |e: &Entry| match of(e, builtin(), &works(sheet), &all) {
                Match::Sure(picks) => picks.iter().map(name).collect::<Vec<_>>().join("+"),
                other => format!("{other:?}"),
            };
            lines.map(said).collect()
        })
    }

    #[test]
    fn free_wording() {
        let found = matched(
            "description,unit,qty\nExcavation for septic tank n.e. 1.5 m deep,CM,1\nDo. 1.50 - 3.00 m deep,CM,1\n\
             Level and compact bottom of pit,SM,1\nRC 1:2:4 bed 150mm thick,CM,1\n\
             One brick wall in c.m. 1:3,SM,1\n110mm half brick partition,SM,1\nRC 1:1.5:3 ring beam,CM,1\n\
             Reinforced suspended slab over tank,CM,1\nShuttering to sides of ring beam,SM,1\n\
             Formwork to soffit of slab,SM,1\nFormwork to slab incl. openings,SM,1\n\
             20 mm waterproof render internally,SM,1\n30mm screed to floor,SM,1\nDPM under slab,SM,1\n\
             Dispose surplus,CM,1\nBackfill,CM,1\nExcavate pipe trench,CM,1\nExcavate soakaway pit,CM,1\n\
             Hardcore fill to soakaway,CM,1\n110 mm upvc pipe laid and jointed,LM,1\nTees,No,1\n\
             Manhole covers 600 x 500,No,1\n",
        );
        let want = [
            "excavation-pit/0-1.5",
            "excavation-pit/1.5-3.0",
            "bottom-trim",
            "concrete-base",
            "brickwork-wall",
            "brickwork-partition",
            "concrete-ring-beam",
            "concrete-cover",
            "formwork-ring-beam",
            "formwork-cover-soffit",
            "formwork-cover-soffit+formwork-manhole",
            "plaster-wall",
            "screed",
            "damp-proof-membrane",
            "disposal",
            "backfill",
            "excavation-trench",
            "excavation-soak-pit",
            "soak-fill",
            "pipe",
            "pipe-tee",
            "manhole-cover",
        ];
        for (found, want) in found.iter().zip(want) {
            assert_eq!(found, want);
        }
    }

    #[test]
    fn a_heading_of_both_is_none() {
        let line = "Excavate pit n.e. 1.5 m deep,m3,1\n";
        let under = |heading: &str| matched(&format!("description,unit,qty\n{heading},,\n{line}")).concat();
        assert_eq!(under("SOAK PIT"), "excavation-soak-pit");
        assert_eq!(under("SEPTIC TANK AND SOAK PIT"), "excavation-pit/0-1.5");
        assert_eq!(under("Tank & soak pit"), "excavation-pit/0-1.5");
        assert_eq!(under("SOAKAWAY FOR SEPTIC TANK"), "excavation-soak-pit");
        assert_eq!(under("TANK & SOAK PIT,,\nSoak pit"), "excavation-soak-pit");
    }

    #[test]
    fn sizes_tell_what_words_do_not() {
        let found = matched(
            "description,unit,qty\nExcavate pit n.e. 1.50 m deep,m3,1\n150 mm concrete base,m3,1\n150mm concrete bed,m2,1\n\
             half brick wall,m2,1\none brick wall,m2,1\n100 mm wall,m2,1\n100mm brick wall in mortar 1:4,m2,1\n\
             200 mm wall,m2,1\n9 inch wall,m2,1\n",
        );
        let want = [
            "excavation-pit/0-1.5",
            "concrete-base",
            "concrete-base",
            "brickwork-partition",
            "brickwork-wall",
            "brickwork-partition",
            "brickwork-partition",
            "brickwork-wall",
            "brickwork-wall",
        ];
        assert_eq!(found, want);
    }

    #[test]
    fn headings_help_and_doubts_stay_doubts() {
        let found = matched(
            "description,unit,qty\nFORMWORK,,\nto ring beam,m2,1\nCONCRETE,,\n1:2:4 in base,m3,1\n\
             SUNDRIES,,\nPaint,m2,1\nFormwork to columns,m2,1\nPlaster,m3,1\n",
        );
        assert_eq!(found[..2], ["formwork-ring-beam", "concrete-base"]);
        assert_eq!(found[2], "Unknown");
        assert_eq!(found[3], "NotHere([\"formwork-column\"])");
        assert_eq!(found[4], "Unit(\"plaster-wall\")");
    }
}
