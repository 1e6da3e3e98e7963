//! Beams on top of all outer walls, under the slab, and on partitions without an air gap.

use tankwright_geometry::{Axis, Len, Z};

use crate::band::Band;
use crate::elements::Element;
use crate::job::{Fallback, Field};
use crate::ledger::{Book, Carrier, Claim, Face, Rank, SetOut, Side, Spec, count};
use crate::site::Site;
use crate::stage::Stage;
use crate::steel::{Bench, Order, Place, Round, Straight};
use crate::words::Phrase;
use crate::works::{concrete, formwork};

/// The element.
pub static ELEMENT: WallBeams = WallBeams;

/// Beams on the walls.
#[derive(Debug)]
pub struct WallBeams;

static FIELDS: &[Field] = &[Field::length(
    "tank.cover.wall_beams",
    0,
    Fallback::Nothing,
    "depth of beams on top of all walls, under the slab",
)];

fn specs(site: &Site<'_>) -> [Spec; 2] {
    let mix = site.job.text("tank.cover.mix");
    [Spec::of(&concrete::CONCRETE_WALL_BEAM, mix, &[]), Spec::plain(&formwork::FORMWORK_WALL_BEAM)]
}

/// Beams stand on partitions too, unless an air gap is left over them.
fn on_partitions(site: &Site<'_>) -> bool {
    site.air_gap.is_zero()
}

impl Element for WallBeams {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        if site.wall_beams.is_zero() {
            return;
        }
        let [concrete, form] = specs(site);
        let z = [site.masonry_top.clone(), site.cover_bottom.clone()];
        band(&concrete, &form, z.clone()).set_out(site, out);
        let z = z.map(Z::flat);
        let across = [&Len::ZERO, &site.width];
        for p in site.partitions.iter().filter(|_| on_partitions(site)) {
            let block = Site::block([&p[0], &p[1]], across, [&z[0], &z[1]]);
            out.claims.push(Claim::new("wall-beam", Rank::WALL_BEAM, &concrete, Stage::WallsUpper, block));
            for (x, side) in [(&p[0], Side::Low), (&p[1], Side::High)] {
                let block = Site::block([x, x], across, [&z[0], &z[1]]);
                let look = (Axis::X, side);
                out.faces.push(Face::new(
                    &form,
                    Rank::WALL_BEAM,
                    Carrier::Formed,
                    look,
                    Stage::WallsUpper,
                    block,
                ));
            }
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let depth = &site.wall_beams;
        if depth.is_zero() {
            return;
        }
        let [concrete, form] = specs(site);
        band(&concrete, &form, [site.masonry_top.clone(), site.cover_bottom.clone()])
            .measure(site, book, depth);
        let n = i64::try_from(site.partitions.len()).unwrap_or(0);
        if on_partitions(site) && n > 0 {
            let s = Stage::WallsUpper;
            book.line(
                &concrete,
                s,
                Phrase::new("on-partitions"),
                &[count(n)],
                &[&site.width, &site.partition, depth],
            );
            book.line(&form, s, Phrase::new("on-partitions"), &[count(2 * n)], &[&site.width, depth]);
        }
    }

    fn reinforce(&self, site: &Site<'_>, bench: &mut Bench<'_>) {
        if site.wall_beams.is_zero() {
            return;
        }
        let (part, order, stage) = ("steel.wall_beams", Order::WallBeams, Stage::WallsUpper);
        let words = [
            "bars-wall-beam-sides",
            "bars-wall-beam-ends",
            "bars-wall-beam-links-sides",
            "bars-wall-beam-links-ends",
        ];
        let (name, depth) = (String::new(), site.wall_beams.clone());
        let (z, title) = ([site.masonry_top.clone(), site.cover_bottom.clone()], "draw-wall-beam");
        Round { part, words, name, depth: depth.clone(), z: z.clone(), title, order, stage }.reinforce(bench);
        if let Some(first) = site.partitions.first().filter(|_| on_partitions(site)) {
            let words = ["bars-wall-beam-across", "bars-wall-beam-links-across"];
            // They run through to the outer faces of the side walls.
            let (length, links) = (site.outer_width(), site.width.clone());
            let (beams, section) = (site.partitions.len(), [site.partition.clone(), depth]);
            let (title, run) = (Phrase::new("draw-partition-beam"), [Len::ZERO, site.width.clone()]);
            let place = Place { title, axis: 1, run, rect: [first.clone(), z] };
            Straight { part, words, beams, length, links, section, place, order, stage, of_links: None }
                .reinforce(bench);
        }
    }
}

fn band<'a>(concrete: &'a Spec, form: &'a Spec, z: [Len; 2]) -> Band<'a> {
    Band { part: "wall-beam", rank: Rank::WALL_BEAM, concrete, form, stage: Stage::WallsUpper, z }
}
