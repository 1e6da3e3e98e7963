//! The workbook as abstract pages: what stands where, before any file format.

use std::collections::BTreeMap;

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::money::Grouping;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::{Phrase, look_up};

use crate::cells::{At, Page, PageId, Picture, Range};
use crate::expr::Expr;
use crate::pages;
use crate::trail::{Trail, input_names};

/// Where the figures of an item stand.
#[derive(Clone, Debug, Default)]
pub struct ItemAt {
    /// Dimensions and value, line by line.
    pub lines: Vec<(Vec<At>, At)>,
    /// Item total.
    pub total: Option<At>,
    /// Net quantity, where materials need it.
    pub net: Option<At>,
}

/// Where the figures of a row of materials stand.
#[derive(Clone, Debug, Default)]
pub struct RowAt {
    /// Amount of each use, signed; a use alone in its row has none of its own.
    pub uses: Vec<At>,
    /// Net and over-break.
    pub parts: [Option<At>; 2],
    /// Per cent of waste.
    pub waste: Option<At>,
    /// With waste.
    pub gross: Option<At>,
    /// On the site at once; none where that is what is used.
    pub present: Option<At>,
}

/// Where the figures of a material bought for a stage, or of the whole job, stand.
#[derive(Clone, Debug, Default)]
pub struct OrderAt {
    /// In store before.
    pub opening: Option<At>,
    /// Packs.
    pub packs: Option<At>,
    /// Ordered.
    pub ordered: Option<At>,
    /// Used.
    pub used: Option<At>,
    /// On the site at once; none where that is what is used.
    pub present: Option<At>,
    /// Left.
    pub closing: Option<At>,
    /// Money.
    pub cost: Option<At>,
}

/// Where the figures of a mark stand.
#[derive(Clone, Debug, Default)]
pub struct MarkAt {
    /// Number of bars.
    pub count: Option<At>,
    /// Bending dimensions, in order.
    pub dims: Vec<At>,
    /// Their sum by the shape.
    pub sum: Option<At>,
    /// Cutting length.
    pub length: Option<At>,
    /// Kilograms.
    pub mass: Option<At>,
}

/// Where the figures of materials, orders and bars stand.
#[derive(Clone, Debug, Default)]
pub struct GoodsAt {
    /// Rows of materials.
    pub rows: Vec<RowAt>,
    /// Orders by material and stage; a stage without use or delivery has none.
    pub orders: BTreeMap<(String, Stage), OrderAt>,
    /// Orders of the whole job, in the order of the estimate.
    pub totals: Vec<OrderAt>,
    /// Cost of all orders.
    pub cost: Option<At>,
    /// Marks.
    pub marks: Vec<MarkAt>,
    /// Kilograms by grade and diameter: of the marks, of the dimension sheets.
    pub masses: Vec<[At; 2]>,
    /// Bars to buy, by cutting plan.
    pub bars: Vec<Option<At>>,
    /// Bars bought, by material and stage.
    pub bought: BTreeMap<(String, Stage), At>,
}

/// Where the figures of a bill section stand.
#[derive(Clone, Debug, Default)]
pub struct SectionAt {
    /// Quantity and amount, row by row.
    pub rows: Vec<(At, Option<At>)>,
    /// Section total.
    pub total: Option<At>,
}

/// Where the figures of a stage stand.
#[derive(Clone, Debug, Default)]
pub struct StageAt {
    /// The stage.
    pub stage: Option<Stage>,
    /// Measured works.
    pub works: Option<At>,
    /// What is bought for it, by columns of materials.
    pub parts: Vec<At>,
    /// All that is bought for it.
    pub bought: Option<At>,
    /// With what was bought before.
    pub so_far: Option<At>,
}

/// Where the figures of all stages stand.
#[derive(Clone, Debug, Default)]
pub struct StagesAt {
    /// Stage by stage.
    pub stages: Vec<StageAt>,
    /// Measured works of all.
    pub works: Option<At>,
    /// All that is bought.
    pub bought: Option<At>,
}

/// Where the figures of a built rate stand.
#[derive(Clone, Debug, Default)]
pub struct BuiltAt {
    /// Amounts of lines.
    pub lines: Vec<At>,
    /// Amounts of on-costs.
    pub on_costs: Vec<At>,
    /// Cost and on-costs.
    pub total: Option<At>,
    /// The rate.
    pub rate: Option<At>,
}

/// Where every figure stands that the estimate holds too.
#[derive(Clone, Debug, Default)]
pub struct Places {
    /// Items of the ledger.
    pub items: Vec<ItemAt>,
    /// Voids of the ledger.
    pub voids: Vec<ItemAt>,
    /// Rates by bill reference.
    pub rates: BTreeMap<String, Expr>,
    /// Sections of the bill.
    pub sections: Vec<SectionAt>,
    /// Measured works.
    pub measured: Option<At>,
    /// Amounts of preliminaries.
    pub preliminaries: Vec<At>,
    /// Amounts of provisional items.
    pub provisional: Vec<At>,
    /// Base and amount of additions.
    pub additions: Vec<(Option<At>, At)>,
    /// Grand total.
    pub total: Option<At>,
    /// Rates of a pack by material, with their decimal places.
    pub prices: BTreeMap<String, (Expr, u32)>,
    /// Rates of the price list that built rates use, by its line.
    pub lines: BTreeMap<usize, Expr>,
    /// Built rates, in the order of the bill.
    pub built: Vec<BuiltAt>,
    /// Materials, orders, bars.
    pub goods: GoodsAt,
    /// Works and goods by stage.
    pub stages: StagesAt,
    /// Cells that stay true while the cutting plan fits the schedule; lines, bill and other goods do not hang on it.
    pub plan: Vec<Range>,
    /// Cells that must stay true: signs of inputs, comparisons that shaped the lines.
    pub kept: Vec<Range>,
}

