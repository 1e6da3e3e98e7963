//! The offer: what the client gets. Scope, drawing, price, payments, what is not in it, cautions, a place to sign.

use tankwright_export::text::bill_page;
use tankwright_export::{format, money};
use tankwright_quantities::bill::SideRow;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::Job;
use tankwright_quantities::languages::spoken;
use tankwright_quantities::words::{Phrase, look_up};

use crate::Hundredths;
use crate::blocks::{Block, Paper, of_page};
use crate::layout::{fitted, room};
use crate::logo::Logo;
use crate::table::{Align, Row, Table};

/// Tallest picture in the text of an offer: as wide as the page, it leaves room for scope and price.
const PICTURE: Hundredths = 13_500;

/// Letters of a drawing, and the least that they may be on a page: ISO 3098 has 1.8 mm as its smallest height.
const LETTERS: Hundredths = 250;
const LEAST: Hundredths = 180;

/// Days that an offer holds where the job does not say: our choice, printed.
const VALID: i64 = 30;

/// What is not in a price unless the job prices it: trade risks and what others must do.
const LEFT_OUT: [&str; 5] =
    ["offer-no-rock", "offer-no-water", "offer-no-permits", "offer-no-road", "offer-no-emptying"];

/// A drawing of an offer.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// SVG.
    pub svg: String,
    /// What it shows.
    pub title: String,
    /// In words.
    pub alt: String,
    /// Hundredths of a millimetre.
    pub size: [Hundredths; 2],
}

/// How large a drawing may be that is shown in the text of an offer, wide and tall, so that its letters can be read.
#[must_use]
pub fn room_for_picture() -> [Hundredths; 2] {
    [room(), PICTURE].map(|side| side * LETTERS / LEAST)
}

impl Sheet {
    /// Height of its letters where it stands in the text of an offer.
    #[must_use]
    pub fn letters(&self) -> Hundredths {
        let [wide, _] = fitted(self.size, PICTURE);
        let printed = i64::from(LETTERS) * i64::from(wide) / i64::from(self.size[0].max(1));
        Hundredths::try_from(printed).unwrap_or(0)
    }

    /// Can they be read there? Where they cannot, the drawing needs a page of its own.
    #[must_use]
    pub fn is_legible(&self) -> bool {
        self.letters() >= LEAST
    }

    /// On a page of its own.
    pub(crate) fn block(&self) -> Block {
        Block::Sheet { svg: self.svg.clone(), alt: self.alt.clone(), size: self.size }
    }
}

/// A payment: what for, when, how much as printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Payment {
    /// What for.
    pub what: String,
    /// When, or nothing.
    pub when: String,
    /// With the currency's digits.
    pub amount: String,
}

/// What an offer is made of, besides the estimate.
#[derive(Debug, Default)]
pub struct Offer {
    /// Payments in order; none where the job has none.
    pub payments: Vec<Payment>,
    /// The drawing shown in the text; none where its letters would be too small: then its sheet stands at the end.
    pub shown: Option<Sheet>,
    /// Drawings at the end, each on a page of its own.
    pub sheets: Vec<Sheet>,
    /// The priced bill as an appendix.
    pub bill: bool,
    /// Who offers, where it is not said in the job itself: a file of the same table.
    pub firm: Option<Job>,
    /// The firm's picture.
    pub logo: Option<Logo>,
}

