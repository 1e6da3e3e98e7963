//! The verbs, one file each.

mod bars;
pub(crate) mod batch;
pub(crate) mod bill;
#[cfg(feature = "papers")]
pub(crate) mod cards;
pub(crate) mod cheapest;
mod crosscheck;
pub(crate) mod cut;
pub(crate) mod draw;
mod estimate;
mod explain;
mod materials;
pub(crate) mod new;
#[cfg(feature = "papers")]
pub(crate) mod offer;
mod orders;
pub(crate) mod payments;
pub(crate) mod rates;
pub(crate) mod returned;
mod rules;
pub(crate) mod schema;
#[cfg(feature = "web")]
pub(crate) mod serve;
pub(crate) mod shells;
mod size;
mod store;
pub(crate) mod takeoff;
pub(crate) mod vary;

use crate::args::Command;
use crate::context::{Context, Outcome};

/// Does what the command line says.
pub(crate) fn run(command: &Command, cx: &mut Context<'_>) -> Outcome {
    match command {
        Command::New(args) => new::run(args, cx),
        Command::Estimate(args) => estimate::run(args, cx),
        Command::Batch(args) => batch::run(args, cx),
        Command::Takeoff(args) => takeoff::run(args, cx),
        Command::Bill(args) => bill::run(args, cx),
        Command::Materials(args) => materials::run(args, cx),
        #[cfg(feature = "papers")]
        Command::Offer(args) => offer::run(args, cx),
        Command::Orders(args) => orders::run(args, cx),
        Command::Payments(args) => payments::run(args, cx),
        Command::Bars(args) => bars::run(args, cx),
        Command::Store(args) => store::run(args, cx),
        Command::Cut(args) => cut::run(args, cx),
        Command::Draw(args) => draw::run(args, cx),
        Command::Explain(args) => explain::run(args, cx),
        #[cfg(feature = "papers")]
        Command::Cards(args) => cards::run(args, cx),
        Command::Cheapest(args) => cheapest::run(args, cx),
        Command::Crosscheck(args) => crosscheck::run(args, cx),
        Command::Vary(args) => vary::run(args, cx),
        Command::Returned(args) => returned::run(args, cx),
        Command::Size(args) => size::run(args, cx),
        Command::Rules(args) => rules::run(args, cx),
        #[cfg(feature = "web")]
        Command::Serve(args) => serve::run(args, cx),
        Command::Completions(args) => shells::completions(args, cx),
        Command::Man(args) => shells::man(args, cx),
        Command::Schema => schema::run(cx),
        Command::Rates(args) => rates::run(args, cx),
    }
}
