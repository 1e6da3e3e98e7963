//! What `offer` is asked.

use clap::Args;

use crate::args::{JobArgs, said};

/// Its example.
pub(crate) const HELP: &str = "Examples:\n  tankwright offer job.toml --out offer.pdf\n  \
    tankwright offer samples/guest-house/job.toml --out offer.pdf --bill --drawings";

/// `offer`.
#[derive(Args, Debug)]
pub(crate) struct Offer {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// The file, PDF
    #[arg(long, value_name = "FILE", value_parser = said)]
    pub(crate) out: String,
    /// The priced bill as an appendix
    #[arg(long)]
    pub(crate) bill: bool,
    /// All drawings as an appendix
    #[arg(long)]
    pub(crate) drawings: bool,
}
