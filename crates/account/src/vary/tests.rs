//! The account in figures, each written as the sum that makes it; what is refused; a proof that sees what is wrong.
#![expect(clippy::panic, reason = "a test stops where it fails")]

use super::balance::{Proof, balances};
use super::report::{Basis, Entry};
use super::*;
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job;
use tankwright_quantities::rates::{builtin, builtin_prices, read_prices};

const TANK: &str = "format = 1\n[job]\ntitle = \"Small\"\ndate = \"2026-11-25\"\ncurrency = \"KES\"\n[tank]\n\
    chambers = [\"1.60 m\", \"0.80 m\"]\nwidth = \"1.20 m\"\nheight = \"1.50 m\"\n";

const MONEY: &str = "[[preliminaries]]\ntitle = \"Tools\"\namount = 18000\n[[preliminaries]]\ntitle = \"Watchman\"\n\
    unit = \"week\"\nquantity = 3\nrate = 4000\n[[provisional]]\ntitle = \"Rock\"\nunit = \"m3\"\nquantity = \"1.0\"\n\
    rate = \"3200.50\"\n[[provisional]]\ntitle = \"Pumping\"\namount = 9000\n[[prime_cost]]\ntitle = \"Locks\"\namount = 6000\n\
    percent = \"7.5\"\n[[provisional_sum]]\ntitle = \"Old drain\"\namount = 25000\ndefined = true\n[additions]\nsay = 500\n\
    list = [{ title = \"Contingency\", percent = 5 }, { title = \"Permit\", amount = \"1234.50\" },\n\
    { title = \"Tax\", percent = 16, on = [\"measured\", \"Permit\"] }]\n";

/// A figure put out, and the balances that see it.
type Off<'a> = (&'a dyn Fn(&mut Account), &'a [&'a str]);

fn d(text: &str) -> Decimal {
    text.parse().unwrap_or_default()
}

fn list() -> PriceList {
    let (name, text) = builtin_prices("demo-kes").unwrap_or_default();
    let none =
        PriceList { name: String::new(), currency: String::new(), rows: Vec::new(), cautions: Vec::new() };
    read_prices(&name, text).unwrap_or(none)
}

fn read(file: &str, text: &str) -> Job {
    let (job, told) = job::read(file, text, &flow::job_tables());
    assert_eq!(told, [], "{text}");
    job
}

fn change(id: &str, more: &str) -> String {
    format!("[[variation]]\nid = \"{id}\"\ndate = \"2026-12-03\"\nby = \"owner\"\nreason = \"why\"\n{more}\n")
}

/// An account, with the contract it is of.
fn run(of: &str, now: &str) -> Result<(Account, Estimate), Failure> {
    on(of, now, "2027-01-20")
}

fn on(of: &str, now: &str, date: &str) -> Result<(Account, Estimate), Failure> {
    let (stock, list) = (builtin().0, list());
    let (of, job) = (read("job.toml", of), read("now.toml", now));
    let estimate = flow::estimate(&of, &stock, Some(&list), &Settings::default())?;
    let contract = Contract { job: &of, estimate: &estimate, list: &list };
    let account = vary(contract, Now { job: &job, text: now, list: None, date }, &stock)?;
    Ok((account, estimate))
}

fn good(of: &str, now: &str) -> (Account, Estimate) {
    match run(of, now) {
        Ok(both) => both,
        Err(failure) => {
            assert_eq!(format!("{failure:?}"), "", "an account is wanted");
            run(TANK, TANK).unwrap_or_else(|_| unreachable!("the plain tank has an account"))
        }
    }
}

/// Codes of a refusal.
fn refused(of: &str, now: &str) -> Vec<&'static str> {
    match run(of, now) {
        Err(Failure::Job(told)) => {
            assert!(told.iter().all(|p| p.place.is_some() && !p.label.is_empty()), "{told:?}");
            told.iter().map(|p| p.code).collect()
        }
        other => vec![if other.is_ok() { "an account" } else { "another failure" }],
    }
}

/// The contract's rate of a code.
fn rate(e: &Estimate, code: &str) -> Decimal {
    let rows = e.bill.sections.iter().flat_map(|s| &s.rows);
    let found =
        rows.filter(|r| tankwright_quantities::bill::code(r) == code).filter_map(|r| r.rate.clone()).next();
    found.map(|(rate, _)| rate).unwrap_or_default()
}

