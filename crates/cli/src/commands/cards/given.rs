//! What `cards` is asked.

use clap::Args;

use crate::args::{JobArgs, said};

/// Its example.
pub(crate) const HELP: &str = "Examples:\n  tankwright cards job.toml --out cards.pdf\n  \
    tankwright cards job.toml --stage base --out base.pdf";

/// `cards`.
#[derive(Args, Debug)]
pub(crate) struct Cards {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// The file, PDF
    #[arg(long, value_name = "FILE", value_parser = said)]
    pub(crate) out: String,
    /// Only the card of this stage
    #[arg(long, value_name = "ID", value_parser = said)]
    pub(crate) stage: Option<String>,
}
