//! The lining of a soak pit: a ring of masonry in the dig, laid dry with open joints below the inlet so that water
//! leaves through it, in mortar above.
//!
//! ```text
//!   ground ______________________________
//!          |  soil                      |
//!          |============================|  cover, where there is one
//!          |so|##|                |##|so|  in mortar, soil behind
//!          |==|##|<- inlet        |##|==|
//!          |st|::|                |::|st|  dry, stone behind (`packing`)
//!          |st|::|  stone or room |::|st|
//!          |_[foot]______________[foot]_|  base of the pit
//!             |<-  inside  ->|
//!          |<-      diameter of the dig     ->|
//! ```
//! Outer face: dig less twice `packing`. The foot stands on the base, in the middle under the ring, moved inwards where
//! the dig is too tight for that. Rings are circles less circles, proved by their mean girth.

use tankwright_geometry::{Len, PI, Ratio};

use crate::elements::{Element, soak_cover, soak_pit};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, SetOut, Spec};
use crate::made::Made;
use crate::model::Model;
use crate::problem::Problem;
use crate::sheet::Times;
use crate::site::Site;
use crate::sketch::Body;
use crate::space::tenths;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::Drawn;
use crate::works::soak_pit as works;

/// The element.
pub static ELEMENT: SoakLining = SoakLining;

/// Lining of the soak pit.
#[derive(Debug)]
pub struct SoakLining;

const PART: &str = "soak_pit.lining";
const FOOT: &str = "soak_pit.lining.foot";

static CODES: &[(&str, &str)] = &[
    ("J151", "a lining that fills the soak pit"),
    ("J152", "a lined soak pit whose inlet is not known"),
    ("J153", "water that enters a soak pit above its lining"),
    ("J154", "a lined soak pit with neither stone nor a cover"),
    ("J156", "a foot narrower than the lining, or that fills the soak pit"),
    ("J157", "a foot as high as the inlet, or higher than the stone"),
];

static FIELDS: &[Field] = &[
    Field::part(PART, Presence::Optional, "ring of masonry: dry below the inlet, in mortar above"),
    Field::length("soak_pit.lining.thickness", 500, Fallback::Required, "thickness of the ring"),
    Field::value(
        "soak_pit.lining.unit",
        Kind::Text,
        Fallback::Nothing,
        "masonry unit; left out: as the walls",
    ),
    Field::value(
        "soak_pit.lining.mortar",
        Kind::Mix { parts: 2 },
        Fallback::Nothing,
        "mortar above the inlet; left out: as the walls",
    ),
    Field::length(
        "soak_pit.lining.packing",
        0,
        Fallback::Nothing,
        "stone between ring and earth, up to the inlet",
    ),
    Field::part(FOOT, Presence::Optional, "ring of concrete under the lining"),
    Field::length("soak_pit.lining.foot.thickness", 500, Fallback::Required, "thickness"),
    Field::length("soak_pit.lining.foot.width", 500, Fallback::Required, "width"),
    Field::value(
        "soak_pit.lining.foot.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:2:4", "common practice, no source"),
        "concrete",
    ),
];

/// The ring; heights from the base of the pit.
#[derive(Debug)]
pub struct Ring {
    /// Its outer diameter.
    pub outside: Len,
    /// Its inner diameter.
    pub inside: Len,
    /// Where it ends.
    pub top: Len,
    /// Where water enters, dry below.
    pub inlet: Len,
    /// Under it.
    pub foot: Option<Foot>,
}

/// Its foot.
#[derive(Debug)]
pub struct Foot {
    /// Thickness.
    pub thickness: Len,
    /// Outer diameter.
    pub outside: Len,
    /// Inner diameter.
    pub inside: Len,
}

fn thickness(site: &Site<'_>) -> Len {
    site.job.len("soak_pit.lining.thickness")
}

/// The ring of a lined pit; `None` where it has none, or where the inlet is not known (which is refused).
#[must_use]
pub fn ring_of(site: &Site<'_>) -> Option<Ring> {
    if !site.job.has(PART) {
        return None;
    }
    let [dig, depth] = ["diameter", "depth"].map(|k| site.job.len(&format!("soak_pit.{k}")));
    let inlet = &depth + &soak_pit::inlet(site)?;
    let outside = &dig - &site.job.len("soak_pit.lining.packing").times(2);
    let inside = &outside - &thickness(site).times(2);
    let top = match soak_cover::slab(site) {
        Some(slab) => &(&depth - &slab.soil) - &slab.thickness,
        None => site.job.len("soak_pit.fill_depth"),
    };
    let foot = site.job.has(FOOT).then(|| {
        let [thick, width] = ["thickness", "width"].map(|k| site.job.len(&format!("{FOOT}.{k}")));
        let centred = &(&outside - &thickness(site)) + &width;
        let outside = site.judge.min(&centred, &dig).clone();
        Foot { thickness: thick, inside: &outside - &width.times(2), outside }
    });
    Some(Ring { outside, inside, top, inlet, foot })
}

