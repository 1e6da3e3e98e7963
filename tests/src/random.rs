//! Random job files from a seed: every part on or off, whole millimetres, never one that must be refused.

use std::fmt::Write;

/// A small deterministic source of numbers (a linear congruential generator, constants of Knuth's MMIX).
#[derive(Debug)]
pub struct Dice(u64);

impl Dice {
    /// From a seed.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self(seed ^ 0x9E37_79B9_7F4A_7C15)
    }

    /// A number from `low` to `high`.
    pub const fn roll(&mut self, low: i64, high: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + ((self.0 >> 33) % ((high - low + 1) as u64)) as i64
    }

    /// Yes in so many of a hundred cases.
    pub const fn odds(&mut self, percent: i64) -> bool {
        self.roll(1, 100) <= percent
    }

    /// One of a list.
    pub const fn pick<'a>(&mut self, list: &[&'a str]) -> &'a str {
        list[self.roll(0, list.len() as i64 - 1) as usize]
    }
}

/// Settings of a random job that a test may fix.
#[derive(Clone, Copy, Debug)]
pub struct Wish {
    /// Measurement profile.
    pub profile: &'static str,
    /// No fall, no batter: everything agrees to the last digit in `exact`.
    pub level: bool,
}

/// The text of a random job file.
#[must_use]
#[expect(clippy::too_many_lines, reason = "one line a key, read from the top like a job file")]
pub fn job(seed: u64, wish: Wish) -> String {
    let d = &mut Dice::new(seed);
    let mut t = String::new();
    let mut put = |line: String| {
        let _ = writeln!(t, "{line}");
    };
    put(format!(
        "format = 1\n[job]\ntitle = \"random {seed}\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\nprofile = \"{}\"\nrates = \"demo-ugx\"",
        wish.profile
    ));
    put("[ground]".into());
    put(format!(
        "soil = \"{}\"\nsupport = \"{}\"\nkeep_dry = {}\nsurplus = \"{}\"",
        d.pick(&["firm-clay", "loam"]),
        d.pick(&["none", "open", "close"]),
        d.odds(30),
        d.pick(&["cart", "spread"])
    ));
    let n = d.roll(1, 4);
    let chambers: Vec<i64> = (0..n).map(|_| d.roll(700, 2500)).collect();
    let width = d.roll(900, 2200);
    let height = d.roll(1300, 2400);
    let open = d.odds(50);
    let wall = d.roll(150, 330);
    let cover_top = if d.odds(40) { 0 } else { d.roll(-500, 300) };
    let slab = d.roll(80, 200);
    let cover_top = cover_top.min(height - 200);
    put(format!(
        "[tank]\nchambers = {chambers:?}\nwidth = {width}\nheight = {height}\ncover_top = {cover_top}"
    ));
    put(format!("[tank.pit]\nface = \"{}\"\ntermite = {}", if open { "open" } else { "tight" }, d.odds(40)));
    if open {
        put(format!("working_space = {}", if d.odds(30) { 0 } else { d.roll(100, 700) }));
        if !wish.level && d.odds(50) {
            put(format!("batter = \"{}\"", d.pick(&["0.25", "0.5", "1", "1 in 3"])));
        }
    } else {
        put(format!("over_break = {}", d.roll(0, 40)));
    }
    put("[tank.base]".into());
    put(format!("hardcore = {}", if d.odds(40) { d.roll(50, 200) } else { 0 }));
    if d.odds(60) {
        put(format!("blinding = {{ thickness = {}, mix = \"1:3:6\" }}", d.roll(40, 100)));
    }
    put(format!("concrete = {{ thickness = {}, mix = \"1:2:4\" }}", d.roll(80, 250)));
    if open && d.odds(50) {
        put(format!("projection = {}", d.roll(20, 300)));
    }
    let fall = if wish.level || d.odds(40) { 0 } else { d.roll(5, 120) };
    put(format!("fall = {fall}"));
    put(format!(
        "[tank.walls]\nthickness = {wall}\nmortar = \"1:4\"\nhoop_iron_every = {}\nhoop_iron_strips = {}",
        d.roll(0, 5),
        d.roll(1, 2)
    ));
    let wall_beam = if d.odds(30) { d.roll(100, 200) } else { 0 };
    let gap = if d.odds(50) { d.roll(50, 200) } else { 0 };
    let span = d.odds(40).then(|| (d.roll(100, 250), d.roll(100, 200)));
    let opening = d.odds(60).then(|| {
        let number = d.roll(1, 2);
        (number, d.roll(100, 300), d.roll(100, 300))
    });
    put(format!("[tank.partitions]\nthickness = {}\nair_gap = {gap}", d.roll(90, 240)));
    if let Some((number, w, h)) = opening {
        // Below gap, beams and cover; the sill above the floor at its highest, or on it.
        let room = height - wall_beam;
        let least = (gap - wall_beam).max(span.map_or(0, |s| s.1) - wall_beam).max(0) + 20;
        let below = if fall == 0 && d.odds(30) { room - h } else { d.roll(least, room - h) };
        put(format!("opening = {{ width = {w}, height = {h}, below_top = {below}, number = {number} }}"));
    }
    let column = d.odds(60).then(|| {
        let most = 80.min(width / 2 - 160).max(0);
        (wall + d.roll(-60, most), wall + d.roll(-60, most))
    });
    if let Some((a, b)) = column {
        put(format!(
            "[tank.columns]\nsize = [{a}, {b}]\npocket = {}",
            if d.odds(50) { d.roll(100, 300) } else { 0 }
        ));
    }
    let masonry = height - wall_beam;
    let hole = d.odds(70).then(|| {
        let below = d.roll(180, 260).max(span.map_or(0, |s| s.1 + 120 - wall_beam));
        (below, below + d.roll(30, 80))
    });
    // Ring beams below the pipes.
    let rings = d.roll(0, 2);
    for i in 0..rings {
        let (low, depth) = (150 + i * 420, d.roll(80, 200));
        if low + 160 + depth < masonry - 450 {
            put(format!("[[tank.ring_beams]]\nabove_floor = {}\ndepth = {depth}", low + d.roll(0, 160)));
        }
    }
    put(format!("[tank.cover]\nthickness = {slab}\nwall_beams = {wall_beam}\nmembrane = {}", d.odds(50)));
    if let Some((w, depth)) = span {
        let bearing = if d.odds(40) && hole.is_none() { d.roll(20, wall) } else { 0 };
        put(format!("span_beam = {{ width = {w}, depth = {depth}, bearing = {bearing} }}"));
    }
    let manholes = d.odds(70);
    let bay = span.map_or(width, |s| (width - s.0) / 2);
    if manholes {
        let size = |c: &i64, d: &mut Dice| {
            format!("[{}, {}]", d.roll(200, (*c).min(600)), d.roll(100, (bay - 200).clamp(100, 600)))
        };
        let list: Vec<_> = chambers.iter().map(|c| size(c, d)).collect();
        put(format!("manholes = [{}]", list.join(", ")));
    }
    if manholes && cover_top < 0 && d.odds(60) {
        put(format!("[tank.manhole_shafts]\nthickness = {}\nupstand = {}", d.roll(50, 55), d.roll(0, 150)));
    }
    if d.odds(30) && opening.is_none_or(|o| o.0 == 1) {
        put(format!(
            "[tank.haunch]\nwidth = {}\nheight = {}\nmix = \"1:2:4\"",
            d.roll(50, 290),
            d.roll(50, 500)
        ));
    }
    if d.odds(30) {
        let from = d.roll(110, chambers[0] - 150);
        put(format!(
            "[[tank.boards]]\nfrom_inlet = {from}\nthickness = 60\ndepth = {}\nbelow_top = {}\nbuilt_in = {}",
            d.roll(200, 600),
            d.roll(20, 300),
            d.roll(0, wall)
        ));
    }
    if d.odds(80) {
        put(format!(
            "[tank.plaster]\nthickness = 20\nmix = \"1:3\"\npaste = {}\noutside = {}",
            d.odds(50),
            d.odds(40)
        ));
        if d.odds(70) {
            put("screed = { thickness = 30, mix = \"1:3\" }".into());
        }
    }
    // Top of masonry below ground.
    let top = slab + wall_beam - cover_top;
    if let Some((inlet, outlet)) = hole {
        put("[tank.pipes]".into());
        let deep = top + inlet;
        let levels = !wish.level && deep > 60 && d.odds(50);
        let start = if levels { format!(", start = {}", d.roll(10, deep)) } else { String::new() };
        put(format!(
            "inlet = {{ diameter = 110, below_top = {inlet}, length = {}, drop = 400{start} }}",
            d.roll(0, 9000)
        ));
        put(format!(
            "outlet = {{ diameter = 110, below_top = {outlet}, length = {}, drop = 500 }}",
            d.roll(0, 9000)
        ));
        if d.odds(60) {
            let depth = if levels && d.odds(60) { "" } else { ", depth = 700" };
            put(format!("trench = {{ width = 450{depth}, bed = {} }}", d.roll(0, 120)));
        }
        put(format!("vent_height = {}", d.roll(0, 3000)));
    }
    if d.odds(50) {
        put(format!(
            "[soak_pit]\ndiameter = {}\ndepth = 3000\nfill_depth = {}\nsheet = {}\nnumber = {}",
            d.roll(900, 2500),
            d.roll(1000, 3000),
            d.odds(50),
            d.roll(1, 3)
        ));
    }
    let lined = t.contains("[soak_pit]") && d.odds(60);
    if lined {
        line_pit(&mut t, d);
    }
    // An outlet that lies deep enough feeds the trenches.
    let fed = !wish.level && hole.is_some_and(|(_, outlet)| top + outlet > 300);
    beyond(&mut t, d, wish, fed);
    let beam = |depth: i64| wall.min(depth);
    let mut members = vec![("base", 1_000_i64), ("cover", slab.max(1_000))];
    if let Some((a, b)) = column {
        members.push(("columns", a.min(b)));
    }
    members.push(("ring_beams", beam(80)));
    if wall_beam > 0 {
        members.push(("wall_beams", beam(wall_beam).min(90)));
    }
    if let Some((w, depth)) = span {
        members.push(("span_beam", w.min(depth)));
    }
    if t.contains("[soak_pit.cover]") {
        members.push(("soak_pit_cover", 900));
    }
    if d.odds(70) {
        steel(&mut t, d, &members);
    }
    t
}

