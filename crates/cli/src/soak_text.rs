//! Soak pits or drainage trenches written into the text of a job file: what stands elsewhere, and the words beside it,
//! stays as the user wrote it.

use std::ops::Range;

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::plain;
use tankwright_quantities::job::Job;
use tankwright_sizing::Inputs;
use tankwright_sizing::soak_away::SoakAway;

use crate::sized_job::values;

/// Stone over the level at which water enters a pit that is filled, m: our own.
const OVER_INLET: Ratio = Ratio::of(1, 10);

/// A text with what was taken out of it, in words.
#[derive(Debug)]
pub(crate) struct Written {
    /// The job file.
    pub(crate) text: String,
    /// What is no longer in it.
    pub(crate) gone: Vec<&'static str>,
}

/// Puts them in place of the pits and trenches that the job has.
///
/// # Errors
/// Why the text cannot be changed, in words.
pub(crate) fn write_into(text: &str, job: &Job, what: &SoakAway) -> Result<Written, String> {
    let metres = |m: Ratio| format!("\"{} m\"", plain(m));
    match what {
        SoakAway::Pits { number, diameter, depth, inlet } => {
            let (text, gone) = (text.to_owned(), job.has("drain"));
            let mut values = vec![("number", plain(*number))];
            let drawn = |key: &str| job.len(&format!("soak_pit.{key}")).value() / Ratio::int(10_000);
            if job.has("soak_pit") {
                if drawn("depth") != *depth {
                    values.push(("depth", metres(*depth)));
                    // The stone stays as far below the ground as it was.
                    let fill = drawn("fill_depth") - (drawn("depth") - *depth);
                    if drawn("fill_depth").signum() > 0 {
                        values.push(("fill_depth", metres(fill.max(Ratio::ZERO))));
                    }
                }
                let text = changed(&text, job, &values)?;
                return Ok(without(text, gone, "drain", "the drainage trenches"));
            }
            let fill = (*depth - *inlet + OVER_INLET).min(*depth);
            let table = format!(
                "[soak_pit]\ndiameter = {}\ndepth = {}\nfill_depth = {}\nsheet = true\nnumber = {}\n",
                metres(*diameter),
                metres(*depth),
                metres(fill),
                plain(*number)
            );
            Ok(without(added(&text, &table), gone, "drain", "the drainage trenches"))
        }
        SoakAway::Trenches { number, length, width, stone } => {
            if job.count_of("drain") > 1 {
                return Err(
                    "it has several entries of [[drain]]: which of them is to grow is the user's to say"
                        .into(),
                );
            }
            let values = [
                ("length", metres(*length)),
                ("number", plain(*number)),
                ("width", metres(*width)),
                ("stone_below", metres(*stone)),
            ];
            let written = if job.has("drain[0]") {
                changed_at(text, job, "drain[0]", "[[drain]]", &values)?
            } else {
                let lines: String = values.iter().map(|(k, v)| format!("{k} = {v}\n")).collect();
                added(
                    text,
                    &format!(
                        "[[drain]]\n{lines}pipe = {{ diameter = \"110 mm\" }}\nsheet = \"geotextile\"\n"
                    ),
                )
            };
            Ok(without(written, job.has("soak_pit"), "soak_pit", "the soak pit"))
        }
    }
}

/// The text with what the command line says of people, soil and water, so that it says by itself what it was sized by; and
/// the names of what was put there.
///
/// # Errors
/// Why the text cannot be changed, in words.
pub(crate) fn kept(text: &str, job: &Job, given: &Inputs) -> Result<(String, Vec<String>), String> {
    let (mut text, mut names) = (text.to_owned(), Vec::new());
    // From the end of the file to its beginning: the places of the first stay true.
    let mut parts = [("sizing", Vec::new()), ("ground", Vec::new())];
    for (name, value) in values(given) {
        // A pit and the width of a trench stand where they are drawn.
        let drawn = name.starts_with("pit-") || name == "drain-depth";
        let part = usize::from(name == "water-table");
        let key = name.replace('-', "_");
        let there = job.given(&format!("sizing.{key}"));
        if drawn || (name.starts_with("trench-") && !there) {
            continue;
        }
        names.push(name.to_owned());
        if let Some((_, all)) = parts.get_mut(part) {
            all.push((key, value));
        }
    }
    parts.sort_by_key(|(part, _)| std::cmp::Reverse(job.place(part).map_or(usize::MAX, |p| p.span.start)));
    for (part, all) in parts.iter().filter(|(_, all)| !all.is_empty()) {
        let head = format!("[{part}]");
        let all: Vec<(&str, String)> = all.iter().map(|(k, v)| (k.as_str(), v.clone())).collect();
        text = if job.given(part) {
            changed_at(&text, job, part, &head, &all)?
        } else {
            let lines: String = all.iter().map(|(k, v)| format!("{k} = {v}\n")).collect();
            added(&text, &format!("{head}\n{lines}"))
        };
    }
    Ok((text, names))
}

