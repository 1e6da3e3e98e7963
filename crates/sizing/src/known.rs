//! The inputs a rule may ask for: names, fixed units, what is nonsense. One list.

use tankwright_geometry::Ratio;

/// What an input is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// A whole number.
    Whole,
    /// A number that need not have a unit; if it has one, it must fit.
    Number,
    /// A number with its unit.
    Measure,
    /// One of these words.
    Word(&'static [&'static str]),
    /// A percolation test.
    Test,
}

/// One input.
#[derive(Clone, Copy, Debug)]
pub struct Known {
    /// `water-use`; the option is `--water-use`, the key of a job file `water_use`.
    pub name: &'static str,
    /// What it is.
    pub form: Form,
    /// Its one unit inside rules.
    pub unit: &'static str,
    /// At least, in that unit; 0 itself is refused.
    pub least: Ratio,
    /// At most, in that unit.
    pub most: Ratio,
    /// As one writes it.
    pub example: &'static str,
    /// What it means.
    pub help: &'static str,
}

/// Soils as the one table by soil names them.
pub const SOILS: &[&str] = &[
    "coarse-sand",
    "medium-sand",
    "fine-sand",
    "loamy-sand",
    "sandy-loam",
    "loam",
    "porous-silty-clay",
    "silty-clay-loam",
    "compact-silty-loam",
    "compact-silty-clay-loam",
    "non-expansive-clay",
];

/// Classes of soil, by the table that names them.
pub const CLASSES: &[&str] = &[
    "texas-ib",
    "texas-ii",
    "texas-iii",
    "texas-iv",
    "upc-sand",
    "upc-fine-sand",
    "upc-sandy-loam",
    "upc-clay-with-sand",
    "upc-clay",
];

const fn known(
    name: &'static str,
    form: Form,
    unit: &'static str,
    (least, most): (Ratio, Ratio),
    example: &'static str,
    help: &'static str,
) -> Known {
    Known { name, form, unit, least, most, example, help }
}

const fn to(n: i128) -> (Ratio, Ratio) {
    (Ratio::of(1, 1_000), Ratio::int(n))
}

const NO: (Ratio, Ratio) = (Ratio::ZERO, Ratio::ZERO);

/// All of them, in the order printed.
pub const ALL: &[Known] = &[
    known("persons", Form::Whole, "1", to(10_000), "14", "people who use the tank"),
    known("bedrooms", Form::Whole, "1", to(1_000), "5", "bedrooms of the house"),
    known("fixture-units", Form::Number, "1", to(10_000), "25", "drainage fixture units"),
    known("flow", Form::Measure, "m3/d", to(10_000), "1.2 m3/d", "waste water of a day"),
    known("water-use", Form::Measure, "l/p/d", to(2_000), "120 l/p/d", "water that a person uses in a day"),
    known("years", Form::Number, "yr", to(50), "3", "years between emptyings"),
    known(
        "temperature",
        Form::Number,
        "degC",
        (Ratio::int(-40), Ratio::int(60)),
        "22",
        "mean of the coldest month, degrees Celsius",
    ),
    known("wastes", Form::Word(&["all", "black"]), "", NO, "all", "all waste water, or from toilets only"),
    known("grinder", Form::Word(&["no", "yes"]), "", NO, "yes", "kitchen waste is ground into the drain"),
    known(
        "effluent",
        Form::Word(&["septic", "treated"]),
        "",
        NO,
        "septic",
        "what is to soak away: from a septic tank, or treated further",
    ),
    known("percolation", Form::Test, "s/mm", to(100_000), "20 s/mm", "percolation test, in any usual form"),
    known("soil", Form::Word(SOILS), "", NO, "sandy-loam", "soil at the depth where water soaks away"),
    known(
        "soil-class",
        Form::Word(CLASSES),
        "",
        NO,
        "texas-ii",
        "class of the soil, by the code that names it",
    ),
    known(
        "water-table",
        Form::Measure,
        "m",
        (Ratio::ZERO, Ratio::int(100)),
        "4.2 m",
        "highest water in the ground, below its surface",
    ),
    known("trench-width", Form::Measure, "m", to(10), "600 mm", "width of a drainage trench"),
    known("trench-depth", Form::Measure, "m", to(10), "600 mm", "depth of a trench below its pipe"),
    known("pit-diameter", Form::Measure, "m", to(20), "2 m", "diameter of a soak pit"),
    known("pit-depth", Form::Measure, "m", to(50), "3 m", "depth of a soak pit below ground"),
    known(
        "drain-depth",
        Form::Measure,
        "m",
        to(50),
        "800 mm",
        "depth of a drainage trench's bottom below ground",
    ),
    known("pit-inlet", Form::Measure, "m", to(50), "560 mm", "depth of a soak pit's inlet below ground"),
];

/// Reckoned from others: what stands below the inlet of a pit.
pub const PIT_WATER: Known =
    known("pit-water", Form::Measure, "m", to(50), "2.44 m", "depth of a soak pit below its inlet");

/// The input of a name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Known> {
    static PIT: Known = PIT_WATER;
    ALL.iter().find(|k| k.name == name).or((name == PIT.name).then_some(&PIT))
}