/// The pit of a random job lined: with the inlet of its own, with or without packing, foot, cover and manhole.
fn line_pit(t: &mut String, d: &mut Dice) {
    let _ = writeln!(t, "invert = {}", d.roll(400, 900));
    if d.odds(50) {
        let _ = writeln!(
            t,
            "support = \"{}\"\nspacing = {}",
            d.pick(&["none", "open", "close"]),
            d.roll(1000, 9000)
        );
    }
    let thick = d.roll(80, 150);
    let (covered, packing) = (d.odds(60), if d.odds(50) { d.roll(50, 120) } else { 0 });
    let fill = match covered {
        true if d.odds(50) => 0,
        true => d.roll(200, 2200),
        false => d.roll(2600, 3000),
    };
    let old = t.lines().find(|l| l.starts_with("fill_depth")).unwrap_or_default().to_owned();
    *t = t.replacen(&old, &format!("fill_depth = {fill}"), 1);
    let _ = writeln!(t, "[soak_pit.lining]\nthickness = {thick}\npacking = {packing}");
    if d.odds(50) {
        let _ = writeln!(
            t,
            "foot = {{ thickness = {}, width = {}, mix = \"1:2:4\" }}",
            d.roll(80, 200),
            d.roll(thick, 300)
        );
    }
    if covered {
        let _ = writeln!(t, "[soak_pit.cover]\nthickness = {}\nsoil = {}", d.roll(80, 150), d.roll(0, 150));
        if d.odds(60) {
            let _ = writeln!(t, "manhole = [{}, {}]", d.roll(100, 250), d.roll(100, 250));
        }
    }
}

