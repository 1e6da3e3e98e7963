//! A dig to a wrong line or level: without pockets, working space, projection, or a layer of its depth.

use tankwright_geometry::Ratio;
use tankwright_quantities::words::Phrase;
use tankwright_quantities::works::{Class, Section, Work};

use super::{Act, Case, Mistake, lines};
use crate::measure::{Out, Row, revalued};
use crate::world::Edit;

/// Pockets under columns forgotten.
pub(super) const WITHOUT_POCKETS: Mistake = Mistake {
    id: "dig-without-pockets",
    ways: |c| edit(c, Phrase::new("cross-dig-pockets"), &[Edit::Nothing("tank.columns.pocket")]),
};
/// Dug to the net face, with or without its batter.
pub(super) const WITHOUT_WORKING_SPACE: Mistake =
    Mistake { id: "dig-without-working-space", ways: without_working_space };
/// Dug to the walls, not to the base that stands out beyond them.
pub(super) const WITHOUT_PROJECTION: Mistake = Mistake {
    id: "dig-without-projection",
    ways: |c| edit(c, Phrase::new("cross-dig-projection"), &[Edit::Nothing("tank.base.projection")]),
};
/// The depth lacks the blinding.
pub(super) const WITHOUT_BLINDING: Mistake = Mistake {
    id: "dig-without-blinding",
    ways: |c| edit(c, Phrase::new("cross-dig-blinding"), &[Edit::Without("tank.base.blinding")]),
};
/// The depth lacks the hardcore.
pub(super) const WITHOUT_HARDCORE: Mistake = Mistake {
    id: "dig-without-hardcore",
    ways: |c| edit(c, Phrase::new("cross-dig-hardcore"), &[Edit::Nothing("tank.base.hardcore")]),
};
/// The depth lacks the base slab.
pub(super) const WITHOUT_BASE: Mistake = Mistake {
    id: "dig-without-base",
    ways: |c| layer(c, Phrase::new("cross-dig-base"), "tank.base.concrete.thickness"),
};
/// The depth lacks the cover slab.
pub(super) const WITHOUT_COVER: Mistake = Mistake {
    id: "dig-without-cover",
    ways: |c| layer(c, Phrase::new("cross-dig-cover"), "tank.cover.thickness"),
};
/// Working space billed, where the method has it in the rate.
pub(super) const WORKING_SPACE_BILLED: Mistake =
    Mistake { id: "working-space-billed", ways: working_space_billed };

/// Digging, filling and carting, and what follows the dig; not the beds under the tank.
fn earth(work: &Work) -> bool {
    work.section == Section::Earthworks && work.class != Class::Concrete
}

fn edit(case: &Case<'_>, says: Phrase, edits: &[Edit]) -> Vec<(Phrase, Act)> {
    let there = |e: &Edit| match e {
        Edit::Without(path) | Edit::Set(path) => case.world.job.has(path),
        Edit::Nothing(path) => case.world.input(path).is_some_and(|(_, v)| !v.is_zero()),
    };
    if !edits.iter().any(there) || !case.row.parts.iter().any(|p| earth(p.work)) {
        return Vec::new();
    }
    let edits = edits.iter().map(|e| (*e, earth as fn(&Work) -> bool)).collect();
    vec![(says, Act::Job { edits, twice: false })]
}

fn without_working_space(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let space = Edit::Nothing("tank.pit.working_space");
    let batter = Edit::Nothing("tank.pit.batter");
    let mut ways = edit(case, Phrase::new("cross-dig-space"), &[space, batter]);
    if case.world.input("tank.pit.batter").is_some_and(|(_, v)| !v.is_zero()) {
        ways.extend(edit(case, Phrase::new("cross-dig-space-only"), &[space]));
        ways.extend(edit(case, Phrase::new("cross-dig-batter"), &[batter]));
    }
    ways
}

/// The depth of a layer is taken out of every dimension that has it.
fn layer(case: &Case<'_>, says: Phrase, path: &str) -> Vec<(Phrase, Act)> {
    let Some((id, _)) = case.world.input(path) else { return Vec::new() };
    let values: Vec<Ratio> = case.world.job.inputs.iter().map(|i| i.value).collect();
    let at = move |other| {
        let known = || values.get(usize::try_from(other).unwrap_or(usize::MAX)).copied();
        if other == id.0 { Ratio::ZERO } else { known().unwrap_or(Ratio::UNKNOWN) }
    };
    let change = move |row: &mut Row| {
        for part in row.parts.iter_mut().filter(|p| earth(p.work)) {
            for dim in &mut part.dims {
                let less = revalued(&dim.len, &|i| at(i.0)) - dim.len.value() / Ratio::int(10_000);
                dim.set(dim.value + less);
            }
        }
    };
    if case.row.parts.iter().any(|p| earth(p.work)) { vec![lines(says, change)] } else { Vec::new() }
}

fn working_space_billed(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let change = |row: &mut Row| {
        row.parts.iter_mut().filter(|p| p.out == Out::InRate).for_each(|p| p.counts = true);
    };
    let in_rate = case.row.parts.iter().any(|p| p.out == Out::InRate);
    if in_rate { vec![lines(Phrase::new("cross-space-billed"), change)] } else { Vec::new() }
}

#[cfg(test)]
mod tests {
    use crate::mistakes::fixture::{JOB, made, ours};

    fn job() -> String {
        JOB.replace(
            "[tank.base]\n",
            "[tank.columns]\nsize = [\"200 mm\", \"200 mm\"]\npocket = \"300 mm\"\n[tank.pit]\nface = \"open\"\n\
             working_space = \"300 mm\"\n[tank.base]\nprojection = \"150 mm\"\nhardcore = \"100 mm\"\n\
             blinding = { thickness = \"50 mm\", mix = \"1:3:6\" }\n",
        )
    }

    // Base 3.80 x 2.20, dig 4.40 x 2.80 x (1.6 + 0.1 + 0.15 + 0.05 + 0.1 = 2.0).
    #[test]
    fn depths() {
        let pit = &["excavation-pit"];
        assert_eq!(ours(&job(), pit), "24.64");
        // 4.40 x 2.80 x 1.95, 1.9, 1.85, 1.9
        assert_eq!(made(&job(), pit, "dig-without-blinding"), ["24.024"]);
        assert_eq!(made(&job(), pit, "dig-without-hardcore"), ["23.408"]);
        assert_eq!(made(&job(), pit, "dig-without-base"), ["22.792"]);
        assert_eq!(made(&job(), pit, "dig-without-cover"), ["23.408"]);
    }

    #[test]
    fn widths_and_pockets() {
        let pit = &["excavation-pit"];
        // 3.80 x 2.20 x 2.0; to the walls and 0.30 round: 4.10 x 2.50 x 2.0
        assert_eq!(made(&job(), pit, "dig-without-working-space"), ["16.72"]);
        assert_eq!(made(&job(), pit, "dig-without-projection"), ["20.5"]);
        // With four pockets of 0.2 x 0.2 x 0.3 = 0.048: left out
        let both = &["excavation-pit", "excavation-pocket"];
        assert_eq!(ours(&job(), both), "24.688");
        assert_eq!(made(&job(), both, "dig-without-pockets"), ["24.64"]);
    }

    #[test]
    fn working_space_that_is_in_the_rate() {
        let job = job().replace("profile = \"exact\"", "profile = \"east-africa\"");
        assert_eq!(ours(&job, &["excavation-pit"]), "16.72");
        assert_eq!(made(&job, &["excavation-pit"], "working-space-billed"), ["24.64"]);
    }
}
