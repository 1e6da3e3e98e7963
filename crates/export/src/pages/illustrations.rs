//! Pictures and charts at the foot of the Summary, each under its heading and over its description in words.

use rust_decimal::Decimal;

use crate::book::{Desk, StageAt, stage_word, word, words};
use crate::cells::{At, Cell, Chart, Figure, Look, Page, Range, Series, Shown};
use crate::money::money;

/// Width of all of them, dots: the columns of the Summary together.
const WIDE: u32 = 1_030;
/// A picture is not taller, dots, so that two stand on a sheet.
const TALLEST: u32 = 640;
/// Height of a chart, dots.
const TALL: u32 = 480;
/// Characters of a line of their descriptions.
const LINE: usize = 145;
/// Height of a row, dots.
const ROW: u32 = 20;
/// Row of heads on the page By stage.
const HEAD: u32 = 2;

/// Puts them from a row on; the row after them.
pub(crate) fn put(page: &mut Page, desk: &Desk<'_>, row: u32) -> u32 {
    let mut row = row;
    for (n, picture) in desk.pictures.iter().enumerate() {
        let [across, down] = picture.sides;
        let tall = WIDE * down / across.max(1);
        let size = if tall > TALLEST { [WIDE * TALLEST / tall, TALLEST] } else { [WIDE, tall] };
        let (title, alt) = (picture.title.clone(), picture.alt.clone());
        row = figure(page, row, &title, &alt, size, Shown::Picture(n, picture.clone()));
    }
    for (heading, chart) in
        [works(desk).map(|c| ("book-chart-works", c)), goods(desk).map(|c| ("book-chart-goods", c))]
            .into_iter()
            .flatten()
    {
        let alt = chart.alt.clone();
        row = figure(page, row, &word(heading), &alt, [WIDE, TALL], Shown::Chart(chart));
    }
    row
}

fn figure(page: &mut Page, row: u32, title: &str, alt: &str, size: [u32; 2], shown: Shown) -> u32 {
    page.heading(row, title);
    page.figures.push(Figure { row: row + 1, size, shown });
    let under = row + 1 + size[1].div_ceil(ROW);
    let lines = lines(alt);
    let end = under + u32::try_from(lines.len()).unwrap_or(0);
    for (row, line) in (under..).zip(lines) {
        page.put(row, 0, Cell::text(line).look(Look::Remark));
    }
    end + 1
}

/// A text as lines as long as the page is wide.
fn lines(text: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        if lines.last().is_some_and(|l| !l.is_empty() && l.chars().count() + word.chars().count() >= LINE) {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            line.push_str(if line.is_empty() { "" } else { " " });
            line.push_str(word);
        }
    }
    lines
}

/// What the works of each stage cost.
fn works(desk: &Desk<'_>) -> Option<Chart> {
    let places = &desk.places.stages;
    let cells: Vec<At> = places.stages.iter().filter_map(|s| s.works).collect();
    let values = Range::over(&cells)?;
    let code = &desk.estimate.bill.currency.code;
    let worth = tankwright_account::payments::measured(desk.estimate)?;
    let said = worth.iter().map(|(stage, w)| (stage_word(*stage), *w));
    Some(Chart {
        title: words("book-chart-works-title", &[code]),
        alt: words("book-chart-works-alt", &[code, &listed(desk, said)]),
        axes: [word("book-stage"), code.clone()],
        labels: [At { col: 0, ..values.from }, At { row: values.to, col: 0, ..values.from }],
        lying: true,
        bars: vec![series(values)],
        line: None,
        places: desk.estimate.bill.currency.digits,
    })
}

