//! The job as built, for other verbs: what variations changed stands in the text, so they become remarks.

use tankwright_quantities::flow;
use tankwright_quantities::job::read;

/// The text with every entry of `[[variation]]` as a remark; as it stands, where its entries cannot be told from the
/// rest by their lines.
pub(super) fn as_built(text: &str) -> String {
    let mut inside = false;
    let mut out = String::with_capacity(text.len());
    for line in text.split_inclusive('\n') {
        let head = line.trim_start();
        if head.starts_with('[') {
            let name = head.trim_start_matches('[').trim_start();
            inside =
                name.strip_prefix("variation").is_some_and(|rest| rest.trim_start().starts_with([']', '.']));
        }
        if inside && !line.trim().is_empty() {
            out.push_str("# ");
        }
        out.push_str(line);
    }
    let (job, problems) = read("as-built.toml", &out, &flow::job_tables());
    if problems.is_empty() && !job.given("variation") { out } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn variations_become_remarks_and_nothing_else_does() {
        let job = "format = 1\n[job]\ntitle = \"t\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n[tank]\n\
            chambers = [\"1.60 m\"]\nwidth = 1200\nheight = 1500\n";
        let one = "[[variation]]\nid = \"V1\"\ndate = \"2026-12-01\"\nby = \"b\"\nreason = \"r\"\n";
        let set = "[variation.set]\n\"tank.height\" = 1700\n";
        let rest = "[[paid]]\ndate = \"2026-12-09\"\namount = 5\n";
        let remarks = |text: &str| text.lines().map(|l| format!("# {l}\n")).collect::<String>();
        assert_eq!(
            as_built(&format!("{job}\n{one}{set}\n{rest}")),
            format!("{job}\n{}\n{rest}", remarks(&format!("{one}{set}")))
        );
        assert_eq!(as_built(job), job);
        // In one line with other tables an entry cannot be told by its lines.
        let inline = format!(
            "variation = [{{ id = \"V1\", date = \"2026-12-01\", by = \"b\", reason = \"r\" }}]\n{job}"
        );
        assert_eq!(as_built(&inline), inline);
    }
}
