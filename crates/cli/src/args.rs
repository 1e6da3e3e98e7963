//! The command line.

use clap::{Args, Parser, Subcommand, ValueEnum};
use tankwright_quantities::job;

use crate::commands;
use crate::commands::batch::given::{self as batch, Batch};
use crate::commands::bill::given::{self as bill, Bill};
#[cfg(feature = "papers")]
use crate::commands::cards::given::{self as cards, Cards};
use crate::commands::cheapest::{self, Cheapest};
use crate::commands::cut::given as cut;
use crate::commands::draw::given::{self as draw, Draw};
#[cfg(feature = "papers")]
use crate::commands::offer::given::{self as offer, Offer};
use crate::commands::payments::given::{self as payments, Payments};
use crate::commands::rates::given::Rates;
use crate::commands::returned::given::{self as returned, Returned};
use crate::commands::shells;
use crate::commands::takeoff::given::Takeoff;
use crate::commands::vary::given::{self as vary, Vary};
use crate::exit::Exit;
pub(crate) use crate::size_args::{Given, Size};

/// Measures, proves and prices small below-ground masonry tanks.
#[derive(Debug, Parser)]
#[command(name = "tankwright", version, after_help = Exit::HELP, max_term_width = 100)]
pub(crate) struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub(crate) command: Command,
    /// Your own data over the built-in ones, entry by entry: a folder as `rates --export` writes it
    #[arg(long, value_name = "DIR", global = true)]
    pub(crate) data: Option<String>,
}

/// The verbs.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Writes a commented job file to start from
    #[command(after_help = "Examples:\n  tankwright new my-tank/job.toml --sample rest-house\n  \
        tankwright new my-tank/job.toml --rule bs-6297-1983 --persons 14")]
    New(Box<New>),
    /// The main job: workbook, orders, stage cards and calendar into a folder, and a summary of one screen
    #[command(after_help = commands::estimate::HELP)]
    Estimate(Estimate),
    /// Many jobs: a folder of job files, or a CSV with a row a site; results as CSV
    #[command(after_help = batch::HELP)]
    Batch(Batch),
    /// Dimension sheets, decisions and balances
    #[command(after_help = "Examples:\n  tankwright takeoff job.toml --format csv > takeoff.csv\n  \
        tankwright takeoff job.toml --profile smm7 --against is-1200")]
    Takeoff(Takeoff),
    /// The priced bill; how its rates are built up; or a form of it for others to price
    #[command(after_help = bill::HELP)]
    Bill(Bill),
    /// Materials by stage: net, over-break, waste, gross, with the recipes
    #[command(after_help = "Example:\n  tankwright materials job.toml --format csv > materials.csv")]
    Materials(Table),
    /// What to order for each stage, in packs; or the card of one stage
    #[command(after_help = "Example:\n  tankwright orders job.toml --stage base")]
    Orders(Orders),
    #[cfg(feature = "papers")]
    /// The paper for the client: what is built, drawing, price, payments, what is not in it: PDF
    #[command(after_help = offer::HELP)]
    Offer(Offer),
    #[cfg(feature = "papers")]
    /// One card a stage for the foreman, to be printed: PDF
    #[command(after_help = cards::HELP)]
    Cards(Cards),
    /// Bar schedule and cutting plan
    #[command(after_help = "Example:\n  tankwright bars job.toml --format json")]
    Bars(Table),
    /// Stage payments from the priced bill, the account at a date, money in and out
    #[command(after_help = payments::HELP)]
    Payments(Payments),
    /// What was received and counted, against what should be in the store
    #[command(after_help = "Example:\n  tankwright store job.toml received.csv\n\n\
        The list is CSV with the columns date,material,quantity, and what is wanted of\n\
        pack,rejected,counted,stage,note.")]
    Store(Store),
    /// Cuts a list of pieces from the fewest bars, or the cheapest, and proves it
    #[command(after_help = "Example:\n  tankwright cut list.csv --stock 12m --kerf 3mm\n  \
        tankwright cut list.csv --stock 12m=1900 --stock 6m=1000 --offcut 2.4m*3 --time 10s\n\n\
        The list is CSV with the columns length,count,mark (mark may be left out).")]
    Cut(Cut),
    /// Holds a second take-off or bill against the job, and says which usual mistakes give its figures
    #[command(
        after_help = "Examples:\n  tankwright crosscheck samples/rest-house/job.toml samples/rest-house/second.csv\n  \
        tankwright crosscheck job.toml theirs.csv --map theirs-map.csv\n  \
        tankwright crosscheck job.toml \"theirs.xlsx#Bill 1\"\n\n\
        The list has words, units and quantities in columns of any order, and rates, amounts and\n\
        dimensions where there are any."
    )]
    Crosscheck(Crosscheck),
    /// What was built against what was agreed: omissions and additions at the contract's rates, adjusted sum, balance
    #[command(after_help = vary::HELP)]
    Vary(Vary),
    /// Priced copies of the bill side by side: rates, arithmetic, what was left out or changed
    #[command(after_help = returned::HELP)]
    Returned(Returned),
    /// How big by a named rule, with all its workings, or whether a drawn tank complies; soakage too
    #[command(after_help = "Examples:\n  tankwright size --rule bs-6297-1983 --persons 14\n  \
        tankwright size samples/rest-house/job.toml --rule all\n  \
        tankwright size --rule all --persons 14 --water-use \"120 l/p/d\" --years 3 --temperature 22\n  \
        tankwright size samples/rest-house/job.toml --soakage who-pit --write enough.toml\n  \
        tankwright size --rule ad-h2 --persons 14 --percolation \"50 min, 48 min, 52 min; 49 min, 50 min, 51 min\"")]
    Size(Box<Size>),
    /// The cheapest tank that complies with a sizing rule: every candidate measured, proved and priced
    #[command(after_help = cheapest::HELP)]
    Cheapest(Box<Cheapest>),
    /// Drawings to scale: plans, sections, soak pit or drain, site; SVG files for A4
    #[command(after_help = draw::HELP)]
    Draw(Draw),
    /// The working of one figure, from the price to the line of the job file
    #[command(after_help = "Example:\n  tankwright explain job.toml brickwork-wall")]
    Explain(Explain),
    /// The local page: the job as a form and a drawing, on this machine alone
    #[cfg(feature = "web")]
    #[command(after_help = crate::commands::serve::given::HELP)]
    Serve(crate::commands::serve::given::Serve),
    /// Lists what is known, with sources: profiles, works, stages, soils, units, currencies
    #[command(after_help = "Example:\n  tankwright rules profiles")]
    Rules(Rules),
    /// The JSON Schema of the job file, for editors that know TOML
    #[command(after_help = crate::commands::schema::HELP)]
    Schema,
    /// What a shell needs to complete commands and options
    #[command(after_help = shells::COMPLETIONS)]
    Completions(shells::Completions),
    /// The manual page of the program or of one command
    #[command(after_help = shells::MAN)]
    Man(shells::Manual),
    /// Lists and checks price lists; writes the rows a job needs, or the built-in data
    #[command(after_help = "Example:\n  tankwright rates --blank job.toml > prices.csv\n  \
        tankwright rates prices.csv\n  tankwright rates supplier.xlsx --map supplier.map.csv\n  \
        tankwright rates prices.csv demo-ugx --compare --for job.toml")]
    Rates(Rates),
}