/// The ring and its foot as drawings show them.
#[must_use]
pub fn bodies(site: &Site<'_>) -> Vec<Body> {
    let Some(ring) = ring_of(site) else { return Vec::new() };
    let depth = tenths(&site.job.len("soak_pit.depth"));
    let [outside, inside] = [&ring.outside, &ring.inside].map(|l| tenths(l) / 2);
    let [inlet, top] = [&ring.inlet, &ring.top].map(|l| tenths(l) - depth);
    let foot = ring.foot.as_ref().map_or(0, |foot| tenths(&foot.thickness));
    let (mm, made) = (site.mm(&thickness(site)), site.masonry(PART, &thickness(site)));
    let half = [inside, outside];
    let dry = Phrase::with("draw-lining-dry", &[&mm]);
    let laid = Phrase::with("draw-lining", &[&mm, &made.mix]);
    let mut all = vec![
        Body { title: dry, drawn: Drawn::Masonry, half, z: [foot - depth, inlet] },
        Body { title: laid, drawn: Drawn::Masonry, half, z: [inlet, top] },
    ];
    if let Some(foot) = &ring.foot {
        let title = Phrase::with(
            "draw-foot",
            &[&site.mm(&foot.thickness), site.job.text("soak_pit.lining.foot.mix")],
        );
        let half = [&foot.inside, &foot.outside].map(|l| tenths(l) / 2);
        all.push(Body { title, drawn: Drawn::Concrete, half, z: [-depth, tenths(&foot.thickness) - depth] });
    }
    all.retain(|b| b.z[0] < b.z[1]);
    all
}

/// Dry masonry, and masonry in mortar.
fn specs(site: &Site<'_>) -> [Spec; 2] {
    let (t, made) = (thickness(site), site.masonry(PART, &thickness(site)));
    let (mm, unit) = (site.mm(&t), site.unit_title(&made.unit).to_owned());
    let dry = Spec::plain(&works::BRICKWORK_SOAK_PIT).worded("brickwork-soak-pit-dry", &[&mm, &unit]);
    let dry = Spec { spec: format!("{mm}/dry"), ..dry }.made(Made { mix: String::new(), ..made.clone() });
    let mix = made.mix.clone();
    [dry, Spec::of(&works::BRICKWORK_SOAK_PIT, &mm, &[&unit, &mix]).made(made)]
}

fn foot_specs(site: &Site<'_>) -> [Spec; 2] {
    let concrete = Spec::of(&works::CONCRETE_SOAK_FOOT, site.job.text("soak_pit.lining.foot.mix"), &[]);
    [concrete, Spec::plain(&works::FORMWORK_SOAK_FOOT)]
}

/// Heights of the dry part and of the part in mortar.
fn heights(ring: &Ring) -> [Len; 2] {
    let dry = ring.foot.as_ref().map_or_else(|| ring.inlet.clone(), |foot| &ring.inlet - &foot.thickness);
    [dry, &ring.top - &ring.inlet]
}

impl Element for SoakLining {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, _: &mut SetOut) {
        refuse(site);
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let Some(ring) = ring_of(site) else { return };
        let faces = [&ring.outside, &ring.inside];
        for ((spec, height), note) in specs(site).iter().zip(heights(&ring)).zip(["dry-ring", "mortar-ring"])
        {
            soak_pit::ring(site, book, spec, note, faces, &height);
        }
        let Some(foot) = &ring.foot else { return };
        let [concrete, form] = foot_specs(site);
        soak_pit::ring(site, book, &concrete, "foot-ring", [&foot.outside, &foot.inside], &foot.thickness);
        let girth = [soak_pit::number(site), Times::Pi];
        let s = Stage::SoakPit;
        book.line(&form, s, Phrase::new("foot-inside"), &girth, &[&foot.inside, &foot.thickness]);
        // Cast against the earth where it reaches it.
        if site.judge.cmp(&site.job.len("soak_pit.diameter"), &foot.outside).is_gt() {
            book.line(&form, s, Phrase::new("foot-outside"), &girth, &[&foot.outside, &foot.thickness]);
        }
    }

    fn scope(&self, site: &Site<'_>) -> Vec<Phrase> {
        let covered = site.job.has("soak_pit.cover");
        let key = if covered { "scope-soak-lined-covered" } else { "scope-soak-lined" };
        let words = Phrase::with(key, &[&site.mm(&site.job.len("soak_pit.lining.thickness"))]);
        site.job.has("soak_pit.lining").then_some(words).into_iter().collect()
    }

    fn prove(&self, site: &Site<'_>, _: &Model, book: &mut Book<'_>) {
        let Some(ring) = ring_of(site) else { return };
        let s = Stage::SoakPit;
        let faces = [&ring.outside, &ring.inside];
        for (spec, height) in specs(site).iter().zip(heights(&ring)) {
            book.prove(spec, s, soak_pit::ring_volume(site, faces, &height));
        }
        let Some(foot) = &ring.foot else { return };
        let [concrete, form] = foot_specs(site);
        book.prove(&concrete, s, soak_pit::ring_volume(site, [&foot.outside, &foot.inside], &foot.thickness));
        let open = site.less(&foot.outside, &site.job.len("soak_pit.diameter"));
        let radii = if open { &foot.inside + &foot.outside } else { foot.inside.clone() }.half();
        let n = Ratio::from(site.job.count("soak_pit.number").1);
        // Girths from the radii: 2 x pi x r.
        book.prove(&form, s, radii.amount() * foot.thickness.amount() * (n * PI * Ratio::int(2)));
    }
}

