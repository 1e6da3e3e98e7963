//! Reads drawings back from their SVG, by a reader of its own: elements, coordinates in hundredths of a millimetre, texts
//! with the paper they take. It refuses what is not well-formed.

use std::collections::BTreeMap;

use tankwright_draw::letters::{HEAD, NOTE, TITLE};
use tankwright_draw::paper::{Anchor, Rect, Text};

/// An element with its attributes; the text that follows it up to the next tag.
#[derive(Clone, Debug)]
pub struct Element {
    /// Its name.
    pub name: String,
    /// Attributes, their entities resolved.
    pub with: BTreeMap<String, String>,
    /// Text in it.
    pub text: String,
}

/// Every element of a well-formed file.
///
/// # Errors
/// What is not well-formed.
pub fn elements(svg: &str) -> Result<Vec<Element>, String> {
    let mut open: Vec<String> = Vec::new();
    let mut found: Vec<Element> = Vec::new();
    let mut rest = svg;
    while let Some(at) = rest.find('<') {
        let text = resolved(&rest[..at])?;
        if let Some(last) = found.last_mut() {
            last.text.push_str(&text);
        }
        let end = rest[at..].find('>').ok_or("a tag without an end")? + at;
        let tag = &rest[at + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            if open.pop().as_deref() != Some(name) {
                return Err(format!("</{name}> closes nothing"));
            }
            continue;
        }
        let (tag, alone) = tag.strip_suffix('/').map_or((tag, false), |tag| (tag, true));
        let (name, mut attributes) = tag.split_once(' ').unwrap_or((tag, ""));
        let mut with = BTreeMap::new();
        while !attributes.trim().is_empty() {
            let (key, value) =
                attributes.trim().split_once("=\"").ok_or(format!("an attribute in <{tag}>"))?;
            let (value, more) = value.split_once('"').ok_or(format!("a value in <{tag}>"))?;
            if with.insert(key.to_owned(), resolved(value)?).is_some() {
                return Err(format!("{key} twice in <{tag}>"));
            }
            attributes = more;
        }
        if !alone {
            open.push(name.to_owned());
        }
        found.push(Element { name: name.to_owned(), with, text: String::new() });
    }
    if open.is_empty() && rest.trim().is_empty() { Ok(found) } else { Err(format!("left open: {open:?}")) }
}

fn resolved(text: &str) -> Result<String, String> {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('&') {
        let (name, more) = after.split_once(';').ok_or("a bare &")?;
        out.push_str(before);
        out.push(match name {
            "amp" => '&',
            "lt" => '<',
            "gt" => '>',
            "quot" => '"',
            other => return Err(format!("&{other};")),
        });
        rest = more;
    }
    out.push_str(rest);
    let bad = |c: char| c.is_control() && c != '\n';
    if out.chars().any(bad) { Err(format!("a sign that XML cannot hold in {out:?}")) } else { Ok(out) }
}

/// A number in millimetres as hundredths; it must have two places at most, no zeros at its end and no `-0`.
#[must_use]
#[expect(clippy::panic, reason = "a test stops where it fails")]
pub fn hundredths(text: &str) -> i64 {
    let (sign, digits) = text.strip_prefix('-').map_or((1, text), |d| (-1, d));
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    assert!(part.len() <= 2 && !part.ends_with('0') && text != "-0" && !digits.ends_with('.'), "{text}");
    let part: i64 = format!("{part:0<2}").parse().unwrap_or(0);
    sign * (whole.parse::<i64>().unwrap_or_else(|_| panic!("{text}")) * 100 + part)
}

/// Outlines of a path's `d`.
#[must_use]
#[expect(clippy::panic, reason = "a test stops where it fails")]
pub fn outlines(d: &str) -> Vec<Vec<[i64; 2]>> {
    let point = |p: &str| {
        let (x, y) = p.split_once(' ').unwrap_or_else(|| panic!("{p}"));
        [hundredths(x), hundredths(y)]
    };
    let loops = d.split('M').filter(|l| !l.is_empty());
    loops.map(|l| l.trim_end_matches('Z').split('L').map(point).collect()).collect()
}

