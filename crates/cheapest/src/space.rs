//! Where to look: what the user says, and what holds where nothing is said, each told as such.

use tankwright_geometry::Ratio;
use tankwright_quantities::job::Job;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::Stock;
use tankwright_sizing::Rule;

use crate::given::{Asked, By, Range, shown};
use crate::grid::{Grid, by_first, by_shares};
use crate::structures::structures;

/// Most candidates of one search.
pub const MOST: u64 = 5_000_000;
/// From one length to the next, where nothing is said: 50 mm.
const STEP: i64 = 500;

/// Who says what an axis holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// The command line.
    Option,
    /// The job file.
    Job,
    /// Nobody: a default, by its word in the catalogue.
    Default(&'static str),
}

/// One of the things that are searched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Axis {
    /// Name, as a key of the job file.
    pub name: &'static str,
    /// What is looked at, as text: one entry a value, or `2.00 m to 4.50 m`.
    pub values: Vec<String>,
    /// How many values.
    pub count: usize,
    /// Who says so.
    pub how: How,
}

/// A range of lengths in steps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Steps {
    /// `length`, `first`, `width`, `depth`.
    pub name: &'static str,
    /// Every value, least first.
    pub values: Vec<i64>,
}

/// The search as it will be made.
#[derive(Clone, Debug)]
pub struct Space {
    /// Everything that is searched.
    pub axes: Vec<Axis>,
    /// The ranges of lengths: what is beyond their ends can be looked at.
    pub ranges: Vec<Steps>,
    /// From one length to the next.
    pub step: i64,
    /// Most that the tank may cover outside, m2.
    pub max_plan: Option<Ratio>,
    /// The candidates.
    pub grid: Grid,
    /// Shares of the chambers, by their number less one, where no range of first chambers is given.
    shares: [Vec<Ratio>; 4],
    numbers: Vec<usize>,
}

/// The drawn tank's own sizes, tenths of a millimetre.
pub(crate) struct Drawn {
    pub(crate) chambers: Vec<i64>,
    pub(crate) width: i64,
    pub(crate) height: i64,
}

impl Drawn {
    pub(crate) fn of(job: &Job) -> Self {
        let one = |path: &str| tenths(job, path);
        let chambers = (0..job.count_of("tank.chambers")).map(|i| one(&format!("tank.chambers[{i}]")));
        Self { chambers: chambers.collect(), width: one("tank.width"), height: one("tank.height") }
    }
}

/// A length of the job; 0 where it has none.
pub(crate) fn tenths(job: &Job, path: &str) -> i64 {
    job.input(path).and_then(|(_, i)| i64::try_from(i.value.numer()).ok()).unwrap_or(0)
}

impl Space {
    /// Everything that is to be searched. `text` is the job file's.
    ///
    /// # Errors
    /// Too many candidates, none, or a job file that cannot be changed: codes U057 to U059.
    pub fn of(
        text: &str,
        job: &Job,
        rule: &Rule,
        stock: &Stock,
        asked: &Asked,
    ) -> Result<Self, Vec<Problem>> {
        let drawn = Drawn::of(job);
        let step = asked.step.unwrap_or(STEP);
        let how = |name, default| match asked.from.get(name) {
            Some(By::Option) => How::Option,
            Some(By::Job) => How::Job,
            None => How::Default(default),
        };
        let numbers =
            if asked.chambers.is_empty() { vec![drawn.chambers.len()] } else { asked.chambers.clone() };
        let total = drawn.chambers.iter().sum();
        let mut axes = vec![Axis {
            name: "chambers",
            values: numbers.iter().map(usize::to_string).collect(),
            count: numbers.len(),
            how: how("chambers", "cheapest-as-drawn"),
        }];
        let mut ranges = Vec::new();
        for (name, range, middle) in [
            ("length", asked.length, total),
            ("first", asked.first, 0),
            ("width", asked.width, drawn.width),
            ("depth", asked.depth, drawn.height),
        ] {
            let values = range.map_or_else(|| around(middle, step), |r| along(r, step));
            if name == "first" && range.is_none() {
                continue;
            }
            axes.push(Axis {
                name,
                values: ends(&values),
                count: values.len(),
                how: how(name, "cheapest-around"),
            });
            ranges.push(Steps { name, values });
        }
        let shares = [1, 2, 3, 4].map(|n| share_of(rule, &drawn, n));
        if asked.first.is_none() && numbers.iter().any(|n| *n > 1) {
            axes.push(split(&numbers, &shares));
        }
        axes.push(Axis {
            name: "step",
            values: vec![shown(step)],
            count: 1,
            how: how("step", "cheapest-ours"),
        });
        let mut space =
            Self { axes, ranges, step, max_plan: asked.max_plan, grid: Grid::default(), shares, numbers };
        space.grid = space.grid_of(&space.ranges);
        let (built, more) = structures(text, job, stock, asked, &space.grid.lengths, &space.numbers)?;
        space.grid.structures = built;
        space.axes.extend(more.into_iter().map(|(name, values, default)| Axis {
            name,
            count: values.len(),
            values,
            how: how(name, default),
        }));
        if let Some(area) = asked.max_plan {
            let values = vec![format!("{} m2", tankwright_quantities::decimal::plain(area))];
            space.axes.push(Axis {
                name: "max_plan",
                values,
                count: 1,
                how: how("max_plan", "cheapest-ours"),
            });
        }
        space.sound()?;
        Ok(space)
    }