#[test]
fn sums_that_are_settled_and_what_the_contract_adds() {
    let of = format!("{TANK}{MONEY}");
    let now = format!(
        "{}{}",
        of.replace("title = \"Locks\"\n", "title = \"Locks\"\nactual = \"7450.25\"\n")
            .replace("title = \"Old drain\"\n", "title = \"Old drain\"\nspent = 21000\n"),
        "[[remeasured]]\ntitle = \"rock\"\nquantity = \"2.35\"\n[[remeasured]]\ntitle = \"Pumping\"\namount = 0\n\
         [[daywork]]\ndate = \"2026-12-19\"\nby = \"b\"\ntitle = \"Timber moved\"\nquantity = \"1.5\"\ncode = \"labourer\"\n\
         percent = 20\n[[daywork]]\ndate = \"2026-12-01\"\nby = \"b\"\ntitle = \"Pump\"\nquantity = 2\nunit = \"day\"\nrate = 2400\n"
    );
    let (a, e) = good(&of, &now);
    let s = &a.sums;
    // 2.35 x 3 200.50 less 1.0 x 3 200.50, and the pumping that was not needed
    assert_eq!(s.remeasured, d("7521.18") - d("3200.50") - d("9000"));
    // 7 450.25 + 7.5 % = 558.77 less 6 000 + 450
    assert_eq!(s.prime_cost, d("7450.25") + d("558.77") - d("6450"));
    assert_eq!(s.provisional_sums, d("21000") - d("25000"));
    // 1.5 days of the list's labourer with 20 %, 2 days of a pump; the older one first
    let labourer = d("1.5") * d("712.50");
    assert_eq!(labourer, d("1068.75"));
    assert_eq!(a.dayworks.iter().map(|d| d.amount).collect::<Vec<_>>(), [d("4800"), labourer + d("213.75")]);
    // 5 % on everything that changed; the permit and the rounding stay; the tax is on works that did not change
    let beside = s.remeasured + s.prime_cost + s.provisional_sums + s.dayworks;
    let before = e.bill.additions[0].base;
    let contingency = |base: Decimal| tankwright_quantities::decimal::round(base * d("0.05"), 2);
    assert_eq!(s.on_costs, contingency(before + beside) - contingency(before));
    assert_eq!(Some(s.contract), e.bill.total);
    assert_eq!(s.adjusted, s.contract + beside + s.on_costs);
    assert_eq!(a.on_costs.iter().map(|o| o.now == o.contract).collect::<Vec<_>>(), [false, true, true, true]);
    assert_eq!(a.cautions.iter().map(|p| p.code).collect::<Vec<_>>(), ["J239"]);
    let worth = a.remeasured.iter().chain(&a.prime_cost).chain(&a.provisional_sums).map(|s| s.worth);
    assert_eq!(worth.chain(a.dayworks.iter().map(|d| d.worth)).sum::<Decimal>(), s.adjusted - s.contract);
}

#[test]
fn what_is_open_stands_as_in_the_contract() {
    let of = format!("{TANK}{MONEY}");
    let (a, e) = good(&of, &of);
    assert_eq!(Some(a.sums.adjusted), e.bill.total);
    let all = [&a.remeasured, &a.prime_cost, &a.provisional_sums];
    assert!(all.iter().all(|l| l.iter().all(|s| s.add.is_none() && s.net().is_zero())));
    assert!(a.changes.is_empty() && a.compared.is_empty());
}

#[test]
fn an_addition_is_left_out_and_what_is_taken_on_it_follows() {
    let of = format!("{TANK}{MONEY}").replace("\"Permit\"] }", "\"Contingency\", \"Permit\"] }");
    let (a, e) = good(&of, &format!("{of}[account]\nleave_out = [\"Contingency\"]\n"));
    let [contingency, permit, tax, rounding] = a.on_costs.as_slice() else { panic!("{:?}", a.on_costs) };
    assert!(contingency.left_out && contingency.now.is_zero() && rounding.rounding);
    assert_eq!((permit.now, rounding.now), (permit.contract, rounding.contract));
    let measured = e.bill.measured.unwrap_or_default();
    assert_eq!(tax.now, tankwright_quantities::decimal::round((measured + d("1234.50")) * d("0.16"), 2));
    assert_eq!(a.sums.left_out, -contingency.contract + tax.now - tax.contract);
    assert_eq!(a.sums.adjusted, a.sums.contract + a.sums.left_out);
}

