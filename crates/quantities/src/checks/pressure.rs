//! Earth and water against a wall: pure formulas, exact fractions in and out.
//!
//! Lengths in m, weights in kN/m3, pressure in kN/m2, moments in kNm on a metre of wall, stress in N/mm2. For
//! estimating only: nothing here passes a wall.

use tankwright_geometry::Ratio;

/// Active earth pressure coefficient of an angle of friction, by its sine: (1 - sin) / (1 + sin) (Rankine).
#[must_use]
pub fn active(sine: Ratio) -> Ratio {
    (Ratio::ONE - sine) / (Ratio::ONE + sine)
}

/// Pressure at the foot of a wall: earth to the full height, of it `wet` under water.
#[must_use]
pub fn at_foot(active: Ratio, earth: Ratio, water: Ratio, height: Ratio, wet: Ratio) -> Ratio {
    active * (earth * (height - wet) + (earth - water) * wet) + water * wet
}

/// Bending at the foot of a wall that nothing holds at its top, the load growing from nothing: p h2 / 6.
#[must_use]
pub fn cantilever(pressure: Ratio, height: Ratio) -> Ratio {
    pressure * height * height / Ratio::int(6)
}

/// Bending of a wall held at its top, the load growing from nothing: p h2 / divisor, 15 at the foot, 33.5 between.
#[must_use]
pub fn propped(pressure: Ratio, height: Ratio, divisor: Ratio) -> Ratio {
    pressure * height * height / divisor
}

/// Section modulus of a metre of wall: t2 / 6, m3.
#[must_use]
pub fn section(thickness: Ratio) -> Ratio {
    thickness * thickness / Ratio::int(6)
}

/// Tension at the face of a wall, N/mm2.
#[must_use]
pub fn tension(moment: Ratio, section: Ratio) -> Ratio {
    moment / section / Ratio::int(1_000)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decimal::rounded;

    fn to(value: Ratio, places: u32) -> String {
        rounded(value, places).map_or_else(String::new, |d| d.to_string())
    }

    /// Working paper 4.2, our own working: 1.75 m of earth of 18 kN/m3, 25 degrees, wall 220.
    #[test]
    fn the_wall_of_the_working_paper() {
        let ka = active(Ratio::of(4_226_182_617, 10_000_000_000));
        assert_eq!(to(ka, 5), "0.40586");
        let h = Ratio::of(175, 100);
        let p = at_foot(ka, Ratio::int(18), Ratio::of(981, 100), h, Ratio::ZERO);
        assert_eq!(to(p, 3), "12.785"); // 0.40586 x 18 x 1.75
        let foot = propped(p, h, Ratio::int(15));
        let z = section(Ratio::of(22, 100));
        assert_eq!(to(foot, 3), "2.61");
        assert_eq!(to(propped(p, h, Ratio::of(335, 10)), 3), "1.169");
        assert_eq!(to(z, 7), "0.0080667"); // 0.22 x 0.22 / 6
        assert_eq!(to(tension(foot, z), 3), "0.324");
        assert_eq!(to(cantilever(p, h), 3), "6.525"); // 12.7845 x 1.75 x 1.75 / 6
    }

    #[test]
    fn water_presses_besides_the_earth_it_lifts() {
        let third = Ratio::of(1, 3);
        let dry = at_foot(third, Ratio::int(18), Ratio::of(981, 100), Ratio::int(2), Ratio::ZERO);
        let wet = at_foot(third, Ratio::int(18), Ratio::of(981, 100), Ratio::int(2), Ratio::ONE);
        assert_eq!(dry, Ratio::int(12)); // 18 x 2 / 3
        assert_eq!(wet, Ratio::of(1_854, 100)); // (18 + 8.19) / 3 + 9.81
    }
}
