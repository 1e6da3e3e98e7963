//! What the papers about bars, materials and orders share: titles, packs, dates, stages.

use rust_decimal::Decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::Day;
use tankwright_quantities::languages::text;
use tankwright_quantities::materials::Material;
use tankwright_quantities::orders::{Line, Pack, Total};
use tankwright_quantities::programme::EventKind;
use tankwright_quantities::stage::Stage;

use super::table::Page;
use crate::format::{NO_BREAK, group, grouped, quantity, say, word};

/// Places of amounts in a table: the places they are reckoned with.
const PLACES: u32 = 3;

/// The material of an id.
pub(crate) fn material<'a>(e: &'a Estimate, id: &str) -> Option<&'a Material> {
    e.materials.materials.iter().find(|m| m.id == id)
}

/// A material's words; its id where there are none.
pub(crate) fn title(e: &Estimate, id: &str) -> String {
    material(e, id).map_or_else(|| id.to_owned(), |m| text(&m.title))
}

/// A material's own unit.
pub(crate) fn unit<'a>(e: &'a Estimate, id: &str) -> &'a str {
    material(e, id).map_or("", |m| m.unit.as_str())
}

/// What the whole job needs of a material.
pub(crate) fn total<'a>(e: &'a Estimate, id: &str) -> Option<&'a Total> {
    e.orders.totals.iter().find(|t| t.material == id)
}

/// The pack of a material.
pub(crate) fn pack<'a>(e: &'a Estimate, id: &str) -> Option<&'a Pack> {
    total(e, id).map(|t| &t.pack)
}

/// An amount for a table: three places, so that points stand under each other.
pub(crate) fn amount(value: Decimal) -> String {
    grouped(value, value.normalize().scale().max(PLACES))
}

/// An amount in a sentence, with its unit: `350 kg`, `2.50 m3`.
pub(crate) fn with_unit(value: Decimal, unit: &str) -> String {
    let least = if matches!(unit, "m" | "m2" | "m3") { 2 } else { 0 };
    format!("{}{NO_BREAK}{}", quantity(value, least), text(unit))
}

/// `7 bags of 50 kg`, `1 trip of 3 m3`, `120 pieces`.
pub(crate) fn packs(n: u64, pack: &Pack) -> String {
    let [one, many] = &pack.words;
    let (number, word) = (group(&n.to_string()), text(if n == 1 { one } else { many }));
    let said = match pack.title.strip_suffix(one.as_str()).map(str::trim) {
        // Sold by its own unit: `3 kg`, not three of 1.
        Some("" | "1") if one == "l" => litres(&number),
        Some("") => format!("{number} {word}"),
        Some("1") if UNITS.contains(&one.as_str()) => format!("{number} {word}"),
        // `3 x 10 m2`.
        Some(_) if UNITS.contains(&one.as_str()) => format!("{number} x {}", text(&pack.title)),
        Some(size) => {
            let pieces = size.strip_suffix(" nr").map(|n| say("paper-pieces-in", &[n]));
            say("paper-packs-of", &[&number, &word, pieces.as_deref().unwrap_or(size)])
        }
        None => format!("{number} x {}", text(&pack.title)),
    };
    said.replace(' ', "\u{a0}")
}

/// Own units of materials, as words of packs.
const UNITS: [&str; 5] = ["kg", "m3", "m2", "m", "l"];

fn litres(number: &str) -> String {
    say(if number == "1" { "paper-litre" } else { "paper-litres" }, &[number])
}

/// What is made or drawn on the site is ordered from nobody.
pub(crate) const SITE: &str = "site";

/// Whose goods they are.
pub(crate) fn supplier<'a>(e: &'a Estimate, id: &str) -> &'a str {
    material(e, id).map_or(SITE, |m| m.supplier.as_str())
}

/// Packs of a line of an order; a dash where nothing is ordered.
pub(crate) fn ordered(e: &Estimate, line: &Line) -> String {
    if line.packs > 0 { packs_of(e, &line.material, line.packs, line.ordered) } else { "-".to_owned() }
}

/// Does it come in no pack: water of the site, where the job does not say in which?
pub(crate) fn loose(e: &Estimate, id: &str) -> bool {
    pack(e, id).is_some_and(|p| p.default) && supplier(e, id) == SITE && unit(e, id) == "l"
}

/// Packs of a material, or litres of what comes in none.
pub(crate) fn packs_of(e: &Estimate, id: &str, n: u64, ordered: Decimal) -> String {
    match pack(e, id) {
        Some(_) if loose(e, id) => litres(&quantity(ordered, 0)).replace(' ', "\u{a0}"),
        Some(pack) => packs(n, pack),
        None => "-".to_owned(),
    }
}

/// An amount as one counts it: pieces are whole, `up` what is needed and down what is left.
pub(crate) fn counted(value: Decimal, unit: &str, up: bool) -> String {
    let whole = if up { value.ceil() } else { value.floor() };
    with_unit(if unit == "nr" { whole } else { value }, unit)
}

/// What must be there for a stage: what it uses, or what stands on the site at once.
pub(crate) fn needed(line: &Line) -> Decimal {
    line.used.max(line.present)
}