fn changed(text: &str, job: &Job, values: &[(&str, String)]) -> Result<String, String> {
    changed_at(text, job, "soak_pit", "[soak_pit]", values)
}

/// Values in their places; keys that are not there go below the head of the table.
fn changed_at(
    text: &str,
    job: &Job,
    part: &str,
    head: &str,
    values: &[(&str, String)],
) -> Result<String, String> {
    let mut edits: Vec<(Range<usize>, String)> = Vec::new();
    let mut missing = String::new();
    for (key, value) in values {
        let path = format!("{part}.{key}");
        match job.place(&path).filter(|_| job.given(&path)) {
            Some(place) => edits.push((place.span, value.clone())),
            None => missing.push_str(&format!("{key} = {value}\n")),
        }
    }
    if !missing.is_empty() {
        let below = heads(text).into_iter().find(|h| h.name == head).map(|h| h.below);
        let at = below.ok_or_else(|| format!("{head} does not stand there as a table of its own"))?;
        edits.push((
            at..at,
            if text.get(..at).is_some_and(|t| t.ends_with('\n')) { missing } else { format!("\n{missing}") },
        ));
    }
    edits.sort_by_key(|(span, _)| std::cmp::Reverse(span.start));
    let mut out = text.to_owned();
    for (span, value) in edits {
        if out.get(span.clone()).is_none() {
            return Err(format!("{head} cannot be changed in its place"));
        }
        out.replace_range(span, &value);
    }
    Ok(out)
}

/// A table at the end.
fn added(text: &str, table: &str) -> String {
    let gap = if text.is_empty() || text.ends_with("\n\n") {
        ""
    } else if text.ends_with('\n') {
        "\n"
    } else {
        "\n\n"
    };
    format!("{text}{gap}{table}")
}

/// The text without a part and what belongs to it.
fn without(text: String, there: bool, part: &str, what: &'static str) -> Written {
    if !there {
        return Written { text, gone: Vec::new() };
    }
    let heads = heads(&text);
    let mut out = text.clone();
    for (at, head) in heads.iter().enumerate().rev() {
        let name = head.name.trim_matches(['[', ']']);
        if name != part && !name.starts_with(&format!("{part}.")) {
            continue;
        }
        // Blank lines and remarks before the next head belong to that.
        let end = heads.get(at + 1).map_or(text.len(), |next| next.from - next.before);
        let end = end.max(head.below);
        // One blank line is left where it stood, not two.
        let blank = |at: usize| text.get(..at).is_some_and(|t| t.ends_with("\n\n"));
        let twice = blank(head.from) && text.get(end..).is_some_and(|t| t.starts_with('\n'));
        out.replace_range(head.from..if twice { end + 1 } else { end }, "");
    }
    Written { text: out, gone: vec![what] }
}

/// The head of a table.
struct Head {
    /// `[soak_pit]`, `[[drain]]`.
    name: String,
    /// Where its line begins.
    from: usize,
    /// Where the next line begins.
    below: usize,
    /// Bytes of blank lines and remarks right before it.
    before: usize,
}

/// Heads of tables, in order. A line within a list that looks like one does no harm: the text is read again.
fn heads(text: &str) -> Vec<Head> {
    let (mut all, mut from, mut before) = (Vec::new(), 0, 0);
    for line in text.split_inclusive('\n') {
        let bare = line.split('#').next().unwrap_or_default().trim();
        let inner = bare.trim_start_matches('[').trim_end_matches(']');
        let head = bare.starts_with('[')
            && bare.ends_with(']')
            && !inner.is_empty()
            && inner.chars().all(|c| c.is_ascii_alphanumeric() || "_-.".contains(c));
        if head {
            all.push(Head { name: bare.to_owned(), from, below: from + line.len(), before });
        }
        before = if bare.is_empty() { before + line.len() } else { 0 };
        from += line.len();
    }
    all
}

