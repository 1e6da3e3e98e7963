//! `bill` on the command line.

use clap::Args;

use crate::args::Table;

/// `bill`.
#[derive(Args, Debug)]
pub(crate) struct Bill {
    #[command(flatten)]
    pub(crate) table: Table,
    /// How each rate is built up that the price list does not give: quantities, rates, on-costs, "say"
    #[arg(long)]
    pub(crate) analysis: bool,
}
