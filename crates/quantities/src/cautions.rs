//! What a person on this job must be told, each with the source that asks for it. Cautions never stop a run.

use tankwright_geometry::{Len, Ratio};

use crate::bill::Bill;
use crate::capacity;
use crate::estimate::Caution;
use crate::site::Site;
use crate::trench_cautions::trenches;
use crate::words::Phrase;

mod soak;

pub(crate) const NO_SOURCE: &str = "common practice, no source";
pub(crate) const OURS: &str = "our own limit";

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
    ("C022", "a cover less than 75 mm above ground"),
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
    ("C065", "soak pits nearer than three times their diameter"),
    ("C066", "soak pits whose distance is not given"),
    ("C067", "a cover of an empty soak pit without a manhole"),
    ("C068", "a manhole of a soak pit under soil"),
    ("C069", "a dry lining and its cover, whose strength nobody checks"),
];

/// Depth from which a dig without support is cautioned, tenths of a millimetre.
pub(crate) const UNSUPPORTED: i64 = 12_000;

/// Who asks for support from there.
pub(crate) const DEEP: &str = "UK plumbing textbook (City & Guilds book 1, p. 84): support, batter or bench beyond 1.2 m; US 29 CFR 1926.652 and AU WHS reg. 306: 1.5 m";

/// Every caution of a job, in the order of the work.
#[must_use]
pub fn cautions(site: &Site<'_>, bill: &Bill) -> Vec<Caution> {
    let mut found = Vec::new();
    ground(site, &mut found);
    soak::cautions(site, &mut found);
    walls(site, &mut found);
    cover(site, &mut found);
    let mut always = |code, key, source: &str| {
        found.push(Caution { code, says: Phrase::new(key), source: source.to_owned(), place: None })
    };
    always(
        "C030",
        "caution-gas",
        "NIOSH FACE 8638 (1986): three dead in one septic tank, each a would-be rescuer",
    );
    always("C031", "caution-codes", OURS);
    always("C032", "caution-backfill", NO_SOURCE);
    bars(site, &mut found);
    unused(site, &mut found);
    supply(site, bill, &mut found);
    found
}

pub(crate) fn add(
    site: &Site<'_>,
    found: &mut Vec<Caution>,
    code: &'static str,
    says: Phrase,
    source: &str,
    path: &str,
) {
    found.push(Caution { code, says, source: source.to_owned(), place: site.job.place(path) });
}

/// Parts of the job file that are read and checked, but that no paper uses yet.
fn unused(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    let named = job.given("sizing.rule");
    let idle = ["tank.persons", "sizing"].into_iter().filter(|p| !named && job.given(p));
    let given: Vec<_> = idle.collect();
    if let Some(first) = given.first() {
        add(site, found, "C040", Phrase::with("caution-unused", &[&given.join(", ")]), OURS, first);
    }
    let (start, date) = (job.text("programme.start"), job.text("job.date"));
    if crate::job::days_between(date, start).is_some_and(|days| days < 0) {
        let says = Phrase::with("caution-start", &[start, date]);
        add(site, found, "C050", says, OURS, "programme.start");
    }
}

/// The client buys, and nothing is taken out of the rates.
fn supply(site: &Site<'_>, bill: &Bill, found: &mut Vec<Caution>) {
    if site.job.text("job.supply") != "labour-only" || bill.client_buys.is_some() {
        return;
    }
    let says = bill.price_list.as_ref().map_or_else(
        || Phrase::new("caution-labour-no-prices"),
        |(name, ..)| Phrase::with("caution-labour-only", &[name]),
    );
    add(site, found, "C041", says, OURS, "job.supply");
}

/// Members that carry, the part of the job file that builds them, and the part that gives their bars.
const MEMBERS: [(&str, &str, &str); 7] = [
    ("base", "tank.base", "steel.base"),
    ("columns", "tank.columns", "steel.columns"),
    ("ring beams", "tank.ring_beams", "steel.ring_beams"),
    ("beams on walls", "tank.cover.wall_beams", "steel.wall_beams"),
    ("beam under the cover", "tank.cover.span_beam", "steel.span_beam"),
    ("cover", "tank.cover", "steel.cover"),
    ("cover of the soak pit", "soak_pit.cover", "steel.soak_pit_cover"),
];