/// Drainage trenches, inspection chambers, further lines of pipes.
fn beyond(t: &mut String, d: &mut Dice, wish: Wish, fed: bool) {
    let mut put = |line: String| {
        let _ = writeln!(t, "{line}");
    };
    for _ in 0..d.roll(0, 2) {
        let (invert, below) = (d.roll(300, 900), d.roll(50, 500));
        put(format!("[[drain]]\nlength = {}\nwidth = {}", d.roll(1_000, 30_000), d.roll(300, 900)));
        put(format!("number = {}\nstone_below = {below}\nstone_over = {}", d.roll(1, 4), d.roll(0, 150)));
        put(format!("sheet = \"{}\"", d.pick(&["geotextile", "polythene", "none"])));
        if !fed || d.odds(50) {
            put(format!("invert = {invert}"));
            if d.odds(50) {
                put(format!("depth = {}", invert + below + d.roll(0, 100)));
            }
        }
        put(format!("pipe = {{ diameter = {} }}", d.roll(80, 110)));
    }
    for _ in 0..d.roll(0, 2) {
        let (depth, [a, b]) = (d.roll(300, 1_400), [(); 2].map(|()| d.roll(300, 900)));
        put(format!(
            "[[inspection_chambers]]\nnumber = {}\nsize = [{a}, {b}]\ndepth = {depth}",
            d.roll(1, 3)
        ));
        put(format!("upstand = {}\nthickness = {}", d.roll(0, 100), d.roll(100, 220)));
        if d.odds(50) {
            put(format!("working_space = {}", d.roll(50, 300)));
        }
        put(format!("base = {{ thickness = {}, mix = \"1:2:4\" }}", d.roll(75, 150)));
        if d.odds(50) {
            put(format!("benching = {{ depth = {} }}", d.roll(10, 250)));
        }
        if d.odds(50) {
            put("plaster = { thickness = 15, mix = \"1:3\" }".into());
        }
    }
    for n in 0..d.roll(0, 2) {
        put(format!("[[pipes]]\ntitle = \"line {n}\"\ndiameter = 110\nlength = {}", d.roll(1_000, 30_000)));
        let levels = !wish.level && d.odds(50);
        if levels {
            put(format!("start = {}\nfall = \"1 in {}\"", d.roll(200, 900), d.roll(20, 120)));
        }
        if d.odds(70) {
            let depth = if levels { String::new() } else { format!(", depth = {}", d.roll(300, 1_200)) };
            put(format!("trench = {{ width = {}{depth}, bed = {} }}", d.roll(300, 600), d.roll(0, 120)));
        }
        put(format!("bends = {}\ntees = {}", d.roll(0, 3), d.roll(0, 2)));
    }
}