/// The offer of a priced job.
#[must_use]
pub fn offer(e: &Estimate, job: &Job, with: &Offer) -> Paper {
    let firm = with.firm.as_ref().filter(|_| !job.given("firm")).unwrap_or(job);
    let mut blocks = head(firm, with.logo.as_ref());
    blocks.push(Block::Title(look_up("offer-title").to_owned()));
    blocks.push(Block::Apart(e.title.clone(), e.date.clone()));
    blocks.extend(asked(job));
    built(&mut blocks, e);
    if with.shown.is_none() && !with.sheets.is_empty() {
        let titles: Vec<&str> = with.sheets.iter().map(|s| s.title.as_str()).collect();
        let says = Phrase::with("offer-drawing-behind", &[&titles.join("; ")]).to_string();
        blocks.push(Block::listed("\u{2013}", &says));
    }
    if let Some(sheet) = &with.shown {
        blocks.push(Block::Gap(200));
        blocks.push(picture(sheet, PICTURE));
        blocks.push(Block::Small(Phrase::with("offer-drawing", &[&sheet.title]).to_string()));
    }
    price(&mut blocks, e);
    payments(&mut blocks, &with.payments);
    left_out(&mut blocks, e, job);
    cautions(&mut blocks, e);
    sign(&mut blocks, job, firm);
    if with.bill {
        blocks.push(Block::NewPage);
        blocks.push(Block::Heading(look_up("offer-bill").to_owned()));
        blocks.extend(of_page(&bill_page(e)));
    }
    for sheet in &with.sheets {
        blocks.push(sheet.block());
    }
    Paper {
        title: Phrase::with("offer-file", &[&e.title]).to_string(),
        foot: Phrase::with("offer-foot", &[&e.title, &e.date]).to_string(),
        date: e.date.clone(),
        language: spoken().to_owned(),
        mark: None,
        large: false,
        blocks,
    }
}

fn said<'a>(job: &'a Job, path: &str) -> Option<&'a str> {
    Some(job.text(path)).filter(|t| !t.is_empty())
}

/// The builder's own head.
fn head(job: &Job, logo: Option<&Logo>) -> Vec<Block> {
    let Some(name) = said(job, "firm.name") else { return Vec::new() };
    let line =
        |key: &str, word: &'static str| said(job, key).map(|text| Phrase::with(word, &[text]).to_string());
    let picture = |logo: &Logo| Block::Logo {
        logo: logo.clone(),
        alt: Phrase::with("offer-logo", &[name]).to_string(),
    };
    let mut blocks: Vec<Block> = logo.map(picture).into_iter().collect();
    blocks.push(Block::Text { indent: 0, hang: 0, bold: true, text: name.to_owned() });
    let lines = [
        line("firm.address", "plain"),
        line("firm.telephone", "offer-telephone"),
        line("firm.email", "plain"),
        line("firm.tax_number", "offer-tax-number"),
    ];
    blocks.extend(lines.into_iter().flatten().map(Block::text));
    blocks.push(Block::Gap(500));
    blocks
}

/// Who asked for it, where, under which number, and until when it holds.
fn asked(job: &Job) -> Vec<Block> {
    let line = |key: &str, word| said(job, key).map(|text| Phrase::with(word, &[text]).to_string());
    let days = if job.has("offer.valid_days") { job.count("offer.valid_days").1 } else { VALID };
    let days = days.to_string();
    let lines = [
        line("offer.client", "offer-client"),
        line("offer.place", "offer-place"),
        line("offer.number", "offer-number"),
        Some(Phrase::with("offer-valid", &[&days]).to_string()),
    ];
    lines.into_iter().flatten().map(Block::text).collect()
}

/// What is built, in plain words.
fn built(blocks: &mut Vec<Block>, e: &Estimate) {
    blocks.push(Block::Heading(look_up("offer-built").to_owned()));
    blocks.extend(e.scope.iter().map(|line| Block::listed("\u{2013}", &line.to_string())));
    if let Some(litres) = e.capacity.to_water_line {
        let says = Phrase::with("offer-holds", &[&format::grouped(litres.into(), 0)]);
        blocks.push(Block::listed("\u{2013}", &says.to_string()));
    }
    if let Some(sizing) = &e.sizing {
        blocks.push(Block::listed("\u{2013}", &sizing.says.to_string()));
    }
}

fn picture(sheet: &Sheet, most: Hundredths) -> Block {
    Block::Picture { svg: sheet.svg.clone(), alt: sheet.alt.clone(), size: sheet.size, most }
}

