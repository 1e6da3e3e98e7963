//! Orders as messages for the telephone: one for each supplier and stage, short lines, no tables.

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::orders::{Line, Pack, StageOrder};
use tankwright_quantities::programme::EventKind;

use super::goods;
use crate::format::{NO_BREAK, clean, say, word};

/// A message and the name of its file, without an ending: `base-hardware`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    /// Stage and supplier.
    pub name: String,
    /// Its lines. Our own words are plain ASCII; titles stay as the user wrote them.
    pub text: String,
}

/// A message for each stage and supplier with anything to deliver, in the order of stages and materials.
#[must_use]
pub fn messages(e: &Estimate) -> Vec<Message> {
    e.orders.stages.iter().flat_map(|o| of_stage(e, o)).collect()
}

fn of_stage(e: &Estimate, order: &StageOrder) -> Vec<Message> {
    let supplier = |l: &Line| goods::supplier(e, &l.material);
    let mut suppliers: Vec<&str> = Vec::new();
    for line in order.lines.iter().filter(|l| l.packs > 0) {
        let who = supplier(line);
        if who != goods::SITE && !suppliers.contains(&who) {
            suppliers.push(who);
        }
    }
    let message = |who: &str| {
        let lines = order.lines.iter().filter(|l| l.packs > 0 && supplier(l) == who);
        let text: Vec<String> =
            std::iter::once(head(e, order)).chain(lines.map(|l| line(e, order, l))).collect();
        Message { name: format!("{}-{}", order.stage.id(), file_name(who)), text: text.join("\n") + "\n" }
    };
    suppliers.into_iter().map(message).collect()
}

/// `Rest house - for BASE, deliver Tue 1 Dec 2026`.
fn head(e: &Estimate, order: &StageOrder) -> String {
    let stage = goods::stage(order.stage).to_uppercase();
    let text = match goods::first(e, EventKind::Delivery, order.stage) {
        Some(day) => say("paper-message-deliver", &[&stage, &goods::day(day), &e.title]),
        None => say("paper-message-for", &[&stage, &e.title]),
    };
    plain(&text)
}

/// `cement: 8 bags of 50 kg`.
fn line(e: &Estimate, order: &StageOrder, line: &Line) -> String {
    let mut text = format!("{}: {}", goods::title(e, &line.material), goods::ordered(e, line));
    if line.reserve > 0 {
        text = say("paper-message-reserve", &[&text, &line.reserve.to_string()]);
    }
    if line.serves.iter().any(|s| *s != order.stage) && bulk(e, line) {
        text = say("paper-message-serves", &[&goods::stage_list(&line.serves), &text]);
    }
    if goods::pack(e, &line.material).is_some_and(unsure) {
        text.push_str(word("paper-message-pack"));
    }
    plain(&text)
}

fn bulk(e: &Estimate, line: &Line) -> bool {
    use tankwright_quantities::materials::Rounding;
    goods::material(e, &line.material).is_some_and(|m| m.rounding == Rounding::Bulk)
}

/// A load whose size nobody has said: the lorry of this supplier may be another.
fn unsure(pack: &Pack) -> bool {
    pack.default && pack.words[0] == "trip"
}

fn plain(text: &str) -> String {
    clean(&text.replace(NO_BREAK, " "))
}

/// Letters, digits and dashes only: a supplier's word comes from the user's data.
fn file_name(who: &str) -> String {
    let fit = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    who.chars().take(40).map(fit).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handmade;

    #[test]
    fn a_message_for_each_supplier_and_stage() {
        let all = messages(&handmade::estimate());
        let names: Vec<_> = all.iter().map(|m| m.name.as_str()).collect();
        assert_eq!(names, ["base-hardware", "base-quarry", "walls-lower-hardware"]);
        let base = "Rest house, hill road - for BASE, deliver Tue 1 Dec 2026\n\
            cement: 7 bags of 50 kg\nbars Y10: 4 bars of 6 m\n";
        assert_eq!(all[0].text, base);
        let quarry = "Rest house, hill road - for BASE, deliver Tue 1 Dec 2026\n\
            building sand: 1 trip of 3 m3 (serves base; walls, lower part) (say if your load is another)\n";
        assert_eq!(all[1].text, quarry);
        let walls = "Rest house, hill road - for WALLS, LOWER PART\n\
            cement: 5 bags of 50 kg (1 of them in reserve)\nbars Y10: 1 bar of 6 m\n";
        assert_eq!(all[2].text, walls);
    }

    #[test]
    fn names_of_files_are_safe_and_nothing_is_ordered_from_the_site() {
        let mut e = handmade::estimate();
        e.materials.materials[0].supplier = "../A b".to_owned();
        e.materials.materials[1].supplier = "site".to_owned();
        e.title = "a\u{1b}[31m\nb".to_owned();
        let all = messages(&e);
        let names: Vec<_> = all.iter().map(|m| m.name.as_str()).collect();
        assert_eq!(names, ["base----a-b", "base-hardware", "walls-lower----a-b", "walls-lower-hardware"]);
        assert!(all.iter().all(|m| !m.text.contains('\u{1b}') && m.text.lines().count() == 2));
    }
}
