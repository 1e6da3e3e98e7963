//! Papers as plain text of at most 100 columns. Every function takes the estimate and nothing else.

pub(crate) mod bars;
mod bill;
pub(crate) mod checks;
pub(crate) mod goods;
pub(crate) mod materials;
mod message;
pub(crate) mod money;
pub(crate) mod orders;
mod screen;
mod setting_out;
pub(crate) mod sheet;
mod stage_card;
mod store;
pub(crate) mod table;
mod takeoff;

pub use bars::bars;
pub use bill::{bill, bill_page};
pub use materials::materials;
pub use message::{Message, messages};
pub use orders::orders;
pub use screen::{folder_of, screen};
pub use setting_out::setting_out;
pub use stage_card::{stage_card, stage_ids, stage_page};
pub use store::store;
pub use takeoff::takeoff;

use tankwright_quantities::estimate::Estimate;

use crate::format::{grouped, say, word};
use table::{Col, Page, Table};

/// Title at the left; date, profile and currency at the right.
pub(crate) fn head(page: &mut Page, e: &Estimate) {
    let right = [e.date.as_str(), &e.profile.0, &e.bill.currency.code];
    page.apart(&e.title, &right.iter().filter(|t| !t.is_empty()).copied().collect::<Vec<_>>().join("   "));
}

/// The four numbers of the earth in one line.
pub(crate) fn earth_line(e: &Estimate) -> String {
    let n = |d| grouped(d, 2);
    let (dug, put_back) = (n(e.earth.dug_actual), n(e.earth.put_back));
    let (bank, loose) = (n(e.earth.carted_bank), n(e.earth.carted_loose));
    let loose = match &e.earth.loads {
        Some((1, size)) => say("paper-earth-load", &[&loose, &crate::format::quantity(*size, 0)]),
        Some((loads, size)) => {
            let loads = crate::format::group(&loads.to_string());
            say("paper-earth-loads", &[&loose, &loads, &crate::format::quantity(*size, 0)])
        }
        None => say("paper-earth-loose", &[&loose]),
    };
    say("paper-earth-line", &[&n(e.earth.dug_net), &dug, &put_back, &bank, &loose])
}

/// Which text the profile follows.
pub(crate) fn method(page: &mut table::Page, e: &Estimate) {
    if !e.method.text.is_empty() {
        page.line(0, 2, &say("paper-method-text", &[&e.method.text]));
    }
}

/// What the profile says of itself.
pub(crate) fn notes(e: &Estimate) -> table::Table {
    let mut table = table::Table::new(2, &[table::Col::Left(0), table::Col::Fill(0)]);
    for note in &e.method.notes {
        table.row([word(note.kind.key()), &format!("{} ({})", note.says, note.source)]);
    }
    table
}

/// How the figures of the bill differ from what is dug, carted, mixed and bought.
pub(crate) fn beside(page: &mut table::Page, e: &Estimate) {
    let n = |d| grouped(d, 2);
    let loose = match &e.earth.loads {
        Some((loads, size)) if *loads > 1 => {
            let loads = crate::format::group(&loads.to_string());
            say("paper-earth-loads", &[&n(e.earth.carted_loose), &loads, &crate::format::quantity(*size, 0)])
        }
        _ => say("paper-earth-loose", &[&n(e.earth.carted_loose)]),
    };
    let dig =
        [&n(e.earth.dug_net), &n(e.earth.dug_actual), &n(e.earth.put_back), &n(e.earth.carted_bank), &loose];
    page.line(0, 2, &say("paper-beside-dig", &dig.map(String::as_str)));
    let c = &e.concrete;
    if !c.net.is_zero() {
        let [billed, net, mixed] = [n(c.billed), n(c.net), n(c.mixed)];
        page.line(
            0,
            2,
            &match c.mixed > c.net {
                true => say("paper-beside-concrete-more", &[&billed, &net, &mixed]),
                false => say("paper-beside-concrete", &[&billed, &net]),
            },
        );
    }
    if let Some(cement) = e.orders.totals.iter().find(|t| t.material == "cement") {
        let packs = crate::format::group(&cement.packs.to_string());
        page.line(0, 2, &say("paper-beside-cement", &[&packs, &cement.pack.title]));
    }
    page.line(0, 2, &word("paper-beside-order"));
}

/// What the tank holds, in one line.
#[must_use]
pub fn capacity_line(e: &Estimate) -> String {
    let litres = |n: u64| crate::format::group(&n.to_string());
    match e.capacity.to_water_line {
        Some(n) => say("paper-capacity", &[&litres(n), &litres(e.capacity.full)]),
        None => say("paper-capacity-no-outlet", &[&litres(e.capacity.full)]),
    }
}