/// A job and what the command line may say over it.
#[derive(Args, Clone, Debug)]
pub(crate) struct JobArgs {
    /// Job file; `-` reads standard input
    #[arg(value_parser = said)]
    pub(crate) job: String,
    #[command(flatten)]
    pub(crate) over: Over,
}

/// What goes over the job file's own.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct Over {
    /// Price list in place of the job file's: a name, or a path to a CSV or XLSX file
    #[arg(long, value_name = "NAME_OR_PATH", value_parser = said)]
    pub(crate) rates: Option<String>,
    /// Measurement profile in place of the job file's
    #[arg(long, value_name = "NAME", value_parser = said)]
    pub(crate) profile: Option<String>,
    /// Date in place of the job file's: year-month-day
    #[arg(long, value_parser = date)]
    pub(crate) date: Option<String>,
}

/// `new`.
#[derive(Args, Debug)]
pub(crate) struct New {
    /// File to write, its folder too; `-` writes to standard output
    #[arg(value_parser = said)]
    pub(crate) file: String,
    /// Start from one of the samples
    #[arg(long, value_name = "NAME", value_parser = crate::commands::new::SAMPLE_NAMES)]
    pub(crate) sample: Option<String>,
    /// A tank that complies with this sizing rule, for what the options below say
    #[arg(long, value_name = "ID", value_parser = said, conflicts_with = "sample")]
    pub(crate) rule: Option<String>,
    #[command(flatten)]
    pub(crate) given: Given,
    /// Soak pits or drainage trenches too, by this soakage method
    #[arg(long, value_name = "ID", value_parser = said, requires = "rule")]
    pub(crate) soakage: Option<String>,
    /// Replace the file if it exists
    #[arg(long)]
    pub(crate) force: bool,
}

/// `estimate`.
#[derive(Args, Debug)]
pub(crate) struct Estimate {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// Folder for the files; made if it is not there. Left out: only the summary
    #[arg(long, value_name = "DIR", value_parser = said)]
    pub(crate) out: Option<String>,
    /// Offer and stage cards as PDF too, and pictures of plan and section in the workbook
    #[cfg(feature = "papers")]
    #[arg(long, requires = "out")]
    pub(crate) papers: bool,
}