/// What is bought, in time.
fn goods(desk: &Desk<'_>) -> Option<Chart> {
    let places = &desk.places.stages;
    let column = |get: fn(&StageAt) -> Option<At>| {
        Range::over(&places.stages.iter().filter_map(get).collect::<Vec<_>>()).map(series)
    };
    let line = column(|s| s.so_far)?;
    let parts = places.stages.first()?.parts.iter();
    let bars: Vec<Series> = parts.map(|p| series(Range { from: *p, to: line.values.to })).collect();
    let code = &desk.estimate.bill.currency.code;
    let orders = desk.estimate.orders.stages.iter();
    let said = orders.map(|s| (stage_word(s.stage), s.lines.iter().filter_map(|l| l.cost).sum::<Decimal>()));
    let from = At { col: 0, ..line.values.from };
    // With days the names of the stages stand under them.
    let dated = u16::from(!desk.estimate.programme.events.is_empty());
    Some(Chart {
        title: words("book-chart-goods-title", &[code]),
        alt: words("book-chart-goods-alt", &[code, &listed(desk, said)]),
        axes: [word(if dated > 0 { "book-chart-days" } else { "book-stage" }), code.clone()],
        labels: [from, At { row: line.values.to, col: dated, ..from }],
        lying: false,
        bars,
        line: Some(line),
        places: desk.estimate.bill.currency.digits,
    })
}

/// Figures under the head of their column.
fn series(values: Range) -> Series {
    Series { name: At { row: HEAD, ..values.from }, values }
}

/// `base 120 000; walls 80 000`: what is nothing is left out.
fn listed(desk: &Desk<'_>, figures: impl Iterator<Item = (String, Decimal)>) -> String {
    let currency = &desk.estimate.bill.currency;
    let some = figures.filter(|(_, f)| !f.is_zero());
    some.map(|(title, f)| format!("{title} {}", money(f, currency))).collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, illustrated};
    use crate::cells::{Content, PageId, Picture};
    use crate::evaluate::{Value, evaluate};
    use crate::fixture::estimate;

    fn book() -> Book {
        let view =
            |title: &str, sides| Picture { title: title.into(), alt: format!("{title}, in words"), sides };
        illustrated(&estimate(), vec![view("plan", [297, 170]), view("section", [210, 297])])
            .unwrap_or_default()
    }

    #[test]
    fn nothing_stands_under_a_picture_or_chart_and_its_words_stand_below() {
        let book = book();
        let page = book.page(PageId::Summary).cloned();
        let figures = page.as_ref().map(|p| p.figures.clone()).unwrap_or_default();
        assert_eq!(figures.len(), 4, "plan, section, works, goods");
        for Figure { row, size: [wide, tall], shown } in figures {
            assert!(wide <= WIDE && tall <= TALLEST);
            let end = row + tall.div_ceil(ROW);
            let cell = |row| page.as_ref().and_then(|p| p.cells.get(&(row, 0)));
            let covered = |(at, _): &&(u32, u16)| (row..end).contains(at);
            assert_eq!(page.as_ref().map(|p| p.cells.keys().filter(covered).count()), Some(0));
            assert_eq!(cell(row - 1).map(|c| c.look), Some(Look::Heading));
            let alt = match shown {
                Shown::Picture(_, picture) => picture.alt,
                Shown::Chart(chart) => chart.alt,
            };
            let first = cell(end).map(|c| c.content.clone());
            assert!(matches!(first, Some(Content::Text(t)) if !t.is_empty() && alt.starts_with(&t)), "{alt}");
        }
    }

    #[test]
    fn charts_read_live_cells_under_heads() {
        let book = book();
        let values = evaluate(&book).unwrap_or_default();
        let mut seen = 0;
        for figure in book.page(PageId::Summary).into_iter().flat_map(|p| &p.figures) {
            let Shown::Chart(chart) = &figure.shown else { continue };
            for series in chart.bars.iter().chain(&chart.line) {
                assert!(matches!(values.get(&series.name), Some(Value::Text(t)) if !t.is_empty()));
                for at in series.values.cells() {
                    let cell = book.page(at.page).and_then(|p| p.cells.get(&(at.row, at.col)));
                    assert!(matches!(cell.map(|c| &c.content), Some(Content::Formula(_))), "{}", at.fixed());
                    assert!(
                        matches!(values.get(&At { col: 0, ..at }), Some(Value::Text(_))),
                        "no name of its part"
                    );
                    seen += 1;
                }
            }
        }
        assert!(seen > 8, "{seen}");
    }

    #[test]
    fn a_description_breaks_between_words() {
        let text = "word ".repeat(100);
        let lines = lines(text.trim());
        assert!(lines.len() > 2 && lines.iter().all(|l| l.chars().count() <= LINE));
        assert_eq!(lines.join(" "), text.trim());
    }
}
