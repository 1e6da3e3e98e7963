//! Masonry: units are counted on the face, so many skins deep with a joint between skins only; mortar is what remains
//! of the wall's volume. Counting by one brick with its joints per cubic metre would be some 4 % short.

use tankwright_geometry::{Len, Ratio};

use crate::decimal::{plain, rounded};
use crate::materials::chain::Chain;
use crate::materials::desk::Desk;
use crate::materials::mixes::MixKind;
use crate::rates::MasonryUnit;
use crate::sheet::Item;
use crate::words::Phrase;

const METRE: Ratio = Ratio::int(10_000);

/// Mortar of masonry.
const MORTAR: MixKind<'static> =
    MixKind { says: "materials-mixed-mortar", sand: "sand-building", waterproofed: false };

/// How a unit makes a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Skins {
    /// Units one behind the other.
    pub skins: i128,
    /// Units in 1 m2 of face, all skins.
    pub per_m2: Ratio,
    /// Thickness they make, metres.
    pub thickness: Ratio,
    /// Volume of one unit, m3.
    pub volume: Ratio,
}

impl Skins {
    /// As many skins as come nearest to a thickness in tenths of a millimetre, at least one.
    #[must_use]
    pub fn of(unit: &MasonryUnit, thickness: Ratio) -> Self {
        let [l, b, h] = unit.size.map(|t| Ratio::from(t) / METRE);
        let joint = Ratio::from(unit.joint) / METRE;
        let near = ((thickness / METRE + joint) / (b + joint)).round_half_away(Ratio::ONE);
        let skins = near.numer().max(1);
        let n = Ratio::int(skins);
        Self {
            skins,
            per_m2: n / ((l + joint) * (h + joint)),
            thickness: n * b + (n - Ratio::ONE) * joint,
            volume: l * b * h,
        }
    }

    /// The same laid dry: beds closed, upright joints left open, as wide as if they were filled (common practice, no
    /// source).
    #[must_use]
    pub fn dry(unit: &MasonryUnit, thickness: Ratio) -> Self {
        let [l, _, h] = unit.size.map(|t| Ratio::from(t) / METRE);
        let joint = Ratio::from(unit.joint) / METRE;
        let wall = Self::of(unit, thickness);
        Self { per_m2: Ratio::int(wall.skins) / ((l + joint) * h), ..wall }
    }

    /// Mortar of 1 m2 of a wall of a thickness in metres, joints full, m3; never below nothing.
    #[must_use]
    pub fn mortar(&self, thickness: Ratio) -> Ratio {
        let rest = thickness - self.per_m2 * self.volume;
        if rest.signum() < 0 { Ratio::ZERO } else { rest }
    }
}

/// `bricks/brick-220x105x65` or `blocks/...`.
pub(super) fn material(unit: &MasonryUnit) -> String {
    let kind = if is_block(unit) { "blocks" } else { "bricks" };
    format!("{kind}/{}", unit.id)
}

fn is_block(unit: &MasonryUnit) -> bool {
    unit.hollow || unit.id.starts_with("block")
}

