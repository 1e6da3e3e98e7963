//! Values replaced in the text of a job file: remarks, order and everything else stay as the user wrote them.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::flow;
use crate::job::spans::{Span, written};
use crate::job::{self, Given, Job};

/// One change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Edit {
    /// This value, as it stands in a job file, at this path.
    Set(String, String),
    /// The part or value at this path is turned into a remark, or taken out of the table it stands in.
    Drop(String),
}

impl Edit {
    /// A value.
    #[must_use]
    pub fn set(path: &str, value: impl Into<String>) -> Self {
        Self::Set(path.to_owned(), value.into())
    }

    /// Where.
    #[must_use]
    pub fn path(&self) -> &str {
        match self {
            Self::Set(path, _) => path,
            Self::Drop(path) => path,
        }
    }
}

/// A text in place of some bytes.
type Patch = (Range<usize>, String);

/// The text with all changes made, and the job read from it, which has no problem.
///
/// # Errors
/// The path of a value that cannot be replaced because of the way the file is written.
pub fn edit(text: &str, job: &Job, edits: &[Edit]) -> Result<(String, Job), String> {
    let out = edited(text, job, edits)?;
    let (read, problems) = job::read(&job.file, &out, &flow::job_tables());
    match edits.iter().find(|e| !problems.is_empty() || !holds(e, &read)) {
        Some(e) => Err(e.path().to_owned()),
        None => Ok((out, read)),
    }
}

/// The text with all changes made, whatever the job file says of them. Values are TOML as they stand after `=`.
///
/// # Errors
/// The path of a value that cannot be replaced because of the way the file is written.
pub fn edited(text: &str, job: &Job, edits: &[Edit]) -> Result<String, String> {
    let spans = written(text);
    let mut patches: Vec<Patch> = Vec::new();
    let mut headings: Vec<(String, String)> = Vec::new();
    for edit in edits {
        let made = match edit {
            Edit::Drop(path) => dropped(text, job, &spans, path),
            Edit::Set(path, value) => set(text, job, &spans, path, value).or_else(|| {
                let (part, key) = path.rsplit_once('.')?;
                let line = format!("{key} = {value}\n");
                match headings.iter_mut().find(|(p, _)| p == part) {
                    Some((_, lines)) => lines.push_str(&line),
                    None if job.given(part) => return None,
                    None => headings.push((part.to_owned(), line)),
                }
                Some(Vec::new())
            }),
        };
        patches.extend(made.ok_or_else(|| edit.path().to_owned())?);
    }
    patches.sort_by_key(|(span, _)| span.start);
    let mut out = text.to_owned();
    for (span, new) in patches.iter().rev() {
        if out.get(span.clone()).is_none() {
            return Err(edits.first().map(|e| e.path().to_owned()).unwrap_or_default());
        }
        out.replace_range(span.clone(), new);
    }
    for (part, lines) in headings {
        if !out.ends_with('\n') {
            out.push('\n');
        }
        out.push_str(&format!("\n[{part}]\n{lines}"));
    }
    Ok(out)
}

/// Is what was asked for now what the file says?
fn holds(edit: &Edit, job: &Job) -> bool {
    match edit {
        Edit::Set(path, _) => job.given(path),
        Edit::Drop(path) => !job.has(path),
    }
}

/// A value that stands in the file is replaced; one that does not comes into its part, where that stands there.
fn set(text: &str, job: &Job, spans: &BTreeMap<String, Span>, path: &str, value: &str) -> Option<Vec<Patch>> {
    // What the file says wrongly stands in no job, and must not be said twice.
    let is_heading = |s: &&Span| !s.plain && text.get(s.value.clone()).is_some_and(|t| t.starts_with("[["));
    if let Some(span) = spans.get(path).filter(|s| !is_heading(s)) {
        return Some(vec![(span.value.clone(), value.to_owned())]);
    }
    if let Some((_, Given::Here(place))) = job.values.get(path) {
        return Some(vec![(place.span.clone(), value.to_owned())]);
    }
    let (part, key) = path.rsplit_once('.')?;
    let (_, Given::Here(place)) = job.values.get(part)? else { return None };
    if text.get(place.span.clone())?.starts_with('[') {
        let rest = text.get(place.span.end..)?;
        let at = place.span.end + rest.find('\n').unwrap_or(rest.len());
        let at = if text[..at].ends_with('\r') { at - 1 } else { at };
        return Some(vec![(at..at, format!("\n{key} = {value}"))]);
    }
    let open = inline(text, place.span.end)?.start + 1;
    let empty = text.get(open..)?.trim_start().starts_with('}');
    Some(vec![(open..open, format!(" {key} = {value}{}", if empty { " " } else { "," }))])
}

