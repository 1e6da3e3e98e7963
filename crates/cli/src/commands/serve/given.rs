//! The command line of `serve`.

use clap::Args;

use crate::args::said;

/// What `--help` says at its end.
pub(crate) const HELP: &str = "Examples:
  tankwright serve
  tankwright serve samples/rest-house/job.toml --port 8420

The page answers on this machine alone. It reads no file by itself and writes none: what you keep, you download.
Ctrl-C ends it.";

/// `serve`.
#[derive(Args, Debug)]
pub(crate) struct Serve {
    /// Job file to open; left out: the sample rest-house
    #[arg(value_parser = said)]
    pub(crate) job: Option<String>,
    /// Port; 0 is one that is free
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub(crate) port: u16,
}
