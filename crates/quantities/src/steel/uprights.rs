//! Bars of columns: starter bars in the base, main bars up into the slab, links.

use tankwright_geometry::Len;

use super::beams::link;
use super::bench::{Bench, Order, Want};
use super::details::Place;
use super::shapes::Shape;
use crate::sketch::Upright;
use crate::space::tenths;
use crate::stage::Stage;
use crate::words::Phrase;

/// Columns of one length.
#[derive(Debug)]
pub struct Equal {
    /// Words: main bars, links.
    pub words: [&'static str; 2],
    /// How many.
    pub columns: usize,
    /// Level of the floor they stand on.
    pub floor: Len,
}

/// Columns from a base into a slab.
#[derive(Debug)]
pub struct Uprights {
    /// The part of the job file that gives their bars.
    pub part: &'static str,
    /// Words of its detail.
    pub title: &'static str,
    /// Words of the starter bars.
    pub starters: &'static str,
    /// Size on plan.
    pub size: [Len; 2],
    /// From the floor down to the underside of what they are cast into.
    pub deep: Len,
    /// Underside and top of the slab.
    pub slab: [Len; 2],
    /// Where one of them stands on plan.
    pub plan: [[Len; 2]; 2],
    /// Columns by their length.
    pub all: Vec<Equal>,
}

impl Uprights {
    /// Starter bars, main bars, links.
    pub fn reinforce(&self, bench: &mut Bench<'_>) {
        let from = bench.added();
        self.main(bench);
        self.links(bench);
        let Some(first) = self.all.first() else { return };
        let run = [first.floor.clone(), self.slab[0].clone()];
        let title = Phrase::new(self.title);
        let place = Place { title, axis: 2, run, rect: self.plan.clone() };
        let below = tenths(&self.deep);
        bench.detail(from, &place, Some(Upright { below, slab: tenths(&self.slab[1]) }));
    }

    fn links(&self, bench: &mut Bench<'_>) {
        let Some(bars) = bench.bars(&format!("{}.links", self.part)) else { return };
        for Equal { words, columns, floor } in &self.all {
            let Some((each, spacing)) = bench.spaces(&bars, &(&self.slab[0] - floor)) else { continue };
            bench.add(Want {
                order: Order::Columns,
                member: Phrase::new(words[1]),
                bars: &bars,
                shape: link(bench, &self.size[0], &self.size[1]),
                members: *columns,
                each,
                stage: Stage::WallsLower,
                remarks: vec![spacing],
            });
        }
    }

    fn main(&self, bench: &mut Bench<'_>) {
        let site = bench.site;
        let Some(bars) = bench.bars(&format!("{}.main", self.part)) else { return };
        let [foot, top] = ["steel.column_foot", "steel.column_top"].map(|k| site.job.len(k));
        let (lap, cover) = (bench.lap(bars.kind.diameter), bench.cover.clone());
        let members: usize = self.all.iter().map(|e| e.columns).sum();
        bench.add(Want {
            order: Order::Starters,
            member: Phrase::new(self.starters),
            bars: &bars,
            shape: Shape::Corner { a: &(&self.deep - &cover) + &lap, b: foot },
            members,
            each: bars.number.clone(),
            stage: Stage::Base,
            remarks: vec![Phrase::with("bars-starter-lap", &[&site.mm(&lap)])],
        });
        for Equal { words, columns, floor } in &self.all {
            let a = &(&self.slab[1] - &cover) - floor;
            bench.add(Want {
                order: Order::Columns,
                member: Phrase::new(words[0]),
                bars: &bars,
                shape: Shape::Corner { a, b: top.clone() },
                members: *columns,
                each: bars.number.clone(),
                stage: Stage::WallsLower,
                remarks: Vec::new(),
            });
        }
    }
}
