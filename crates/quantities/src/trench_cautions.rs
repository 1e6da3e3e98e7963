//! Cautions of trenches, drains and inspection chambers.

use tankwright_geometry::{Len, Ratio};

use crate::cautions::{DEEP, NO_SOURCE, OURS, UNSUPPORTED, add, metres};
use crate::elements::{drain, inspection_chambers, pipe_lines, pipes};
use crate::estimate::Caution;
use crate::site::Site;
use crate::words::Phrase;

/// Code and meaning, in order.
pub const CODES: &[(&str, &str)] = &[
    ("C060", "a drainage trench deeper than 1.2 m without support"),
    ("C061", "the dig of an inspection chamber deeper than 1.2 m without support"),
    ("C062", "a pipe trench less deep than its pipes lie"),
    ("C063", "a drain: that it takes the water is not proved"),
];

/// All of them, in the order of the work.
pub(crate) fn trenches(site: &Site<'_>, found: &mut Vec<Caution>) {
    let deep = |len: &Len| len.value() > Ratio::from(UNSUPPORTED);
    let mut say = |code, key, len: &Len, path: &str| {
        add(site, found, code, Phrase::with(key, &[&metres(len)]), DEEP, path);
    };
    if let Some(depth) = pipes::deepest(site).filter(deep) {
        let own = site.job.has("tank.pipes.trench.depth");
        let path = if own { "tank.pipes.trench.depth" } else { "tank.pipes.trench" };
        say("C009", "caution-deep-trench", &depth, path);
    }
    // Of several that are too deep the deepest is named.
    let worst =
        |digs: Vec<(String, Len)>| digs.into_iter().filter(|(_, d)| deep(d)).max_by_key(|(_, d)| d.value());
    if let Some((path, depth)) = worst(pipe_lines::digs(site)) {
        say("C009", "caution-deep-trench", &depth, &path);
    }
    if site.job.text("ground.support") == "none" {
        let drains = drain::trenches(site).into_iter().map(|t| (t.path, t.depth)).collect();
        if let Some((path, depth)) = worst(drains) {
            say("C060", "caution-deep-drain", &depth, &path);
        }
        if let Some((path, depth)) = worst(inspection_chambers::digs(site)) {
            say("C061", "caution-deep-chamber", &depth, &path);
        }
    }
    if let Some(needs) = pipes::too_shallow(site) {
        let mm =
            crate::decimal::rounded(needs / Ratio::int(10), 0).map(|d| d.to_string()).unwrap_or_default();
        let path = "tank.pipes.trench.depth";
        add(site, found, "C062", Phrase::with("caution-shallow-trench", &[&mm]), OURS, path);
    }
    if site.job.has("drain") {
        let source = format!("{OURS}; distances: {NO_SOURCE}");
        add(site, found, "C063", Phrase::new("caution-drain"), &source, "drain");
    }
}
