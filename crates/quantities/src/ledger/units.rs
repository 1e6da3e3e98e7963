//! In which unit a profile measures: walls in m2, edges and narrow faces in m, what is left in the rate of others.
//!
//! The dimension that is not multiplied is named in the wording. Edges and narrow faces are taken out of the item of all
//! faces of their kind: these items together are held against the model.

use tankwright_geometry::{Len, Ratio};

use crate::ledger::book::{Book, Entry, clause};
use crate::ledger::{Spec, count};
use crate::rates::{OfWork, Profile, Support};
use crate::sheet::{Decision, Times};
use crate::source::Source;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{Section, Unit, Work, earthwork};

/// A dimension that is named instead of multiplied.
#[derive(Clone, Debug)]
pub(super) struct Named {
    /// Which of a line's dimensions.
    pub(super) drop: usize,
    /// Of the whole face or wall.
    pub(super) width: Len,
    /// The item that it makes: what is added to the specification, and to the wording.
    item: Option<(String, Phrase)>,
}

fn joined(spec: &str, suffix: &str) -> String {
    [spec, suffix].into_iter().filter(|s| !s.is_empty()).collect::<Vec<_>>().join("/")
}

/// A specification in the words of the profile.
pub(super) fn stated(profile: &Profile, spec: &Spec) -> Spec {
    let states = profile.states.iter().filter(|s| s.is(spec.work.id, &spec.spec));
    let says = |w: Phrase, s: &OfWork| Phrase::with("wording-and", &[&w.to_string(), &s.says]);
    Spec { wording: states.fold(spec.wording.clone(), says), ..spec.clone() }
}