/// A part: the lines of its own table as remarks, or its key and value out of the table around it.
fn dropped(text: &str, job: &Job, spans: &BTreeMap<String, Span>, path: &str) -> Option<Vec<Patch>> {
    let remark = |lines: Range<usize>| {
        let starts = std::iter::once(lines.start)
            .chain(text[lines.clone()].match_indices('\n').map(|(i, _)| lines.start + i + 1));
        starts.filter(|at| *at < lines.end).map(|at| (at..at, "# ".to_owned())).collect::<Vec<_>>()
    };
    let plain = spans.get(path).filter(|s| s.plain && s.key != s.value);
    let (key, value) = match plain {
        Some(span) => (span.key.clone(), span.value.clone()),
        None => match job.values.get(path)? {
            (_, Given::Here(place)) => (place.span.clone(), place.span.clone()),
            _ => return None,
        },
    };
    if plain.is_none() && text.get(key.clone())?.starts_with('[') {
        let rest = text.get(key.end..)?;
        let end = rest.find("\n[").map_or(text.len(), |i| key.end + i + 1);
        // Remarks and empty lines before the next heading belong to it.
        let own = text[key.start..end].trim_end();
        return Some(remark(key.start..key.start + own.len()));
    }
    let value = if plain.is_some() { value } else { inline(text, key.end)? };
    let line = text[..key.start].rfind('\n').map_or(0, |i| i + 1);
    if text[line..key.start].trim().is_empty() {
        return Some(remark(key.start..value.end));
    }
    // In a table in one line: with the comma after it, or the one before.
    let after = text[value.end..].trim_start();
    if after.starts_with(',') {
        return Some(vec![(key.start..text.len() - after.len() + 1, String::new())]);
    }
    let before = text[..key.start].trim_end();
    let start = if before.ends_with(',') { before.len() - 1 } else { key.start };
    Some(vec![(start..value.end, String::new())])
}