fn bars(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    let built = |path: &str| match path {
        "tank.cover.wall_beams" => !site.wall_beams.is_zero(),
        "tank.ring_beams" => !site.ring_beams.is_empty(),
        path => job.has(path),
    };
    let bare = MEMBERS.iter().filter(|(_, part, steel)| built(part) && !job.has(steel));
    let names: Vec<&str> = bare.map(|(name, ..)| *name).collect();
    if !names.is_empty() {
        let place = if job.has("steel") { "steel" } else { "tank.cover" };
        add(site, found, "C042", Phrase::with("caution-no-bars", &[&names.join(", ")]), OURS, place);
    }
    for (name, part, steel) in MEMBERS {
        if job.given(steel) && !built(part) {
            add(site, found, "C043", Phrase::with("caution-idle-bars", &[name]), OURS, steel);
        }
    }
    if !job.has("steel") && crate::elements::openings::needs_lintel(site) {
        let path = "tank.partitions.opening.width";
        add(site, found, "C044", Phrase::new("caution-lintel"), NO_SOURCE, path);
    }
    let data = &site.stock.bars;
    let Some(rule) = data.lap_rule().filter(|_| job.has("steel")) else { return };
    let kinds = crate::steel::KEYS.iter().filter_map(|key| crate::steel::split(job.text(key)));
    let ribbed = kinds.filter(|k| data.grades.get(&k.grade).is_some_and(|g| g.ribbed));
    let worst = ribbed.map(|k| k.diameter).max().and_then(|d| Some((d, rule.lap(d)?)));
    if let Some((d, published)) = worst
        && crate::steel::lap(job, d).value() < published
    {
        let mm = |tenths: Ratio| crate::decimal::plain(tenths / Ratio::int(10));
        let own = mm(crate::steel::lap(job, d).value());
        let says = Phrase::with("caution-short-lap", &[&own, &d.to_string(), &mm(published)]);
        add(site, found, "C045", says, &rule.source.to_string(), "steel.lap");
    }
}

/// Metres to two places.
pub(crate) fn metres(len: &Len) -> String {
    let d = crate::decimal::rounded(len.value() / Ratio::int(10_000), 2);
    d.map_or_else(String::new, |d| crate::decimal::shown(d, 2))
}

fn less(len: &Len, tenths: i64) -> bool {
    len.value() < Ratio::from(tenths)
}

fn ground(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    let deepest = &site.dig_depth() + &site.floor.fall;
    // OSHA 1926 Subpart P, appendix B (recalled): in no soil do sides that lean out by less than 1 in 2 count as safe.
    let leans = site.batter.value() >= Ratio::of(1, 2);
    let unsupported = job.text("ground.support") == "none" && !leans;
    if unsupported && !less(&deepest, UNSUPPORTED + 1) {
        add(site, found, "C001", Phrase::with("caution-deep-dig", &[&metres(&deepest)]), DEEP, "tank.height");
    }
    soak::deep(site, found);
    trenches(site, found);
    if let Some(soil) =
        site.stock.soils.get(job.text("ground.soil")).filter(|s| !s.sides_stand.0 && !site.open)
    {
        let says = Phrase::with("caution-sides-fall", &[&soil.title]);
        add(site, found, "C003", says, &soil.sides_stand.1.to_string(), "ground.soil");
    }
    if !site.open && job.text("ground.support") != "none" {
        add(site, found, "C004", Phrase::new("caution-tight-sheeted"), NO_SOURCE, "ground.support");
    }
    if site.open && less(&site.working_space, 3_000) {
        add(
            site,
            found,
            "C005",
            Phrase::new("caution-working-space"),
            "CPWD specification, earth work: 300 mm all round to 1.5 m deep",
            "tank.pit.working_space",
        );
    }
    if job.flag("tank.pit.termite") {
        add(site, found, "C006", Phrase::new("caution-termite"), OURS, "tank.pit.termite");
    }
    if let Some((_, water)) = job.input("ground.water_table").filter(|(_, w)| w.value < deepest.value()) {
        let depth = metres(&Len::fixed(i64::try_from(water.value.numer()).unwrap_or(0)));
        add(site, found, "C007", Phrase::with("caution-water", &[&depth]), NO_SOURCE, "ground.water_table");
    }
}

