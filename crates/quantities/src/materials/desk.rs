//! Where uses are collected: figures looked up, waste chosen, every choice noted with its source.

use std::collections::BTreeMap;

use tankwright_geometry::{Judge, Ratio};

use crate::decimal::plain;
use crate::materials::chain::Chain;
use crate::materials::choices::{Choices, Chosen};
use crate::materials::{Use, codes};
use crate::problem::Problem;
use crate::rates::{MasonryUnit, Recipes, Stock, covering};
use crate::source::Source;
use crate::stage::Stage;
use crate::words::{Phrase, look_up};

/// How the name of a figure begins that is a number of uses.
const USES: &str = "uses-";

/// The desk of one job.
#[derive(Debug)]
pub(super) struct Desk<'a> {
    stock: &'a Stock,
    /// Compares what shapes the uses, and remembers it.
    pub(super) judge: &'a Judge,
    /// What the job chooses.
    pub(super) choices: Choices,
    /// Uses so far.
    pub(super) uses: Vec<Use>,
    /// Mixed goods: m3 by what and stage.
    pub(super) mixes: BTreeMap<(Phrase, Stage), Ratio>,
    /// Choices made, each once.
    pub(super) remarks: Vec<(Phrase, String)>,
    /// What the data lack.
    pub(super) problems: Vec<Problem>,
}

impl<'a> Desk<'a> {
    /// An empty desk.
    pub(super) const fn new(stock: &'a Stock, judge: &'a Judge, choices: Choices) -> Self {
        Self {
            stock,
            judge,
            choices,
            uses: Vec::new(),
            mixes: BTreeMap::new(),
            remarks: Vec::new(),
            problems: Vec::new(),
        }
    }

    /// The data.
    pub(super) const fn recipes(&self) -> &'a Recipes {
        &self.stock.recipes
    }

    /// A masonry unit.
    pub(super) fn unit(&self, id: &str) -> Option<&'a MasonryUnit> {
        self.stock.units.get(id)
    }

    /// Notes what this program chose or found, without another source.
    pub(super) fn remark(&mut self, says: Phrase) {
        self.note(says, look_up("materials-ours"));
    }

    /// Notes a choice and its source, once.
    pub(super) fn note(&mut self, says: Phrase, source: &str) {
        let noted = self.remarks.iter().any(|(s, from)| *s == says && from == source);
        if !noted {
            self.remarks.push((says, source.to_owned()));
        }
    }

    /// The data name what they do not hold.
    pub(super) fn lacks(&mut self, what: &str) {
        let problem = Problem::error(codes::DATA, None, format!("no data file has {what}"));
        self.problems
            .push(problem.hint("add it to your own rates/, or leave the built-in files as they are"));
    }

    /// A figure: value, words, waste inside, source.
    fn figure(&mut self, id: &str) -> Option<(Ratio, Phrase, bool, Source)> {
        let Some(figure) = self.stock.recipes.figures.get(id) else {
            self.lacks(&format!("the figure {id}"));
            return None;
        };
        let chosen = self.choices.figures.get(id);
        let named = match chosen {
            Some(Chosen::Named(id)) => id,
            _ => "",
        };
        let entry = figure.value(named)?;
        let (value, inside, source) = match chosen {
            Some(Chosen::Own(own)) => (*own, false, own_source()),
            _ => (entry.value, entry.waste_inside, entry.source.clone()),
        };
        let key = if chosen.is_some() { "materials-figure-chosen" } else { "materials-figure" };
        self.note(Phrase::with(key, &[&figure.says, &plain(value), id]), &source.to_string());
        Some((value, Phrase::with("plain", &[&figure.says]), inside, source))
    }

    /// A chain times a figure, which it then cites.
    pub(super) fn times(&mut self, chain: Chain, id: &str) -> Option<Chain> {
        let (value, says, inside, source) = self.figure(id)?;
        Some(chain.number(value, says).cite(&source, inside))
    }

    /// A chain over a figure; it goes on citing what it cited.
    pub(super) fn over(&mut self, chain: Chain, id: &str) -> Option<Chain> {
        let (value, says, _, _) = self.figure(id)?;
        let over = Phrase::with("materials-over", &[&says.to_string()]);
        if !id.starts_with(USES) {
            return Some(chain.number(Ratio::ONE / value, over));
        }
        self.remark(Phrase::new("materials-uses"));
        Some(chain.again(value, over))
    }

    /// A figure alone, noted: value and words.
    pub(super) fn value(&mut self, id: &str) -> Option<(Ratio, Phrase)> {
        self.figure(id).map(|(value, says, _, _)| (value, says))
    }

    /// Puts a chain down as the use of a material. Waste acts where the recipe has none inside.
    pub(super) fn put(&mut self, chain: Chain, material: &str) {
        let waste = if chain.has_waste() { Ratio::ZERO } else { self.waste(material) };
        let spent = chain.put(material, waste);
        if !spent.amount.is_zero() {
            self.uses.push(spent);
        }
    }

    /// Waste of a material, per cent: the job's own, else the data's.
    pub(super) fn waste(&mut self, material: &str) -> Ratio {
        let own = covering(material).find_map(|id| self.choices.waste.get(id).map(|w| (id, *w)));
        if let Some((id, percent)) = own {
            let says = Phrase::with("materials-waste-own", &[id, &plain(percent)]);
            self.note(says, &own_source().to_string());
            return percent;
        }
        let Some((id, (percent, source))) = self.stock.recipes.waste(material) else {
            self.lacks(&format!("waste of {material}"));
            return Ratio::ZERO;
        };
        let says = Phrase::with("materials-waste", &[id, &plain(*percent)]);
        self.note(says, &source.to_string());
        *percent
    }

    /// Notes waste that the job gives and that acts on nothing, because every recipe has it inside.
    pub(super) fn idle_waste(&mut self) {
        let ids: Vec<String> = self.choices.waste.keys().cloned().collect();
        for id in ids {
            let of = |u: &&Use| covering(&u.material).any(|c| c == id);
            let mut uses = self.uses.iter().filter(of).peekable();
            if uses.peek().is_some() && uses.all(|u| u.waste_inside) {
                self.remark(Phrase::with("materials-waste-idle", &[&id]));
            }
        }
    }

    /// Adds mixed goods.
    pub(super) fn mixed(&mut self, says: Phrase, chain: &Chain) {
        let sum = self.mixes.entry((says, chain.stage)).or_insert(Ratio::ZERO);
        *sum = *sum + chain.amount();
    }
}

/// The job file itself as a source.
pub(super) fn own_source() -> Source {
    Source { text: look_up("materials-job-file").to_owned(), ..Source::default() }
}