/// The workbook.
#[derive(Clone, Debug, Default)]
pub struct Book {
    /// Title of the job.
    pub title: String,
    /// Date of the job, `2026-11-25`: the file's own date.
    pub date: String,
    /// How its amounts of money are grouped.
    pub grouping: Grouping,
    /// Pages, in order.
    pub pages: Vec<Page>,
    /// Named cells.
    pub names: BTreeMap<String, At>,
    /// Where the estimate's figures stand.
    pub places: Places,
}

impl Book {
    /// A page.
    #[must_use]
    pub fn page(&self, id: PageId) -> Option<&Page> {
        self.pages.iter().find(|p| p.id == id)
    }

    /// Does a cell hold anything?
    #[must_use]
    pub fn has(&self, at: At) -> bool {
        self.page(at.page).is_some_and(|p| p.cells.contains_key(&(at.row, at.col)))
    }
}

/// What the pages share while they are laid out.
#[derive(Debug)]
pub(crate) struct Desk<'a> {
    /// The estimate.
    pub(crate) estimate: &'a Estimate,
    /// Trails.
    pub(crate) trail: Trail<'a>,
    /// Named cells so far.
    pub(crate) names: BTreeMap<String, At>,
    /// Places so far.
    pub(crate) places: Places,
    /// Pictures for the summary.
    pub(crate) pictures: Vec<Picture>,
    /// What cannot be written.
    pub(crate) problems: Vec<Problem>,
}

impl Desk<'_> {
    /// The expression, or a reported problem and nothing in its place.
    pub(crate) fn need(&mut self, expr: Option<Expr>, what: &str) -> Expr {
        expr.unwrap_or_else(|| {
            self.problems.push(Problem::error("X102", None, format!("the workbook cannot write {what}")));
            Expr::int(0)
        })
    }
}

/// Words of a key.
pub(crate) fn word(key: &'static str) -> String {
    look_up(key).to_owned()
}

/// Words of a key with arguments.
pub(crate) fn words(key: &'static str, args: &[&str]) -> String {
    Phrase::with(key, args).to_string()
}

/// Title of a stage.
pub(crate) fn stage_word(stage: Stage) -> String {
    look_up(&format!("stage-{}", stage.id())).to_owned()
}

/// Words of keys, in order: heads of columns.
pub(crate) fn heads(keys: &[&'static str]) -> Vec<String> {
    keys.iter().map(|k| word(k)).collect()
}

/// Lays out the workbook of an estimate that was made with trails.
///
/// # Errors
/// X102 for each figure that cannot be written: a number of a trail too large for a decimal, a line that
/// refers to an item that is not there.
pub fn workbook(estimate: &Estimate) -> Result<Book, Vec<Problem>> {
    illustrated(estimate, Vec::new())
}

/// The same with pictures on its summary, whose dots come when the file is written.
///
/// # Errors
/// As [`workbook`].
pub fn illustrated(estimate: &Estimate, pictures: Vec<Picture>) -> Result<Book, Vec<Problem>> {
    let names = input_names(&estimate.inputs);
    let trail = Trail { inputs: &estimate.inputs, names: &names };
    let (names, places, problems) = (BTreeMap::new(), Places::default(), Vec::new());
    let mut desk = Desk { estimate, trail, names, places, pictures, problems };
    // In the order in which they need each other; the summary comes last and stands first.
    let mut pages = vec![
        pages::inputs::page(&mut desk),
        pages::rates::page(&mut desk),
        pages::dimensions::page(&mut desk),
    ];
    pages.extend(pages::analysis::page(&mut desk));
    pages.push(pages::bill::page(&mut desk));
    let goods: [fn(&mut Desk<'_>) -> Option<Page>; 5] = [
        pages::bars::page,
        pages::materials::page,
        pages::cutting::page,
        pages::orders::page,
        pages::stages::page,
    ];
    pages.extend(goods.into_iter().filter_map(|page| page(&mut desk)));
    pages.extend(pages::checks::page(&desk));
    pages.extend([
        pages::decisions::page(&desk),
        pages::structure::page(&mut desk),
        pages::sources::page(&desk),
        pages::summary::page(&desk),
    ]);
    pages.sort_by_key(|p| p.id);
    if let Some(bill) = pages.iter_mut().find(|p| p.id == PageId::Bill) {
        pages::bill::stamp(bill, &desk);
    }
    let Desk { names, places, problems, .. } = desk;
    if problems.is_empty() {
        let grouping = estimate.bill.currency.grouping;
        Ok(Book {
            title: estimate.title.clone(),
            date: estimate.date.clone(),
            grouping,
            pages,
            names,
            places,
        })
    } else {
        Err(problems)
    }
}
