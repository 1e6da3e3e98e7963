//! Concrete and mortar: published materials of 1 m3 by mix and source, or the dry-volume method.

use tankwright_geometry::{Ratio, parse};

use crate::decimal::plain;
use crate::materials::chain::Chain;
use crate::materials::choices::DRY;
use crate::materials::desk::Desk;
use crate::rates::Mix;
use crate::words::Phrase;

/// What a mix is for.
#[derive(Clone, Copy, Debug)]
pub(super) struct MixKind<'a> {
    /// Word of the mixed goods on the site: `materials-mixed-mortar`.
    pub(super) says: &'static str,
    /// Which sand.
    pub(super) sand: &'a str,
    /// Waterproofer goes into it.
    pub(super) waterproofed: bool,
}

const BUILDING_SAND: &str = "sand-building";

impl Desk<'_> {
    /// Materials of a volume of concrete.
    pub(super) fn concrete(&mut self, volume: Chain, mix: &str) -> Option<()> {
        let says = Phrase::with("materials-mixed-concrete", &[mix]);
        self.mixed(says, &volume);
        let kind = MixKind { says: "materials-mixed-concrete", sand: BUILDING_SAND, waterproofed: false };
        let origin = self.choices.concrete.clone();
        match self.published(&self.recipes().concrete, mix, &origin) {
            Some(entry) => self.by_entry(&volume, entry, kind),
            None => self.by_dry_volume(&volume, mix, "dry-concrete", kind),
        }
    }

    /// Materials of a volume of mortar.
    pub(super) fn mortar(&mut self, volume: &Chain, mix: &str, kind: MixKind<'_>) -> Option<()> {
        self.mixed(Phrase::with(kind.says, &[mix]), volume);
        let origin = self.choices.mortar.clone();
        match self.published(&self.recipes().mortar, mix, &origin) {
            Some(entry) => self.by_entry(volume, entry, kind),
            None => self.by_dry_volume(volume, mix, "dry-mortar", kind),
        }
    }

    /// The entry that counts: the chosen origin's, else the used one; none for `dry` and where nobody printed the mix.
    fn published<'m>(&mut self, mixes: &'m [Mix], mix: &str, origin: &str) -> Option<&'m Mix> {
        let of_mix = || mixes.iter().filter(|m| m.mix == mix);
        let found = match origin {
            DRY => return None,
            "" => of_mix().find(|m| m.used),
            _ => of_mix().find(|m| m.origin == origin),
        };
        if found.is_none() {
            let who = if origin.is_empty() { "no source" } else { origin };
            self.remark(Phrase::with("materials-no-entry", &[who, mix]));
        }
        found
    }

    fn by_entry(&mut self, volume: &Chain, entry: &Mix, kind: MixKind<'_>) -> Option<()> {
        let inside = if entry.waste_inside { "materials-with-waste" } else { "materials-without-waste" };
        let inside = crate::words::look_up(inside);
        let args = [entry.mix.as_str(), &plain(entry.cement), &plain(entry.sand), inside];
        let says = if entry.aggregate.is_zero() {
            Phrase::with("materials-mortar-entry", &args)
        } else {
            let aggregate = plain(entry.aggregate);
            Phrase::with("materials-concrete-entry", &[args[0], args[1], args[2], &aggregate, args[3]])
        };
        self.note(says, &entry.source.to_string());
        let of = |key, value| {
            let says = Phrase::with(key, &[&entry.mix]);
            volume.clone().number(value, says).cite(&entry.source, entry.waste_inside)
        };
        self.cement(of("materials-kg-cement", entry.cement), kind.waterproofed)?;
        self.put(of("materials-m3-sand", entry.sand), kind.sand);
        if !entry.aggregate.is_zero() {
            self.put(of("materials-m3-aggregate", entry.aggregate), "aggregate-20");
        }
        Some(())
    }

    fn by_dry_volume(&mut self, volume: &Chain, mix: &str, dry: &str, kind: MixKind<'_>) -> Option<()> {
        let parts: Vec<Ratio> = mix.split(':').filter_map(parse::decimal).collect();
        let whole: Ratio = parts.iter().copied().sum();
        let (Some(cement), Some(sand)) = (parts.first(), parts.get(1)) else {
            self.lacks(&format!("the mix {mix}"));
            return None;
        };
        let loose = self.times(volume.clone(), dry)?;
        let of = |part: Ratio| {
            let says = Phrase::with("materials-parts", &[&plain(part), &plain(whole), mix]);
            loose.clone().number(part / whole, says)
        };
        let (density, says) = self.value("cement-volume")?;
        self.cement(of(*cement).number(density, says), kind.waterproofed)?;
        self.put(of(*sand), kind.sand);
        if let Some(aggregate) = parts.get(2) {
            self.put(of(*aggregate), "aggregate-20");
        }
        Some(())
    }

    /// Cement that is mixed, its water, and its waterproofer where the item has it.
    pub(super) fn cement(&mut self, kg: Chain, waterproofed: bool) -> Option<()> {
        self.put(kg.clone(), "cement");
        if waterproofed {
            let dose = self.times(kg.clone(), "waterproofer-dose")?;
            self.put(dose, "waterproofer");
        }
        let water = self.times(kg, "mixing-water")?;
        self.put(water, "water");
        Some(())
    }
}
