//! Papers to print, put together once: command and page give the same bytes.

use tankwright_account::payments::{self as account, Asked};
use tankwright_draw::{Drawing, drawing, drawings, long_section};
use tankwright_export::money::money;
use tankwright_export::payments::title;
use tankwright_papers::{Logo, NoPicture, NotPrinted, Offer, Paper, Payment, Sheet, pdf, png};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::{self, Job, firm_table};
use tankwright_quantities::languages::{self, Language};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::words::Phrase;

use crate::sketches::{of_stages, sheet, view};

/// The drawing that goes with every offer, on a page of its own at its scale, and the one that is shown in its text
/// where its letters can be read there.
const SHEET: &str = "plan-cover";
const SECTION: &str = "long-section";

/// What an offer may have besides.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Appendices {
    /// The priced bill.
    pub bill: bool,
    /// All drawings.
    pub drawings: bool,
}

/// Who offers, where it is not only the job that says so.
#[derive(Debug, Default)]
pub struct Firm {
    /// `firm.toml`, read: it counts where the job has no `[firm]`.
    pub firm: Option<Job>,
    /// The picture.
    pub logo: Option<Logo>,
}

impl Firm {
    /// A file with the table `[firm]` of a job and nothing else.
    #[must_use]
    pub fn read(name: &str, text: &str) -> (Job, Vec<Problem>) {
        job::read(name, text, &[firm_table()])
    }
}

/// A paper in a language.
#[derive(Debug)]
pub struct Printed {
    /// PDF.
    pub bytes: Vec<u8>,
    /// Keys and texts that the language lacks: they stand in English, and the paper says so.
    pub lacking: Vec<String>,
}

/// What is wrong with a paper that cannot be printed.
#[must_use]
pub fn unprinted(why: &NotPrinted) -> Problem {
    match why {
        NotPrinted::Letters(letters) => {
            let list: Vec<String> =
                letters.iter().map(|c| format!("`{c}` (U+{:04X})", u32::from(*c))).collect();
            let message = format!("the letters of the papers lack {}", list.join(", "));
            Problem::error("F011", None, message)
                .hint("they stand in a text of the job file: write it in other letters")
        }
        NotPrinted::Drawing(why) | NotPrinted::Writer(why) => {
            Problem::error("F012", None, format!("the paper cannot be printed: {why}"))
                .hint("this is a fault of the program")
        }
    }
}

/// A drawing that cannot be made a picture: a fault of the program, or too tall for so many dots.
#[must_use]
pub fn no_picture(name: &str, why: &NoPicture) -> Problem {
    let why = match why {
        NoPicture::Drawing(why) => why.clone(),
        NoPicture::Size => "it would have too many dots".to_owned(),
        NoPicture::Packed => "it cannot be packed".to_owned(),
    };
    Problem::error("F012", None, format!("no picture of `{name}`: {why}")).hint("ask for fewer dots")
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
    let written = languages::within(language, || tankwright_papers::cards(e, only, &of_stages(e, only)));
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
pub fn print_offer(e: &Estimate, job: &Job, with: Appendices, firm: Firm) -> Result<Vec<u8>, NotPrinted> {
    let room = tankwright_papers::room_for_picture().map(i64::from);
    let shown = long_section(e, room).map(view).filter(Sheet::is_legible);
    let own = [SECTION, SHEET].into_iter().filter(|id| *id != SECTION || shown.is_none());
    let all = if with.drawings { drawings(e) } else { own.filter_map(|id| drawing(e, id)).collect() };
    let sheets = all.iter().map(sheet);
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
    let Firm { firm, logo } = firm;
    let parts = Offer { payments, shown, sheets: sheets.collect(), bill: with.bill, firm, logo };
    printed(&tankwright_papers::offer(e, job, &parts))
}

/// A drawing as a picture, so many dots wide.
///
/// # Errors
/// Too many dots, or a fault of the program.
pub fn print_picture(drawing: &Drawing, wide: u32) -> Result<Vec<u8>, NoPicture> {
    png(&drawing.svg, drawing.width_mm, wide)
}

fn printed(paper: &Paper) -> Result<Vec<u8>, NotPrinted> {
    pdf(paper, &|n, of| Phrase::with("paper-page-of", &[n, of]).to_string())
}