    fn sound(&self) -> Result<(), Vec<Problem>> {
        let count = self.grid.count();
        if count == 0 {
            let problem = Problem::error("U058", None, "there is no tank in these limits");
            let hint = "is the first chamber shorter than the whole length, and none shorter than 100 mm?";
            return Err(vec![problem.hint(hint)]);
        }
        if count > MOST {
            let message = format!("{count} candidates are more than the {MOST} that are searched");
            let hint = "narrow --length, --width or --depth, or take a coarser --step first and a finer one around the best";
            return Err(vec![Problem::error("U057", None, message).hint(hint)]);
        }
        Ok(())
    }

    /// The grid of some ranges; without structures.
    fn grid_of(&self, ranges: &[Steps]) -> Grid {
        let of = |name| ranges.iter().find(|r| r.name == name).map(|r| r.values.clone());
        let totals = of("length").unwrap_or_default();
        let firsts = of("first");
        let mut lengths = [const { Vec::new() }; 4];
        for (i, (slot, shares)) in lengths.iter_mut().zip(&self.shares).enumerate() {
            if self.numbers.contains(&(i + 1)) {
                *slot = match &firsts {
                    Some(firsts) => by_first(&totals, firsts, i + 1),
                    None => by_shares(&totals, shares),
                };
            }
        }
        let (widths, depths) = (of("width").unwrap_or_default(), of("depth").unwrap_or_default());
        Grid { structures: self.grid.structures.clone(), depths, widths, lengths }
    }

    /// What lies one step beyond an end of a range, everything else as it is; nothing where no tank can lie there.
    #[must_use]
    pub fn beyond(&self, range: usize, over: bool) -> Option<(i64, Grid)> {
        let own = self.ranges.get(range)?;
        let end = if over { own.values.last()? + self.step } else { own.values.first()? - self.step };
        if !(1_000..=1_000_000).contains(&end) {
            return None;
        }
        let ranges: Vec<Steps> = self
            .ranges
            .iter()
            .enumerate()
            .map(|(i, r)| if i == range { Steps { name: r.name, values: vec![end] } } else { r.clone() })
            .collect();
        Some((end, self.grid_of(&ranges)))
    }
}

/// From the least by steps.
fn along(range: Range, step: i64) -> Vec<i64> {
    let count = (range.most - range.least) / step;
    (0..=count).map(|i| range.least + i * step).collect()
}

/// Two thirds to one and a half times what is drawn, which is one of them.
fn around(drawn: i64, step: i64) -> Vec<i64> {
    let under = (drawn - drawn * 2 / 3) / step;
    let over = (drawn * 3 / 2 - drawn) / step;
    (-under..=over).map(|i| drawn + i * step).filter(|v| *v >= 1_000).collect()
}

fn ends(values: &[i64]) -> Vec<String> {
    let mut ends: Vec<String> = values.first().into_iter().chain(values.last()).map(|v| shown(*v)).collect();
    ends.dedup();
    ends
}

/// Shares of so many chambers: the rule's where it has them, the drawn, else two to one.
fn share_of(rule: &Rule, drawn: &Drawn, chambers: usize) -> Vec<Ratio> {
    if let Some(own) = rule.shape.iter().find(|l| l.name == "chambers" && l.ratio.len() == chambers) {
        return own.ratio.clone();
    }
    if drawn.chambers.len() == chambers {
        return drawn.chambers.iter().map(|l| Ratio::from(*l)).collect();
    }
    let mut shares = vec![Ratio::ONE; chambers];
    if let Some(first) = shares.first_mut().filter(|_| chambers > 1) {
        *first = Ratio::int(2);
    }
    shares
}

fn split(numbers: &[usize], shares: &[Vec<Ratio>; 4]) -> Axis {
    let short = |s: &Vec<Ratio>| {
        let least = s.iter().copied().min().unwrap_or(Ratio::ONE);
        let parts: Vec<String> = s.iter().map(|p| tankwright_sizing::sized::short(*p / least)).collect();
        parts.join(" : ")
    };
    let several = numbers.iter().filter(|n| **n > 1).filter_map(|n| shares.get(n - 1));
    let values: Vec<String> = several.map(short).collect();
    Axis { name: "first", count: 1, values, how: How::Default("cheapest-shares") }
}