fn refuse(site: &Site<'_>) {
    if !site.job.has(PART) {
        return;
    }
    let report = |code, path: &str, what: &str, label: String, hint: &str| {
        let problem = Problem::error(code, site.job.place(path), what).label(label).hint(hint);
        site.job.report(problem);
    };
    let Some(ring) = ring_of(site) else {
        let label = "nothing says where water enters".to_owned();
        let hint = "give invert under [soak_pit], or [tank.pipes] with an outlet: the lining is dry below it, in mortar above";
        return report("J152", PART, "the inlet of the lined soak pit is not known", label, hint);
    };
    let mm = |len: &Len| site.mm(len);
    if !site.less(&Len::ZERO, &ring.inside) {
        let label = format!("the dig is {} mm in diameter", mm(&site.job.len("soak_pit.diameter")));
        let hint = "the inside is the diameter less twice the thickness and twice the packing";
        report("J151", "soak_pit.lining.thickness", "the lining fills the soak pit", label, hint);
    }
    let fill = site.job.len("soak_pit.fill_depth");
    let covered = site.job.has("soak_pit.cover");
    if !covered && fill.is_zero() {
        let label = "no stone, and no slab over it".to_owned();
        let hint =
            "an empty pit needs a cover: [soak_pit.cover]; or fill it with stone, up to the inlet at least";
        report("J154", "soak_pit.fill_depth", "nothing covers the empty soak pit", label, hint);
    } else if site.less(&ring.top, &ring.inlet) || covered && site.same(&ring.inlet, &ring.top) {
        let own = site.job.given("soak_pit.invert");
        let path = if own { "soak_pit.invert" } else { PART };
        let ends = if site.less(&Len::ZERO, &ring.top) {
            format!(
                "the ring ends {} mm above the base, water enters at {} mm",
                mm(&ring.top),
                mm(&ring.inlet)
            )
        } else {
            format!("no height is left for the ring; water enters {} mm above the base", mm(&ring.inlet))
        };
        let hint = if covered {
            "the ring ends under the cover: less soil over it, or a deeper inlet"
        } else {
            "without a cover the ring ends with the stone: raise fill_depth, or give the pit a cover"
        };
        report("J153", path, "the water enters the soak pit above its lining", ends, hint);
    }
    let Some(foot) = &ring.foot else { return };
    let width = site.job.len("soak_pit.lining.foot.width");
    let narrow = site.less(&width, &thickness(site));
    if narrow || !site.less(&Len::ZERO, &foot.inside) {
        let what =
            if narrow { "the foot is narrower than the lining on it" } else { "the foot fills the soak pit" };
        let label =
            format!("the ring is {} mm thick, {} mm across inside", mm(&thickness(site)), mm(&ring.inside));
        report(
            "J156",
            "soak_pit.lining.foot.width",
            what,
            label,
            "water must find the ground between the foot",
        );
    }
    let low = site.less(&Len::ZERO, &fill) && site.less(&fill, &foot.thickness);
    // Water that enters below the base is refused by the pit.
    let drowned = site.less(&Len::ZERO, &ring.inlet) && !site.less(&foot.thickness, &ring.inlet);
    if low || drowned {
        let what =
            if low { "the stone ends below the top of the foot" } else { "the foot reaches up to the inlet" };
        let label = format!("water enters {} mm above the base", mm(&ring.inlet));
        let hint = "a foot is usually 100 to 200 mm thick";
        report("J157", "soak_pit.lining.foot.thickness", what, label, hint);
    }
}
