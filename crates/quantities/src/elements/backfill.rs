//! Earth put back round the tank and over a buried cover, and earth taken away.
//!
//! Backfill is what the pit holds less what stands in it: the ring over the base's projection, what lies over a buried
//! cover, and (apart) the working space. Disposal is the room taken below ground, from the parts' own
//! dimensions: so that the balance of the earth is a check.

use tankwright_geometry::{Len, Ratio};

use crate::elements::{Element, base, manhole_shafts, pit};
use crate::job::Field;
use crate::ledger::{Book, SetOut, Spec, count};
use crate::model::Model;
use crate::site::{Layers, Site};
use crate::stage::Stage;
use crate::strips::{Slice, ring_lines, strips};
use crate::words::Phrase;
use crate::works::earthwork;

/// The element.
pub static ELEMENT: Backfill = Backfill;

/// Backfill and disposal.
#[derive(Debug)]
pub struct Backfill;

/// Disposal, carted or spread as the job says.
#[must_use]
pub fn disposal(site: &Site<'_>) -> Spec {
    let how = site.job.text("ground.surplus");
    let key = if how == "spread" { "disposal-spread" } else { "disposal-cart" };
    Spec { spec: how.to_owned(), ..Spec::plain(&earthwork::DISPOSAL).worded(key, &[]) }
}

fn space_spec() -> Spec {
    let spec = Spec::plain(&earthwork::BACKFILL).worded("backfill-space", &[]);
    Spec { spec: "working-space".to_owned(), ..spec }
}

/// Level to which the tank stands in the ground.
fn top_in_ground(site: &Site<'_>) -> Len {
    site.judge.min(&site.cover_top, &Len::ZERO).clone()
}

/// The tank from its floor up to the ground (or to its cover below it), over the outer plan.
fn tank_lines(site: &Site<'_>, book: &mut Book<'_>, spec: &Spec, stage: Stage) {
    // A pit down to the floor, less the depth of the cover below ground.
    let top = top_in_ground(site);
    let slice = Slice { from: -&top, to: None };
    let breadth = site.outer_width();
    for s in strips(site, &site.outer_x(), &Len::ZERO, &slice) {
        let note = Phrase::with("tank", &[crate::words::look_up(s.note)]);
        book.line(spec, stage, note, &s.times, &[&s.run, &breadth, &s.depth]);
    }
}

fn layer_lines(site: &Site<'_>, book: &mut Book<'_>, spec: &Spec, stage: Stage) {
    let [length, breadth] = base::size(site);
    let Layers { base, blinding, hardcore } = &site.layers;
    for (key, thickness) in [("base", base), ("blinding", blinding), ("hardcore", hardcore)] {
        let note = Phrase::with("layer", &[crate::words::look_up(key)]);
        book.line(spec, stage, note, &[count(1)], &[&length, &breadth, thickness]);
    }
}

impl Element for Backfill {
    fn fields(&self) -> &'static [Field] {
        &[]
    }

    fn set_out(&self, _: &Site<'_>, _: &mut SetOut) {}

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let back = Spec::plain(&earthwork::BACKFILL);
        let s = Stage::Finish;
        let over = -&top_in_ground(site);
        if site.open {
            let plan = [site.outer_x(), site.outer_y()];
            ring_lines(book, site, (&back, s), &plan, &site.projection, &Len::ZERO, &Slice::whole());
        }
        let dims = [&site.outer_length(), &site.outer_width(), &over];
        book.line(&back, s, Phrase::new("over-cover"), &[count(1)], &dims);
        manhole_shafts::in_ground_lines(site, book, &back, s, -1);
        if pit::has_space(site) {
            pit::space_lines(site, book, &space_spec(), s, &Slice::whole());
            if let Some(source) = &site.profile.working_space_in_rate {
                book.keep_in_rate(&space_spec(), s, Phrase::new("in-rate-of-dig"), source.to_string());
            }
        }
        let away = disposal(site);
        let s = Stage::Dig;
        tank_lines(site, book, &away, s);
        layer_lines(site, book, &away, s);
        manhole_shafts::in_ground_lines(site, book, &away, s, 1);
    }

    fn prove(&self, site: &Site<'_>, model: &Model, book: &mut Book<'_>) {
        let tenths = Ratio::int(1_000_000_000_000);
        let stands = model.stands() * tenths;
        let net = pit::net_volume(site, &Slice::whole());
        book.prove(&Spec::plain(&earthwork::BACKFILL), Stage::Finish, net - &stands);
        if pit::has_space(site) {
            book.prove(&space_spec(), Stage::Finish, pit::space_volume(site, &Slice::whole()));
        }
        book.prove(&disposal(site), Stage::Dig, stands);
    }
}
