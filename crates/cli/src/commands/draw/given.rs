//! What the command line says of drawings.

use clap::Args;

use crate::args::JobArgs;

/// Examples under the help.
pub(crate) const HELP: &str = "Examples:\n  tankwright draw samples/rest-house/job.toml --out drawings\n  \
    tankwright draw job.toml --only long-section --out drawings --png 2000";

/// `draw`.
#[derive(Args, Debug)]
pub(crate) struct Draw {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// Folder for the drawings; made if it is not there. Left out: their list
    #[arg(long, value_name = "DIR", value_parser = crate::args::said)]
    pub(crate) out: Option<String>,
    /// Only this drawing, by its name in the list; may be given more than once
    #[arg(long, value_name = "NAME", value_parser = crate::args::said)]
    pub(crate) only: Vec<String>,
    /// A picture of each drawing beside it, so many dots wide
    #[cfg(feature = "papers")]
    #[arg(long, value_name = "DOTS", value_parser = clap::value_parser!(u32).range(200..=8_000))]
    pub(crate) png: Option<u32>,
}
