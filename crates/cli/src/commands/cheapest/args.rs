//! The command line of `cheapest`.

use clap::Args;

use crate::args::{Format, JobArgs, said};

/// What `--help` says at its end.
pub(crate) const HELP: &str = "Examples:
  tankwright cheapest samples/rest-house/job.toml --out cheapest.toml
  tankwright cheapest job.toml --length \"2 m..4 m\" --width \"1 m..2 m\" --depth \"1.4 m..2 m\"
  tankwright cheapest job.toml --units brick-220x105x65,block-400x200x200 --faces tight,open --covers \"100 mm,125 mm\"

A range is least..most, in steps from the least on; one length alone is kept. What is not given is searched round
the drawn tank, or stays as drawn; every default is printed. The same words may stand under [cheapest] in the job
file, with _ for -.
What is not searched stays as drawn: pipes, openings and manholes by their distance below the top, ring beams above
the floor, columns, bars, soak pit. A candidate that cannot be built with them is counted, and told why. Where the
number of chambers changes, the last manhole is repeated or left out.
Another wall unit makes the walls nearest to the drawn ones, the thicker of two; unit@wall/partition says which.
Structure is not judged: that is for an engineer.";

/// `cheapest`.
#[derive(Args, Debug)]
pub(crate) struct Cheapest {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// Sizing rule in place of the job's
    #[arg(long, value_name = "ID", value_parser = said)]
    pub(crate) rule: Option<String>,
    /// How many of the best are shown
    #[arg(long, value_name = "N", default_value_t = 10, value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub(crate) top: u16,
    /// Clear lengths of all chambers together: "1.5 m..4 m"
    #[arg(long, value_name = "RANGE", allow_hyphen_values = true)]
    length: Option<String>,
    /// Clear length of the first chamber, the others are equal; left out: by shares
    #[arg(long, value_name = "RANGE", allow_hyphen_values = true)]
    first: Option<String>,
    /// Clear width
    #[arg(long, value_name = "RANGE", allow_hyphen_values = true)]
    width: Option<String>,
    /// Depth: from the top of the base at the outlet to the underside of the cover, as tank.height
    #[arg(long, value_name = "RANGE", allow_hyphen_values = true)]
    depth: Option<String>,
    /// From one length, width or depth to the next; left out: 50 mm
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    step: Option<String>,
    /// Numbers of chambers: 1,2,3
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    chambers: Option<String>,
    /// Bricks or blocks of the walls, as `tankwright rules units` lists them
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    units: Option<String>,
    /// Thicknesses of the cover: "100 mm,125 mm"
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    covers: Option<String>,
    /// The span beam that is drawn: with,without
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    span_beam: Option<String>,
    /// Faces of the pit: tight,open
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    faces: Option<String>,
    /// Room round an open pit; left out: as drawn, or 600 mm (common practice, no source)
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    working_space: Option<String>,
    /// Most that the tank may cover, outside of its walls: "8 m2"
    #[arg(long, value_name = "AREA", allow_hyphen_values = true)]
    max_plan: Option<String>,
    /// Threads; their number changes nothing that is found. Left out: one a core
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub(crate) threads: Option<u16>,
    /// Writes the best as a job file: your own with its values replaced, remarks kept
    #[arg(long, value_name = "FILE", value_parser = said)]
    pub(crate) out: Option<String>,
    /// Which of the best --out writes
    #[arg(long, value_name = "N", default_value_t = 1, requires = "out", value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub(crate) pick: u16,
    /// Replace the file if it exists
    #[arg(long, requires = "out")]
    pub(crate) force: bool,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

impl Cheapest {
    /// What is searched, by the keys of `[cheapest]`.
    pub(super) fn given(&self) -> Vec<(&'static str, &str)> {
        let all = [
            ("length", &self.length),
            ("first", &self.first),
            ("width", &self.width),
            ("depth", &self.depth),
            ("step", &self.step),
            ("chambers", &self.chambers),
            ("units", &self.units),
            ("covers", &self.covers),
            ("span_beam", &self.span_beam),
            ("faces", &self.faces),
            ("working_space", &self.working_space),
            ("max_plan", &self.max_plan),
        ];
        all.into_iter().filter_map(|(name, text)| Some((name, text.as_deref()?))).collect()
    }
}
