//! The verbs, one file each.

mod bill;
pub(crate) mod cut;
mod estimate;
mod explain;
pub(crate) mod new;
mod rates;
mod rules;
mod size;
mod takeoff;

use crate::args::Command;
use crate::context::{Context, Outcome};

/// Does what the command line says.
pub(crate) fn run(command: &Command, cx: &mut Context<'_>) -> Outcome {
    match command {
        Command::New(args) => new::run(args, cx),
        Command::Estimate(args) => estimate::run(args, cx),
        Command::Takeoff(args) => takeoff::run(args, cx),
        Command::Bill(args) => bill::run(args, cx),
        Command::Cut(args) => cut::run(args, cx),
        Command::Explain(args) => explain::run(args, cx),
        Command::Size(args) => size::run(args, cx),
        Command::Rules(args) => rules::run(args, cx),
        Command::Rates(args) => rates::run(args, cx),
    }
}
