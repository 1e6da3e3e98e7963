//! Materials by stage as a paper: net, over-break, waste once, gross; recipes and sources at the end.

use rust_decimal::Decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::materials::{Factor, Material, Row, Step, Use};
use tankwright_quantities::stage::Stage;

use super::goods::{self, amount};
use super::table::{Col, Page, Table};
use crate::format::{metres, quantity, say, value, word};

/// Materials stage by stage, totals, mixes, recipes.
#[must_use]
pub fn materials(e: &Estimate) -> String {
    let mut page = Page::default();
    super::head(&mut page, e);
    if e.materials.rows.is_empty() {
        page.line(0, 2, word("paper-materials-none"));
        return page.done();
    }
    page.line(0, 2, word("paper-materials-head"));
    let mut recipes = Recipes::default();
    for stage in Stage::ALL {
        of_stage(&mut page, e, stage, &mut recipes);
    }
    totals(&mut page, e);
    mixes(&mut page, e);
    recipes.list(&mut page);
    remarks(&mut page, e);
    page.done()
}

fn table(last: Col) -> Table {
    let cols =
        [Col::Fill(26), Col::Left(2), Col::Right(9), Col::Right(10), Col::Right(8), Col::Right(9), last];
    Table::new(2, &cols)
}

fn of_stage(page: &mut Page, e: &Estimate, stage: Stage, recipes: &mut Recipes) {
    let rows: Vec<_> = e.materials.rows.iter().filter(|r| r.stage == stage).collect();
    if rows.is_empty() {
        return;
    }
    page.heading(&goods::stage(stage).to_uppercase());
    let mut table = table(Col::Left(0));
    let heads =
        ["paper-material", "paper-unit", "paper-net", "paper-over-break", "paper-waste", "paper-gross"];
    table.row(heads.iter().chain(&["paper-recipe"]).map(|h| word(h)));
    for row in &rows {
        table.row([
            goods::title(e, &row.material),
            goods::unit(e, &row.material).to_owned(),
            amount(row.net),
            or_dash(row.over_break),
            waste(e, row),
            amount(row.gross),
            recipes.letters(uses(e, row)),
        ]);
    }
    page.table(&table);
    let again = rows.iter().filter(|r| r.present > r.gross);
    goods::at_once(page, e, again.map(|r| (r.material.as_str(), r.present)));
}

/// Figures of one source that are written out; explain shows each.
const SHOWN: usize = 8;

/// The sources that the rows refer to: each once, by its letter, with the figures taken from it.
#[derive(Default)]
struct Recipes(Vec<(String, Vec<String>)>);

impl Recipes {
    /// Letters of the sources of some uses.
    fn letters<'a>(&mut self, uses: impl Iterator<Item = &'a Use>) -> String {
        let mut all: Vec<usize> = uses.map(|u| self.place(u)).collect();
        all.sort_unstable();
        all.dedup();
        all.into_iter().map(super::sheet::name).collect::<Vec<_>>().join(" ")
    }

    fn place(&mut self, u: &Use) -> usize {
        let source = source(u);
        let at = self.0.iter().position(|(s, _)| *s == source).unwrap_or_else(|| {
            self.0.push((source, Vec::new()));
            self.0.len() - 1
        });
        if let Some((_, figures)) = self.0.get_mut(at) {
            for step in &u.steps {
                let Factor::Number(n) = &step.factor else { continue };
                let figure = format!("{} {}", value(*n, 0, 6), step.says);
                if !figures.contains(&figure) {
                    figures.push(figure);
                }
            }
        }
        at
    }

    fn list(&self, page: &mut Page) {
        if self.0.is_empty() {
            return;
        }
        page.heading(word("paper-recipes"));
        let mut table = Table::new(2, &[Col::Left(0), Col::Fill(0)]);
        for (i, (source, figures)) in self.0.iter().enumerate() {
            let mut shown: Vec<String> = figures.iter().take(SHOWN).cloned().collect();
            if figures.len() > SHOWN {
                shown.push(say("paper-recipe-more", &[&(figures.len() - SHOWN).to_string()]));
            }
            let shown = if shown.is_empty() { String::new() } else { format!(": {}", shown.join("; ")) };
            table.row([super::sheet::name(i), format!("{source}{shown}")]);
        }
        page.table(&table);
    }
}

