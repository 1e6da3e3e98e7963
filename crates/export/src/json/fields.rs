//! The objects of the JSON, field by field, in the order written. Names are binding: only ever add.

use serde::Serialize;

#[derive(Serialize)]
pub(super) struct TakeoffOut<'a> {
    pub(super) format: u8,
    pub(super) job: JobOut<'a>,
    pub(super) profile: &'a str,
    pub(super) method: &'a str,
    pub(super) notes: Vec<NoteOut<'a>>,
    pub(super) items: Vec<ItemOut<'a>>,
    pub(super) voids: Vec<ItemOut<'a>>,
    pub(super) balances: Vec<BalanceOut<'a>>,
    pub(super) earth: EarthOut,
    pub(super) capacity: CapacityOut,
    pub(super) sizing: Option<SizingOut<'a>>,
    pub(super) setting_out: Vec<MarkOut<'a>>,
    pub(super) cautions: Vec<CautionOut<'a>>,
    pub(super) defaults: Vec<DefaultOut<'a>>,
}

#[derive(Serialize)]
pub(super) struct JobOut<'a> {
    pub(super) title: &'a str,
    pub(super) date: &'a str,
    pub(super) currency: &'a str,
    pub(super) file: &'a str,
}

#[derive(Serialize)]
pub(super) struct ItemOut<'a> {
    pub(super) id: &'a str,
    pub(super) work: &'static str,
    pub(super) spec: &'a str,
    pub(super) section: &'static str,
    pub(super) stage: &'static str,
    pub(super) unit: &'static str,
    pub(super) description: String,
    pub(super) quantity: String,
    pub(super) net: String,
    pub(super) net_unit: &'static str,
    pub(super) model: Option<String>,
    pub(super) billed: bool,
    pub(super) lines: Vec<LineOut<'a>>,
    pub(super) decisions: Vec<DecisionOut<'a>>,
    pub(super) booked: String,
    pub(super) voids: Vec<JudgedOut<'a>>,
}

#[derive(Serialize)]
pub(super) struct JudgedOut<'a> {
    pub(super) what: String,
    pub(super) times: i64,
    pub(super) size: String,
    pub(super) unit: &'static str,
    pub(super) limit: Option<String>,
    pub(super) kept: bool,
    pub(super) why: String,
    pub(super) clause: &'a str,
}

#[derive(Serialize)]
pub(super) struct NoteOut<'a> {
    pub(super) kind: String,
    pub(super) says: &'a str,
    pub(super) source: String,
}

/// Billed, dug and bought: the figures of a bill beside those of the work.
#[derive(Serialize)]
pub(super) struct BesideOut {
    pub(super) dig_billed: String,
    pub(super) dug: String,
    pub(super) carted_loose: String,
    pub(super) concrete_billed: String,
    pub(super) concrete_net: String,
    pub(super) concrete_mixed: String,
}

#[derive(Serialize)]
pub(super) struct LineOut<'a> {
    pub(super) note: String,
    pub(super) times: Vec<String>,
    pub(super) dims: Vec<String>,
    pub(super) dropped: Vec<String>,
    pub(super) of_item: Option<&'a str>,
    pub(super) value: String,
}

#[derive(Serialize)]
pub(super) struct DecisionOut<'a> {
    pub(super) what: String,
    pub(super) size: String,
    pub(super) clause: &'a str,
}

#[derive(Serialize)]
pub(super) struct BalanceOut<'a> {
    pub(super) name: &'static str,
    pub(super) says: String,
    pub(super) left: String,
    pub(super) right: String,
    pub(super) difference: String,
    pub(super) unit: &'static str,
    pub(super) holds: bool,
    pub(super) breaks: &'a [String],
}

#[derive(Serialize)]
pub(super) struct EarthOut {
    pub(super) dug_net: String,
    pub(super) dug_actual: String,
    pub(super) put_back: String,
    pub(super) carted_bank: String,
    pub(super) carted_loose: String,
    pub(super) loads: Option<u64>,
    pub(super) load: Option<String>,
}

#[derive(Serialize)]
pub(super) struct CapacityOut {
    pub(super) to_water_line: Option<u64>,
    pub(super) full: u64,
}