#[test]
fn items_that_a_variation_states() {
    let now = format!(
        "{TANK}{}{}{}{}{}",
        change("V1", "item = \"excavation-pit/1.5-3.0\"\nquantity = \"1.25\""),
        change("V2", "item = \"a1\"\nquantity = 2\nomit = true"),
        change(
            "V3",
            "title = \"Old wall\"\nunit = \"m3\"\nquantity = \"0.4\"\nbuild_up = [\n{ title = \"Labourer\", quantity = \"1.8\", \
                      unit = \"day\", rate = 1100 }, { title = \"Profit\", percent = \"12.5\" }]\nworking = \"by hand\""
        ),
        change("V4", "title = \"Letter of the engineer\"\namount = \"1500.25\""),
        change("V5", "item = \"keep-dry\"\nunit = \"item\"\nquantity = 1"),
    );
    let (a, e) = good(TANK, &now);
    let of = |n: usize| {
        a.changes[n].omissions.iter().chain(&a.changes[n].additions).cloned().collect::<Vec<Entry>>()
    };
    let figures = |n: usize| of(n)[0].worked;
    assert_eq!(figures(0), Some((d("1.25"), rate(&e, "excavation-pit/1.5-3.0"))));
    assert_eq!((of(0)[0].basis, of(0)[0].row.as_str()), (Basis::Contract, "A2"));
    assert_eq!(
        (a.changes[1].omitted, a.changes[1].added),
        (d("2") * rate(&e, "excavation-pit/0-1.5"), Decimal::ZERO)
    );
    // 1.8 x 1 100 = 1 980, with 12.5 % of it
    let built = d("1980") + d("247.50");
    assert_eq!(
        (a.stars[0].built, a.stars[0].rate, a.stars[0].working.as_str()),
        (Some(built), built, "by hand")
    );
    assert_eq!(a.changes[2].added, d("0.4") * built);
    assert_eq!((of(3)[0].amount, of(3)[0].basis), (d("1500.25"), Basis::Amount));
    // Not in the contract, and its list has a price
    let list = list();
    let listed = list.find("keep-dry", "", "item");
    let tankwright_quantities::rates::Lookup::Found { row, .. } = listed else { panic!("{listed:?}") };
    assert_eq!((figures(4), of(4)[0].basis), (row.rate.map(|r| (Decimal::ONE, r)), Basis::Star(1)));
    assert_eq!(a.compared.iter().map(|c| c.row.as_str()).collect::<Vec<_>>(), ["A1", "A2", "", ""]);
}

#[test]
fn preliminaries_differ_only_where_the_account_says_so() {
    let of = format!("{TANK}{MONEY}");
    // The account may leave them out.
    let bare = format!("{TANK}{}", change("V1", "set = { \"tank.height\" = 1600 }"));
    assert!(good(&of, &bare).0.changes[0].omissions.iter().all(|e| !e.preliminary));
    let longer = of.replace("quantity = 3\n", "quantity = 5\n");
    let (a, _) = good(&of, &longer);
    assert_eq!((a.changes.len(), a.changes[0].id.as_str()), (1, ""));
    assert_eq!(a.changes[0].net(), d("2") * d("4000"));
    let by_v1 = format!("{of}{}", change("V1", "set = { \"preliminaries[1].quantity\" = 5 }"));
    let (b, _) = good(&of, &by_v1);
    assert_eq!((b.changes[0].id.as_str(), b.changes[0].net()), ("V1", a.changes[0].net()));
    assert_eq!(b.sums.adjusted, a.sums.adjusted);
    let covered = format!("{longer}{}", change("V1", "covers = [\"preliminaries\"]"));
    assert_eq!(good(&of, &covered).0.changes[0].id, "V1");
}

