//! Kinds of work: unit, bill section, how its concrete is formed, how it is proved. One trade per file.

use crate::stage::Stage;

/// Every file of works, one word each: declares the module and puts its `ALL` into the one list.
macro_rules! files {
    ($($file:ident)*) => {
        $(pub mod $file;)*

        /// Every kind of work, file by file.
        #[must_use]
        pub fn all() -> Vec<&'static Work> {
            [$($file::ALL),*].concat()
        }
    };
}

files! {
    earthwork concrete boards haunch formwork reinforcement masonry finishes pipework inspection_chambers soak_pit drain voids
}

/// Unit of measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unit {
    /// Cubic metre.
    M3,
    /// Square metre.
    M2,
    /// Metre.
    M,
    /// Kilogram.
    Kg,
    /// Number.
    Nr,
    /// One item.
    Item,
}

impl Unit {
    /// As printed.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::M3 => "m3",
            Self::M2 => "m2",
            Self::M => "m",
            Self::Kg => "kg",
            Self::Nr => "nr",
            Self::Item => "item",
        }
    }

    /// How many dimensions a line of this unit has.
    #[must_use]
    pub const fn dims(self) -> usize {
        match self {
            Self::M3 => 3,
            Self::M2 => 2,
            Self::M => 1,
            Self::Kg | Self::Nr | Self::Item => 0,
        }
    }
}

/// Bill section, in bill order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// A Earthworks.
    Earthworks,
    /// B Concrete.
    Concrete,
    /// C Formwork.
    Formwork,
    /// D Reinforcement.
    Reinforcement,
    /// E Masonry.
    Masonry,
    /// F Plaster and waterproofing.
    Finishes,
    /// G Pipework and fittings.
    Pipework,
    /// H Soak pit.
    SoakPit,
}

impl Section {
    /// All, in bill order.
    pub const ALL: [Self; 8] = [
        Self::Earthworks,
        Self::Concrete,
        Self::Formwork,
        Self::Reinforcement,
        Self::Masonry,
        Self::Finishes,
        Self::Pipework,
        Self::SoakPit,
    ];

    /// The stable id; its title is the word `section-ID`.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Earthworks => "earthworks",
            Self::Concrete => "concrete",
            Self::Formwork => "formwork",
            Self::Reinforcement => "reinforcement",
            Self::Masonry => "masonry",
            Self::Finishes => "finishes",
            Self::Pipework => "pipework",
            Self::SoakPit => "soak-pit",
        }
    }
}

/// Which void limit and booking rule of the profile a work follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// Digging, filling, carting.
    Earth,
    /// Concrete by volume.
    Concrete,
    /// Formwork by contact area.
    Formwork,
    /// Walls.
    Masonry,
    /// Plaster, screed, paste.
    Plaster,
    /// Sheets and treatments.
    Sheet,
    /// Metres, numbers, items.
    Listed,
}

impl Class {
    /// The word used for it in profiles.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Earth => "earth",
            Self::Concrete => "concrete",
            Self::Formwork => "formwork",
            Self::Masonry => "masonry",
            Self::Plaster => "plaster",
            Self::Sheet => "sheet",
            Self::Listed => "listed",
        }
    }
}

/// Which faces between cells the model counts for a work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FaceRule {
    /// Faces whose concrete names this work in its [`Forms`].
    Forms,
    /// Faces of everything lined, towards clear space and openings.
    Inside,
    /// Vertical open faces outside of everything lined.
    Outside,
    /// Tops of this work under clear space, on plan.
    Top(&'static Work),
    /// Undersides of this work on plan, whatever lies below.
    Under(&'static Work),
    /// Vertical faces against the earth of a tight pit, by what fills the over-break there.
    Ground,
}

/// What a work does to the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Earth {
    /// Nothing.
    None,
    /// Digs it.
    Dug,
    /// Puts it back.
    PutBack,
    /// Takes it away.
    Away,
}

/// How the ledger's quantity is proved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Proof {
    /// By the cells of the model.
    Cells,
    /// By faces between cells, counted by this rule.
    Faces(FaceRule),
    /// By a second, different formula.
    Formula,
    /// Metres, numbers and items: nothing to prove against.
    Listed,
}

/// Which formwork the faces of a concrete work need; `None`: that face is never formed.
#[derive(Clone, Copy, Debug, Default)]
pub struct Forms {
    /// Vertical faces towards the inside.
    pub inside: Option<&'static Work>,
    /// Vertical open faces outside.
    pub outside: Option<&'static Work>,
    /// Undersides.
    pub soffit: Option<&'static Work>,
    /// Sides of manhole openings.
    pub hole: Option<&'static Work>,
}

