//! The job file's JSON Schema, from the same tables of fields as its reader: what editors complete and underline.
//!
//! Only words that mean the same from draft 4 to draft 2020-12 are used: editors of TOML know the old drafts best.
//! It never refuses what the reader takes. What it cannot know, the reader still tells: lengths in text within their
//! limits, days of the calendar, names in data, rules between keys, geometry, prices.

use serde_json::{Map, Value, json};
use tankwright_quantities::job::{Child, Fallback, Field, Kind, Part, Presence, WAYS, takes};

/// Digits with at most one point.
const NUMBER: &str = r"([0-9]+\.?[0-9]*|\.[0-9]+)";
/// A part of a mix: at most 12, two places.
const SHARE: &str = r"\s*0*((1[01]|[0-9])?(\.[0-9]{0,2}0*)?|12(\.0*)?)\s*";
/// Months with as many days as they can have; which year has a 29 February the reader knows.
const DATE: &str = r"^\s*[0-9]{4}-((0[13578]|1[02])-(0[1-9]|[12][0-9]|3[01])|(0[469]|11)-(0[1-9]|[12][0-9]|30)|02-(0[1-9]|[12][0-9]))\s*$";
/// What its file is called beside job files.
pub const FILE: &str = "job.schema.json";

/// Writes it; keys in the order of their names.
#[must_use]
pub fn schema(tables: &[&'static [Field]]) -> String {
    let (mut out, _) = object(&Part::of(tables));
    out.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    out.insert("title".to_owned(), json!("Tankwright job file"));
    let definitions = json!({
        "length": any_length(None),
        "positive": any_length(Some("")),
        "text": { "type": "string", "pattern": r"^\s*\S([^\x00-\x1f\x7f]{0,198}\S)?\s*$" },
        "date": pattern(DATE),
    });
    out.insert("$defs".to_owned(), definitions);
    // Texts of JSON cannot fail to be written.
    let mut text = serde_json::to_string_pretty(&Value::Object(out)).unwrap_or_default();
    text.push('\n');
    text
}

/// A part's object, and whether something in it must be given though the part is not named.
fn object(part: &Part) -> (Map<String, Value>, bool) {
    let (mut properties, mut required) = (Map::new(), Vec::new());
    for (name, child) in &part.children {
        let (value, must) = match child {
            Child::Value(field, kind) => (value(field, *kind), field.fallback == Fallback::Required),
            Child::Part(part) => property(part),
        };
        properties.insert((*name).to_owned(), value);
        if must {
            required.push(*name);
        }
    }
    let must = !required.is_empty();
    let mut out = Map::new();
    out.insert("type".to_owned(), json!("object"));
    out.insert("additionalProperties".to_owned(), json!(false));
    out.insert("properties".to_owned(), Value::Object(properties));
    if must {
        out.insert("required".to_owned(), json!(required));
    }
    (out, must)
}

fn property(part: &Part) -> (Value, bool) {
    let (mut object, must) = object(part);
    let mut out = if part.presence == Presence::List {
        let ways = WAYS.iter().find(|(key, _)| part.declared.is_some_and(|f| f.key == *key));
        if let Some((_, ways)) = ways {
            object.insert("oneOf".to_owned(), ways.iter().map(|way| one_way(way, ways)).collect());
        }
        let mut list = Map::new();
        list.insert("type".to_owned(), json!("array"));
        list.insert("items".to_owned(), Value::Object(object));
        list
    } else {
        object
    };
    if let Some(field) = part.declared {
        out.insert("description".to_owned(), json!(field.help));
    }
    (Value::Object(out), must && part.presence == Presence::Always)
}

/// All keys of a way, and none of the others'.
fn one_way(way: &[&str], ways: &[&[&str]]) -> Value {
    let others = ways.iter().copied().flatten().filter(|key| !way.contains(key));
    let others: Vec<_> = others.map(|key| json!({ "required": [key] })).collect();
    json!({ "required": way, "not": { "anyOf": others } })
}

/// What may stand at a key, with its help, what it takes and what holds when it is left out.
fn value(field: &'static Field, kind: Kind) -> Value {
    let left_out = match field.fallback {
        Fallback::Required => "; must be given".to_owned(),
        Fallback::Nothing => String::new(),
        Fallback::Default(text, source) => format!("; left out: {text} ({source})"),
    };
    let says = format!("{}: {}{left_out}", field.help, takes(kind));
    let mut out = match of_kind(kind) {
        Value::Object(map) => map,
        other => Map::from_iter([("anyOf".to_owned(), json!([other]))]),
    };
    if field.key == "format" {
        out = Map::from_iter([("enum".to_owned(), json!([1, "1"]))]);
    }
    out.insert("description".to_owned(), json!(says));
    Value::Object(out)
}

fn of_kind(kind: Kind) -> Value {
    let text = json!({ "$ref": "#/$defs/text" });
    match kind {
        Kind::Length { least, most } => length(least, most),
        Kind::Lengths { least, most, count } => {
            json!({ "type": "array", "minItems": 1, "maxItems": count, "items": length(least, most) })
        }
        Kind::Size { least, most } => size(least, most),
        Kind::Sizes { least, most } => json!({ "type": "array", "items": size(least, most) }),
        Kind::LengthOr(word) => {
            json!({ "anyOf": [length(0, 1_000_000), pattern(&format!(r"^\s*{word}\s*$"))] })
        }
        Kind::Count { least, most } => json!({ "anyOf": [
            { "type": "integer", "minimum": least, "maximum": most },
            pattern(r"^\s*[0-9]+\s*$"),
        ] }),
        Kind::Number { places } => number(places),
        Kind::Factor { places } => {
            let one = decimals(places);
            json!({ "anyOf": [whole(), pattern(&format!(r"^\s*{one}(\s* in \s*{one})?\s*$"))] })
        }
        Kind::Flag => json!({ "type": "boolean" }),
        Kind::Choice(words) => json!({ "enum": words }),
        Kind::Mix { parts } => {
            let more = vec![SHARE; parts.saturating_sub(1)].join(":");
            pattern(&format!(r"^\s*0*1(\.0*)?\s*:{more}$"))
        }
        Kind::Bars { spaced } => {
            let bar = r"\s*[A-Za-z]\s*[A-Za-z]?\s*[0-9][0-9\s]*";
            pattern(&if spaced {
                format!(r"^{bar}@[0.\s]*[1-9][0-9. a-z'\x22]*$")
            } else {
                format!(r"^\s*[0-9][0-9\s]*{bar}$")
            })
        }
        Kind::Lap => json!({ "anyOf": [pattern(r"^\s*[0-9]+\s*d\s*$"), { "$ref": "#/$defs/length" }] }),
        Kind::Text => text,
        // Without quotes it is a date of TOML, which editors take for a text.
        Kind::Date => json!({ "$ref": "#/$defs/date" }),
        Kind::Texts => json!({ "anyOf": [text, { "type": "array", "maxItems": 1000, "items": text }] }),
        Kind::Groups(words) => json!({ "type": "array", "maxItems": 1000, "items":
            { "type": "array", "minItems": 1, "maxItems": 1000, "items": { "enum": words } } }),
        Kind::Open => json!({ "type": "object", "additionalProperties": false, "patternProperties": {
            "^[A-Za-z0-9_./-]{1,60}$": { "anyOf": [
                text, number(6), { "type": "array", "maxItems": 1000, "items": text },
            ] },
        } }),
        Kind::Changes => json!({ "type": "object", "additionalProperties": false,
            "patternProperties": { r"^[A-Za-z0-9_.\[\]-]{1,120}$": {} } }),
    }
}

fn pattern(of: &str) -> Value {
    json!({ "type": "string", "pattern": of })
}

/// Whole millimetres within the limits, or text with a unit; the limits of text cannot be told by its letters.
fn length(least: i64, most: i64) -> Value {
    let text = if least > 0 { "#/$defs/positive" } else { "#/$defs/length" };
    // Tenths to whole millimetres, inwards.
    let least = least.div_euclid(10) + i64::from(least.rem_euclid(10) > 0);
    json!({ "anyOf": [
        { "type": "integer", "minimum": least, "maximum": most.div_euclid(10) },
        { "$ref": text },
    ] })
}

fn size(least: i64, most: i64) -> Value {
    json!({ "type": "array", "minItems": 2, "maxItems": 2, "items": length(least, most) })
}

/// A length in text, with or without a sign that may be minus.
fn any_length(sign: Option<&str>) -> Value {
    let sign = sign.map_or(r"(\+|-\s*)?", |_| r"\+?");
    let feet = r"(ft|')";
    // To a tenth of a millimetre.
    let metric = [(4, "m"), (2, "cm"), (1, "mm")].map(|(places, unit)| {
        format!(r"([0-9]+(\.[0-9]{{0,{places}}}0*)?|\.[0-9]{{1,{places}}}0*)\s*{unit}")
    });
    let one = format!(r"({}|{NUMBER}\s*(in|\x22|{feet}(\s*{NUMBER}\s*(in|\x22))?))", metric.join("|"));
    pattern(&format!(r"^\s*{sign}{one}\s*$"))
}

fn whole() -> Value {
    json!({ "type": "integer", "minimum": 0 })
}

/// A plain number in text or whole; noughts at its end do not count as places.
fn number(places: u32) -> Value {
    json!({ "anyOf": [whole(), pattern(&format!(r"^\s*{}\s*$", decimals(places)))] })
}

fn decimals(places: u32) -> String {
    format!(r"(0*[0-9]{{1,15}}(\.[0-9]{{0,{places}}}0*)?|\.[0-9]{{1,{}}}0*)", places.max(1))
}

#[cfg(test)]
mod tests {
    use tankwright_quantities::flow;

    use super::*;

    #[test]
    fn every_key_of_the_tables_stands_in_it_with_its_help() {
        let tables = flow::job_tables();
        let all: Value = serde_json::from_str(&schema(&tables)).unwrap_or_default();
        for field in tables.iter().copied().flatten() {
            let mut at = &all;
            let mut names = field.key.split('.').peekable();
            while let Some(name) = names.next() {
                let plain = name.strip_suffix("[]");
                at = &at["properties"][plain.unwrap_or(name)];
                // The help of a list stands at the list itself.
                if plain.is_some() && (names.peek().is_some() || field.kind.is_some()) {
                    at = &at["items"];
                }
            }
            let says = at["description"].as_str().unwrap_or_default();
            assert!(says.starts_with(field.help), "{}: {at}", field.key);
        }
        assert_eq!(all["required"], json!(["format", "job", "tank"]));
        assert_eq!(all["properties"]["tank"]["required"], json!(["chambers", "width", "height"]));
        assert_eq!(all["properties"]["soak_pit"]["required"].as_array().map(Vec::is_empty), Some(false));
    }
}
