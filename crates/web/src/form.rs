//! The few questions that matter, and every length of the job: names, units and help from the one table of fields.

use std::collections::BTreeMap;

use serde::Serialize;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::plain;
use tankwright_quantities::job::spans::Span;
use tankwright_quantities::job::{Field, Job, Kind, Scale, takes};
use tankwright_quantities::rates::Stock;
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_sizing::Rules;
use tankwright_sizing::rule::Kind as RuleKind;

use tankwright_run::typed::field_of;

use crate::values::{default, written};

/// Groups of questions: word of the title, then path and word of each.
const QUESTIONS: &[(&str, &[(&str, &str)])] = &[
    (
        "web-who",
        &[("job.title", "web-title"), ("tank.persons", "web-people"), ("sizing.water_use", "web-water-use")],
    ),
    (
        "web-ground",
        &[
            ("ground.soil", "web-soil"),
            ("ground.water_table", "web-water-table"),
            ("sizing.percolation", "web-soak-test"),
        ],
    ),
    (
        "web-tank",
        &[
            ("sizing.rule", "web-rule"),
            ("tank.chambers", "web-chambers"),
            ("tank.width", "web-width"),
            ("tank.height", "web-height"),
            ("tank.walls.unit", "web-unit"),
            ("tank.walls.thickness", "web-wall"),
        ],
    ),
    (
        "web-prices",
        &[
            ("job.rates", "web-rates"),
            ("job.currency", "web-currency"),
            ("job.date", "web-date"),
            ("job.profile", "web-profile"),
        ],
    ),
];

/// One of a list of choices.
#[derive(Debug, Serialize)]
pub(crate) struct Choice {
    value: String,
    title: String,
}

/// A field of the page.
#[derive(Debug, Serialize)]
pub(crate) struct Asked {
    path: String,
    label: String,
    help: String,
    /// As the user wrote it; nothing where the default holds, or nothing does.
    value: Option<String>,
    /// What holds where nothing is written.
    default: Option<String>,
    source: Option<String>,
    /// Choices, where only these may stand there.
    choices: Vec<Choice>,
    /// A number alone.
    number: bool,
}

/// Fields under one title.
#[derive(Debug, Serialize)]
pub(crate) struct Group {
    title: String,
    /// Part of the job file.
    part: String,
    fields: Vec<Asked>,
}

/// What a form is made from.
pub(crate) struct Form<'a> {
    pub(crate) job: &'a Job,
    pub(crate) text: &'a str,
    pub(crate) spans: &'a BTreeMap<String, Span>,
    pub(crate) stock: &'a Stock,
    pub(crate) rules: &'a Rules,
    pub(crate) lists: Vec<String>,
}

impl Form<'_> {
    /// The few questions.
    pub(crate) fn questions(&self) -> Vec<Group> {
        let group = |(title, fields): &(&str, &[(&str, &str)])| {
            let one = |(path, word): &(&str, &str)| self.asked(self.home(path), look_up(word).to_owned());
            let fields = fields.iter().map(one).collect();
            Group { title: look_up(title).to_owned(), part: String::new(), fields }
        };
        QUESTIONS.iter().map(group).collect()
    }

    /// People may be said in two places: where the job says it, it is asked.
    fn home<'p>(&self, path: &'p str) -> &'p str {
        match path {
            "tank.persons" if self.spans.contains_key("sizing.persons") => "sizing.persons",
            _ => path,
        }
    }

    /// Every length of the job, by the parts of the job file.
    pub(crate) fn lengths(&self) -> Vec<Group> {
        let mut groups: Vec<Group> = Vec::new();
        let lengths = self.job.inputs.iter().filter(|i| i.scale == Scale::Length);
        for input in lengths.filter(|i| !matches!(kind(&i.path), None | Some(Kind::Bars { .. } | Kind::Lap)))
        {
            let part = part_of(&input.path);
            let rest = input.path.get(part.len()..).unwrap_or_default().trim_start_matches('.');
            let field = self.asked(&input.path, in_words(rest));
            match groups.iter_mut().find(|g| g.part == part) {
                Some(group) => group.fields.push(field),
                None => {
                    let title = in_words(part.strip_prefix("tank.").unwrap_or(part));
                    groups.push(Group { title, part: part.to_owned(), fields: vec![field] });
                }
            }
        }
        groups
    }

    fn asked(&self, path: &str, label: String) -> Asked {
        let field = field_of(path);
        let kind = field.and_then(|f| f.kind);
        let value = written(self.job, self.text, self.spans, path);
        let (default, source) = match (&value, default(self.job, path)) {
            (None, Some((value, source))) => (Some(value), Some(source)),
            _ => (None, None),
        };
        let mut choices = self.choices(path, kind);
        let here = value.as_deref().or(default.as_deref()).unwrap_or_default();
        if !choices.is_empty() && !here.is_empty() && choices.iter().all(|c| c.value != here) {
            // What the job says is shown, known or not.
            choices.insert(0, Choice { value: here.to_owned(), title: here.to_owned() });
        }
        Asked {
            path: path.to_owned(),
            label,
            help: self.walls(path).unwrap_or_else(|| help(path, field)),
            value,
            default,
            source,
            choices,
            number: matches!(kind, Some(Kind::Count { .. })),
        }
    }

    /// The thicknesses that the brick or block of the walls makes.
    fn walls(&self, path: &str) -> Option<String> {
        let unit = (path == "tank.walls.thickness").then(|| self.job.text("tank.walls.unit"))?;
        let walls = &self.stock.units.get(unit)?.walls;
        let said: Vec<String> = walls.iter().map(|w| plain(Ratio::from(*w) / Ratio::int(10))).collect();
        Some(Phrase { key: "web-wall-help", args: vec![said.join(", ")] }.to_string())
    }

    fn choices(&self, path: &str, kind: Option<Kind>) -> Vec<Choice> {
        let plain = |value: &str| Choice { value: value.to_owned(), title: value.to_owned() };
        let titled = |value: &String, title: &String| Choice { value: value.clone(), title: title.clone() };
        match (path, kind) {
            ("ground.soil", _) => self.stock.soils.iter().map(|(id, s)| titled(id, &s.title)).collect(),
            ("job.profile", _) => self.stock.profiles.iter().map(|(id, p)| titled(id, &p.title)).collect(),
            ("job.currency", _) => self.stock.currencies.keys().map(|id| plain(id)).collect(),
            ("job.rates", _) => self.lists.iter().map(|id| plain(id)).collect(),
            ("sizing.rule", _) => {
                let rules = self.rules.rules.values().filter(|r| r.kind == RuleKind::Capacity);
                rules.map(|r| titled(&r.id, &format!("{} {}", r.title, r.year))).collect()
            }
            (_, _) if path.ends_with(".unit") => {
                self.stock.units.iter().map(|(id, u)| titled(id, &u.title)).collect()
            }
            (_, Some(Kind::Choice(words))) => words.iter().map(|w| plain(w)).collect(),
            (_, Some(Kind::Flag)) => ["true", "false"].into_iter().map(plain).collect(),
            _ => Vec::new(),
        }
    }
}

