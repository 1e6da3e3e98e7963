//! A sheet as SVG: millimetres with at most two places, one class a line and a hatching, the same bytes every time.

use std::fmt::Write;

use crate::hatch;
use crate::letters;
use crate::paper::{Anchor, Fill, Item, Paper, Pen, Point, Rect};

/// Line styles by class: width in millimetres and, for broken lines, dashes and gaps (ISO 128-2: long dash 24, dash 12,
/// gap 3, dot at most 0.5 times the width; shortened here as small drawings need).
pub const PENS: &[(Pen, &str, &str, &str)] = &[
    (Pen::Cut, "cut", ".5", ""),
    (Pen::Ground, "ground", ".7", ""),
    (Pen::Seen, "seen", ".25", ""),
    (Pen::Pipe, "pipe", ".35", ""),
    (Pen::Thin, "thin", ".18", ""),
    (Pen::Hidden, "hidden", ".25", "2 1"),
    (Pen::Chain, "chain", ".25", "6 1 .3 1"),
    (Pen::Before, "before", ".25", "6 .9 .3 .9 .3 .9"),
    (Pen::Water, "level", ".25", "4 1.2"),
    (Pen::Tick, "tick", ".5", ""),
    (Pen::Sheet, "sheet", ".7", "2.4 1"),
    (Pen::Frame, "frame", ".5", ""),
    (Pen::Bar, "bar", ".7", ""),
    (Pen::New, "new", "1", ""),
];

fn class(pen: Pen) -> &'static str {
    PENS.iter().find(|p| p.0 == pen).map_or("thin", |p| p.1)
}

/// Hundredths of a millimetre as a number: no zeros at its end, no minus before nothing.
pub(crate) fn mm(hundredths: i64) -> String {
    let (sign, n) = (if hundredths < 0 { "-" } else { "" }, hundredths.unsigned_abs());
    let (whole, part) = (n / 100, n % 100);
    match part {
        0 => format!("{sign}{whole}"),
        _ if part % 10 == 0 => format!("{sign}{whole}.{}", part / 10),
        _ => format!("{sign}{whole}.{part:02}"),
    }
}

/// Text between tags and in attributes. Characters that XML cannot hold are shown as a box.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => out.push('\u{25a1}'),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// The sheet as an SVG file, with its title and its description for who cannot see it.
pub(crate) fn written(paper: &Paper, title: &str, alt: &str) -> String {
    written_in(paper, Rect([0, 0, paper.size[0], paper.size[1]]), title, alt)
}