#[derive(Serialize)]
pub(super) struct SizingOut<'a> {
    pub(super) rule: &'a str,
    pub(super) says: String,
    pub(super) complies: Option<bool>,
    pub(super) asked_l: Option<String>,
    pub(super) provided_l: Option<String>,
    pub(super) margin_l: Option<String>,
    pub(super) reasons: &'a [String],
    pub(super) not_checked: &'a [String],
}

#[derive(Serialize)]
pub(super) struct MarkOut<'a> {
    pub(super) title: String,
    pub(super) metres: &'a str,
}

#[derive(Serialize)]
pub(super) struct CautionOut<'a> {
    pub(super) code: &'static str,
    pub(super) says: String,
    pub(super) source: &'a str,
    pub(super) line: Option<usize>,
}

#[derive(Serialize)]
pub(super) struct DefaultOut<'a> {
    pub(super) path: &'a str,
    pub(super) value: &'a str,
    pub(super) source: &'a str,
}

#[derive(Serialize)]
pub(super) struct BillOut<'a> {
    pub(super) format: u8,
    pub(super) job: JobOut<'a>,
    pub(super) profile: &'a str,
    pub(super) method: &'a str,
    pub(super) beside: BesideOut,
    pub(super) currency: &'a str,
    pub(super) sections: Vec<SectionOut<'a>>,
    pub(super) measured_total: Option<String>,
    pub(super) preliminaries: Vec<SideOut<'a>>,
    pub(super) provisional: Vec<SideOut<'a>>,
    pub(super) not_priced: &'a [String],
    pub(super) additions: Vec<AdditionOut<'a>>,
    pub(super) total: Option<String>,
    pub(super) total_in_words: &'a str,
    pub(super) price_list: Option<ListOut<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) client_buys: Option<ClientBuysOut<'a>>,
    pub(super) cautions: Vec<CautionOut<'a>>,
    pub(super) defaults: Vec<DefaultOut<'a>>,
}

#[derive(Serialize)]
pub(super) struct SectionOut<'a> {
    pub(super) id: &'static str,
    pub(super) title: String,
    pub(super) letter: char,
    pub(super) total: Option<String>,
    pub(super) rows: Vec<RowOut<'a>>,
}

#[derive(Serialize)]
pub(super) struct RowOut<'a> {
    #[serde(rename = "ref")]
    pub(super) reference: &'a str,
    pub(super) work: &'static str,
    pub(super) spec: &'a str,
    pub(super) description: String,
    pub(super) unit: &'static str,
    pub(super) quantity: String,
    pub(super) rate: Option<String>,
    pub(super) amount: Option<String>,
    pub(super) source: Option<String>,
    pub(super) code: Option<&'a str>,
    pub(super) less_specific: bool,
    pub(super) items: &'a [String],
    /// Where the client buys: the list's rate, and what is taken out of it per unit; `rate` is their difference.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) full_rate: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) materials: Option<String>,
    /// What the row's materials cost at the list's prices.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) materials_amount: Option<String>,
    /// The rate as it was built up, where no row of the price list prices the work.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) build_up: Option<crate::analysis::BuildUpOut<'a>>,
}

#[derive(Serialize)]
pub(super) struct ClientBuysOut<'a> {
    pub(super) in_rates: Option<String>,
    pub(super) besides: Vec<BesidesOut>,
    pub(super) rest: Option<String>,
    pub(super) orders: Option<String>,
    pub(super) orders_priced: Option<String>,
    pub(super) no_rate: &'a [String],
}

#[derive(Serialize)]
pub(super) struct BesidesOut {
    pub(super) title: String,
    pub(super) amount: Option<String>,
}

#[derive(Serialize)]
pub(super) struct SideOut<'a> {
    pub(super) title: &'a str,
    pub(super) unit: Option<&'a str>,
    pub(super) quantity: Option<String>,
    pub(super) rate: Option<String>,
    pub(super) amount: Option<String>,
}

#[derive(Serialize)]
pub(super) struct AdditionOut<'a> {
    pub(super) title: &'a str,
    pub(super) percent: Option<String>,
    pub(super) base: Option<String>,
    pub(super) amount: Option<String>,
}

#[derive(Serialize)]
pub(super) struct ListOut<'a> {
    pub(super) name: &'a str,
    pub(super) from: &'a str,
    pub(super) to: &'a str,
}
