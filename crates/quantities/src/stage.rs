//! The stages of construction, in order: the one list.

/// A stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Preliminaries.
    SetOut,
    /// Pit, pockets, trim, support, termite treatment and the earth carted from them.
    Dig,
    /// Hardcore, blinding, pockets, base and its edge.
    Base,
    /// Masonry and columns below the lowest ring beam.
    WallsLower,
    /// Lowest ring beam and the columns in its depth.
    RingBeam,
    /// Masonry, columns and beams above it; pipes and tees built in.
    WallsUpper,
    /// Plaster, screed, paste, water test.
    Plaster,
    /// Membrane, span beam, cover and their formwork.
    Cover,
    /// The soak pit, with its own dig.
    SoakPit,
    /// Trench, bed, pipe and the trench's backfill.
    Pipes,
    /// Props and soffit out.
    Strike,
    /// Covers, vent, shafts, other backfill, clearing.
    Finish,
}

impl Stage {
    /// All of them, in order.
    pub const ALL: [Self; 12] = [
        Self::SetOut,
        Self::Dig,
        Self::Base,
        Self::WallsLower,
        Self::RingBeam,
        Self::WallsUpper,
        Self::Plaster,
        Self::Cover,
        Self::SoakPit,
        Self::Pipes,
        Self::Strike,
        Self::Finish,
    ];

    /// From one stage on, and up to another.
    #[must_use]
    pub fn run(self, last: Self) -> &'static [Self] {
        static ALL: [Stage; 12] = Stage::ALL;
        ALL.get(self as usize..=last as usize).unwrap_or_default()
    }

    /// The stable id.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::SetOut => "set-out",
            Self::Dig => "dig",
            Self::Base => "base",
            Self::WallsLower => "walls-lower",
            Self::RingBeam => "ring-beam",
            Self::WallsUpper => "walls-upper",
            Self::Plaster => "plaster",
            Self::Cover => "cover",
            Self::SoakPit => "soak-pit",
            Self::Pipes => "pipes",
            Self::Strike => "strike",
            Self::Finish => "finish",
        }
    }
}