impl Book<'_> {
    /// Is a wall of this thickness measured in m2?
    fn by_area(&self, thickness: &Len) -> bool {
        let thin = || {
            let limit = self.profile.thin_walls.as_ref().map(|(limit, _)| Len::fixed(*limit));
            limit.is_some_and(|limit| self.judge.cmp(thickness, &limit).is_le())
        };
        self.profile.walls_by_area.is_some() || thin()
    }

    /// The thickness of a wall that is measured in m2.
    pub(super) fn wall(&self, spec: &Spec, stage: Stage, dims: &[&Len]) -> Option<Named> {
        let thickness = dims.get(1).filter(|_| spec.work.by_area)?;
        let named = |width: &Len| Named { drop: 1, width: width.clone(), item: None };
        match self.entries.get(&self.place(spec, stage)).filter(|e| !e.lines.is_empty()) {
            Some(entry) => entry.thickness.as_ref().map(named),
            None => self.by_area(thickness).then(|| named(thickness)),
        }
    }

    /// The clause by which an item's walls are in m2, with their thickness in the wording.
    pub(super) fn wall_clause(&self, spec: &Spec, stage: Stage) -> Option<&Source> {
        let thickness = self.entries.get(&self.place(spec, stage))?.thickness.as_ref()?;
        self.profile.by_area(thickness.value())
    }

    /// Which dimension of a face the profile names instead of multiplying.
    pub(super) fn named(&self, work: &Work, times: &[Times], dims: &[&Len]) -> Option<Named> {
        let [a, b] = dims else { return None };
        if work.unit != Unit::M2 || work.by_method || times.contains(&Times::Pi) {
            return None;
        }
        let mm = |tenths: i64| crate::decimal::plain(Ratio::of(tenths.into(), 10));
        if let Some((bands, _)) = self.profile.edges.as_ref().filter(|_| work.edge) {
            let mut from = None;
            for to in bands {
                if self.judge.cmp(b, &Len::fixed(*to)).is_le() {
                    let says = match from {
                        None => Phrase::with("edge-up-to", &[&mm(*to)]),
                        Some(from) => Phrase::with("edge-between", &[&mm(from), &mm(*to)]),
                    };
                    return Some(Named { drop: 1, width: (*b).clone(), item: Some((mm(*to), says)) });
                }
                from = Some(*to);
            }
            return None;
        }
        // Sides of a dig are booked in strips: their widths are no widths of faces.
        let (limit, _) =
            self.profile.narrow.get(&work.class).filter(|_| work.section != Section::Earthworks)?;
        let (drop, width) = if self.judge.cmp(a, b).is_le() { (0, *a) } else { (1, *b) };
        if self.judge.cmp(width, &Len::fixed(*limit)).is_gt() {
            return None;
        }
        let item = Some(("narrow".to_owned(), Phrase::with("narrow-width", &[&mm(*limit)])));
        Some(Named { drop, width: width.clone(), item })
    }

    /// The clause by which a face is in m.
    pub(super) fn named_clause(&self, work: &Work) -> String {
        let edges = self.profile.edges.as_ref().filter(|_| work.edge).map(|(_, source)| source);
        let narrow = || self.profile.narrow.get(&work.class).map(|(_, source)| source);
        edges.or_else(narrow).map_or_else(String::new, clause)
    }

    /// Where the item of faces that are named so stands.
    pub(super) fn target(&self, spec: &Spec, stage: Stage, named: Option<&Named>) -> (usize, String, Stage) {
        let suffix = named.and_then(|n| n.item.as_ref()).map(|(suffix, _)| suffix.as_str());
        self.place(&Spec { spec: joined(&spec.spec, suffix.unwrap_or_default()), ..spec.clone() }, stage)
    }

    /// The item of faces that are named so.
    pub(super) fn entry_in(&mut self, spec: &Spec, stage: Stage, named: Option<&Named>) -> &mut Entry {
        let Some((suffix, says)) = named.and_then(|n| n.item.as_ref()) else {
            return self.entry(spec, stage);
        };
        self.part(spec, stage, suffix, says)
    }

    /// A part of an item, in m.
    fn part(&mut self, spec: &Spec, stage: Stage, suffix: &str, says: &Phrase) -> &mut Entry {
        let clause = self.named_clause(spec.work);
        let wording = Phrase::with("wording-and", &[&spec.wording.to_string(), &says.to_string()]);
        let part = Spec { spec: joined(&spec.spec, suffix), wording, ..spec.clone() };
        let entry = self.entry(&part, stage);
        if entry.base.is_none() {
            entry.unit = Unit::M;
            entry.base = Some(spec.spec.clone());
            entry.decisions.push(Decision { what: Phrase::new("in-metres"), size: Ratio::ZERO, clause });
        }
        entry
    }

    /// After the last line: items that refer to others follow their units; support as the profile bills it.
    pub(crate) fn in_units(&mut self) {
        self.refer_to_parts();
        self.support();
    }

    /// What refers to an item of which a part is in m has such a part itself.
    fn refer_to_parts(&mut self) {
        let referring: Vec<_> = self.entries.values().filter(|e| !e.refers.is_empty()).collect();
        let mut parts = Vec::new();
        for entry in referring {
            for (note, work) in &entry.refers {
                let narrow = |e: &&Entry| e.spec.work == *work && e.base.is_some();
                let limit = self.profile.narrow.get(&work.class).map(|(limit, _)| *limit);
                if let Some(limit) = limit.filter(|_| self.entries.values().any(|e| narrow(&e))) {
                    parts.push((entry.spec.clone(), entry.stage, note.clone(), *work, limit));
                }
            }
        }
        for (spec, stage, note, work, limit) in parts {
            let mm = crate::decimal::plain(Ratio::of(limit.into(), 10));
            let entry = self.part(&spec, stage, "narrow", &Phrase::with("narrow-width", &[&mm]));
            entry.refers.push((note, work));
        }
    }

    /// Support is measured by its sides; the profile may bill it as one item, or leave it in the rate of the dig.
    fn support(&mut self) {
        let (source, item) = match &self.profile.support {
            Support::Area => return,
            Support::Item(source) => (source, true),
            Support::InRate(source) => (source, false),
        };
        let key = if item { "billed-as-an-item" } else { "in-rate-of-dig" };
        let mut first = None;
        for entry in self.entries.values_mut().filter(|e| e.spec.work == &earthwork::EARTHWORK_SUPPORT) {
            entry.unbilled = true;
            let (what, clause) = (Phrase::new(key), clause(source));
            entry.decisions.push(Decision { what, size: Ratio::ZERO, clause });
            first.get_or_insert_with(|| (entry.spec.clone(), entry.stage));
        }
        if let Some((sides, stage)) = first.filter(|_| item) {
            let kind = Spec::of(&earthwork::EARTHWORK_SUPPORT_ITEM, &sides.spec, &[]);
            self.line(&kind, stage, Phrase::new("one-for-the-job"), &[count(1)], &[]);
            self.rule(&kind, stage, Phrase::new("for-an-area"), clause(source));
        }
    }
}