#[test]
fn a_title_beside_keys_names_the_variation() {
    let of = format!("{TANK}{MONEY}");
    let now = format!("{of}{}", change("V1", "title = \"Deeper\"\nset = { \"tank.height\" = \"1.60 m\" }"));
    let (a, _) = good(&of, &now);
    let (first, reason) = (&a.changes[0], change("V1", ""));
    assert_eq!((first.title.as_str(), first.additions.iter().any(|e| e.stated)), ("Deeper", false));
    assert!(
        first.says().starts_with("Deeper: ") && reason.contains(first.says().trim_start_matches("Deeper: "))
    );
    assert!(!first.additions.is_empty());
}

#[test]
fn differences_belong_to_who_covers_them_and_the_rest_is_not_instructed() {
    let drawn = TANK.replace("1.50 m", "1.80 m");
    let now = format!(
        "{drawn}{}{}",
        change("V1", "covers = [\"brickwork-wall\", \"brickwork-partition\"]"),
        change("V2", "covers = [\"excavation-pit/1.5-3.0\"]\nset = { \"tank.width\" = \"1.30 m\" }")
    );
    let (a, _) = good(TANK, &now);
    let codes = |n: usize| {
        let works = a.changes[n].omissions.iter().filter_map(|e| e.code.split('/').next());
        works.map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(codes(0), ["brickwork-wall", "brickwork-partition"]);
    assert_eq!(codes(1)[0], "excavation-pit");
    assert_eq!(a.changes[2].id, "");
    assert!(codes(2).contains(&"disposal".to_owned()) && !codes(2).contains(&"brickwork-wall".to_owned()));
    // The same with "all": nothing is left over, and the sum is the same.
    let (b, _) = good(
        TANK,
        &now.replace("covers = [\"brickwork-wall\", \"brickwork-partition\"]", "covers = [\"all\"]"),
    );
    assert_eq!((b.changes.len(), b.sums.adjusted), (2, a.sums.adjusted));
}

#[test]
fn a_part_is_dropped_with_what_stands_in_it() {
    let pit = "[soak_pit]\ndiameter = \"1.60 m\"\ndepth = \"2.50 m\"\nfill_depth = \"2.00 m\"\ninvert = \"500 mm\"\n\
        [soak_pit.lining]\nthickness = \"110 mm\"\n[soak_pit.lining.foot]\nthickness = \"150 mm\"\nwidth = \"220 mm\"\n";
    let of = format!("{TANK}{pit}");
    let (a, _) = good(&of, &format!("{of}{}", change("V1", "drop = [\"soak_pit\"]")));
    let (b, _) = good(&of, TANK);
    assert_eq!(a.sums.adjusted, b.sums.adjusted);
    assert!(!a.built.contains("\n[soak_pit"), "{}", a.built);
    assert!(read("built.toml", &a.built).count_of("variation") == 0);
}

#[test]
fn labour_alone_gives_labour_rates_to_what_is_new() {
    let of = TANK.replace("\"KES\"\n", "\"KES\"\nsupply = \"labour-only\"\n");
    let now = format!(
        "{of}{}",
        change("V1", "set = { \"tank.cover.membrane\" = true, \"tank.height\" = \"1.60 m\" }")
    );
    let (a, e) = good(&of, &now);
    assert!(e.bill.client_buys.is_some());
    let list = list();
    let full = list.find("damp-proof-membrane", "", "m2");
    let tankwright_quantities::rates::Lookup::Found { row, .. } = full else { panic!("{full:?}") };
    assert!(a.stars[0].rate < row.rate.unwrap_or_default(), "{:?}", a.stars);
    // Rates of the contract hold, though materials in a row of another size would leave another rest.
    let walls =
        a.changes[0].additions.iter().find(|e| e.code.starts_with("brickwork-wall")).and_then(|e| e.worked);
    assert_eq!(walls.map(|w| w.1), Some(rate(&e, "brickwork-wall/220")));
    let item = format!("{of}{}", change("V1", "item = \"keep-dry\"\nunit = \"item\"\nquantity = 1"));
    assert_eq!(refused(&of, &item), ["J227"]);
}

#[test]
fn everything_that_is_wrong_is_told_together() {
    let of = format!("{TANK}{MONEY}");
    let now = format!(
        "{}{}{}{}{}{}{}{}",
        of.replace("amount = 25000", "amount = 26000"),
        change("V1", "set = { \"tank.height\" = \"1.60 m\", \"job.currency\" = \"UGX\" }\nomit = true"),
        change("V1", "set = { \"tank.width\" = \"wide\" }"),
        change("V3", "item = \"excavation-pit\"\nquantity = 1"),
        change("V4", "item = \"A1\"\nquantity = 1\nrate = 5"),
        change("V5", "covers = [\"walls\"]"),
        "[[remeasured]]\ntitle = \"Rock\"\namount = 5\n[[remeasured]]\ntitle = \"rock\"\nquantity = 1\n",
        "[[daywork]]\ndate = \"2026-12-03\"\nby = \"b\"\ntitle = \"t\"\nquantity = 1\ncode = \"mason\"\nunit = \"hour\"\n\
         [[star_rate]]\nitem = \"backfill\"\nunit = \"m3\"\n",
    );
    let mut codes = refused(&of, &now);
    codes.sort_unstable();
    let want =
        ["J221", "J222", "J223", "J224", "J225", "J226", "J226", "J228", "J228", "J229", "J230", "J231"];
    assert_eq!(codes, want);
}

#[test]
fn retention_and_payments_end_in_the_balance() {
    let of = format!("{TANK}[payments]\nretention = \"7.5\"\nretention_limit = 5\n");
    let paid = "[[paid]]\ndate = \"2026-12-20\"\namount = 1000\n[[paid]]\ndate = \"2026-12-01\"\namount = \"250.50\"\nnote = \"deposit\"\n";
    let (a, _) = good(&of, &format!("{of}{paid}"));
    let p = &a.payment;
    let five = tankwright_quantities::decimal::round(a.sums.adjusted * d("0.05"), 2);
    assert_eq!((p.retention, p.paid), (five, d("1250.50")));
    assert_eq!(p.due, a.sums.adjusted - five - d("1250.50"));
    assert_eq!(p.receipts.iter().map(|r| r.2.as_str()).collect::<Vec<_>>(), ["deposit", ""]);
}

#[test]
fn the_proof_sees_a_figure_that_is_off_by_a_cent() {
    let of = format!("{TANK}{MONEY}");
    let now = format!(
        "{of}{}{}[[remeasured]]\ntitle = \"Rock\"\nquantity = \"2.35\"\n",
        change("V1", "set = { \"tank.height\" = \"1.60 m\", \"tank.cover.membrane\" = true }"),
        change("V2", "item = \"A1\"\nquantity = 2\nomit = true")
    );
    let (stock, list) = (builtin().0, list());
    let (of, job) = (read("job.toml", &of), read("now.toml", &now));
    let Ok(estimate) = flow::estimate(&of, &stock, Some(&list), &Settings::default()) else {
        panic!("no contract")
    };
    let contract = Contract { job: &of, estimate: &estimate, list: &list };
    let account = Now { job: &job, text: &now, list: None, date: "2027-01-20" };
    let Ok(account) = vary(contract, account, &stock) else { panic!("no account") };
    let mut desk = Desk {
        contract,
        now: Now { job: &job, text: &now, list: None, date: "" },
        stock: &stock,
        stars: Stars::default(),
        told: Vec::new(),
        after: After::default(),
    };
    let variations = entries::read(&mut desk);
    let Ok(Some(states)) = states::measure(&mut desk, &variations) else { panic!("no states") };
    let Some(built) = states.all.last() else { panic!("no states") };
    let open = |a: &Account| {
        let stated = a.changes[1].omissions.iter().map(|e| (e, true)).collect::<Vec<_>>();
        let proof = Proof { contract: &contract, built, own_preliminaries: true, direct: &stated };
        balances(a, &proof).into_iter().filter(|b| !b.holds()).map(|b| b.name).collect::<Vec<_>>()
    };
    assert_eq!(open(&account), [""; 0]);
    let cent = d("0.01");
    let off: [Off<'_>; 8] = [
        (&|a| a.changes[0].additions[0].amount += cent, &["variations"]),
        (&|a| a.changes[0].omissions[0].amount += cent, &["variations"]),
        (&|a| a.stars[0].rate += cent, &["variations", "account"]),
        (&|a| a.changes[1].omissions[0].worked = Some((d("2"), d("1"))), &["variations", "account"]),
        (&|a| a.sums.additions += cent, &["account"]),
        (&|a| a.sums.adjusted += cent, &["account"]),
        (&|a| a.changes[0].worth += cent, &["account"]),
        (&|a| a.remeasured[0].worked = Some(("m3".into(), d("1"), d("2.36"), d("3200.50"))), &["account"]),
    ];
    for (i, (change, want)) in off.into_iter().enumerate() {
        let mut wrong = account.clone();
        change(&mut wrong);
        assert_eq!(open(&wrong), want, "{i}");
    }
}

#[test]
fn what_is_dated_after_the_day_of_the_account_is_not_counted_and_told() {
    let of = format!("{TANK}{MONEY}");
    let on_day = |date: &str, more: &str| change(&format!("V-{date}"), more).replace("2026-12-03", date);
    let paving = "title = \"Paving\"\nunit = \"m2\"\nquantity = 6\nrate = 450";
    let work = |date: &str| {
        format!(
            "[[daywork]]\ndate = \"{date}\"\nby = \"clerk\"\ntitle = \"Digging\"\nquantity = 2\nrate = 900\n"
        )
    };
    let measured = |date: &str| {
        format!("[[remeasured]]\ntitle = \"Rock\"\nquantity = 3\ndate = \"{date}\"\nby = \"clerk\"\n")
    };
    let set = "set = { \"tank.cover.membrane\" = true }";
    let all = |day: &str| {
        format!(
            "{}{}{}{}",
            on_day(day, paving),
            on_day(&day.replace("-0", "-1"), set),
            work(day),
            measured(day)
        )
    };
    // All of it on the day of the account, 2027-01-20 (2027-11-20 is for the second variation's name alone).
    let counted = |account: &Account| {
        let notes = account.notes.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
        (account.changes.len(), account.dayworks.len(), account.sums.remeasured.is_zero(), notes)
    };
    let (before, _) = good(
        &of,
        &format!("{of}{}{}{}", on_day("2027-01-20", paving), work("2027-01-20"), measured("2027-01-20")),
    );
    let (changes, dayworks, as_agreed, notes) = counted(&before);
    assert_eq!((changes, dayworks, as_agreed), (1, 1, false));
    assert!(!notes.contains("dated after"), "{notes}");
    let (after, e) = good(&of, &format!("{of}{}", all("2027-01-21")));
    let (changes, dayworks, as_agreed, notes) = counted(&after);
    assert_eq!((changes, dayworks, as_agreed), (0, 0, true));
    assert_eq!(Some(after.sums.adjusted), e.bill.total);
    let told = "dated after 2027-01-20, the day of the account, and not counted: V-2027-01-21 (2027-01-21), \
                V-2027-11-21 (2027-11-21), Rock (2027-01-21), Digging (2027-01-21)";
    assert!(notes.contains(told), "{notes}");
    // What explains the job as it is drawn is counted with it, and told.
    let now = of.replace("height = \"1.50 m\"", "height = \"1.60 m\"");
    let covers = on_day("2027-01-21", "covers = [\"excavation-pit\", \"brickwork-wall\"]");
    let (drawn, _) = good(&of, &format!("{now}{covers}"));
    let notes = counted(&drawn).3;
    assert!(notes.contains("counted, for the job is drawn with it: V-2027-01-21 (2027-01-21)"), "{notes}");
    assert!(drawn.changes.iter().any(|c| c.id == "V-2027-01-21" && !c.additions.is_empty()));
    // The contract's own file without a day of the account: everything counts, payments too.
    let paid = "[[paid]]\ndate = \"2027-01-05\"\namount = 500\n";
    let Ok((account, _)) = on(&of, &format!("{of}{}{paid}", all("2027-01-21")), "2026-11-25") else {
        panic!("no account")
    };
    let (changes, dayworks, as_agreed, notes) = counted(&account);
    assert_eq!((changes, dayworks, as_agreed, account.payment.paid), (2, 1, false, d("500")));
    assert!(notes.contains("no day of the account is given"), "{notes}");
}
