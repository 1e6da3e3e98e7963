//! What a bidder reads before he prices: who asks, how it is measured, what the rates hold, what no row asks for.

use tankwright_quantities::decimal;
use tankwright_quantities::estimate::{Caution, Estimate};
use tankwright_quantities::job::Job;
use tankwright_quantities::pricing::not_asked;
use tankwright_quantities::rates::Stock;
use tankwright_quantities::words::Phrase;

/// Line by line, in the order of the paper.
pub(super) fn of(e: &Estimate, job: &Job, stock: &Stock) -> Vec<String> {
    let mut notes = Vec::new();
    let mut add = |key: &'static str, args: &[&str]| notes.push(Phrase::with(key, args).to_string());
    match job.text("to_price.asked_by") {
        "" => add("form-note-nobody", &[]),
        name => add("form-note-asked-by", &[name]),
    }
    match (job.text("to_price.answer_to"), job.text("to_price.answer_by")) {
        ("", "") => {}
        (to, "") => add("form-note-answer-to", &[to]),
        ("", by) => add("form-note-answer-by", &[by]),
        (to, by) => add("form-note-answer", &[to, by]),
    }
    e.scope.iter().for_each(|line| add("form-note-scope", &[&line.to_string()]));
    add("form-note-measured", &[&e.profile.1]);
    if job.text("job.supply") == "labour-only" {
        add("form-note-labour", &[]);
    } else {
        add("form-note-rates", &[]);
    }
    let earth = [e.earth.dug_net, e.earth.dug_actual, e.earth.carted_bank, e.earth.carted_loose];
    let earth = earth.map(|d| decimal::shown(d, 2));
    add("form-note-earth", &earth.each_ref().map(String::as_str));
    add("form-note-money", &[&e.bill.currency.code, &e.bill.currency.digits.to_string()]);
    add("form-note-empty", &[]);
    add("form-note-governs", &[]);
    if job.count_of("provisional") > 0 {
        add("form-note-provisional", &[]);
    }
    if (0..job.count_of("additions.list")).any(|i| job.has(&format!("additions.list[{i}].percent"))) {
        add("form-note-percent", &[]);
    }
    let open = not_asked(&e.bill, job, stock);
    if !open.is_empty() {
        add("form-note-not-asked", &[&open.join("; ")]);
    }
    job.texts("to_price.notes").iter().for_each(|note| add("form-note-own", &[note]));
    // Cautions about prices, the job file, own data and the size of the tank are for whoever asks, not for the bidder.
    let of_works = |c: &&Caution| ("C001".."C040").contains(&c.code) || ("C060".."C090").contains(&c.code);
    let told = e.cautions_of_job().filter(of_works);
    told.for_each(|c| add("form-note-caution", &[&c.says.to_string(), &c.source]));
    notes
}
