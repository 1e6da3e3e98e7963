//! What `size` is asked, and what sizing rules ask of `new`, `size` and `cheapest` alike.

use clap::Args;

use crate::args::{Format, said};

/// `size`.
#[derive(Args, Debug)]
pub(crate) struct Size {
    /// Job file whose drawn tank and soak pits are held against the rule; `-` reads standard input. What
    /// its [sizing] says, the options say over it
    #[arg(value_parser = said)]
    pub(crate) job: Option<String>,
    /// Rule or soakage method by its id, as `tankwright rules sizing` lists them; or all, side by side.
    /// Left out: the rule of the job
    #[arg(long, value_name = "ID", value_parser = said)]
    pub(crate) rule: Option<String>,
    #[command(flatten)]
    pub(crate) given: Given,
    /// Diameter of a soak pit
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) pit_diameter: Option<String>,
    /// Depth of a soak pit below ground
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) pit_depth: Option<String>,
    /// Depth of a soak pit's inlet below ground
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) pit_inlet: Option<String>,
    /// Depth of a drainage trench's bottom below ground
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) drain_depth: Option<String>,
    /// Write the job to this file with the soak pits or drainage trenches that a soakage method asks for; `-` writes to
    /// standard output
    #[arg(long, value_name = "FILE", value_parser = said, requires = "job")]
    pub(crate) write: Option<String>,
    /// Soakage method to write by. Left out: that of --rule
    #[arg(long, value_name = "ID", value_parser = said, requires = "write")]
    pub(crate) soakage: Option<String>,
    /// Replace the file if it exists
    #[arg(long, requires = "write")]
    pub(crate) force: bool,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// What sizing rules ask for.
#[derive(Args, Debug, Default)]
pub(crate) struct Given {
    /// People who use the tank
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub(crate) persons: Option<String>,
    /// Bedrooms of the house
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub(crate) bedrooms: Option<String>,
    /// Drainage fixture units
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub(crate) fixture_units: Option<String>,
    /// Waste water of a day: "1.2 m3/d"
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) flow: Option<String>,
    /// Water that a person uses in a day: "120 l/p/d"
    #[arg(long, value_name = "WATER", allow_hyphen_values = true)]
    pub(crate) water_use: Option<String>,
    /// Years between emptyings
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub(crate) years: Option<String>,
    /// Mean of the coldest month, degrees Celsius
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true)]
    pub(crate) temperature: Option<String>,
    /// All waste water, or from toilets only: all, black
    #[arg(long)]
    pub(crate) wastes: Option<String>,
    /// Kitchen waste is ground into the drain
    #[arg(long)]
    pub(crate) grinder: bool,
    /// What is to soak away: septic, treated
    #[arg(long)]
    pub(crate) effluent: Option<String>,
    /// Percolation test: "20 s/mm", "3.3 min/cm", "8.5 min/in", "180 mm/h", or times for the fall from 225
    /// to 75 mm in a hole 300 mm deep, holes parted by semicolons: "50 min, 48 min, 52 min; 49 min, 50 min, 51 min"
    #[arg(long, value_name = "TEST", allow_hyphen_values = true)]
    pub(crate) percolation: Option<String>,
    /// Soil where water is to soak away, as loam (WHO)
    #[arg(long)]
    pub(crate) soil: Option<String>,
    /// Class of the soil where water is to soak away, as texas-ii or upc-sand
    #[arg(long, value_name = "CLASS")]
    pub(crate) soil_class: Option<String>,
    /// Highest water in the ground, below its surface: "4.2 m"
    #[arg(long, value_name = "DEPTH", allow_hyphen_values = true)]
    pub(crate) water_table: Option<String>,
    /// Width of a drainage trench
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) trench_width: Option<String>,
    /// Depth of a trench below its pipe
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) trench_depth: Option<String>,
}