/// What must be on the site at once though only a share of it is worn off.
pub(crate) fn at_once<'a>(page: &mut Page, e: &Estimate, all: impl Iterator<Item = (&'a str, Decimal)>) {
    let one = |(id, n): (&str, Decimal)| format!("{} {}", title(e, id), counted(n, unit(e, id), true));
    let all: Vec<String> = all.map(one).collect();
    if !all.is_empty() {
        page.line(2, 4, &say("paper-at-once", &[&all.join("; ")]));
    }
}

/// A stage in words.
pub(crate) fn stage(stage: Stage) -> String {
    word(&format!("stage-{}", stage.id())).to_owned()
}

/// Stages in words, in one line.
pub(crate) fn stage_list(stages: &[Stage]) -> String {
    stages.iter().map(|s| stage(*s)).collect::<Vec<_>>().join("; ")
}

/// The stages of this job, in order: those with anything to measure, to buy, to wait for or to beware of.
pub(crate) fn stages(e: &Estimate) -> Vec<Stage> {
    let p = &e.programme;
    let has = |s: &Stage| {
        e.sheet.items.iter().any(|i| i.stage == *s)
            || e.orders.stages.iter().any(|o| o.stage == *s)
            || e.steel.marks.iter().any(|m| m.stage == *s)
            || p.events.iter().any(|v| v.stage == *s)
            || p.days.iter().any(|d| d.stage == *s)
            || p.holds.iter().any(|h| h.before == *s)
            || p.cautions.iter().any(|c| c.0 == *s)
    };
    Stage::ALL.into_iter().filter(has).collect()
}

/// `Tue 1 Dec 2026`.
pub(crate) fn day(day: Day) -> String {
    let [year, month, date] = day.ymd();
    let of = |key: &'static str, n: i64| {
        usize::try_from(n).ok().and_then(|n| word(key).split(' ').nth(n)).unwrap_or_default().to_owned()
    };
    format!("{} {date} {} {year}", of("paper-weekdays", day.weekday()), of("paper-months", month - 1))
        .replace(' ', "\u{a0}")
}

/// First and last day: `Tue 1 Dec 2026`, or `Tue 1 Dec 2026 to Thu 3 Dec 2026`.
pub(crate) fn days(from: Day, to: Day) -> String {
    if from == to { day(from) } else { say("paper-from-to", &[&day(from), &day(to)]) }
}

/// The first day of a kind of event in a stage.
pub(crate) fn first(e: &Estimate, kind: EventKind, stage: Stage) -> Option<Day> {
    e.programme.events.iter().filter(|v| v.kind == kind && v.stage == stage).map(|v| v.from).min()
}

/// The day by which a supplier is told of a stage's goods; of the stage, where no event names the supplier.
pub(crate) fn order_day(e: &Estimate, stage: Stage, supplier: &str) -> Option<Day> {
    let orders = e.programme.events.iter().filter(|v| v.kind == EventKind::Order && v.stage == stage);
    let mut named = orders.filter(|v| v.title.args.first().is_some_and(|who| who == supplier));
    named.next().map_or_else(|| first(e, EventKind::Order, stage), |v| Some(v.from))
}

/// When the goods of a stage are ordered and delivered; nothing where the programme has no dates.
pub(crate) fn dates(e: &Estimate, stage: Stage) -> Option<String> {
    let dated = [(EventKind::Order, "paper-order-by"), (EventKind::Delivery, "paper-deliver")];
    let dated = dated.into_iter().filter_map(|(kind, key)| Some(say(key, &[&day(first(e, kind, stage)?)])));
    Some(dated.collect::<Vec<_>>().join(", ")).filter(|t| !t.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handmade;

    #[test]
    fn packs_in_words() {
        let pack = |title: &str, one: &str, many: &str| Pack {
            size: Decimal::ONE,
            title: title.to_owned(),
            words: [one.to_owned(), many.to_owned()],
            source: String::new(),
            default: false,
        };
        let said = |n, p: &Pack| packs(n, p).replace(NO_BREAK, " ");
        assert_eq!(said(1, &pack("50 kg bag", "bag", "bags")), "1 bag of 50 kg");
        assert_eq!(said(1_240, &pack("piece", "piece", "pieces")), "1 240 pieces");
        assert_eq!(said(2, &pack("kg", "kg", "kg")), "2 kg");
        assert_eq!(said(1, &pack("l", "l", "l")), "1 litre");
        assert_eq!(said(3, &pack("1 m2", "m2", "m2")), "3 m2");
        assert_eq!(said(3, &pack("10 m2", "m2", "m2")), "3 x 10 m2");
        assert_eq!(said(2, &pack("1 l bottle", "bottle", "bottles")), "2 bottles of 1 l");
        assert_eq!(said(2, &pack("2500 nr trip", "trip", "trips")), "2 trips of 2500 pieces");
        assert_eq!(said(2, &pack("roll, 30 m", "roll", "rolls")), "2 x roll, 30 m");
    }

    #[test]
    fn days_of_the_calendar() {
        let of = |text| Day::read(text).map(|d| day(d).replace(NO_BREAK, " ")).unwrap_or_default();
        assert_eq!(of("2026-11-25"), "Wed 25 Nov 2026");
        assert_eq!(of("2028-02-29"), "Tue 29 Feb 2028");
    }

    #[test]
    fn stages_of_the_job() {
        let ids: Vec<_> = stages(&handmade::estimate()).into_iter().map(Stage::id).collect();
        assert_eq!(ids, ["dig", "base", "walls-lower", "plaster"]);
    }
}
