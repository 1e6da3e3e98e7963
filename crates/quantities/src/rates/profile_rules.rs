//! All rules of a profile as rows: what, figure, source. Papers, `rules` and the data tests read them here.

use tankwright_geometry::Ratio;

use super::profile::{Boundary, Profile, Room, Support};
use crate::decimal::plain;
use crate::source::Source;
use crate::words::look_up;

/// A rule of a profile.
#[derive(Clone, Debug)]
pub struct Rule<'a> {
    /// What it is about.
    pub what: String,
    /// Figure or words.
    pub figure: String,
    /// Clause.
    pub source: &'a Source,
}

/// Tenths of a millimetre as millimetres.
fn mm(tenths: i64) -> String {
    format!("{} mm", plain(Ratio::of(tenths.into(), 10)))
}

/// Square tenths of a millimetre as square metres.
fn m2(area: Ratio) -> String {
    format!("{} m2", plain(area / Ratio::int(100_000_000)))
}

fn list(lengths: &[i64]) -> String {
    let all = lengths.iter().map(|b| mm(*b)).collect::<Vec<_>>().join(", ");
    if all.is_empty() { "none".to_owned() } else { all }
}

impl Profile {
    /// Every rule, in a fixed order.
    #[must_use]
    pub fn rules(&self) -> Vec<Rule<'_>> {
        let mut all = Vec::new();
        let mut add = |what: String, figure: String, source| all.push(Rule { what, figure, source });
        if let Some((text, source)) = &self.method {
            add("method".into(), text.clone(), source);
        }
        add("dimensions to".into(), mm(self.step.0), &self.step.1);
        add("slab thickness to".into(), mm(self.slab_step.0), &self.slab_step.1);
        for (unit, rounding) in &self.places {
            let mut figure = rounding.places.to_string();
            if rounding.of > 1 {
                figure = format!("{figure}, in steps of {}", rounding.of);
            }
            if rounding.least > 0 {
                figure = format!("{figure}, not less than {}", rounding.least);
            }
            add(format!("places of {}", unit.id()), figure, &rounding.source);
        }
        if let Some(source) = &self.by_row {
            add("totals rounded by".into(), "row of the bill".into(), source);
        }
        add("depth bands".into(), list(&self.bands.0), &self.bands.1);
        if let Some(source) = &self.by_greatest_depth {
            add("band of a pit".into(), "all of it by its greatest depth".into(), source);
        }
        if let Some(class) = &self.dig_class {
            let [small, large] = &class.says;
            let figure =
                format!("{small} up to {} wide or {} on plan; else {large}", mm(class.width), m2(class.area));
            add("class of a pit".into(), figure, &class.source);
        }
        self.units(&mut add);
        self.voids_and_ends(&mut add);
        for rule in &self.in_rate {
            add(rule.code.clone(), "in the rate of other items".into(), &rule.source);
        }
        for rule in &self.states {
            add(rule.code.clone(), format!("states: {}", rule.says), &rule.source);
        }
        for note in &self.notes {
            add(look_up(note.kind.key()).to_owned(), note.says.clone(), &note.source);
        }
        all
    }

    fn units<'a>(&'a self, add: &mut impl FnMut(String, String, &'a Source)) {
        if let Some(source) = &self.walls_by_area {
            add("walls".into(), "m2".into(), source);
        }
        if let Some((limit, source)) = &self.thin_walls {
            add("walls in m2 up to".into(), mm(*limit), source);
        }
        match &self.working_space {
            Room::Billed => {}
            Room::InRate(source) => add("working space".into(), "in the rate".into(), source),
            Room::ByFace(under, source) => {
                add("working space".into(), format!("m2 of face, work within {}", mm(*under)), source);
            }
        }
        match &self.support {
            Support::Area => {}
            Support::Item(source) => add("support to sides".into(), "one item".into(), source),
            Support::InRate(source) => add("support to sides".into(), "in the rate".into(), source),
        }
        if let Some(source) = &self.laps {
            add("laps of bars".into(), "in the kilograms billed".into(), source);
        }
        if let Some((bands, source)) = &self.edges {
            add("edges of slabs in m, heights up to".into(), list(bands), source);
        }
        for (class, (limit, source)) in &self.narrow {
            add(format!("{} in m, widths up to", class.id()), mm(*limit), source);
        }
    }

    fn voids_and_ends<'a>(&'a self, add: &mut impl FnMut(String, String, &'a Source)) {
        for (class, void) in &self.voids {
            let figure = format!("{} {}", plain(void.shown()), void.unit.id());
            add(format!("voids kept in {}, up to", class.id()), figure, &void.source);
        }
        if let Some((limit, source)) = &self.one_face {
            add("voids in plaster, one face off, up to".into(), m2(*limit), source);
        }
        for (class, (limit, source)) in &self.pipes {
            add(format!("pipes kept in {}, up to", class.id()), mm(*limit), source);
        }
        for (class, (limit, source)) in &self.ends {
            let figure = limit.map_or_else(|| "any size".to_owned(), m2);
            add(format!("ends of beams kept in {}, up to", class.id()), figure, source);
        }
        if let (boundary, Some(source)) = &self.boundary {
            let figure = match boundary {
                Boundary::Face => "always off at the edge of the face measured",
                Boundary::Part => "always off at the edge of the slab or wall",
                Boundary::Anywhere => "limits hold wherever it lies",
            };
            add("a void at an edge".into(), figure.into(), source);
        }
    }
}