/// Questions whose help in the table of fields speaks of the command line: their own words.
const HELP: &[(&str, &str)] = &[
    ("sizing.rule", "web-rule-help"),
    ("job.rates", "web-rates-help"),
    ("sizing.percolation", "web-soak-test-help"),
    ("tank.chambers", "web-chambers-help"),
    ("tank.walls.unit", "web-unit-help"),
    ("job.currency", "web-currency-help"),
    ("job.date", "web-date-help"),
];

/// Help with what may stand there, where that is more than a word of a list.
fn help(path: &str, field: Option<&Field>) -> String {
    if let Some((_, word)) = HELP.iter().find(|(p, _)| *p == path) {
        return look_up(word).to_owned();
    }
    let Some(Field { help, kind: Some(kind), .. }) = field else { return String::new() };
    match kind {
        Kind::Text | Kind::Choice(_) | Kind::Flag | Kind::Texts => (*help).to_owned(),
        kind => format!("{help}; {}", takes(*kind)),
    }
}

fn kind(path: &str) -> Option<Kind> {
    field_of(path)?.kind
}

/// The part that a length is listed under: `tank.cover`, `soak_pit`, `tank` for what stands directly in it.
fn part_of(path: &str) -> &str {
    let dots: Vec<usize> = path.match_indices('.').map(|(i, _)| i).collect();
    let end = match dots.as_slice() {
        [] => path.find('[').unwrap_or(path.len()),
        [one] => *one,
        [_, two, ..] => *two,
    };
    path.get(..end).unwrap_or(path)
}

/// `opening.below_top` as `opening below top`, `chambers[0]` as `chambers 1`.
fn in_words(path: &str) -> String {
    let mut out = String::new();
    for piece in path.split('[') {
        match piece.split_once(']') {
            Some((n, rest)) => {
                let n = n.parse::<u32>().map_or_else(|_| n.to_owned(), |n| n.saturating_add(1).to_string());
                let sign = if out.ends_with(|c: char| c.is_ascii_digit()) { '.' } else { ' ' };
                out.push(sign);
                out.push_str(&n);
                out.push_str(rest);
            }
            None => out.push_str(piece),
        }
    }
    let spaced: String = out
        .char_indices()
        .map(|(i, c)| match c {
            '_' => ' ',
            // A point between two figures stays.
            '.' if !out.get(i + 1..).is_some_and(|r| r.starts_with(|c: char| c.is_ascii_digit())) => ' ',
            c => c,
        })
        .collect();
    spaced.trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_listed_under_their_part() {
        for (path, part, label) in [
            ("tank.width", "tank", "width"),
            ("tank.chambers[0]", "tank", "chambers 1"),
            ("tank.cover.manholes[0][1]", "tank.cover", "manholes 1.2"),
            ("tank.partitions.opening.below_top", "tank.partitions", "opening below top"),
            ("soak_pit.fill_depth", "soak_pit", "fill depth"),
            ("tank.ring_beams[1].depth", "tank.ring_beams[1]", "depth"),
        ] {
            assert_eq!(part_of(path), part, "{path}");
            assert_eq!(in_words(path[part.len()..].trim_start_matches('.')), label, "{path}");
        }
        assert_eq!(in_words("ring_beams[1]"), "ring beams 2");
    }

    #[test]
    fn every_question_is_a_field() {
        let paths = QUESTIONS.iter().flat_map(|(_, fields)| fields.iter());
        for (path, word) in paths {
            assert!(field_of(path).is_some_and(|f| f.kind.is_some()), "{path}");
            assert_ne!(look_up(word), *word, "{path}");
        }
    }
}
