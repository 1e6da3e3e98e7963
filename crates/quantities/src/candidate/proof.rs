//! The balances of a candidate: exact sums of its forms against the model and the second formulas.

use std::rc::Rc;

use tankwright_geometry::Ratio;

use crate::balances;
use crate::candidate::family::Made;
use crate::ledger::{Book, Group, Part};
use crate::model::{self, Model, Shares};
use crate::plan::Plan;
use crate::site::Site;
use crate::works::{Earth, Proof};

/// Which key of a plan proves which item of a form.
#[derive(Debug)]
pub(super) struct Pairs {
    plan: Rc<Plan>,
    /// Of each item, where the model proves it: its key, if there is one.
    items: Vec<Option<usize>>,
    /// Volumes and faces that no item measures: they must be nothing.
    stray: [Vec<usize>; 2],
}

const CUBIC: i128 = 1_000_000_000_000;
const SQUARE: i128 = 100_000_000;

impl Made {
    fn pair(&mut self, model: &Model) {
        if self.pairs.as_ref().is_some_and(|p| Rc::ptr_eq(&p.plan, &model.plan)) {
            return;
        }
        let keys = &model.plan.keys;
        let heads = &self.form.items;
        let key = |spec: &str, head: &crate::ledger::Head| {
            keys.binary_search_by(|k| k.parts().cmp(&(head.spec.work.id, spec, head.stage))).ok()
        };
        let items = heads.iter().map(|h| match h.spec.work.proof {
            Proof::Cells => key(&h.spec.spec, h),
            Proof::Faces(_) => key(model::face_spec(&h.spec), h),
            Proof::Formula | Proof::Listed => None,
        });
        let measured = |k: &crate::plan::Key, faces: bool| {
            heads.iter().any(|h| {
                let is_face = matches!(h.spec.work.proof, Proof::Faces(_));
                h.spec.work.id == k.work
                    && h.stage == k.stage
                    && faces == is_face
                    && (faces || h.spec.spec == k.spec)
            })
        };
        let stray = [false, true].map(|faces| {
            let stray = keys.iter().enumerate().filter(|(_, k)| !measured(k, faces));
            stray.map(|(i, _)| i).collect()
        });
        self.pairs = Some(Pairs { plan: model.plan.clone(), items: items.collect(), stray });
    }

    /// Do all balances of measurement close?
    pub(super) fn proved(&mut self, site: &Site<'_>, model: &Model, book: &mut Book<'_>) -> bool {
        self.pair(model);
        let Some(pairs) = &self.pairs else { return false };
        let mut formulas = book.proofs();
        let mut earth = [Ratio::ZERO; 3];
        for (i, head) in self.form.items.iter().enumerate() {
            let work = head.spec.work;
            let mut own = None;
            let closes = match work.proof {
                Proof::Listed => true,
                Proof::Cells | Proof::Faces(_) => {
                    let cells = work.proof == Proof::Cells;
                    let (sums, per, unit) = if cells {
                        (&model.volumes, model.cubic, CUBIC)
                    } else {
                        (&model.areas, model.square, SQUARE)
                    };
                    let found = pairs.items.get(i).copied().flatten().and_then(|k| sums.get(k)).copied();
                    let found = found.unwrap_or([Some(0); 3]);
                    self.agrees(i, found, per)
                        .unwrap_or_else(|| self.exact(i) == model::metres(found, per, unit))
                }
                Proof::Formula => {
                    let at = formulas.iter().position(|f| f.is_of(&head.spec, head.stage));
                    let proved = at.map_or(Ratio::ZERO, |at| formulas.swap_remove(at).amount.value());
                    let exact = self.exact(i);
                    own = Some(exact);
                    exact.is_known() && exact == proved
                }
            };
            if !closes {
                return false;
            }
            let role = match work.earth {
                Earth::None => continue,
                Earth::Dug => 0,
                Earth::PutBack => 1,
                Earth::Away => 2,
            };
            earth[role] = earth[role] + own.unwrap_or_else(|| self.exact(i));
        }
        let nothing = |sums: &[Shares], stray: &[usize]| {
            stray.iter().all(|k| sums.get(*k).is_some_and(|s| s.iter().all(|n| *n == Some(0))))
        };
        let [dug, back, away] = earth;
        formulas.iter().all(|f| f.amount.value().is_zero())
            && nothing(&model.volumes, &pairs.stray[0])
            && nothing(&model.areas, &pairs.stray[1])
            && dug.is_known()
            && dug == back + away
            && model.unclaimed.is_zero()
            && model.inside().is_known()
            && balances::prism(site).value() == model.inside()
    }

    fn groups(&self, item: usize) -> impl Iterator<Item = (&Group, &Vec<Part>)> {
        let of = self.groups.get(item).cloned().unwrap_or_default();
        let groups = self.form.groups.get(of.clone()).unwrap_or_default();
        groups.iter().zip(self.figures.exact.get(of).unwrap_or_default())
    }

    /// The exact sum of an item, in its work's own unit.
    fn exact(&self, item: usize) -> Ratio {
        self.groups(item).flat_map(|(g, parts)| parts.iter().map(|p| Ratio::of(p.n, p.d) * g.exact)).sum()
    }

    /// Is it the model's sum? Both in whole numbers; `None` where that does not say.
    fn agrees(&self, item: usize, [whole, round, corners]: Shares, per: i128) -> Option<bool> {
        if (round, corners) != (Some(0), Some(0)) {
            return None;
        }
        let (mut sum, mut scale) = (Part { n: 0, d: 1 }, 1);
        for (group, parts) in self.groups(item) {
            let plain = group.plain?;
            if scale != 1 && scale != plain {
                return None;
            }
            scale = plain;
            for part in parts {
                sum = sum.plus(*part)?;
            }
        }
        Some(sum.n.checked_mul(per)? == whole?.checked_mul(sum.d)?.checked_mul(scale)?)
    }
}