/// Bars of a random job: a part only where its least side holds a link of 6 mm (36 mm round its bends).
fn steel(t: &mut String, d: &mut Dice, members: &[(&str, i64)]) {
    let cover = d.roll(15, 25);
    let _ = writeln!(t, "[steel]\ncover_to_steel = {cover}\nstock_length = {}", d.roll(3_000, 12_500));
    let _ = writeln!(t, "kerf = {}\nlap = \"{}\"", d.roll(0, 5), d.pick(&["40d", "30d", "450 mm"]));
    let _ = writeln!(t, "column_foot = {}\ncolumn_top = {}", d.roll(0, 300), d.roll(0, 300));
    let _ = writeln!(t, "beam_corner = {}", if d.odds(20) { 0 } else { d.roll(50, 400) });
    for (part, side) in members {
        if side - 2 * cover < 36 || d.odds(20) {
            continue;
        }
        let bars = |d: &mut Dice| format!("{}{}", d.pick(&["Y", "H", "T"]), d.pick(&["8", "10", "12"]));
        if *part == "soak_pit_cover" {
            let trimmers = if d.odds(50) { format!(", trimmers = \"1{}\"", bars(d)) } else { String::new() };
            let _ = writeln!(t, "{part} = {{ bars = \"{}@{}\"{trimmers} }}", bars(d), d.roll(80, 300));
        } else if ["base", "cover"].contains(part) {
            let [short, long] = [(); 2].map(|()| format!("{}@{}", bars(d), d.roll(80, 300)));
            let more = match (*part, d.odds(60)) {
                ("cover", true) => {
                    format!(", layers = {}, trimmers = \"{}{}\"", d.roll(1, 2), d.roll(1, 2), bars(d))
                }
                _ => String::new(),
            };
            let _ = writeln!(t, "{part} = {{ short = \"{short}\", long = \"{long}\"{more} }}");
        } else {
            let (main, links) = (format!("{}{}", d.roll(2, 6), bars(d)), format!("R6@{}", d.roll(80, 300)));
            let _ = writeln!(t, "{part} = {{ main = \"{main}\", links = \"{links}\" }}");
        }
    }
}
