//! Pictures and charts of a page, put into its sheet.

use rust_xlsxwriter::{
    Chart as Made, ChartAxisCrossing, ChartFont, ChartFormat, ChartLegendPosition, ChartLine,
    ChartPatternFill, ChartPatternFillType, ChartSeries, ChartSolidFill, ChartType, Color, Image, Worksheet,
    XlsxError,
};
use tankwright_quantities::money::Grouping;

use crate::cells::{At, Chart, Figure, Page, Series, Shown};
use crate::xlsx::money_mask;

/// Points of letters in a chart.
const LETTERS: u8 = 9;
/// UTF-16 units that a spreadsheet holds of a description; four fewer, for the points at its end.
const LONGEST_ALT: usize = 251;
/// Ink, and the greys between it and paper: they stay apart in black and white.
const INK: u32 = 0x0033_3333;
const LIGHT: u32 = 0x00D9_D9D9;

/// Puts all of them; a picture whose dots were not given is left out.
pub(crate) fn put(
    sheet: &mut Worksheet,
    page: &Page,
    dots: &[Vec<u8>],
    grouping: Grouping,
) -> Result<(), XlsxError> {
    for Figure { row, size: [wide, tall], shown } in &page.figures {
        match shown {
            Shown::Picture(n, picture) => {
                let Some(dots) = dots.get(*n) else { continue };
                let image = Image::new_from_buffer(dots)?.set_alt_text(short(&picture.alt));
                sheet.insert_image(*row, 0, &image.set_scale_to_size(*wide, *tall, false))?;
            }
            Shown::Chart(chart) => {
                let mut made = drawn(chart, grouping);
                sheet.insert_chart(*row, 0, made.set_width(*wide).set_height(*tall))?;
            }
        }
    }
    Ok(())
}

fn drawn(chart: &Chart, grouping: Grouping) -> Made {
    let mut made = Made::new(if chart.lying { ChartType::Bar } else { ChartType::ColumnStacked });
    let small = ChartFont::new().set_size(LETTERS).clone();
    for (i, bar) in chart.bars.iter().enumerate() {
        let series = series(&mut made, chart, bar);
        series.set_format(&mut fill(i)).set_gap(60);
        if chart.lying {
            series.set_data_label(
                rust_xlsxwriter::ChartDataLabel::new()
                    .show_value()
                    .set_font(&small)
                    .set_num_format(money_mask(chart.places, grouping)),
            );
        } else {
            series.set_overlap(100);
        }
    }
    if let Some(line) = &chart.line {
        let mut over = Made::new(ChartType::Line);
        let stroke = ChartLine::new().set_color(Color::RGB(INK)).set_width(2).clone();
        series(&mut over, chart, line).set_format(ChartFormat::new().set_line(&stroke));
        made.combine(&over);
    }
    let [across, up] = &chart.axes;
    made.title().set_name(&chart.title).set_font(ChartFont::new().set_size(12).set_bold());
    made.set_alt_text(short(&chart.alt));
    let grid = ChartLine::new().set_color(Color::RGB(LIGHT)).clone();
    // The writer calls the axis that lies x, whatever is on it.
    let parts = if chart.lying { made.y_axis() } else { made.x_axis() };
    parts.set_name(across).set_font(&small).set_name_font(&small).set_major_gridlines(false);
    if chart.lying {
        // The first stage on top, as on every list; the axis of money stays below.
        parts.set_reverse().set_crossing(ChartAxisCrossing::Max);
    }
    let money = if chart.lying { made.x_axis() } else { made.y_axis() };
    money
        .set_name(up)
        .set_font(&small)
        .set_name_font(&small)
        .set_num_format(money_mask(0, grouping))
        .set_min(0);
    money.set_major_gridlines(true).set_major_gridlines_line(&grid);
    if chart.lying {
        made.legend().set_hidden();
    } else {
        made.legend().set_position(ChartLegendPosition::Bottom).set_font(&small);
    }
    made
}

fn series<'a>(made: &'a mut Made, chart: &Chart, of: &Series) -> &'a mut ChartSeries {
    let [from, to] = chart.labels;
    let values = At { row: of.values.to, ..of.values.from };
    let series = made.add_series();
    series.set_name(range(of.name, of.name).as_str());
    series.set_categories(range(from, to).as_str()).set_values(range(of.values.from, values).as_str())
}

fn range(from: At, to: At) -> String {
    let (from, to) = (from.fixed(), to.fixed());
    let end = to.rsplit('!').next().unwrap_or_default();
    format!("={from}:{end}")
}

/// What a spreadsheet holds of a description; all of it stands in the cell under the figure.
fn short(alt: &str) -> String {
    let mut room = LONGEST_ALT;
    let fits = |c: &char| room.checked_sub(c.len_utf16()).inspect(|left| room = *left).is_some();
    let kept: String = alt.chars().take_while(fits).collect();
    if kept.len() == alt.len() {
        kept
    } else {
        kept.rsplit_once(' ').map_or("", |(k, _)| k).to_owned() + " ..."
    }
}

/// Ink, hatched, grey, paper: told apart without colours.
fn fill(i: usize) -> ChartFormat {
    let mut format = ChartFormat::new();
    format.set_border(ChartLine::new().set_color(Color::RGB(INK)));
    match i % 4 {
        1 => format.set_pattern_fill(
            ChartPatternFill::new()
                .set_pattern(ChartPatternFillType::DiagonalStripesWideUpwards)
                .set_foreground_color(Color::RGB(INK))
                .set_background_color(Color::White),
        ),
        other => {
            let solid = [Color::RGB(INK), Color::White, Color::RGB(LIGHT), Color::White];
            format.set_solid_fill(
                ChartSolidFill::new().set_color(solid.get(other).copied().unwrap_or(Color::White)),
            )
        }
    };
    format
}