/// `materials` and `bars`.
#[derive(Args, Debug)]
pub(crate) struct Table {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// `orders`.
#[derive(Args, Debug)]
pub(crate) struct Orders {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// Only this stage: its card, with what must be true, what to have, order, cut and write down
    #[arg(long, value_name = "ID", value_parser = said)]
    pub(crate) stage: Option<String>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// `store`.
#[derive(Args, Debug)]
pub(crate) struct Store {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// Goods received, counted and rejected, CSV; `-` reads standard input
    #[arg(value_parser = said)]
    pub(crate) received: String,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// `crosscheck`.
#[derive(Args, Debug)]
pub(crate) struct Crosscheck {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// Second take-off or bill, CSV or XLSX (theirs.xlsx#Sheet); `-` reads CSV from standard input
    #[arg(value_parser = said)]
    pub(crate) other: String,
    /// How each line is understood: written where the file is not there, read where it is
    #[arg(long, value_name = "FILE", value_parser = said)]
    pub(crate) map: Option<String>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// `cut`.
#[derive(Args, Debug)]
pub(crate) struct Cut {
    /// List of pieces, CSV: length,count,mark; `-` reads standard input
    pub(crate) list: String,
    /// Stock length that is bought, with price (=) and greatest number (*) where they matter: 12m,
    /// 6m=1000, 6m=1000*5. A length without a unit is mm
    #[arg(long, required = true, value_name = "LENGTH[=PRICE][*NUMBER]", value_parser = cut::stock)]
    pub(crate) stock: Vec<cut::StockArg>,
    /// Offcut in the store, with how many: 2.4m, 2.4m*3
    #[arg(long, value_name = "LENGTH[*NUMBER]", value_parser = cut::offcut)]
    pub(crate) offcut: Vec<cut::OffcutArg>,
    /// Width of a cut
    #[arg(long, value_name = "LENGTH", default_value = "0mm", value_parser = cut::kerf)]
    pub(crate) kerf: i64,
    /// Searches no longer than this, and gives the best plan so far. Left out: some seconds of
    /// counted steps, with the same result on every machine
    #[arg(long, value_name = "TIME", value_parser = cut::time)]
    pub(crate) time: Option<std::time::Duration>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// `explain`.
#[derive(Args, Debug)]
pub(crate) struct Explain {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// Item, work, work/specification, bill row (B2), section (B), addition, material (cement), its orders
    /// (orders/cement), mark (mark/3), or one of total, measured, preliminaries, provisional, earth,
    /// capacity
    pub(crate) id: String,
}

/// `rules`.
#[derive(Args, Debug)]
pub(crate) struct Rules {
    /// Only this list
    #[arg(value_enum)]
    pub(crate) what: Option<What>,
    /// The keys of the job file: what may stand there, and what holds when they are left out
    #[arg(long, conflicts_with = "what")]
    pub(crate) keys: bool,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// How to print.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    #[default]
    Text,
    Json,
    Csv,
}

/// What `rules` lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum What {
    /// Measurement profiles: every figure with its clause
    Profiles,
    /// Kinds of work, in bill order
    Works,
    /// Stages of construction
    Stages,
    /// Soils
    Soils,
    /// Bricks and blocks
    Units,
    /// Currencies
    Currencies,
    /// What a job needs that its drawing does not show
    Checklist,
    /// Sizing rules and soakage methods
    Sizing,
    /// Problem codes
    Codes,
}

/// Anything but nothing: an empty name is a slip of a script, never the current folder.
pub(crate) fn said(text: &str) -> Result<String, String> {
    if text.trim().is_empty() { Err("it is empty".to_owned()) } else { Ok(text.to_owned()) }
}

/// A calendar date.
pub(crate) fn date(text: &str) -> Result<String, String> {
    match job::date::check(text) {
        Ok(()) => Ok(text.to_owned()),
        Err(job::date::DateError::Form) => Err("a date is year-month-day, as 2026-11-25".to_owned()),
        Err(job::date::DateError::NoSuchDay(_)) => Err("the calendar has no such day".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_command_line_is_sound_and_every_command_has_an_example() {
        Cli::command().debug_assert();
        for command in Cli::command().get_subcommands() {
            let help = command.get_after_help().map(ToString::to_string).unwrap_or_default();
            assert!(
                help.starts_with("Example") && help.contains(":\n  tankwright "),
                "{}",
                command.get_name()
            );
        }
    }

    #[test]
    fn dates() {
        for (text, good) in [
            ("2026-11-25", true),
            ("2028-02-29", true),
            ("2026-02-29", false),
            ("2026-13-01", false),
            ("2026-00-01", false),
            ("2026-1-1", false),
            ("25.11.2026", false),
            ("2026-11-+5", false),
        ] {
            assert_eq!(date(text).is_ok(), good, "{text}");
        }
    }
}