/// The table in braces that is the value of the key which ends here.
fn inline(text: &str, key_end: usize) -> Option<Range<usize>> {
    let rest = text.get(key_end..)?;
    let value = rest.trim_start().strip_prefix('=')?.trim_start();
    if !value.starts_with('{') {
        return None;
    }
    let start = text.len() - value.len();
    let (mut deep, mut quote, mut escaped, mut remark) = (0_usize, None, false, false);
    for (i, c) in value.char_indices() {
        match (quote, c) {
            _ if escaped => escaped = false,
            _ if remark => remark = c != '\n',
            (Some('"'), '\\') => escaped = true,
            (Some(q), c) if c == q => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') => quote = Some(c),
            (None, '#') => remark = true,
            (None, '{') => deep += 1,
            (None, '}') => {
                deep -= 1;
                if deep == 0 {
                    return Some(start..start + i + 1);
                }
            }
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = "format = 1\n[job]\ntitle = \"t\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n[tank]\n\
        chambers = [\"1.60 m\", \"0.80 m\"]  # inlet first\nwidth = 1200 # clear\nheight = \"1.50 m\"\n";

    fn changed(more: &str, edits: &[Edit]) -> Result<String, String> {
        let text = format!("{JOB}{more}");
        let (job, problems) = job::read("job.toml", &text, &flow::job_tables());
        assert_eq!(problems, []);
        edit(&text, &job, edits).map(|(out, _)| out)
    }

    #[test]
    fn values_are_replaced_and_remarks_stay() {
        let edits = [Edit::set("tank.width", "\"1.25 m\""), Edit::set("tank.chambers[1]", "\"900 mm\"")];
        let want = JOB.replace("1200", "\"1.25 m\"").replace("0.80 m", "900 mm");
        assert_eq!(changed("", &edits), Ok(want));
    }

    #[test]
    fn what_is_not_there_comes_into_its_part() {
        let edits =
            [Edit::set("tank.pit.face", "\"open\""), Edit::set("tank.pit.working_space", "\"600 mm\"")];
        let lines = "face = \"open\"\nworking_space = \"600 mm\"\n";
        assert_eq!(changed("", &edits), Ok(format!("{JOB}\n[tank.pit]\n{lines}")));
        let out = changed("[tank.pit] # the hole\ntermite = true\n", &edits);
        assert_eq!(out, Ok(format!("{JOB}[tank.pit] # the hole\n{lines}termite = true\n")));
        for (more, want) in [
            ("pit = {}\n", "pit = { face = \"open\" }\n"),
            ("pit = { termite = true }\n", "pit = { face = \"open\", termite = true }\n"),
        ] {
            assert_eq!(changed(more, &edits[..1]), Ok(format!("{JOB}{want}")));
        }
        assert_eq!(
            changed("walls.mortar = \"1:4\"\n", &[Edit::set("tank.walls.unit", "\"x\"")]),
            Err("tank.walls.unit".into())
        );
    }

    #[test]
    fn a_wrong_value_is_replaced_and_never_doubled() {
        let text = JOB.replace("1200", "\"1.\"");
        let (job, problems) = job::read("job.toml", &text, &flow::job_tables());
        assert!(!problems.is_empty() && !job.has("tank.width"));
        let out = edited(&text, &job, &[Edit::set("tank.width", "\"1.5 m\"")]);
        assert_eq!(out, Ok(JOB.replace("1200", "\"1.5 m\"")));
    }

    #[test]
    fn a_value_is_dropped() {
        let drop = [Edit::Drop("tank.persons".to_owned())];
        let with = JOB.replace("[tank]\n", "[tank]\npersons = 14 # usually\n");
        let (job, _) = job::read("job.toml", &with, &flow::job_tables());
        let out = edited(&with, &job, &drop);
        assert_eq!(out, Ok(JOB.replace("[tank]\n", "[tank]\n# persons = 14 # usually\n")));
        let inside = format!("{JOB}pit = {{ face = \"open\", termite = true }}\n");
        let (job, _) = job::read("job.toml", &inside, &flow::job_tables());
        let out = edited(&inside, &job, &[Edit::Drop("tank.pit.face".to_owned())]);
        assert_eq!(out, Ok(format!("{JOB}pit = {{  termite = true }}\n")));
    }

    #[test]
    fn a_part_is_dropped_in_every_form() {
        let drop = [Edit::Drop("tank.cover.span_beam".to_owned())];
        let beam = "{ width = \"200 mm\", depth = \"150 mm\" } # } along";
        let out = changed(&format!("[tank.cover]\nspan_beam = {beam}\nmembrane = true\n"), &drop);
        assert_eq!(out, Ok(format!("{JOB}[tank.cover]\n# span_beam = {beam}\nmembrane = true\n")));
        let table = "[tank.cover.span_beam]\nwidth = \"200 mm\"\ndepth = \"150 mm\"\n";
        let out = changed(&format!("{table}\n[money]\n").replace("[money]", "[waste]"), &drop);
        let gone = "# [tank.cover.span_beam]\n# width = \"200 mm\"\n# depth = \"150 mm\"\n";
        assert_eq!(out, Ok(format!("{JOB}{gone}\n[waste]\n")));
        for (cover, left) in [
            ("{ span_beam = { width = 200, depth = 150 }, membrane = true }", "{  membrane = true }"),
            ("{ membrane = true, span_beam = { width = 200, depth = 150 } }", "{ membrane = true }"),
        ] {
            assert_eq!(changed(&format!("cover = {cover}\n"), &drop), Ok(format!("{JOB}cover = {left}\n")));
        }
    }
}