/// Twice the area that outlines enclose, holes taken off.
#[must_use]
pub fn twice_area(outlines: &[Vec<[i64; 2]>]) -> i64 {
    let signed = |o: &Vec<[i64; 2]>| -> i64 {
        let next = o.iter().cycle().skip(1);
        o.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum()
    };
    outlines.iter().map(signed).sum::<i64>().abs()
}

/// Texts with the paper they take.
#[must_use]
pub fn texts(all: &[Element]) -> Vec<Text> {
    let one = |e: &Element| {
        let get = |k: &str| e.with.get(k).map_or("", String::as_str);
        Text {
            at: [hundredths(get("x")), hundredths(get("y"))],
            text: e.text.trim_end_matches('\n').to_owned(),
            size: match get("class") {
                "h" => HEAD,
                "t" => TITLE,
                _ => NOTE,
            },
            anchor: match get("text-anchor") {
                "middle" => Anchor::Middle,
                "end" => Anchor::End,
                _ => Anchor::Start,
            },
            turned: e.with.contains_key("transform"),
            clear: false,
        }
    };
    all.iter().filter(|e| e.name == "text").map(one).collect()
}

/// Texts that lie on each other or beyond the frame.
#[must_use]
pub fn clashes(all: &[Element], frame: &Rect) -> Vec<String> {
    let texts = texts(all);
    let mut found = Vec::new();
    for (i, a) in texts.iter().enumerate() {
        if !a.rect().within(frame) {
            found.push(format!("`{}` lies beyond the frame: {:?}", a.text, a.rect()));
        }
        for b in texts.iter().skip(i + 1).filter(|b| a.rect().meets(&b.rect())) {
            found.push(format!("`{}` lies on `{}`", a.text, b.text));
        }
    }
    found
}

/// Straight pieces of thick lines and outlines, as they lie over each other: what a white or hatched area drawn later
/// covers is gone.
fn thick(all: &[Element]) -> Vec<([i64; 2], [i64; 2])> {
    let mut lines = Vec::new();
    for e in all.iter().filter(|e| e.name == "path") {
        let class = e.with.get("class").map_or("", String::as_str);
        if !class.split(' ').any(|c| ["cut", "ground", "sheet", "frame"].contains(&c)) {
            continue;
        }
        for outline in e.with.get("d").map(|d| outlines(d)).unwrap_or_default() {
            let closed = e.with.get("d").is_some_and(|d| d.contains('Z'));
            let next = outline.iter().skip(1).chain(outline.first().filter(|_| closed));
            lines.extend(outline.iter().copied().zip(next.copied()));
        }
    }
    lines
}

/// Texts over thick lines: with nothing white under them, or with white that takes a piece out of the line.
#[must_use]
pub fn crossed(all: &[Element]) -> Vec<String> {
    let lines = thick(all);
    let round = |r: &Rect| {
        all.iter()
            .filter(|e| {
                e.name == "circle" && e.with.get("class").is_some_and(|c| c.split(' ').any(|c| c == "cut"))
            })
            .any(|e| {
                let [x, y, radius] = ["cx", "cy", "r"].map(|k| hundredths(&e.with[k]));
                // Corners of the text on both sides of the line.
                let inside = |p: &[i64; 2]| (p[0] - x).pow(2) + (p[1] - y).pow(2) < radius * radius;
                let n = r.corners().iter().filter(|p| inside(p)).count();
                (1..4).contains(&n)
            })
    };
    let over = |t: &Text| lines.iter().any(|(a, b)| t.rect().is_crossed(*a, *b)) || round(&t.rect());
    texts(all).into_iter().filter(over).map(|t| t.text).collect()
}
