//! The plan as CSV (RFC 4180): one row for each length of each pattern.

use tankwright_export::csv::text;

use super::report::Report;
use super::text::marks;

pub(super) fn csv(r: &Report) -> String {
    let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing to memory does not fail.
    let head = ["pattern", "times", "stock_mm", "from", "length_mm", "number", "marks", "offcut_mm"];
    let _ = out.write_record(head);
    for (i, p) in r.patterns.iter().enumerate() {
        let (mm, offcut) = r.sources.get(p.source).map_or((0, false), |s| (s.mm, s.offcut));
        for piece in &p.pieces {
            let from = if offcut { "offcut" } else { "bar" };
            let _ = out.write_record([
                (i + 1).to_string(),
                p.times.to_string(),
                mm.to_string(),
                from.to_owned(),
                piece.mm.to_string(),
                piece.number.to_string(),
                text(&marks(&piece.marks)),
                p.offcut.to_string(),
            ]);
        }
    }
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}
