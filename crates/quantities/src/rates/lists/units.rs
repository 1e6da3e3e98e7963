//! Units as people write them, and rates for a hundred, a thousand or a tonne at a time.

/// A unit as read: the rate is for `per` of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct UnitSeen {
    /// `m3`, `m2`, `m`, `kg`, `nr`, `item`, `l`; else as written.
    pub(crate) unit: String,
    /// 1, 100 or 1000.
    pub(crate) per: u32,
}

/// A spelling with two meanings; which.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct TwoMeanings(pub(crate) &'static str);

/// Our unit, and its spellings without blanks and points, lower case.
const SPELLINGS: [(&str, &[&str]); 9] = [
    (
        "m3",
        &[
            "m3",
            "m³",
            "m^3",
            "cum",
            "cbm",
            "cubm",
            "cubicm",
            "cubicmetre",
            "cubicmetres",
            "cubicmeter",
            "cubicmeters",
            "mcube",
        ],
    ),
    (
        "m2",
        &[
            "m2",
            "m²",
            "m^2",
            "sqm",
            "sm",
            "sqmtr",
            "squarem",
            "squaremetre",
            "squaremetres",
            "squaremeter",
            "squaremeters",
        ],
    ),
    (
        "m",
        &[
            "m",
            "lm",
            "rm",
            "rmt",
            "rmtr",
            "lmtr",
            "mtr",
            "mtrs",
            "metre",
            "metres",
            "meter",
            "meters",
            "linm",
            "linmetre",
            "linearmetre",
            "linearmeter",
            "runm",
            "runningmetre",
            "runningmeter",
        ],
    ),
    (
        "nr",
        &["nr", "nrs", "no", "nos", "number", "each", "ea", "pc", "pcs", "pce", "pces", "piece", "pieces"],
    ),
    ("kg", &["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme"]),
    ("item", &["item", "items", "sum", "ls", "lumpsum", "lsum"]),
    ("l", &["l", "lt", "ltr", "ltrs", "litre", "litres", "liter", "liters"]),
    ("day", &["day", "days"]),
    ("hour", &["hour", "hours", "hr", "hrs"]),
];

/// A tonne, 1000 kg (SI).
const TONNE: [&str; 6] = ["t", "tonne", "tonnes", "mt", "metricton", "metrictons"];

/// Numbers that a rate may be for.
const PER: [(&str, u32); 14] = [
    ("1000", 1000),
    ("1,000", 1000),
    ("1 000", 1000),
    ("1.000", 1000),
    ("thousand", 1000),
    ("thou", 1000),
    ("mille", 1000),
    ("%o", 1000),
    ("\u{2030}", 1000),
    ("100", 100),
    ("hundred", 100),
    ("%", 100),
    ("one", 1),
    ("1", 1),
];

/// Reads a unit: `cu.m`, `per 1000`, `1000 nr`, `%o nr`, `nr/1000`. What is not known stays as written.
pub(crate) fn read(text: &str) -> Result<UnitSeen, TwoMeanings> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(UnitSeen { unit: String::new(), per: 1 });
    }
    let (rest, per) = split(text);
    if let Some((unit, times)) = spelling(rest)? {
        let per = per.unwrap_or(1);
        // A thousand tonnes are no unit of anybody's.
        if times == 1 || per == 1 {
            return Ok(UnitSeen { unit: unit.to_owned(), per: per * times });
        }
    }
    match per {
        // `per 1000`: of whatever is counted.
        Some(per) if rest.is_empty() && per > 1 => Ok(UnitSeen { unit: "nr".to_owned(), per }),
        // `per 1000 bricks`: of what is named.
        Some(per) if per > 1 && counted(rest) => Ok(UnitSeen { unit: "nr".to_owned(), per }),
        _ => Ok(UnitSeen { unit: text.to_owned(), per: 1 }),
    }
}

/// How many a rate is for, as a column beside the rate says it.
pub(crate) fn per(text: &str) -> Option<u32> {
    let text = text.trim().to_lowercase();
    if text.is_empty() { Some(1) } else { PER.iter().find(|(word, _)| *word == text).map(|(_, per)| *per) }
}

fn counted(rest: &str) -> bool {
    ["brick", "bricks", "block", "blocks", "tile", "tiles"].contains(&rest.to_lowercase().as_str())
}