/// The same of a part of the sheet; what is on the sheet must lie within it.
pub(crate) fn written_in(
    paper: &Paper,
    Rect([left, top, right, bottom]): Rect,
    title: &str,
    alt: &str,
) -> String {
    let [x, y, w, h] = [left, top, right - left, bottom - top].map(mm);
    let mut out = String::with_capacity(32_768);
    let _ = writeln!(
        out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="{x} {y} {w} {h}" role="img" aria-labelledby="ti de">"#
    );
    let _ =
        writeln!(out, r#"<title id="ti">{}</title><desc id="de">{}</desc>"#, escaped(title), escaped(alt));
    style(&mut out, paper);
    let from = if [left, top] == [0, 0] { String::new() } else { format!(r#" x="{x}" y="{y}""#) };
    let _ = writeln!(out, r##"<rect class="white"{from} width="{w}" height="{h}"/>"##);
    for item in &paper.items {
        put(&mut out, item);
    }
    for text in &paper.texts {
        if text.clear {
            let Rect([a, b, c, d]) = text.rect().grown(20);
            let (x, y, w, h) = (mm(a), mm(b), mm(c - a), mm(d - b));
            let _ = writeln!(out, r#"<rect class="white" x="{x}" y="{y}" width="{w}" height="{h}"/>"#);
        }
        let [x, y] = text.at.map(mm);
        let anchor = match text.anchor {
            Anchor::Start => "",
            Anchor::Middle => r#" text-anchor="middle""#,
            Anchor::End => r#" text-anchor="end""#,
        };
        let turn = if text.turned { format!(r#" transform="rotate(-90 {x} {y})""#) } else { String::new() };
        let size = size_class(text.size);
        let words = escaped(&text.text);
        let _ = writeln!(out, r#"<text class="{size}" x="{x}" y="{y}"{anchor}{turn}>{words}</text>"#);
    }
    out.push_str("</svg>\n");
    out
}

const SIZES: [(i64, &str); 3] = [(letters::NOTE, "n"), (letters::TITLE, "t"), (letters::HEAD, "h")];

fn size_class(size: i64) -> &'static str {
    SIZES.iter().find(|s| s.0 == size).map_or("n", |s| s.1)
}

fn style(out: &mut String, paper: &Paper) {
    out.push_str("<style>");
    for (_, class, width, dashes) in PENS {
        let _ = write!(out, ".{class}{{stroke:#000;stroke-width:{width};fill:none");
        if !dashes.is_empty() {
            let _ = write!(out, ";stroke-dasharray:{dashes}");
        }
        out.push('}');
    }
    let fills: Vec<_> = paper.fills().into_iter().filter_map(hatch::of).collect();
    for h in &fills {
        let _ = write!(out, ".{0}{{fill:url(#{0})}}", h.class);
    }
    out.push_str(
        ".white{fill:#fff}.black{fill:#000}.f0{fill:#ddd}.f1{fill:#bbb}.f2{fill:#999}.f3{fill:#777}",
    );
    out.push_str("text{font-family:\"DejaVu Sans\",sans-serif;fill:#000}");
    for (size, class) in SIZES {
        let _ = write!(out, ".{class}{{font-size:{}px}}", mm(size));
    }
    out.push_str("</style>\n<defs>\n");
    for h in &fills {
        out.push_str(h.pattern);
        out.push('\n');
    }
    out.push_str("</defs>\n");
}

fn classes(fill: Fill, pen: Option<Pen>) -> String {
    // The pen first: its class says "not filled", and the filling's comes after it in the style.
    let filled = match fill {
        Fill::None => "",
        Fill::White => "white",
        Fill::Black => "black",
        Fill::Face(n) => ["f0", "f1", "f2", "f3"].get(usize::from(n % 4)).copied().unwrap_or("f0"),
        other => hatch::of(other).map_or("white", |h| h.class),
    };
    match pen.map(class) {
        Some(pen) if filled.is_empty() => pen.to_owned(),
        Some(pen) => format!("{pen} {filled}"),
        None => filled.to_owned(),
    }
}

fn path(points: &[Point], closed: bool) -> String {
    let mut d = String::new();
    for (i, [x, y]) in points.iter().enumerate() {
        let _ = write!(d, "{}{} {}", if i == 0 { "M" } else { "L" }, mm(*x), mm(*y));
    }
    if closed {
        d.push('Z');
    }
    d
}

fn put(out: &mut String, item: &Item) {
    let _ = match item {
        Item::Area { outlines, fill, pen, of } => {
            let d: String = outlines.iter().map(|o| path(o, true)).collect();
            let class = classes(*fill, *pen);
            let holes = if outlines.len() > 1 { r#" fill-rule="evenodd""# } else { "" };
            let of = if of.is_empty() { String::new() } else { format!(r#" data-of="{of}""#) };
            writeln!(out, r#"<path class="{class}"{of}{holes} d="{d}"/>"#)
        }
        Item::Line { points, pen } => {
            writeln!(out, r#"<path class="{}" d="{}"/>"#, class(*pen), path(points, false))
        }
        Item::Circle { middle: [x, y], radius, fill, pen } => {
            let (x, y, r) = (mm(*x), mm(*y), mm(*radius));
            writeln!(out, r#"<circle class="{}" cx="{x}" cy="{y}" r="{r}"/>"#, classes(*fill, *pen))
        }
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_two_places_at_most_and_no_minus_before_nothing() {
        let shown: Vec<_> = [0, 5, 50, 100, 12_345, -5, -300].map(mm).to_vec();
        assert_eq!(shown, ["0", "0.05", "0.5", "1", "123.45", "-0.05", "-3"]);
    }

    #[test]
    fn text_cannot_leave_its_element() {
        assert_eq!(escaped("a<b>&\"c\u{7}"), "a&lt;b&gt;&amp;&quot;c ");
    }
}
