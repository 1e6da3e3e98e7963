//! Papers to print, put together once: command and page give the same bytes.

use tankwright_account::payments::{self as account, Asked};
use tankwright_draw::{Drawing, drawings};
use tankwright_export::money::money;
use tankwright_export::payments::title;
use tankwright_papers::{NotPrinted, Offer, Paper, Payment, Sheet, pdf};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::Job;
use tankwright_quantities::languages::{self, Language};
use tankwright_quantities::words::Phrase;

/// Drawings shown in the text of an offer.
const SHOWN: [&str; 2] = ["long-section", "plan-cover"];

/// What an offer may have besides.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Appendices {
    /// The priced bill.
    pub bill: bool,
    /// All drawings.
    pub drawings: bool,
}

/// A paper in a language.
#[derive(Debug)]
pub struct Printed {
    /// PDF.
    pub bytes: Vec<u8>,
    /// Keys and texts that the language lacks: they stand in English, and the paper says so.
    pub lacking: Vec<String>,
}

/// The cards of these stages, of all where none is named. Write the estimate within the same language.
///
/// # Errors
/// Letters that the faces lack, or a fault of the program.
pub fn print_cards(
    e: &Estimate,
    only: Option<&str>,
    language: &'static Language,
) -> Result<Printed, NotPrinted> {
    let written = languages::within(language, || tankwright_papers::cards(e, only));
    let (mut paper, mut lacking) = (written.paper, written.lacking);
    lacking.extend(written.left);
    let written = languages::within(language, || {
        paper.lacks(&lacking);
        printed(&paper)
    });
    Ok(Printed { bytes: written.paper?, lacking })
}

/// The offer of a priced job.
///
/// # Errors
/// Letters that the faces lack, or a fault of the program.
pub fn print_offer(e: &Estimate, job: &Job, with: Appendices) -> Result<Vec<u8>, NotPrinted> {
    let all = drawings(e);
    let shown = all.iter().filter(|d| SHOWN.contains(&d.id.as_str())).map(sheet);
    let sheets = all.iter().filter(|_| with.drawings).map(sheet);
    // Terms that cannot be are refused where the job is read; a job without terms has no payments to show.
    let paid = account::payments(e, job, &Asked::default()).ok().filter(|_| job.given("payments"));
    let payments = paid.map_or_else(Vec::new, |p| {
        let row = |one| Payment {
            what: title(&p, one),
            when: one.date.map(|day| day.to_string()).unwrap_or_default(),
            amount: money(one.due, &e.bill.currency),
        };
        p.schedule.payments.iter().map(row).collect()
    });
    let parts = Offer { payments, shown: shown.collect(), sheets: sheets.collect(), bill: with.bill };
    printed(&tankwright_papers::offer(e, job, &parts))
}

fn printed(paper: &Paper) -> Result<Vec<u8>, NotPrinted> {
    pdf(paper, &|n, of| Phrase::with("paper-page-of", &[n, of]).to_string())
}

fn sheet(d: &Drawing) -> Sheet {
    let side = |mm: u32| i32::try_from(mm).unwrap_or(0) * 100;
    Sheet { svg: d.svg.clone(), alt: d.alt.clone(), size: [side(d.width_mm), side(d.height_mm)] }
}