/// The price, section by section, down to the total.
fn price(blocks: &mut Vec<Block>, e: &Estimate) {
    let bill = &e.bill;
    let shown = |value| money::money(value, &bill.currency);
    let mut rows = vec![Row::Head(vec![look_up("offer-work").to_owned(), bill.currency.code.clone()])];
    for s in &bill.sections {
        rows.extend(s.total.map(|total| {
            Row::Cells(vec![look_up(&format!("section-{}", s.section.id())).to_owned(), shown(total)])
        }));
    }
    let side = |list: &[SideRow]| -> Vec<Row> {
        list.iter().map(|r| Row::Cells(vec![r.title.clone(), shown(r.amount)])).collect()
    };
    rows.extend(side(&bill.preliminaries));
    rows.extend(side(&bill.provisional));
    for a in &bill.additions {
        let title = match a.percent {
            Some(p) => Phrase::with("paper-percent", &[&p.normalize().to_string(), &a.title]).to_string(),
            None => a.title.clone(),
        };
        rows.push(Row::Cells(vec![title, shown(a.amount)]));
    }
    if let Some(total) = bill.total {
        rows.push(Row::Sum(vec![look_up("paper-total").to_owned(), shown(total)]));
    }
    blocks.push(Block::Heading(look_up("offer-price").to_owned()));
    blocks.push(Block::Table(Table { cols: vec![Align::Fill, Align::Right], rows }));
    blocks.push(Block::text(bill.total_in_words.clone()));
    if bill.client_buys.is_some() {
        blocks.push(Block::text(look_up("offer-labour-only")));
    }
    if !bill.provisional.is_empty() {
        blocks.push(Block::text(look_up("offer-provisional")));
    }
}

fn payments(blocks: &mut Vec<Block>, payments: &[Payment]) {
    if payments.is_empty() {
        return;
    }
    blocks.push(Block::Heading(look_up("offer-payments").to_owned()));
    let row = |p: &Payment| Row::Cells(vec![p.what.clone(), p.when.clone(), p.amount.clone()]);
    let cols = vec![Align::Fill, Align::Left, Align::Right];
    blocks.push(Block::Table(Table { cols, rows: payments.iter().map(row).collect() }));
}

/// What is not in the price.
fn left_out(blocks: &mut Vec<Block>, e: &Estimate, job: &Job) {
    blocks.push(Block::Heading(look_up("offer-left-out").to_owned()));
    let own = job.texts("offer.not_included");
    let usual = LEFT_OUT.iter().map(|key| look_up(key).to_owned());
    let not_priced = e.bill.not_priced.iter().cloned();
    for line in usual.chain(not_priced).chain(own.iter().map(|t| (*t).to_owned())) {
        blocks.push(Block::listed("\u{2013}", &line));
    }
}

/// What the client must know, as it stands on the other papers.
fn cautions(blocks: &mut Vec<Block>, e: &Estimate) {
    let told: Vec<_> = e.cautions_of_job().filter(|c| c.code.starts_with('C')).collect();
    if told.is_empty() {
        return;
    }
    blocks.push(Block::Heading(look_up("offer-cautions").to_owned()));
    for c in told {
        blocks.push(Block::listed("!", &c.says.to_string()));
    }
    blocks.push(Block::text(look_up("offer-codes")));
}

fn sign(blocks: &mut Vec<Block>, job: &Job, firm: &Job) {
    blocks.push(Block::Heading(look_up("offer-sign").to_owned()));
    let firm = said(firm, "firm.name").unwrap_or(look_up("offer-builder"));
    for who in [firm, said(job, "offer.client").unwrap_or(look_up("offer-the-client"))] {
        blocks.push(Block::Write(Phrase::with("offer-signed", &[who]).to_string()));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_a_picture_are_read_on_the_page_or_it_is_none() {
        let sheet = |wide, tall| Sheet {
            svg: String::new(),
            title: String::new(),
            alt: String::new(),
            size: [wide, tall],
        };
        // The page has room for 176 mm: as large as it is, then 176 of 220, then of 260; then 135 of 200 upright.
        assert_eq!(sheet(17_600, 9_000).letters(), 250);
        assert_eq!(sheet(22_000, 9_000).letters(), 250 * 176 / 220);
        assert_eq!(sheet(10_000, 20_000).letters(), 250 * 135 / 200);
        assert!(sheet(22_000, 9_000).is_legible() && !sheet(26_000, 9_000).is_legible());
    }
}
