//! How cells of the spreadsheet file look.

use std::collections::BTreeMap;

use rust_xlsxwriter::{Color, Format, FormatAlign, FormatBorder, Worksheet, XlsxError};
use tankwright_quantities::money::Grouping;

use crate::cells::{Look, Show};

/// All that makes a cell's format.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct How {
    pub(super) look: Look,
    pub(super) show: Show,
    pub(super) text: bool,
    pub(super) wrap: bool,
    pub(super) right: bool,
    pub(super) quoted: bool,
    pub(super) grouping: Grouping,
}

/// Cells that look alike and stand below each other, given to the file together: it looks a format up slowly, by all
/// that is in it.
#[derive(Default)]
pub(super) struct Looks {
    formats: BTreeMap<How, Format>,
    /// By column: the look, its first and its last row.
    open: BTreeMap<u16, (How, u32, u32)>,
}

impl Looks {
    /// A cell; rows come in order.
    pub(super) fn add(
        &mut self,
        sheet: &mut Worksheet,
        row: u32,
        col: u16,
        how: How,
    ) -> Result<(), XlsxError> {
        match self.open.get_mut(&col) {
            Some((of, _, last)) if *of == how && last.checked_add(1) == Some(row) => *last = row,
            _ => {
                if let Some(run) = self.open.insert(col, (how, row, row)) {
                    self.give(sheet, col, run)?;
                }
            }
        }
        Ok(())
    }

    /// No more cells.
    pub(super) fn end(mut self, sheet: &mut Worksheet) -> Result<(), XlsxError> {
        std::mem::take(&mut self.open).into_iter().try_for_each(|(col, run)| self.give(sheet, col, run))
    }

    fn give(
        &mut self,
        sheet: &mut Worksheet,
        col: u16,
        (how, first, last): (How, u32, u32),
    ) -> Result<(), XlsxError> {
        let format = self.formats.entry(how).or_insert_with(|| format(how));
        sheet.set_range_format(first, col, last, col, format).map(|_| ())
    }
}

fn format(how: How) -> Format {
    let mut format = Format::new().set_align(FormatAlign::Top);
    format = match how.look {
        Look::Title => format.set_bold().set_font_size(14),
        Look::Remark => format.set_italic(),
        Look::Heading => format.set_bold(),
        Look::Head => {
            let fill = Color::RGB(0x00E4_E4E4);
            format.set_bold().set_background_color(fill).set_border_bottom(FormatBorder::Thin)
        }
        Look::Body => format,
        Look::Total => format.set_bold().set_border_top(FormatBorder::Thin),
        Look::Input => format.set_background_color(Color::RGB(0x00FF_F6D0)).set_unlocked(),
    };
    if how.wrap {
        format = format.set_text_wrap();
    }
    if how.quoted {
        format = format.set_quote_prefix();
    }
    if how.right {
        return format.set_align(FormatAlign::Right);
    }
    if how.text {
        // A text beside a number keeps its distance.
        let set_in = matches!(how.look, Look::Body | Look::Head | Look::Total);
        return if set_in { format.set_align(FormatAlign::Left).set_indent(1) } else { format };
    }
    match how.show {
        Show::General => format,
        // Some programs show a truth as 1 or 0 without this.
        Show::Truth => format.set_num_format("\"TRUE\";\"TRUE\";\"FALSE\""),
        Show::Fixed(places) => format.set_num_format(mask(places, places)),
        Show::Money(places) => format.set_num_format(money_mask(places, how.grouping)),
        Show::UpTo(least, most) => format.set_num_format(mask(least, most)),
    }
}

/// How money is shown.
pub(crate) fn money_mask(places: u32, grouping: Grouping) -> String {
    match grouping {
        Grouping::Thousands => mask(places, places),
        Grouping::LakhCrore => lakhs(places),
    }
}

/// A spreadsheet takes two conditions: from a crore on, from a lakh on, and the rest, which is below.
fn lakhs(places: u32) -> String {
    let point = if places > 0 { "." } else { "" };
    let end = format!("{point}{}", "0".repeat(usize::try_from(places).unwrap_or(0)));
    format!("[>=10000000]##\\,##\\,##\\,##0{end};[>=100000]##\\,##\\,##0{end};#,##0{end}")
}

fn mask(least: u32, most: u32) -> String {
    let mut mask = "#,##0".to_owned();
    if least > 0 {
        mask.push('.');
        (0..least).for_each(|_| mask.push('0'));
        (least..most).for_each(|_| mask.push('#'));
        return mask;
    }
    // "0.###" would show a whole number with a bare point.
    if most > 0 { "General".to_owned() } else { mask }
}
