//! A batch of jobs as CSV: one row a job. Fields are only ever added, at the end.

use tankwright_geometry::Ratio;
use tankwright_quantities::checks::Verdict;
use tankwright_quantities::decimal::{plain, ratio, rounded};
use tankwright_quantities::estimate::Estimate;

use crate::csv::{Out, text};
use crate::json::money;
use crate::text::bars::mass;

/// Names of the columns.
pub const HEAD: [&str; 21] = [
    "row",
    "site",
    "job",
    "exit",
    "problems",
    "title",
    "currency",
    "total",
    "litres",
    "rule",
    "complies",
    "litres_over",
    "dug_m3",
    "put_back_m3",
    "carted_m3",
    "concrete_m3",
    "steel_kg",
    "checks_not_met",
    "cautions",
    "prices",
    "workbook",
];

/// Places of volumes and masses.
const PLACES: u32 = 3;

/// How one job of a batch ended.
#[derive(Clone, Copy, Debug)]
pub struct Ended<'a> {
    /// Its number, from 1.
    pub row: usize,
    /// What people call it.
    pub site: &'a str,
    /// Its file.
    pub job: &'a str,
    /// Exit code, as of a run by itself.
    pub exit: i32,
    /// Codes of the errors.
    pub problems: &'a [&'static str],
    /// What was made of it, where it is not refused.
    pub estimate: Option<&'a Estimate>,
    /// The workbook that is written.
    pub workbook: &'a str,
}

/// The first line of the file.
#[must_use]
pub fn head() -> String {
    Out::new(&HEAD).done()
}

/// Whether a job complies with the rule it names: `yes`, `no`, or nothing where that is not known.
#[must_use]
pub fn complies(e: Option<&Estimate>) -> &'static str {
    match e.and_then(|e| e.sizing.as_ref()?.complies) {
        Some(true) => "yes",
        Some(false) => "no",
        None => "",
    }
}

/// The line of one job. Volumes are m3, steel is kg, rounded to three places as a bill is.
#[must_use]
pub fn row(ended: &Ended<'_>) -> String {
    let mut out = Out::rows(HEAD.len());
    let mut cells = vec![
        ended.row.to_string(),
        text(ended.site),
        text(ended.job),
        ended.exit.to_string(),
        ended.problems.join(" "),
    ];
    if let Some(e) = ended.estimate {
        let sizing = e.sizing.as_ref();
        let not_met = e.checks.iter().filter(|c| c.verdict == Verdict::NotMet).map(|c| c.id);
        let of = |r: Ratio| rounded(r, PLACES).map(|d| d.normalize().to_string()).unwrap_or_default();
        let prices = e.bill.price_list.as_ref().map(|(name, ..)| text(name));
        cells.extend([
            text(&e.title),
            e.bill.currency.code.clone(),
            money(&e.bill, e.bill.total).unwrap_or_default(),
            e.capacity.to_water_line.map(|l| l.to_string()).unwrap_or_default(),
            sizing.map(|s| text(&s.rule)).unwrap_or_default(),
            complies(Some(e)).to_owned(),
            sizing.and_then(|s| s.margin_l).map(plain).unwrap_or_default(),
            of(ratio(e.earth.dug_net)),
            of(ratio(e.earth.put_back)),
            of(ratio(e.earth.carted_bank)),
            of(ratio(e.concrete.net)),
            of(mass(e)),
            not_met.collect::<Vec<_>>().join(" "),
            e.cautions_of_job().count().to_string(),
            prices.unwrap_or_default(),
            text(ended.workbook),
        ]);
    }
    out.row(cells);
    out.done()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handmade;

    #[test]
    fn a_row_has_every_column_and_commands_no_spreadsheet() {
        let e = handmade::estimate();
        let site = "=HYPERLINK(\"x\")";
        let ended =
            Ended { row: 7, site, job: "@a.toml", exit: 0, problems: &[], estimate: Some(&e), workbook: "" };
        let line = row(&ended);
        assert!(line.starts_with("7,\"'=HYPERLINK(\"\"x\"\")\",'@a.toml,0,,"), "{line}");
        assert!(line.contains(",UGX,1361000,5420,") && line.ends_with("\r\n"), "{line}");
        let refused = Ended { exit: 3, problems: &["J006", "J011"], estimate: None, ..ended };
        let line = row(&refused);
        assert!(line.ends_with(",3,J006 J011,,,,,,,,,,,,,,,,\r\n"), "{line}");
        assert_eq!(head().matches(',').count(), HEAD.len() - 1);
    }
}
