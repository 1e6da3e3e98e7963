//! The four numbers of the earth: billed, dug in fact, put back, carted.

use tankwright_geometry::Ratio;

use crate::balances;
use crate::decimal;
use crate::elements::pit;
use crate::estimate::Earth;
use crate::orders::packs;
use crate::sheet::Sheet;
use crate::site::Site;
use crate::works::Earth as Role;

/// The four numbers of a site; `None` when a number grew beyond what can be held.
pub(crate) fn earth(site: &Site<'_>, sheet: &Sheet) -> Option<Earth> {
    let places = 12;
    let dug = sheet.items.iter().filter(|i| i.work.earth == Role::Dug);
    let billed: Ratio = dug.clone().filter(|i| !i.unbilled).map(|i| decimal::ratio(i.quantity)).sum();
    let over_break = if site.open { Ratio::ZERO } else { site.job.len("tank.pit.over_break").value() };
    let over = pit::tight_sides(site) * over_break / Ratio::int(1_000_000_000_000);
    let actual = balances::earth_sum(sheet, Role::Dug) + over;
    let back = balances::earth_sum(sheet, Role::PutBack);
    let bank = actual - back;
    let soil = site.stock.soils.get(site.job.text("ground.soil"));
    let loose = bank * soil.map_or(Ratio::ONE, |s| s.swell.0);
    let at = |r| decimal::rounded(r, places);
    let load = packs::load_of_earth(site.job).filter(|_| site.job.text("ground.surplus") == "cart");
    let loads = load.and_then(|size| {
        let n = Ratio::ZERO - (Ratio::ZERO - loose / decimal::ratio(size)).floor();
        Some((u64::try_from(n.numer()).ok()?, size))
    });
    Some(Earth {
        dug_net: at(billed)?,
        dug_actual: at(actual)?,
        put_back: at(back)?,
        carted_bank: at(bank)?,
        carted_loose: at(loose)?,
        loads,
    })
}
