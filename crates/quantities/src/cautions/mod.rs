//! What a person on this job must be told, each with the source that asks for it. Cautions never stop a run.

mod drawn;
mod holes;
mod job;
mod soak;
mod standing;

pub use holes::Hole;

use tankwright_geometry::{Len, Ratio};

use crate::bill::Bill;
use crate::checks;
use crate::decimal;
use crate::estimate::Caution;
use crate::rates::FigureValue;
use crate::sheet::Sheet;
use crate::site::Site;
use crate::words::Phrase;

const NO_SOURCE: &str = "common practice, no source";
const OURS: &str = "our own limit";

/// Code and meaning, in order.
pub const CODES: &[(&str, &str)] = &[
    ("C001", "a pit deeper than 1.2 m without support"),
    ("C002", "a soak pit deeper than 1.2 m without support"),
    ("C003", "a tight pit in a soil whose sides do not stand"),
    ("C004", "support asked for in a tight pit, which cannot be sheeted"),
    ("C005", "an open pit with less than 300 mm of working space"),
    ("C006", "termite treatment: a poison"),
    ("C007", "ground water above the bottom of the dig"),
    ("C008", "a soak pit: that it takes the water is not proved"),
    ("C009", "a pipe trench deeper than 1.2 m: nothing supports it"),
    ("C010", "walls thinner than 200 mm"),
    ("C011", "a wall thickness that its unit does not make"),
    ("C012", "partitions described for one chamber"),
    ("C013", "chambers that are not joined"),
    ("C014", "an inlet less than 300 mm below the top of the masonry"),
    ("C015", "an inlet not above the water line"),
    ("C016", "scum that passes from chamber to chamber"),
    ("C017", "chambers whose water stands at different levels"),
    ("C018", "an inlet less than 50 mm above the water line"),
    ("C019", "water that stands up to the cover or a beam"),
    ("C020", "a cover that buries its manholes"),
    ("C021", "a cover without manholes"),
    ("C022", "a cover, or the shafts over a buried one, less than 75 mm above ground"),
    ("C023", "a span beam that bears less than 150 mm"),
    ("C024", "manhole shafts that are not built, as the cover is not below ground"),
    ("C030", "gas in tanks and pits: never enter"),
    ("C031", "local codes and a licensed designer come first"),
    ("C032", "no soil against the walls before the cover ties them"),
    ("C040", "parts of the job file that no paper uses yet"),
    ("C041", "labour-only: the rates are taken as they stand, nothing is taken out of them"),
    ("C042", "members of concrete for which no bars are given"),
    ("C043", "bars for a part that is not built"),
    ("C044", "an opening of a partition that needs a lintel"),
    ("C045", "a lap shorter than a published one"),
    ("C050", "work that begins before the date of the job"),
    ("C060", "a drainage trench deeper than 1.2 m without support"),
    ("C061", "the dig of an inspection chamber deeper than 1.2 m without support"),
    ("C062", "a pipe trench less deep than its pipes lie"),
    ("C063", "a drain: that it takes the water is not proved"),
    ("C065", "soak pits nearer than three times their diameter"),
    ("C066", "soak pits whose distance is not given"),
    ("C067", "a cover of an empty soak pit without a manhole"),
    ("C068", "a manhole of a soak pit under soil"),
    ("C069", "a dry lining and its cover, whose strength nobody checks"),
    ("C070", "test the air and ventilate before anyone goes in"),
    ("C071", "the gas burns: no flame at an open cover"),
    ("C072", "the dig, supported or shallow: its sides can fall all the same"),
    ("C073", "the soak pit, supported or shallow: its sides can fall all the same"),
    ("C074", "ladder, sides looked at each day, spoil kept back"),
    ("C075", "open holes fenced and covered at night"),
    ("C076", "covers locked or too heavy for a child"),
    ("C077", "covers lifted by two people with keys"),
    ("C078", "how long props and sides of formwork stay"),
    ("C079", "steel and slab are screened only"),
    ("C080", "no vehicles over this cover"),
    ("C081", "vehicles are to go over this cover"),
    ("C082", "distances to agree before setting out"),
    ("C083", "distances from a soak pit that is not drawn"),
    ("C084", "variations and dayworks, which only the account has"),
];

/// Every caution of a job, in the order of the work.
#[must_use]
pub fn cautions(site: &Site<'_>, sheet: &Sheet, bill: &Bill) -> Vec<Caution> {
    let mut found = Vec::new();
    holes::holes(site, &mut found);
    drawn::ground(site, &mut found);
    soak::cautions(site, &mut found);
    drawn::walls(site, &mut found);
    drawn::cover(site, &mut found);
    standing::told(site, sheet, &mut found);
    job::bars(site, &mut found);
    job::unused(site, sheet, &mut found);
    job::supply(site, bill, &mut found);
    found
}

fn add(
    site: &Site<'_>,
    found: &mut Vec<Caution>,
    code: &'static str,
    says: Phrase,
    source: &str,
    path: &str,
) {
    found.push(Caution::new(code, says, source).at(site.job.place(path)));
}

/// A length in metres to the centimetre.
fn metres(len: &Len) -> String {
    let d = decimal::rounded(len.value() / Ratio::int(10_000), 2);
    d.map_or_else(String::new, |d| decimal::shown(d, 2))
}

/// The limit of a figure of the checks that a length does not reach; lengths in millimetres.
fn under<'a>(site: &'a Site<'_>, len: &Len, id: &str) -> Option<&'a FigureValue> {
    checks::limit(site.stock, id).filter(|v| len.value() / Ratio::int(10) < v.value)
}

/// A limit as printed.
fn shown(value: &FigureValue) -> String {
    decimal::plain(value.value)
}
