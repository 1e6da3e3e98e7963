//! Rules between keys of the job file itself. What parts of the tank ask of each other is their elements' matter.

use tankwright_geometry::Ratio;

use super::codes;
use super::lists::suggestion;
use super::read::Reader;
use crate::decimal::plain;
use crate::problem::Problem;

/// The format this program reads.
const FORMAT: Ratio = Ratio::ONE;

/// A list, and the ways of which each of its entries is given in one: all keys of the way, none of the others'.
pub type Ways = (&'static str, [&'static [&'static str]; 2]);

/// What is worked out, where no amount is given.
const WORKED: &[&str] = &["unit", "quantity", "rate"];

/// Lists whose entries are given in one way of two. Keys that stand in no way may be given with any.
pub const WAYS: [Ways; 3] = [
    ("preliminaries[]", [&["amount"], WORKED]),
    ("provisional[]", [&["amount"], WORKED]),
    ("additions.list[]", [&["percent"], &["amount"]]),
];

/// Checks all rules.
pub(super) fn check(reader: &mut Reader<'_>) {
    format(reader);
    let lists = WAYS.iter().filter(|(_, ways)| ways.contains(&WORKED));
    for list in lists.filter_map(|(list, _)| list.strip_suffix("[]")) {
        for i in 0..reader.job.count_of(list) {
            priced(reader, &format!("{list}[{i}]"));
        }
    }
    say(reader);
    for i in 0..reader.job.count_of("additions.list") {
        added(reader, i);
    }
}

fn format(reader: &mut Reader<'_>) {
    let Some(format) = reader.job.number("format").filter(|f| *f != FORMAT) else { return };
    let what = format!("format {} is not read by this program", plain(format));
    report(reader, codes::FORMAT, "format", what, "only 1 is known", "write format = 1");
}

/// Either an amount, or unit, quantity and rate.
fn priced(reader: &mut Reader<'_>, entry: &str) {
    if !reader.written.contains(entry) {
        return;
    }
    let has = |key: &str| reader.written.contains(&format!("{entry}.{key}"));
    let worked: Vec<&str> = WORKED.iter().copied().filter(|k| has(k)).collect();
    let label = match (has("amount"), worked.len()) {
        (true, 0) | (false, 3) => return,
        (true, _) => format!("both an amount and {}", worked.join(", ")),
        (false, 0) => "no amount".to_owned(),
        (false, _) => format!("only {}", worked.join(" and ")),
    };
    let hint =
        "give either amount, or unit, quantity and rate together; amount = \"0\" says: included elsewhere";
    report(reader, codes::PRICED_HOW, entry, format!("{entry} must be priced in one way"), &label, hint);
}

fn say(reader: &mut Reader<'_>) {
    if reader.job.number("additions.say").is_some_and(Ratio::is_zero) {
        let what = "additions.say: a step of 0 rounds nothing".to_owned();
        report(
            reader,
            codes::NUMBER_RANGE,
            "additions.say",
            what,
            "this is 0",
            "write the step, as \"1000\", or leave it out",
        );
    }
}

/// Either a percentage or an amount; `on` names what stands before it.
fn added(reader: &mut Reader<'_>, i: usize) {
    let entry = format!("additions.list[{i}]");
    if !reader.written.contains(&entry) {
        return;
    }
    let has = |key: &str| reader.written.contains(&format!("{entry}.{key}"));
    let label = match (has("percent"), has("amount")) {
        (true, true) => Some("both percent and amount"),
        (false, false) => Some("neither percent nor amount"),
        (false, true) if has("on") => Some("an amount is not taken on anything"),
        _ => None,
    };
    if let Some(label) = label {
        let hint = "give percent (with or without on), or amount alone";
        report(
            reader,
            codes::ADDED_HOW,
            &entry,
            format!("{entry} must be a percentage or an amount"),
            label,
            hint,
        );
    }
    let before: Vec<String> =
        (0..i).map(|j| reader.job.text(&format!("additions.list[{j}].title")).to_owned()).collect();
    let on = format!("{entry}.on");
    let names = reader.job.texts(&on).to_vec();
    for name in names.iter().filter(|n| *n != "measured" && !before.contains(n)) {
        let list = before.iter().map(String::as_str).chain(["measured"]);
        let hint = format!(
            "{}it may be \"measured\" or titles of additions before this one",
            suggestion(name, list)
        );
        report(
            reader,
            codes::ADDED_ON,
            &on,
            format!("{on}: no addition \"{name}\" stands before this one"),
            "not known here",
            &hint,
        );
    }
}

fn report(reader: &mut Reader<'_>, code: &'static str, path: &str, what: String, label: &str, hint: &str) {
    let place = reader.job.place(path);
    reader.push(Problem::error(code, place, what).label(label).hint(hint));
}