impl Forms {
    /// Nothing is formed.
    pub const NONE: Self = Self { inside: None, outside: None, soffit: None, hole: None };

    /// Both vertical faces are formed alike.
    #[must_use]
    pub const fn sides(work: &'static Work) -> Self {
        Self { inside: Some(work), outside: Some(work), ..Self::NONE }
    }
}

/// What a work is made of: how materials are reckoned from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MadeOf {
    /// Nothing that is bought: digging, carting, testing, voids.
    Nothing,
    /// Concrete; its mix is the specification up to the first `/`.
    Concrete,
    /// Units and mortar, named by the item's [`crate::made::Made`].
    Masonry,
    /// A coat of mortar of the item's thickness and mix, by this recipe of `rates/recipes.toml`.
    Coat(&'static str),
    /// Goods by this recipe of `rates/recipes.toml`.
    Recipe(&'static str),
    /// Bars, ordered from the cutting plan.
    Bars,
    /// The filling of over-break: packing, or the concrete or hardcore its specification names.
    OverBreak,
}

/// What a work weighs by, as it stands in the finished tank.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weighs {
    /// Not part of the tank's own weight.
    Nothing,
    /// Concrete, its bars not counted.
    Concrete,
    /// Units and mortar; hollow units less their cells.
    Masonry,
    /// A coat of the item's thickness.
    Coat,
}

/// What fills the over-break behind a part of a tight pit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Behind {
    /// Nothing is reckoned there.
    Nothing,
    /// Brick pieces and mortar, never soil.
    Packing,
    /// More of the part itself.
    Same,
}

/// How a work is drawn where a drawing cuts it. ISO 128-3 asks for one hatching a material, and a legend.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Drawn {
    /// Not by itself.
    #[default]
    Nothing,
    /// Empty: an opening, a hole, a manhole.
    Hole,
    /// Empty: the room that the tank is built for.
    Room,
    /// Bricks or blocks.
    Masonry,
    /// Concrete without bars.
    Concrete,
    /// Concrete that is made to carry bars.
    Reinforced,
    /// A thin bed of lean concrete.
    Blinding,
    /// Broken stone, rammed.
    Hardcore,
    /// Loose stone that water finds its way through.
    Stone,
    /// Soil put back.
    Soil,
    /// A sheet: one line.
    Sheet,
}

/// A kind of work.
#[derive(Debug)]
pub struct Work {
    /// Stable id; its bill wording is the word `work-ID`.
    pub id: &'static str,
    /// Unit under profile `exact`.
    pub unit: Unit,
    /// Bill section.
    pub section: Section,
    /// Which rules of the profile it follows.
    pub class: Class,
    /// How it is proved.
    pub proof: Proof,
    /// Its depth is a slab's thickness: profiles book it finer.
    pub slab: bool,
    /// Does plaster stick to it?
    pub lined: bool,
    /// An opening, hole or clear space: measured, never billed.
    pub void: bool,
    /// A wall that a profile may measure in m2 with its thickness.
    pub by_area: bool,
    /// What it does to the ground.
    pub earth: Earth,
    /// Formwork of its faces.
    pub forms: Forms,
    /// The stage it belongs to unless the element says otherwise.
    pub stage: Stage,
    /// What it is made of.
    pub made_of: MadeOf,
    /// What fills the over-break behind it.
    pub behind: Behind,
    /// What it weighs by.
    pub weighs: Weighs,
    /// Its hatching.
    pub drawn: Drawn,
}

impl Work {
    /// A work with nothing special; files set what differs with struct update.
    #[must_use]
    pub const fn plain(
        id: &'static str,
        unit: Unit,
        section: Section,
        class: Class,
        proof: Proof,
        stage: Stage,
        made_of: MadeOf,
    ) -> Self {
        let forms = Forms::NONE;
        Self {
            id,
            unit,
            section,
            class,
            proof,
            slab: false,
            lined: false,
            void: false,
            by_area: false,
            earth: Earth::None,
            forms,
            stage,
            made_of,
            behind: Behind::Nothing,
            weighs: Weighs::Nothing,
            drawn: Drawn::Nothing,
        }
    }
}

impl PartialEq for Work {
    fn eq(&self, o: &Self) -> bool {
        self.id == o.id
    }
}
