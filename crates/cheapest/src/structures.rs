//! What changes what is built: number of chambers, wall unit, pit face, cover and its beam; each as a job file.

use tankwright_quantities::job::edit::{Edit, edit};
use tankwright_quantities::job::{Given, Job};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{MasonryUnit, Stock};

use crate::given::{Asked, UnitAsk, shown};
use crate::grid::{Candidate, Structure};
use crate::space::tenths;

/// Room round an open pit where the job draws a tight one and nothing is said: common practice, no source.
const WORKING_SPACE: i64 = 6_000;

const BEAM: &str = "tank.cover.span_beam";

/// A unit, and the walls it makes here.
struct Walls {
    unit: String,
    wall: i64,
    partition: i64,
}

/// Name, values and default of what was looked at.
type Looked = (&'static str, Vec<String>, &'static str);

/// Every structure, in order, with what was looked at.
pub(crate) fn structures(
    text: &str,
    job: &Job,
    stock: &Stock,
    asked: &Asked,
    lengths: &[Vec<Vec<i64>>; 4],
    numbers: &[usize],
) -> Result<(Vec<Structure>, Vec<Looked>), Vec<Problem>> {
    let units: Vec<Walls> = match &asked.units[..] {
        [] => vec![as_drawn(job)],
        units => units.iter().map(|u| walls(job, stock, u)).collect(),
    };
    let open = job.text("tank.pit.face") == "open";
    let faces = if asked.faces.is_empty() { vec![open] } else { asked.faces.clone() };
    let cover = tenths(job, "tank.cover.thickness");
    let covers = if asked.covers.is_empty() { vec![cover] } else { asked.covers.clone() };
    let beam = job.has(BEAM);
    let beams = if asked.beams.is_empty() { vec![beam] } else { asked.beams.clone() };
    if beams.contains(&true) && !beam {
        let problem = Problem::error("U058", None, "the job draws no span beam to search with");
        return Err(vec![problem.hint("draw it under [tank.cover], or leave --span-beam out")]);
    }
    let drawn_room = if open { tenths(job, "tank.pit.working_space") } else { WORKING_SPACE };
    let room = asked.working_space.unwrap_or(drawn_room);
    let mut all = Vec::new();
    let mut stuck: Vec<String> = Vec::new();
    for n in numbers {
        let Some(first) = n.checked_sub(1).and_then(|i| lengths.get(i)).and_then(|l| l.first()) else {
            continue;
        };
        for u in &units {
            for face in &faces {
                for (cover, beam) in covers.iter().flat_map(|c| beams.iter().map(move |b| (*c, *b))) {
                    let mut s = Structure {
                        chambers: *n,
                        unit: u.unit.clone(),
                        wall: u.wall,
                        partition: u.partition,
                        open: *face,
                        working_space: if *face { room } else { 0 },
                        cover,
                        beam,
                        text: String::new(),
                    };
                    let mut edits = edits(text, job, &s);
                    edits.extend(chambers(job, first));
                    match edit(text, job, &edits) {
                        Ok((text, _)) => s.text = text,
                        Err(path) if stuck.contains(&path) => {}
                        Err(path) => stuck.push(path),
                    }
                    all.push(s);
                }
            }
        }
    }
    if !stuck.is_empty() {
        return Err(stuck.iter().map(|path| fixed(job, path)).collect());
    }
    let open_says =
        |o: &bool| if *o { format!("open, {} round it", shown(room)) } else { "tight".to_owned() };
    let mut looked: Vec<Looked> = vec![
        ("units", units.iter().map(|u| said(u, numbers)).collect(), "cheapest-as-drawn"),
        ("covers", covers.iter().map(|c| shown(*c)).collect(), "cheapest-as-drawn"),
        ("faces", faces.iter().map(open_says).collect(), "cheapest-as-drawn"),
    ];
    if beam {
        let word = |b: &bool| if *b { "with" } else { "without" }.to_owned();
        looked.push(("span_beam", beams.iter().map(word).collect(), "cheapest-as-drawn"));
    }
    Ok((all, looked))
}

/// A value that cannot be replaced.
pub(crate) fn fixed(job: &Job, path: &str) -> Problem {
    let message = format!("{path} cannot be replaced in this job file as it is written");
    let part = path.rsplit_once('.').map_or(path, |(part, _)| part);
    let hint = format!("give {part} a heading of its own, [{part}], with one key a line under it");
    Problem::error("U059", job.place(path), message).label("written so that it cannot be changed").hint(hint)
}

fn said(u: &Walls, numbers: &[usize]) -> String {
    let partition =
        if numbers.iter().any(|n| *n > 1) { format!("/{}", shown(u.partition)) } else { String::new() };
    format!("{}@{}{partition}", u.unit, shown(u.wall))
}