impl Desk<'_> {
    /// Units, mortar and filled cells of an item of masonry.
    pub(super) fn masonry(&mut self, item: &Item) -> Option<()> {
        let made = &item.made;
        let (Some(unit), Some(thick)) = (self.unit(&made.unit), made.thickness.as_ref()) else {
            self.lacks(&format!("the masonry unit {}", made.unit));
            return None;
        };
        let dry = made.mix.is_empty();
        let wall = if dry { Skins::dry(unit, thick.value()) } else { Skins::of(unit, thick.value()) };
        self.watch(unit, &wall, thick);
        self.note_wall(unit, &wall, thick, dry);
        let face = Chain::of(item, false).over(thick, Phrase::new("materials-over-thickness"));
        let says = Phrase::with("materials-units", &[&short(wall.per_m2, 2), &wall.skins.to_string()]);
        let units = face.number(wall.per_m2, says).cite(&unit.source, false);
        self.units(&units, unit)?;
        if dry {
            self.note(Phrase::with("materials-dry", &[&unit.title]), "common practice, no source");
            return Some(());
        }
        self.bed(item, thick, unit, &wall, &units)?;
        if !made.cells_mix.is_empty() && unit.hollow {
            let cells = self.cells(units.clone(), unit)?;
            self.concrete(cells, &made.cells_mix)?;
        }
        self.put_water(item, "curing-masonry")
    }

    /// Mortar: the wall's volume less the units', times the share of the joints that is filled.
    fn bed(
        &mut self,
        item: &Item,
        thick: &Len,
        unit: &MasonryUnit,
        wall: &Skins,
        units: &Chain,
    ) -> Option<()> {
        let mix = &item.made.mix;
        let filled = |chain: Chain| {
            let says = || Phrase::with("materials-joints-filled", &[&unit.id]);
            if unit.filled == Ratio::ONE { chain } else { chain.number(unit.filled, says()) }
        };
        let drawn = thick.value() / METRE;
        if drawn < wall.thickness {
            // Units are not cut lengthwise: a wall drawn thinner than they make is built as thick as they make it.
            let says = Phrase::with("materials-own-joints", &[&unit.id]);
            let per_m2 = wall.mortar(wall.thickness);
            let face = Chain::of(item, false).over(thick, Phrase::new("materials-over-thickness"));
            return self.mortar(&filled(face.number(per_m2, says)), mix, MORTAR);
        }
        self.mortar(&filled(Chain::of(item, false)), mix, MORTAR)?;
        let bricks = units.clone().number(wall.volume, Phrase::with("materials-unit-volume", &[&unit.id]));
        self.mortar(&filled(bricks).less(), mix, MORTAR)
    }

    /// So many units: bought, or made on the site from cement and sand.
    fn units(&mut self, units: &Chain, unit: &MasonryUnit) -> Option<()> {
        let id = material(unit);
        let made = self.recipes().made_blocks.as_ref();
        let (Some((mix, source)), true) = (made, self.choices.made && is_block(unit)) else {
            self.put(units.clone(), &id);
            return Some(());
        };
        let says = Phrase::with("materials-unit-volume", &[&unit.id]);
        let [l, b, h] = unit.size.map(|t| Ratio::from(t) / METRE);
        let mut solid = units.clone().number(l * b * h, says);
        if unit.hollow {
            let (voids, says) = self.voids(unit)?;
            solid = solid.number(Ratio::ONE - voids, Phrase::with("materials-solid", &[&says.to_string()]));
        }
        // More are moulded than stay whole: that is their waste, so none is added to cement and sand.
        let broken = Ratio::ONE + self.waste(&id) / Ratio::int(100);
        let solid = solid.number(broken, Phrase::new("materials-breakage"));
        self.note(Phrase::with("materials-blocks-made", &[&unit.title, mix]), &source.to_string());
        let kind = MixKind { says: "materials-mixed-blocks", ..MORTAR };
        self.mortar(&solid.cite(source, true), mix, kind)
    }

    fn cells(&mut self, units: Chain, unit: &MasonryUnit) -> Option<Chain> {
        let [l, b, h] = unit.size.map(|t| Ratio::from(t) / METRE);
        let (voids, says) = self.voids(unit)?;
        let block = units.number(l * b * h, Phrase::with("materials-unit-volume", &[&unit.id]));
        Some(block.number(voids, says))
    }

    fn voids(&mut self, unit: &MasonryUnit) -> Option<(Ratio, Phrase)> {
        match unit.voids {
            Some(own) => {
                let says = Phrase::with("materials-own-voids", &[&unit.id]);
                self.note(says.clone(), &unit.source.to_string());
                Some((own, says))
            }
            None => self.value("block-voids"),
        }
    }

    /// Brick pieces and mortar behind a wall: whole units by volume, ordered like the others.
    pub(super) fn packing(&mut self, item: &Item, volume: Chain) -> Option<()> {
        let Some(unit) = self.unit(&item.made.unit) else {
            self.lacks(&format!("the masonry unit {}", item.made.unit));
            return None;
        };
        let [l, b, h] = unit.size.map(|t| Ratio::from(t) / METRE);
        let pieces = self.times(volume.clone(), "packing-pieces")?;
        let says = Phrase::with("materials-units-in-m3", &[&unit.id]);
        let units = pieces.number(Ratio::ONE / (l * b * h), says);
        self.remark(Phrase::with("materials-packing", &[&unit.title]));
        self.units(&units, unit)?;
        let joints = self.times(volume, "packing-mortar")?;
        self.mortar(&joints, &item.made.mix, MORTAR)
    }

    /// Between which thicknesses the wall has these skins, and whether it is drawn thinner than its units make it.
    fn watch(&self, unit: &MasonryUnit, wall: &Skins, thick: &Len) {
        let joint = Ratio::from(unit.joint);
        let skin = Ratio::from(unit.size[1]) + joint;
        let tenth = |tenths: Ratio| Len::fixed(1).times(tenths);
        let half = Ratio::of(1, 2);
        if wall.skins > 1 {
            self.judge.cmp(thick, &tenth(skin * (Ratio::int(wall.skins) - half) - joint));
        }
        self.judge.cmp(thick, &tenth(skin * (Ratio::int(wall.skins) + half) - joint));
        // Half a tenth below what the units make: a wall drawn as thick may still grow.
        self.judge.cmp(thick, &tenth(wall.thickness * METRE - half));
    }

    fn note_wall(&mut self, unit: &MasonryUnit, wall: &Skins, thick: &Len, dry: bool) {
        let mm = |m: Ratio| plain(m * Ratio::int(1000));
        let drawn = thick.value() / METRE;
        let count = [unit.title.as_str(), &short(wall.per_m2, 2), &mm(drawn), &wall.skins.to_string()];
        self.note(Phrase::with("materials-count", &count), &unit.source.to_string());
        if drawn == wall.thickness || dry {
            return;
        }
        let key = if drawn < wall.thickness { "materials-too-thin" } else { "materials-drawn-thickness" };
        self.remark(Phrase::with(key, &[&mm(drawn), &mm(wall.thickness), &unit.title]));
    }
}

/// A figure for reading: rounded to some places.
pub(super) fn short(value: Ratio, places: u32) -> String {
    rounded(value, places).map_or_else(|| plain(value), |d| crate::decimal::shown(d, places))
}