#[cfg(test)]
#[expect(clippy::panic, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::engine;

    const JOB: &str = include_str!("../../../samples/rest-house/job.toml");

    fn pits(number: i64, depth: Ratio) -> SoakAway {
        SoakAway::Pits { number: Ratio::from(number), diameter: Ratio::int(2), depth, inlet: Ratio::of(1, 2) }
    }

    fn write(text: &str, what: &SoakAway) -> Result<Written, String> {
        let (job, problems) = engine::read_job("job.toml", text, false);
        assert!(problems.is_empty(), "{problems:?}");
        write_into(text, &job, what)
    }

    fn put(text: &str, what: &SoakAway) -> Written {
        write(text, what).unwrap_or_else(|why| panic!("{why}"))
    }

    #[test]
    fn only_the_number_changes_where_that_is_enough() {
        let done = put(JOB, &pits(5, Ratio::int(3)));
        let differ: Vec<_> = JOB.lines().zip(done.text.lines()).filter(|(a, b)| a != b).collect();
        let want = "number = 5                         # the rest, up to ground level, is soil put back";
        assert_eq!(differ.iter().map(|(_, b)| *b).collect::<Vec<_>>(), [want]);
        assert!(done.gone.is_empty());
    }

    #[test]
    fn a_shallower_pit_has_less_stone() {
        let done = put(JOB, &pits(7, Ratio::of(23, 10)));
        for line in ["depth = \"2.3 m\"                   # from ground level", "fill_depth = \"1.8 m\""] {
            assert!(done.text.contains(line), "{line}\n{}", done.text);
        }
    }

    #[test]
    fn a_pit_without_its_number_gets_it_below_the_head() {
        let bare = JOB.replace("number = 1                         # the rest", "# the rest");
        let done = put(&bare, &pits(5, Ratio::int(3)));
        assert!(done.text.contains("[soak_pit]\nnumber = 5\ndiameter"), "{}", done.text);
        // At the end of a file without a line's end, and in a table that is not one of its own.
        let (job, _) =
            engine::read_job("x", "soak_pit = { diameter = 2000, depth = 3000, fill_depth = 2500 }", false);
        let text = "soak_pit = { diameter = 2000, depth = 3000, fill_depth = 2500 }";
        assert!(
            write_into(text, &job, &pits(5, Ratio::int(3))).is_err_and(|w| w.contains("table of its own"))
        );
    }

    #[test]
    fn trenches_take_the_place_of_the_pit_and_pits_that_of_trenches() {
        let what = SoakAway::Trenches {
            number: Ratio::int(4),
            length: Ratio::of(292, 10),
            width: Ratio::of(3, 5),
            stone: Ratio::of(3, 10),
        };
        let done = put(JOB, &what);
        assert_eq!(done.gone, ["the soak pit"]);
        assert!(
            !done.text.contains("[soak_pit]") && done.text.contains("vent_height = \"2.5 m\"\n\n[steel]")
        );
        assert!(done.text.ends_with("\n[[drain]]\nlength = \"29.2 m\"\nnumber = 4\nwidth = \"0.6 m\"\nstone_below = \"0.3 m\"\npipe = { diameter = \"110 mm\" }\nsheet = \"geotextile\"\n"));
        // Again: the entry that is there is changed in its place.
        let more = SoakAway::Trenches {
            number: Ratio::int(5),
            length: Ratio::int(25),
            width: Ratio::of(3, 5),
            stone: Ratio::of(3, 10),
        };
        let again = put(&done.text, &more);
        assert_eq!(
            again.text,
            done.text.replace("29.2 m", "25 m").replace("number = 4\nwidth", "number = 5\nwidth")
        );
        let back = put(&again.text, &pits(5, Ratio::int(3)));
        assert_eq!(back.gone, ["the drainage trenches"]);
        assert!(
            !back.text.contains("[[drain]]")
                && back.text.contains("fill_depth = \"2.6 m\"\nsheet = true\nnumber = 5\n")
        );
    }
}