/// The uses of a row.
pub(crate) fn uses<'a>(e: &'a Estimate, row: &'a Row) -> impl Iterator<Item = &'a Use> {
    row.uses.iter().filter_map(|i| e.materials.uses.get(*i))
}

/// Has the recipe of every use of a row its waste inside?
pub(crate) fn waste_inside(e: &Estimate, row: &Row) -> bool {
    row.waste_percent.is_zero() && !row.uses.is_empty() && uses(e, row).all(|u| u.waste_inside)
}

fn waste(e: &Estimate, row: &Row) -> String {
    if waste_inside(e, row) {
        return word("paper-waste-inside").to_owned();
    }
    if row.waste_percent.is_zero() { "-".to_owned() } else { format!("{} %", quantity(row.waste_percent, 0)) }
}

fn or_dash(value: Decimal) -> String {
    if value.is_zero() { "-".to_owned() } else { amount(value) }
}

/// `x 320 (kg of cement in 1 m3) x 0.02 m (thickness)`.
pub(crate) fn recipe(u: &Use) -> String {
    u.steps.iter().map(step).collect::<Vec<_>>().join(" ")
}

fn step(s: &Step) -> String {
    let factor = match &s.factor {
        Factor::Number(n) => format!("x\u{a0}{}", value(*n, 0, 6)),
        Factor::Times(len) => format!("x\u{a0}{}\u{a0}m", metres(len.value())),
        Factor::Over(len) => format!("/\u{a0}{}\u{a0}m", metres(len.value())),
    };
    format!("{factor} ({})", s.says)
}

/// The recipe's source, and whether it counts waste already.
pub(crate) fn source(u: &Use) -> String {
    let inside = if u.waste_inside { word("paper-source-inside") } else { "" };
    format!("{}{inside}", u.source)
}

/// Net, over-break, waste and gross of a material over the job.
pub(crate) fn sums(e: &Estimate, material: &Material) -> [Decimal; 4] {
    let rows = || e.materials.rows.iter().filter(|r| r.material == material.id);
    let [net, over, gross] = [
        rows().map(|r| r.net).sum(),
        rows().map(|r| r.over_break).sum(),
        rows().map(|r| r.gross).sum::<Decimal>(),
    ];
    [net, over, gross - net - over, gross]
}

fn totals(page: &mut Page, e: &Estimate) {
    page.heading(word("paper-materials-totals"));
    let mut table = table(Col::Left(0));
    let heads =
        ["paper-material", "paper-unit", "paper-net", "paper-over-break", "paper-waste", "paper-gross"];
    table.heads(heads);
    for m in &e.materials.materials {
        let [net, over, waste, gross] = sums(e, m);
        if gross.is_zero() && net.is_zero() {
            continue;
        }
        let cells = [amount(net), or_dash(over), or_dash(waste), amount(gross)];
        table.row([m.title.clone(), m.unit.clone()].into_iter().chain(cells));
    }
    page.table(&table);
}

fn mixes(page: &mut Page, e: &Estimate) {
    if e.materials.mixes.is_empty() {
        return;
    }
    page.heading(word("paper-mixes"));
    let mut table = Table::new(2, &[Col::Fill(26), Col::Right(11), Col::Left(2), Col::Left(0)]);
    for (mix, stage, m3) in &e.materials.mixes {
        table.row([mix.to_string(), amount(*m3), "m3".to_owned(), goods::stage(*stage)]);
    }
    page.table(&table);
}

fn remarks(page: &mut Page, e: &Estimate) {
    if e.materials.remarks.is_empty() {
        return;
    }
    page.heading(word("paper-choices"));
    for (says, source) in &e.materials.remarks {
        let source = if source.is_empty() { String::new() } else { format!(" ({source})") };
        page.line(2, 4, &format!("{says}{source}"));
    }
}

#[cfg(test)]
mod tests {
    use crate::text::materials;
    use crate::{golden, handmade};

    #[test]
    fn materials_of_two_stages() {
        golden::same("materials.txt", &materials(&handmade::estimate()));
    }
}