/// The unit and the number before or behind it.
fn split(text: &str) -> (&str, Option<u32>) {
    let free =
        |t: &str| t.is_empty() || t.starts_with(|c: char| !c.is_alphanumeric() && c != ',' && c != '.');
    let lower = text.to_ascii_lowercase();
    let start =
        ["per ", "/", "a "].iter().find_map(|p| lower.strip_prefix(p)).map_or(0, |r| lower.len() - r.len());
    let (text, lower) =
        (text.get(start..).unwrap_or_default().trim_start(), lower.get(start..).unwrap_or_default());
    let lower = lower.trim_start();
    for (word, per) in PER {
        if let Some(rest) = lower.strip_prefix(word).filter(|r| free(r) || word.starts_with('%')) {
            let rest = text.get(lower.len() - rest.len()..).unwrap_or_default();
            return (rest.trim_start_matches(['/', ' ', '-']).trim(), Some(per));
        }
        if let Some(rest) = lower.strip_suffix(word) {
            let rest = text.get(..rest.len()).unwrap_or_default();
            let bare = rest.trim_end_matches([' ', '/']);
            let bare = bare.strip_suffix(" per").unwrap_or(bare).trim_end();
            if bare.len() < rest.len() {
                return (bare, Some(per));
            }
        }
    }
    (text.trim(), None)
}

/// Our unit, and how many of it one of theirs is.
fn spelling(text: &str) -> Result<Option<(&'static str, u32)>, TwoMeanings> {
    let bare: String = text.chars().filter(|c| !c.is_whitespace() && !".'-".contains(*c)).collect();
    match bare.as_str() {
        // Bills of quantities write capitals: cubic, square, linear metre.
        "CM" => return Ok(Some(("m3", 1))),
        "cm" | "Cm" => return Err(TwoMeanings("cubic metre or centimetre")),
        "ton" | "tons" | "Ton" | "Tons" | "TON" | "TONS" => {
            return Err(TwoMeanings("a ton is 1000 kg, 2240 lb or 2000 lb"));
        }
        _ => {}
    }
    let bare = bare.to_lowercase();
    if TONNE.contains(&bare.as_str()) {
        return Ok(Some(("kg", 1000)));
    }
    let of =
        |(unit, written): &(&'static str, &[&str])| written.contains(&bare.as_str()).then_some((*unit, 1));
    Ok(SPELLINGS.iter().find_map(of))
}

/// Is this a spelling of the unit?
pub(crate) fn same(written: &str, unit: &str) -> bool {
    read(written).is_ok_and(|seen| seen.per == 1 && seen.unit == unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(text: &str) -> (String, u32) {
        read(text).map_or_else(|two| (two.0.to_owned(), 0), |u| (u.unit, u.per))
    }

    #[test]
    fn spellings_of_units() {
        for (texts, unit) in [
            (&["m3", "m³", "M3", "cu.m", "cu m", "CM", "cum", "Cum.", "CBM", "cubic metre"][..], "m3"),
            (&["m2", "m²", "sq.m", "SM", "Sqm", "sq. m.", "square metres"], "m2"),
            (&["m", "LM", "rm", "l.m.", "Mtr", "metres", "lin.m"], "m"),
            (&["No", "nr", "pcs", "each", "No.", "Nos", "EA", "Pc."], "nr"),
            (&["kg", "KGS", "kilo"], "kg"),
            (&["item", "L.S.", "lump sum", "Sum"], "item"),
            (&["l", "Ltr", "litres"], "l"),
            (&["day", "Days"], "day"),
            (&["bag"], "bag"),
            (&["50 kg bag"], "50 kg bag"),
            (&["trip of 5 m3"], "trip of 5 m3"),
            (&["cft"], "cft"),
            (&[""], ""),
        ] {
            for text in texts {
                assert_eq!(seen(text), (unit.to_owned(), 1), "{text}");
            }
        }
    }

    #[test]
    fn rates_for_many() {
        for text in [
            "1000 nr",
            "per 1000",
            "%o nr",
            "%o",
            "‰",
            "nr/1000",
            "per thousand",
            "1,000 nr",
            "1000 bricks",
            "No per 1000",
            "1000",
        ] {
            assert_eq!(seen(text), ("nr".to_owned(), 1000), "{text}");
        }
        for text in ["100 nr", "per 100", "% nr", "%", "hundred", "100 No."] {
            assert_eq!(seen(text), ("nr".to_owned(), 100), "{text}");
        }
        assert_eq!(seen("100 kg"), ("kg".to_owned(), 100));
        assert_eq!(seen("tonne"), ("kg".to_owned(), 1000));
        assert_eq!(seen("per m3"), ("m3".to_owned(), 1));
        assert_eq!(seen("/ m2"), ("m2".to_owned(), 1));
        assert_eq!(seen("per bag"), ("per bag".to_owned(), 1));
        assert_eq!(seen("1000 tonnes"), ("1000 tonnes".to_owned(), 1));
        assert_eq!(seen("1000 l tank"), ("1000 l tank".to_owned(), 1));
        assert_eq!(seen("10000 nr"), ("10000 nr".to_owned(), 1));
        assert_eq!((per(""), per("1000"), per("Hundred"), per("12")), (Some(1), Some(1000), Some(100), None));
    }

    #[test]
    fn two_meanings_are_refused() {
        assert_eq!(seen("cm").1, 0);
        assert_eq!(seen("ton").1, 0);
    }
}
