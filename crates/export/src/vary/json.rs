//! The account as JSON: fields are only ever added. Quantities and money are decimal strings.

use rust_decimal::Decimal;
use tankwright_account::vary::report::{Account, Basis, BuildLine, Change, Entry, Paper, Settled, StarFrom};
use tankwright_quantities::amount_words::amount_words;
use tankwright_quantities::decimal;

use super::fields::{
    BalanceOut, ChangeOut, ComparedOut, DayworkOut, EntryOut, KeyOut, LineOut, OnCostOut, Out, PaperOut,
    PaymentOut, ReceiptOut, SettledOut, StarOut, Statement,
};
use super::from;
use crate::json::{ended, plain};

struct Money(u32);

impl Money {
    fn of(&self, value: Decimal) -> String {
        decimal::shown(value, self.0)
    }

    fn change<'a>(&self, c: &'a Change) -> ChangeOut<'a> {
        ChangeOut {
            id: &c.id,
            date: &c.date,
            by: &c.by,
            title: &c.title,
            reason: &c.reason,
            note: &c.note,
            photo: &c.photo,
            set: c.keys.iter().map(|(key, was, is)| KeyOut { key, was, is }).collect(),
            omissions: c.omissions.iter().map(|e| self.entry(e)).collect(),
            additions: c.additions.iter().map(|e| self.entry(e)).collect(),
            omitted: self.of(c.omitted),
            added: self.of(c.added),
            net: self.of(c.net()),
            worth: self.of(c.worth),
        }
    }

    fn entry<'a>(&self, e: &'a Entry) -> EntryOut<'a> {
        EntryOut {
            reference: &e.reference,
            contract_ref: &e.row,
            code: &e.code,
            description: &e.says,
            unit: &e.unit,
            quantity: e.worked.map(|(q, _)| plain(q)),
            rate: e.worked.map(|(_, r)| plain(r)),
            amount: self.of(e.amount),
            basis: match e.basis {
                Basis::Contract => "contract",
                Basis::Star(_) => "star",
                Basis::Amount => "amount",
            },
            star: match e.basis {
                Basis::Star(n) => Some(n),
                Basis::Contract | Basis::Amount => None,
            },
            extra_over: e.extra_over,
            preliminary: e.preliminary,
        }
    }

    fn settled<'a>(&self, list: &'a [Settled]) -> Vec<SettledOut<'a>> {
        let one = |s: &'a Settled| SettledOut {
            title: &s.title,
            unit: s.worked.as_ref().map(|w| w.0.as_str()),
            quantity: s.worked.as_ref().map(|w| plain(w.1)),
            measured: s.worked.as_ref().map(|w| plain(w.2)),
            rate: s.worked.as_ref().map(|w| plain(w.3)),
            percent: s.percent.map(plain),
            defined: s.defined,
            contract: self.of(s.omit),
            actual: s.add.map(|a| self.of(a)),
            difference: self.of(s.net()),
            worth: self.of(s.worth),
            date: &s.date,
            by: &s.by,
            note: &s.note,
            photo: &s.photo,
        };
        list.iter().map(one).collect()
    }
}

fn paper(p: &Paper) -> PaperOut<'_> {
    PaperOut { title: &p.title, date: &p.date, file: &p.file }
}

fn line(l: &BuildLine) -> LineOut<'_> {
    LineOut {
        title: &l.title,
        unit: l.worked.as_ref().map(|w| w.0.as_str()),
        quantity: l.worked.as_ref().map(|w| plain(w.1)),
        rate: l.worked.as_ref().map(|w| plain(w.2)),
        percent: l.percent.map(plain),
        amount: plain(l.amount),
    }
}

/// The account as JSON.
#[must_use]
pub fn json(a: &Account) -> String {
    let (m, s, p) = (Money(a.currency.digits), &a.sums, &a.payment);
    let (instructed, open): (Vec<_>, Vec<_>) = a.changes.iter().partition(|c| !c.id.is_empty());
    crate::json::write(&Out {
        format: 1,
        contract: paper(&a.contract),
        now: paper(&a.now),
        date: &a.date,
        profile: &a.profile.0,
        currency: &a.currency.code,
        price_list: &a.list,
        statement: Statement {
            contract_sum: m.of(s.contract),
            omissions: m.of(Decimal::ZERO - s.omissions),
            additions: m.of(s.additions),
            dayworks: m.of(s.dayworks),
            provisional: m.of(s.remeasured),
            prime_cost: m.of(s.prime_cost),
            provisional_sums: m.of(s.provisional_sums),
            on_costs: m.of(s.on_costs),
            left_out: m.of(s.left_out),
            adjusted_sum: m.of(s.adjusted),
            adjusted_sum_in_words: amount_words(s.adjusted, &a.currency),
        },
        payment: PaymentOut {
            retention_percent: p.percent.map(plain),
            retention_limit: p.limit.map(plain),
            retention: m.of(p.retention),
            retention_when_built: m.of(p.when_built),
            retention_days: p.days,
            paid: p
                .receipts
                .iter()
                .map(|(date, amount, note)| ReceiptOut { date, amount: m.of(*amount), note })
                .collect(),
            paid_total: m.of(p.paid),
            balance: m.of(p.due),
        },
        variations: instructed.iter().map(|c| m.change(c)).collect(),
        not_instructed: open.first().map(|c| m.change(c)),
        quantities: a
            .compared
            .iter()
            .map(|c| ComparedOut {
                contract_ref: &c.row,
                code: &c.code,
                description: &c.says,
                unit: &c.unit,
                contract: c.contract.map(plain),
                built: c.built.map(plain),
                difference: plain(c.built.unwrap_or_default() - c.contract.unwrap_or_default()),
            })
            .collect(),
        star_rates: a
            .stars
            .iter()
            .map(|s| StarOut {
                code: &s.code,
                description: &s.says,
                unit: &s.unit,
                rate: plain(s.rate),
                from: match s.from {
                    StarFrom::List(_) => "list",
                    StarFrom::Given(..) => "given",
                },
                source: from(s),
                working: &s.working,
                build_up: s.lines.iter().map(line).collect(),
                built: s.built.map(plain),
            })
            .collect(),
        provisional: m.settled(&a.remeasured),
        prime_cost: m.settled(&a.prime_cost),
        provisional_sums: m.settled(&a.provisional_sums),
        dayworks: a
            .dayworks
            .iter()
            .map(|d| DayworkOut {
                date: &d.date,
                by: &d.by,
                title: &d.title,
                quantity: plain(d.quantity),
                unit: &d.unit,
                rate: plain(d.rate),
                source: d.from.as_ref().map(crate::text::rate_source),
                cost: m.of(d.cost),
                percent: d.percent.map(plain),
                amount: m.of(d.amount),
                worth: m.of(d.worth),
                note: &d.note,
            })
            .collect(),
        additions: a
            .on_costs
            .iter()
            .map(|o| OnCostOut {
                title: &o.title,
                percent: o.percent.map(plain),
                contract: m.of(o.contract),
                now: m.of(o.now),
                difference: m.of(o.now - o.contract),
                left_out: o.left_out,
            })
            .collect(),
        balances: a
            .balances
            .iter()
            .map(|b| BalanceOut {
                name: b.name,
                says: b.says.to_string(),
                left: ended(b.left),
                right: ended(b.right),
                difference: ended(b.left - b.right),
                holds: b.holds(),
            })
            .collect(),
        notes: a.notes.iter().map(ToString::to_string).collect(),
    })
}
