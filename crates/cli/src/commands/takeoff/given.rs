//! What the command line says to `takeoff`.

use clap::Args;

use crate::args::{Format, JobArgs, said};

/// `takeoff`.
#[derive(Args, Debug)]
pub(crate) struct Takeoff {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// Beside another measurement profile: what differs, and which rule does it
    #[arg(long, value_name = "NAME", value_parser = said, conflicts_with = "rates")]
    pub(crate) against: Option<String>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}
