//! Bending of slabs and beams by working stress: pure formulas, exact fractions in and out.
//!
//! Lengths of spans in m, of sections in mm; loads in kN and kN/m2; moments in kNm; steel in mm2. Method: steel in
//! tension at one stress, lever arm a fixed share of the effective depth (as in FOSSEE 3683 examples 7.1 and 8.1, after
//! IS 456). For screening only: an engineer confirms.

use tankwright_geometry::{PI, Ratio};

/// mm of slab on which steel and bending are reckoned: a metre.
pub const METRE: Ratio = Ratio::int(1_000);

const MILLION: Ratio = Ratio::int(1_000_000);

/// Effective span, the lesser of two: clear + effective depth, and from middle to middle of what bears it. All in one unit.
#[must_use]
pub fn span(clear: Ratio, depth: Ratio, bearing: Ratio) -> Ratio {
    clear + depth.min(bearing)
}

/// Bending of a simple span under an even load: w l2 / 8, kNm of kN/m (or kN/m2, on a metre) and m.
#[must_use]
pub fn simple(load: Ratio, span: Ratio) -> Ratio {
    load * span * span / Ratio::int(8)
}

/// Bending by a coefficient: a w l2 of the short span, kNm on a metre.
#[must_use]
pub fn two_way(coefficient: Ratio, load: Ratio, short: Ratio) -> Ratio {
    coefficient * load * short * short
}

/// Force at the end of a simple span under an even load: w l / 2, kN.
#[must_use]
pub fn end_shear(load: Ratio, span: Ratio) -> Ratio {
    load * span / Ratio::int(2)
}

/// Steel for a bending moment: M / (stress x arm x d), mm2; moment in kNm, stress in N/mm2, d in mm.
#[must_use]
pub fn steel(moment: Ratio, stress: Ratio, arm: Ratio, depth: Ratio) -> Ratio {
    moment * MILLION / (stress * arm * depth)
}

/// What the concrete of a section bears before the steel: factor x b x d2, kNm; factor in N/mm2, b and d in mm.
#[must_use]
pub fn concrete(factor: Ratio, breadth: Ratio, depth: Ratio) -> Ratio {
    factor * breadth * depth * depth / MILLION
}

/// Least steel of a slab: per cent of its whole section, mm2 on a metre; thickness in mm.
#[must_use]
pub fn least(percent: Ratio, thickness: Ratio) -> Ratio {
    percent * Ratio::of(1, 100) * METRE * thickness
}

/// Section of a bar, mm2: pi as declared.
#[must_use]
pub fn bar(diameter: Ratio) -> Ratio {
    PI * diameter * diameter * Ratio::of(1, 4)
}

/// Steel on a metre, mm2: bars of a diameter at a spacing, both in mm.
#[must_use]
pub fn on_a_metre(diameter: Ratio, spacing: Ratio) -> Ratio {
    bar(diameter) * METRE / spacing
}

/// Spacing that gives so much steel on a metre, mm.
#[must_use]
pub fn spacing(diameter: Ratio, steel: Ratio) -> Ratio {
    bar(diameter) * METRE / steel
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decimal::shown;

    fn to(value: Ratio, places: u32) -> String {
        crate::decimal::rounded(value, places).map_or_else(String::new, |d| shown(d, places))
    }

    /// Working paper 4.2, our own working: panel of 0.65 m clear, slab 150, Y12, d 150 - 40 - 6.
    #[test]
    fn a_panel_of_the_working_paper() {
        let mm = |n| Ratio::of(n, 1_000);
        let l = span(mm(650), mm(104), mm(210)); // 754, not 860
        assert_eq!(l, mm(754));
        let moment = simple(Ratio::of(625, 100), l); // 0.15 x 25 + 2.5
        assert_eq!(to(moment, 4), "0.4442");
        let needs = steel(moment, Ratio::int(140), Ratio::of(87, 100), Ratio::int(104));
        assert_eq!(to(needs, 1), "35.1"); // 0.444153e6 / (140 x 0.87 x 104)
        assert_eq!(least(Ratio::of(12, 100), Ratio::int(150)), Ratio::int(180)); // 0.12 % of 150 000
        let given = [150, 200].map(|at| to(on_a_metre(Ratio::int(12), Ratio::int(at)), 0));
        assert_eq!(given, ["754", "565"]); // pi / 4 x 144 x 1000 / 150, / 200
        assert_eq!(to(concrete(Ratio::of(87, 100), METRE, Ratio::int(104)), 2), "9.41"); // 0.87 x 1000 x 104 x 104
        assert_eq!(to(end_shear(Ratio::of(60_625, 10_000), mm(3_330)), 2), "10.09");
    }
}
