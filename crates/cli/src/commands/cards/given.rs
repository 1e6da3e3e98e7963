//! What `cards` is asked.

use clap::Args;

use tankwright_quantities::languages::ENGLISH;

use crate::args::{JobArgs, said};

/// Its example.
pub(crate) const HELP: &str = "Examples:\n  tankwright cards job.toml --out cards.pdf\n  \
    tankwright cards job.toml --stage base --out base.pdf\n  \
    tankwright cards job.toml --lang sw --out kadi.pdf";

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
    /// Language of the cards: en, fr, sw; a draft, to be read by a speaker before use
    #[arg(long, value_name = "LANGUAGE", value_parser = said, default_value = ENGLISH)]
    pub(crate) lang: String,
}