/// Changes of everything but lengths, width and height. What is as drawn is not touched.
fn edits(text: &str, job: &Job, s: &Structure) -> Vec<Edit> {
    let mut edits = Vec::new();
    let mut length = |path: &str, value: i64| {
        if tenths(job, path) != value {
            edits.push(Edit::set(path, quoted(value)));
        }
    };
    length("tank.walls.thickness", s.wall);
    if job.has("tank.partitions.thickness") || s.partition != s.wall {
        length("tank.partitions.thickness", s.partition);
    }
    length("tank.cover.thickness", s.cover);
    length("tank.pit.working_space", s.working_space);
    if !s.open {
        length("tank.base.projection", 0);
    }
    let drawn_unit = job.text("tank.walls.unit");
    if s.unit != drawn_unit {
        edits.push(Edit::set("tank.walls.unit", format!("\"{}\"", s.unit)));
        if job.text("tank.partitions.unit") == drawn_unit {
            edits.push(Edit::set("tank.partitions.unit", format!("\"{}\"", s.unit)));
        }
    }
    if s.open != (job.text("tank.pit.face") == "open") {
        edits.push(Edit::set("tank.pit.face", if s.open { "\"open\"" } else { "\"tight\"" }));
    }
    if !s.open && job.input("tank.pit.batter").is_some_and(|(_, i)| !i.value.is_zero()) {
        edits.push(Edit::set("tank.pit.batter", "\"0\""));
    }
    if job.has(BEAM) && !s.beam {
        edits.push(Edit::Drop(BEAM.to_owned()));
    }
    edits.extend(manholes(text, job, s.chambers));
    edits
}

/// One manhole a chamber: the last one is repeated, or left out.
fn manholes(text: &str, job: &Job, chambers: usize) -> Option<Edit> {
    let path = "tank.cover.manholes";
    let drawn = job.count_of(path);
    if drawn == 0 || drawn == chambers || job.count_of("tank.chambers") != drawn {
        return None;
    }
    let entry = |i: usize| match job.values.get(&format!("{path}[{}]", i.min(drawn - 1))) {
        Some((_, Given::Here(place))) => text.get(place.span.clone()),
        _ => None,
    };
    let all = (0..chambers).map(entry).collect::<Option<Vec<_>>>()?;
    Some(Edit::set(path, format!("[{}]", all.join(", "))))
}

/// Changes of the lengths of chambers.
pub(crate) fn chambers(job: &Job, lengths: &[i64]) -> Vec<Edit> {
    if job.count_of("tank.chambers") != lengths.len() {
        let list: Vec<String> = lengths.iter().map(|l| quoted(*l)).collect();
        return vec![Edit::set("tank.chambers", format!("[{}]", list.join(", ")))];
    }
    let one = |(i, l): (usize, &i64)| changed(job, &format!("tank.chambers[{i}]"), *l);
    lengths.iter().enumerate().filter_map(one).collect()
}

/// A length that is to be another than it is.
pub(crate) fn changed(job: &Job, path: &str, value: i64) -> Option<Edit> {
    (tenths(job, path) != value).then(|| Edit::set(path, quoted(value)))
}

fn quoted(tenths: i64) -> String {
    format!("\"{}\"", shown(tenths))
}

/// Every change that makes a candidate of the user's own file.
pub(crate) fn whole(text: &str, job: &Job, s: &Structure, c: &Candidate<'_>) -> Vec<Edit> {
    let mut all = edits(text, job, s);
    all.extend(chambers(job, c.lengths));
    all.extend(changed(job, "tank.width", c.width));
    all.extend(changed(job, "tank.height", c.depth));
    all
}

fn as_drawn(job: &Job) -> Walls {
    let wall = tenths(job, "tank.walls.thickness");
    let thin = tenths(job, "tank.partitions.thickness");
    let partition = if job.has("tank.partitions.thickness") { thin } else { wall };
    Walls { unit: job.text("tank.walls.unit").to_owned(), wall, partition }
}

/// The walls of a unit nearest to the drawn ones, the thicker of two; the drawn unit's stay as drawn.
fn walls(job: &Job, stock: &Stock, asked: &UnitAsk) -> Walls {
    let drawn = as_drawn(job);
    // Partitions of another unit stay what they are.
    let own = job.text("tank.partitions.unit");
    let follows = own.is_empty() || own == drawn.unit;
    let near = |unit: &MasonryUnit, to: i64| {
        unit.walls.iter().copied().min_by_key(|w| ((w - to).abs(), -w)).unwrap_or(to)
    };
    let known = stock.units.get(&asked.id).filter(|_| asked.id != drawn.unit);
    let wall = asked.wall.unwrap_or_else(|| known.map_or(drawn.wall, |u| near(u, drawn.wall)));
    let thin = known.filter(|_| follows).map_or(drawn.partition, |u| near(u, drawn.partition));
    // A partition without a thickness of its own is as thick as the wall.
    let thin = if job.has("tank.partitions.thickness") { thin } else { wall };
    Walls { unit: asked.id.clone(), wall, partition: asked.partition.unwrap_or(thin) }
}
