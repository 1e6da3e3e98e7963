//! What is settled after the price is agreed: prime-cost and provisional sums, variations, dayworks.

use super::money::{MONEY, PERCENT, QUANTITY};
use crate::job::field::{Fallback, Field, Kind, Presence};

const fn text(key: &'static str, help: &'static str) -> Field {
    Field::value(key, Kind::Text, Fallback::Nothing, help)
}

const fn must(key: &'static str, kind: Kind, help: &'static str) -> Field {
    Field::value(key, kind, Fallback::Required, help)
}

const fn may(key: &'static str, kind: Kind, help: &'static str) -> Field {
    Field::value(key, kind, Fallback::Nothing, help)
}

/// What was really done stands in the job file of the account, the sums in that of the contract.
pub(super) static FIELDS: &[Field] = &[
    Field::part(
        "prime_cost[]",
        Presence::List,
        "goods still to be chosen: a sum in the bill, settled at what they cost",
    ),
    must("prime_cost[].title", Kind::Text, "which goods; the work that fixes them is priced without them"),
    must("prime_cost[].amount", MONEY, "the sum in the contract"),
    may("prime_cost[].percent", PERCENT, "profit and attendance on it, per cent"),
    may("prime_cost[].actual", MONEY, "what the goods really cost, without profit and attendance"),
    text("prime_cost[].note", "invoice, supplier"),
    Field::part(
        "provisional_sum[]",
        Presence::List,
        "work that cannot be described yet: a sum in the bill, settled at what it comes to",
    ),
    must("provisional_sum[].title", Kind::Text, "what for"),
    must("provisional_sum[].amount", MONEY, "the sum in the contract"),
    may(
        "provisional_sum[].defined",
        Kind::Flag,
        "is it described well enough that programme and preliminaries allow for it",
    ),
    may("provisional_sum[].spent", MONEY, "what the work really came to"),
    text("provisional_sum[].note", "how it was settled"),
    Field::part(
        "variation[]",
        Presence::List,
        "what changed after the contract; `tankwright vary` accounts for it",
    ),
    must("variation[].id", Kind::Text, "its number, as V1"),
    must("variation[].date", Kind::Date, "when it was instructed"),
    must("variation[].by", Kind::Text, "who instructed it"),
    must("variation[].reason", Kind::Text, "why"),
    text("variation[].note", "letter, who was there, what was measured"),
    text("variation[].photo", "number or file of a photo"),
    may(
        "variation[].set",
        Kind::Changes,
        "keys of this file and what they become: { \"tank.height\" = \"2.00 m\" }",
    ),
    may("variation[].drop", Kind::Texts, "parts of this file that are not built after all, as soak_pit"),
    may(
        "variation[].covers",
        Kind::Texts,
        "which differences between the two files it explains: works, work/specification, \"preliminaries\", \"all\"",
    ),
    text("variation[].title", "what is done; of an item of its own, its words in the bill"),
    text(
        "variation[].item",
        "an item at the contract's rate: its work, work/specification or number in the bill (A2)",
    ),
    text("variation[].unit", "its unit"),
    may("variation[].quantity", QUANTITY, "how much of it"),
    may("variation[].rate", MONEY, "star rate: of an item that the contract does not have"),
    may("variation[].amount", MONEY, "amount; or item and quantity, or unit, quantity and rate"),
    may("variation[].omit", Kind::Flag, "the item is left out, not added"),
    may(
        "variation[].extra_over",
        Kind::Flag,
        "extra over: the work itself is counted already, as the dig where rock is met",
    ),
    text("variation[].working", "how its star rate comes about, in words"),
    Field::part("variation[].build_up[]", Presence::List, "how its star rate comes about, line by line"),
    must("variation[].build_up[].title", Kind::Text, "what it is"),
    text("variation[].build_up[].unit", "unit"),
    may(
        "variation[].build_up[].quantity",
        Kind::Number { places: 6 },
        "how much of it in one unit of the item",
    ),
    may("variation[].build_up[].rate", MONEY, "its rate"),
    may(
        "variation[].build_up[].percent",
        PERCENT,
        "per cent on all lines before, in place of quantity and rate",
    ),
    Field::part(
        "star_rate[]",
        Presence::List,
        "rates of measured items that neither the contract nor its price list has",
    ),
    must("star_rate[].item", Kind::Text, "work, or work/specification"),
    must("star_rate[].unit", Kind::Text, "its unit"),
    may("star_rate[].rate", MONEY, "the rate; or build_up alone"),
    text("star_rate[].working", "how it comes about, in words"),
    Field::part("star_rate[].build_up[]", Presence::List, "how it comes about, line by line"),
    must("star_rate[].build_up[].title", Kind::Text, "what it is"),
    text("star_rate[].build_up[].unit", "unit"),
    may(
        "star_rate[].build_up[].quantity",
        Kind::Number { places: 6 },
        "how much of it in one unit of the item",
    ),
    may("star_rate[].build_up[].rate", MONEY, "its rate"),
    may(
        "star_rate[].build_up[].percent",
        PERCENT,
        "per cent on all lines before, in place of quantity and rate",
    ),
    Field::part("remeasured[]", Presence::List, "provisional items as they were measured in the end"),
    must("remeasured[].title", Kind::Text, "title of the provisional item"),
    may("remeasured[].quantity", QUANTITY, "quantity, at the contract's rate"),
    may("remeasured[].amount", MONEY, "amount, where the item has no rate"),
    may("remeasured[].date", Kind::Date, "when it was measured"),
    text("remeasured[].by", "who measured it"),
    text("remeasured[].note", "where it is written down"),
    text("remeasured[].photo", "number or file of a photo"),
    Field::part("daywork[]", Presence::List, "work paid by the time and the goods it took"),
    must("daywork[].date", Kind::Date, "on which day"),
    must("daywork[].by", Kind::Text, "who ordered or signed it"),
    must("daywork[].title", Kind::Text, "what was done, or with what"),
    must("daywork[].quantity", QUANTITY, "hours, days, quantity"),
    text("daywork[].unit", "unit"),
    may("daywork[].rate", MONEY, "rate; or code"),
    text("daywork[].code", "row of labour, plant or material in the contract's price list"),
    may("daywork[].percent", PERCENT, "on top, per cent"),
    text("daywork[].note", "sheet number, who was there"),
    Field::part("account", Presence::Always, "how the account is drawn up"),
    may(
        "account.leave_out",
        Kind::Texts,
        "additions of the contract that the account leaves out, as a contingency nobody needed",
    ),
];