fn walls(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    if less(&site.wall, 2_000) {
        add(
            site,
            found,
            "C010",
            Phrase::new("caution-thin-wall"),
            "common practice, no source: walls at least 200 mm",
            "tank.walls.thickness",
        );
    }
    let fits = |unit: &str, t: &Len| {
        let Some(unit) = site.stock.units.get(unit) else { return true };
        unit.walls.iter().any(|w| t.value() == Ratio::from(*w))
    };
    let own = if job.has("tank.partitions.unit") { "tank.partitions.unit" } else { "tank.walls.unit" };
    let lining = job.len("soak_pit.lining.thickness");
    let of_lining = if job.has("soak_pit.lining.unit") { "soak_pit.lining.unit" } else { "tank.walls.unit" };
    for (path, unit, t) in [
        ("tank.walls.thickness", "tank.walls.unit", &site.wall),
        ("tank.partitions.thickness", own, &site.partition),
        ("soak_pit.lining.thickness", of_lining, &lining),
    ] {
        let used = match path {
            "tank.partitions.thickness" => !site.partitions.is_empty(),
            "soak_pit.lining.thickness" => job.has("soak_pit.lining"),
            _ => true,
        };
        if used && !fits(job.text(unit), t) {
            let says = Phrase::with("caution-unit", &[&site.mm(t), job.text(unit)]);
            add(site, found, "C011", says, OURS, path);
        }
    }
    if site.partitions.is_empty() && job.given("tank.partitions") {
        add(site, found, "C012", Phrase::new("caution-no-partition"), OURS, "tank.partitions");
    }
    let joined = job.has("tank.partitions.opening") || !site.air_gap.is_zero();
    if !site.partitions.is_empty() && !joined {
        add(site, found, "C013", Phrase::new("caution-not-joined"), OURS, "tank.partitions");
    }
    let below = job.len("tank.pipes.inlet.below_top");
    if job.has("tank.pipes.inlet") && less(&below, 3_000) {
        add(
            site,
            found,
            "C014",
            Phrase::new("caution-inlet-high"),
            "common practice, no source: at least 300 mm",
            "tank.pipes.inlet.below_top",
        );
    }
    water(site, found);
}

/// A rule without its own figure: the inlet so far over the water, tenths of a millimetre.
const INLET_OVER: i64 = 500;

/// How the water stands: the inlet over it, from chamber to chamber.
fn water(site: &Site<'_>, found: &mut Vec<Caution>) {
    let Some(lines) = capacity::water_lines(site) else { return };
    let (Some(first), Some(last)) = (lines.first().copied(), lines.last().copied()) else { return };
    let path = "tank.pipes.inlet.below_top";
    let mm = |tenths: Ratio| crate::decimal::plain(tenths / Ratio::int(10));
    match capacity::inlet(site).map(|inlet| inlet - first) {
        Some(over) if over.signum() <= 0 => {
            add(site, found, "C015", Phrase::new("caution-drowned-inlet"), OURS, path);
        }
        Some(over) if over < Ratio::from(INLET_OVER) => {
            let source = "IS 2470 part 1 (recalled): 50 mm";
            add(site, found, "C018", Phrase::with("caution-inlet-low", &[&mm(over)]), source, path);
        }
        _ => {}
    }
    let over = capacity::beam(site).unwrap_or_else(|| site.cover_bottom.value());
    if first > over {
        let says = Phrase::with("caution-water-high", &[&mm(first - over)]);
        add(site, found, "C019", says, OURS, "tank.pipes.outlet.below_top");
    }
    let Some(way) = capacity::way(site).filter(|_| !site.partitions.is_empty()) else { return };
    let level = first / Ratio::int(10_000);
    let over = way.partition.is_some_and(|top| level >= top);
    let path = if job_opens(site) { "tank.partitions.opening.below_top" } else { "tank.partitions.air_gap" };
    if way.top >= level || over {
        let source = "Regeling Wvo septic tank (1997), article 1: 300 mm under water; Tennessee: 305 mm";
        add(site, found, "C016", Phrase::new("caution-scum"), source, path);
    }
    if first > last {
        add(site, found, "C017", Phrase::with("caution-cascade", &[&mm(first - last)]), OURS, path);
    }
}

fn job_opens(site: &Site<'_>) -> bool {
    site.job.has("tank.partitions.opening")
}

fn cover(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    let buried = site.cover_top.value().signum() < 0;
    let holes = job.count_of("tank.cover.manholes");
    if buried && holes > 0 && !job.has("tank.manhole_shafts") {
        add(site, found, "C020", Phrase::new("caution-buried-manholes"), OURS, "tank.cover_top");
    }
    if holes == 0 {
        add(site, found, "C021", Phrase::new("caution-no-manholes"), OURS, "tank.cover");
    }
    if less(&site.cover_top, 750) {
        add(
            site,
            found,
            "C022",
            Phrase::new("caution-rain"),
            "common practice, no source: 75 mm",
            "tank.cover_top",
        );
    }
    let bearing = job.len("tank.cover.span_beam.bearing");
    if job.has("tank.cover.span_beam") && less(&bearing, 1_500) {
        add(
            site,
            found,
            "C023",
            Phrase::new("caution-bearing"),
            "common practice, no source: 150 mm",
            "tank.cover.span_beam",
        );
    }
    if job.has("tank.manhole_shafts") && !buried {
        add(site, found, "C024", Phrase::new("caution-shafts-idle"), OURS, "tank.manhole_shafts");
    }
}
