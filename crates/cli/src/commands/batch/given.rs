//! The command line of `batch`.

use clap::Args;

use crate::args::{Over, said};

/// What `--help` says at its end.
pub(crate) const HELP: &str = "Examples:
  tankwright batch samples --out out
  tankwright batch samples/rest-house/sites.csv --base samples/rest-house/job.toml --out sites --workbooks
  tankwright batch samples/rest-house/sites.csv --base samples/rest-house/job.toml --out sites --workbooks --resume

A folder of job files: its *.toml, and the job.toml of each folder in it. Or a CSV with a row a site: its columns are
keys of the job file (tank.width, tank.chambers, job.title, tank.ring_beams[0].depth; `rules --keys` lists them), and
what a cell says stands in place of what the base job says. An empty cell leaves the base as it is, - takes the value
out, the entries of a list are parted by ; and a list of sizes is written as in the job file. A column `site` names the
rows; one that begins with # is not read.
Written are results.csv, a row a job in the order of the input; messages.txt, what was said of each job; and with
--workbooks a workbook a job. A refused job does not stop the others. When it is stopped, the same command with
--resume goes on after the last row. The run ends with 0 where no job was refused, else with the gravest of the codes
in the column `exit`: 1, 5, 6, 4, 3.";

/// `batch`.
#[derive(Args, Debug)]
pub(crate) struct Batch {
    /// Folder of job files, or CSV with a row a site
    #[arg(value_name = "DIR_OR_CSV", value_parser = said)]
    pub(crate) from: String,
    /// Job file that the rows of the CSV change
    #[arg(long, value_name = "JOB", value_parser = said)]
    pub(crate) base: Option<String>,
    /// Folder for the results; made if it is not there
    #[arg(long, value_name = "DIR", value_parser = said)]
    pub(crate) out: String,
    #[command(flatten)]
    pub(crate) over: Over,
    /// Writes the workbook of each job too
    #[arg(long)]
    pub(crate) workbooks: bool,
    /// Goes on with a batch that was stopped: same inputs, same options, same program
    #[arg(long, conflicts_with = "force")]
    pub(crate) resume: bool,
    /// Begins anew over results that are there
    #[arg(long)]
    pub(crate) force: bool,
    /// Threads; their number changes nothing that is written. Left out: one a core
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub(crate) threads: Option<u16>,
}