/// Cautions, each with its code, its place in the job file and who asks for it.
pub(crate) fn cautions(page: &mut Page, e: &Estimate) {
    let told: Vec<_> = e.cautions_of_job().collect();
    if told.is_empty() {
        return;
    }
    page.line(0, 0, &say("paper-cautions", &[&told.len().to_string()]));
    let mut table = Table::new(2, &[Col::Left(0), Col::Fill(0)]);
    for c in told {
        let place = c.place.as_ref().map(|p| format!(" {}:{}", p.file, p.line)).unwrap_or_default();
        table.row([c.code, &say("paper-caution", &[&place, &c.says.to_string(), &c.source])]);
    }
    page.table(&table);
}

/// Balances in a word: how many close, and which do not.
pub(crate) fn balances_line(e: &Estimate) -> String {
    let open: Vec<_> = e.balances.iter().filter(|b| !b.holds()).map(|b| b.name).collect();
    let (all, closed) = (e.balances.len(), e.balances.len() - open.len());
    if open.is_empty() {
        say("paper-balances-close", &[&all.to_string()])
    } else {
        say("paper-balances-open", &[&closed.to_string(), &all.to_string(), &open.join(", ")])
    }
}

/// The default's path as on papers, without `tank.`.
pub(crate) fn default_name(path: &str) -> String {
    crate::format::short_name(path)
}

/// Where a rate comes from: `rates/prices/demo-ugx.csv:31, 2026-10-01, source`.
pub(crate) fn rate_source(from: &tankwright_quantities::bill::RateFrom) -> String {
    if from.line == 0 {
        return say("build-up-from", &[&from.source, &from.list, &from.date]);
    }
    let parts = [format!("{}:{}", from.list, from.line), from.date.clone(), from.source.clone()];
    parts.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(", ")
}

/// Section letter and title.
pub(crate) fn section_title(s: &tankwright_quantities::bill::BillSection) -> String {
    format!("{} {}", s.letter, word(&format!("section-{}", s.section.id())))
}

#[cfg(test)]
mod tests {
    use tankwright_quantities::sheet::Sheet;

    use crate::handmade;

    #[test]
    fn user_text_cannot_command_the_terminal() {
        let mut e = handmade::estimate();
        let bad = "a\u{1b}]0;x\u{7}\nb\u{202e}";
        e.title = bad.to_owned();
        e.bill.additions[0].title = bad.to_owned();
        e.bill.preliminaries[0].title = bad.to_owned();
        e.bill.not_priced.push(bad.to_owned());
        e.cautions[0].source = bad.to_owned();
        e.materials.materials[0].title = bad.to_owned();
        e.materials.materials[0].supplier = bad.to_owned();
        e.orders.totals[0].pack.title = bad.to_owned();
        e.programme.events[1].details = vec![bad.to_owned()];
        let all = [
            super::screen(&e, &[bad.to_owned()]),
            super::takeoff(&e),
            super::bill(&e),
            super::setting_out(&e),
            super::bars(&e),
            super::materials(&e),
            super::orders(&e),
            super::stage_card(&e, "base").unwrap_or_default(),
            crate::explain::explain(&e, "total").unwrap_or_default(),
        ];
        for text in all {
            assert!(!text.contains(['\u{1b}', '\u{7}', '\u{202e}']), "{text}");
            assert!(text.lines().all(|l| l != "b\u{fffd}" && l.chars().count() <= 100), "{text}");
        }
    }

    #[test]
    fn nothing_at_all_is_no_fault() {
        let mut e = handmade::estimate();
        e.sheet = Sheet::default();
        e.bill.sections.clear();
        e.bill.additions.clear();
        e.bill.price_list = None;
        (e.bill.total, e.bill.measured, e.bill.say) = (None, None, None);
        e.balances.clear();
        e.steel = Default::default();
        e.materials = Default::default();
        e.orders = Default::default();
        e.programme = Default::default();
        e.defaults.clear();
        assert!(super::screen(&e, &[]).contains("no price list: quantities only"));
        assert!(super::takeoff(&e).contains("0 balances close"));
        assert!(super::bill(&e).contains("not priced"));
        assert!(super::materials(&e).contains("no materials"));
        assert!(super::orders(&e).contains("nothing to order"));
        assert!(super::messages(&e).is_empty() && super::stage_ids(&e).is_empty());
    }
}
