//! What is written inside a section: pipes, the water line, chambers, the fall of the floor. Each where it lies on no
//! thick line.

use tankwright_quantities::sketch::Span;
use tankwright_quantities::words::{Phrase, look_up};

use super::paint::is_solid;
use super::section::Section;
use crate::letters::{NOTE, width};
use crate::paper::{Anchor, Paper, Point, Rect, Text};
use crate::sheet::{Placing, mm, scaled};

impl Section<'_> {
    /// What is written inside: chambers, water line, pipes, fall of the floor.
    pub(super) fn inside(&self, paper: &mut Paper, placing: &Placing, earth: &Rect) {
        let sketch = &self.desk.sketch;
        let floor = &self.desk.space.floor;
        let clear = |at: Point, words: &str, anchor| Text { clear: true, ..Text::note(at, words, anchor) };
        let here = |x: Span| x[0] <= self.at && self.at < x[1];
        for pipe in &sketch.pipes {
            let (Some(name), 0) = (&pipe.name, self.axis()) else { continue };
            let [[_, _, z], [x, _, _]] = pipe.ends;
            let inwards = if x < floor.length / 2 { 1 } else { -1 };
            let [a, b] = placing.point([x + inwards * pipe.diameter, z]);
            let (start, end) =
                if inwards > 0 { (Anchor::Start, Anchor::End) } else { (Anchor::End, Anchor::Start) };
            let text = |at, anchor| clear(at, &name.to_string(), anchor);
            let asides = [100, 500, 1_000, 2_000];
            let level = asides.into_iter().flat_map(|aside| {
                [-40, 400, -480, 820, -900].map(|down| text([a + inwards * aside, b + down], start))
            });
            // In a narrow chamber along the pipe's tee, else over the ground outside.
            let upright = [350, 800].into_iter().flat_map(|aside| {
                [0, 900, 1_800].map(|down| Text {
                    turned: true,
                    ..text([a + inwards * aside, b + down], Anchor::Middle)
                })
            });
            let outside = placing.point([pipe.ends[0][0], z]);
            let beyond =
                [-600, 900, 1_400].map(|down| text([outside[0] - inwards * 200, outside[1] + down], end));
            paper.try_ways(level.chain(upright).chain(beyond));
        }
        let mut named = Vec::new();
        for water in &sketch.waters {
            if named.contains(&water.level) || self.axis() == 1 && !here(water.plan[0]) {
                continue;
            }
            named.push(water.level);
            // In the chamber of the level that has room.
            let own = sketch
                .waters
                .iter()
                .filter(|w| w.level == water.level && (self.axis() == 0 || here(w.plan[0])));
            let places = own.flat_map(|w| {
                let span = w.plan[self.axis()];
                let [a, b] = placing.point([i64::midpoint(span[0], span[1]), water.level]);
                [-100, 420]
                    .into_iter()
                    .flat_map(move |down| [0, 600, -600, 1200].map(|aside| [a + aside, b + down]))
            });
            let text = clear([0, 0], look_up("draw-water-line"), Anchor::Middle);
            // Its level stands beside the section as well.
            paper.try_open(places.map(|at| Text { at, ..text.clone() }).collect::<Vec<_>>());
        }
        for room in &sketch.rooms {
            if self.axis() == 1 && !here(room.plan[0]) {
                continue;
            }
            let span = room.plan[self.axis()];
            let middle = i64::midpoint(span[0], span[1]);
            let level = sketch.waters.iter().map(|w| w.level).min().unwrap_or(0);
            let foot = floor.at(middle);
            let [a, b] = placing.point([middle, foot + (level - foot) * 2 / 5]);
            let places = (0..6)
                .flat_map(move |i| [0, 300, -300].map(|c| [[a + c, b + i * 300], [a + c, b - i * 300]]))
                .flatten();
            let text = clear([0, 0], &room.title.to_string(), Anchor::Middle);
            let turned = width(&text.text, NOTE) + 100 > scaled(span[1] - span[0], placing.scale);
            let ways = [turned, !turned].into_iter().flat_map(|turned| {
                let text = text.clone();
                places.clone().map(move |at| Text { at, turned, ..text.clone() })
            });
            let room = [placing.point([middle, level])[1], placing.point([middle, foot])[1]];
            let within = |t: &Text| room[0] <= t.rect().0[1] && t.rect().0[3] <= room[1];
            let mut ways: Vec<Text> = ways.filter(within).collect();
            // Beside thin lines too, where there is room beside them.
            ways.sort_by_cached_key(|t| (t.turned != turned, !paper.is_clear(t)));
            if paper.try_open(ways).is_none() {
                // No room for words: its number alone.
                let number = text.text.rsplit(' ').next().unwrap_or_default().to_owned();
                paper.try_text(Text { text: number, ..text.clone() }, places);
            }
        }
        let built = self.cut.cut().all().any(|(_, c)| is_solid(&self.desk.space, c));
        if floor.fall > 0 && self.axis() == 0 && built {
            let words = Phrase::with("draw-floor-falls", &[&mm(floor.fall)]).to_string();
            let rooms = sketch.rooms.iter().map(|r| i64::midpoint(r.plan[0][0], r.plan[0][1]));
            let tries = rooms.chain([4, 3, 5, 6, 2].map(|n| floor.length * n / 8));
            let places = tries.map(|x| {
                let [a, b] = placing.point([x, floor.at(x)]);
                [a, b - 160]
            });
            // Else under the tank, in the ground.
            let below = placing.point([floor.length / 2, 0])[0];
            let places: Vec<_> = places.chain([[below, earth.0[3] - 130]]).collect();
            paper.try_text(clear([0, 0], &words, Anchor::Middle), places);
        }
    }
}
