//! The programme as a calendar file (RFC 5545): whole days, no clock. The same programme gives the same bytes.

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::fingerprint::Fingerprint;
use tankwright_quantities::job::Day;
use tankwright_quantities::programme::{Event, EventKind};

use crate::format::NO_BREAK;

/// Octets of a line, its end not counted.
const LONGEST: usize = 75;

/// The calendar; `None` where the programme has no dates.
#[must_use]
pub fn calendar(e: &Estimate) -> Option<String> {
    let first = e.programme.events.first()?;
    let made = Day::read(&e.date).unwrap_or(first.from);
    let mut out = Out::default();
    out.line("BEGIN:VCALENDAR");
    out.line("VERSION:2.0");
    out.line("PRODID:-//Tankwright//Tankwright//EN");
    out.line("CALSCALE:GREGORIAN");
    out.line(&format!("X-WR-CALNAME:{}", escaped(&e.title)));
    for (i, event) in e.programme.events.iter().enumerate() {
        let same = |other: &&Event| other.kind == event.kind && other.stage == event.stage;
        let nth = e.programme.events.iter().take(i).filter(same).count() + 1;
        put(&mut out, e, event, nth, made);
    }
    out.line("END:VCALENDAR");
    Some(out.0)
}

fn put(out: &mut Out, e: &Estimate, event: &Event, nth: usize, made: Day) {
    let kind = kind(event.kind);
    out.line("BEGIN:VEVENT");
    // Of what stays the same when dates move: a calendar that reads the file again moves its entries.
    let job = mixed(&format!("{}\n{}", e.title, e.date));
    out.line(&format!("UID:{job:016x}-{kind}-{}-{nth}@tankwright", event.stage.id()));
    out.line(&format!("DTSTAMP:{}T000000Z", plain(made)));
    out.line(&format!("DTSTART;VALUE=DATE:{}", plain(event.from)));
    out.line(&format!("DTEND;VALUE=DATE:{}", plain(event.to.max(event.from).plus(1))));
    out.line(&format!("SUMMARY:{}", escaped(&event.title.to_string())));
    let mut details: Vec<&str> = event.details.iter().map(String::as_str).collect();
    if !event.source.is_empty() {
        details.push(&event.source);
    }
    if !details.is_empty() {
        out.line(&format!("DESCRIPTION:{}", escaped(&details.join("\n"))));
    }
    out.line(&format!("CATEGORIES:{}", kind.to_uppercase()));
    out.line("TRANSP:TRANSPARENT");
    out.line("END:VEVENT");
}

/// The stable word of a kind.
pub(crate) const fn kind(kind: EventKind) -> &'static str {
    match kind {
        EventKind::Order => "order",
        EventKind::Delivery => "delivery",
        EventKind::Stage => "stage",
        EventKind::Pour => "pour",
        EventKind::Hold => "hold",
        EventKind::WaterTest => "water-test",
        EventKind::Curing => "curing",
        EventKind::Strike => "strike",
    }
}

/// `20261201`.
fn plain(day: Day) -> String {
    day.to_string().replace('-', "")
}

/// Short, the same everywhere.
fn mixed(text: &str) -> u64 {
    let mut print = Fingerprint::default();
    print.add(text.bytes());
    print.done()
}

/// A text value: backslash, semicolon, comma and line end escaped; what else cannot be printed left out.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            NO_BREAK => out.push(' '),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Content lines, folded.
#[derive(Default)]
struct Out(String);

impl Out {
    fn line(&mut self, text: &str) {
        let mut used = 0;
        for c in text.chars() {
            if used + c.len_utf8() > LONGEST {
                self.0.push_str("\r\n ");
                used = 1;
            }
            used += c.len_utf8();
            self.0.push(c);
        }
        self.0.push_str("\r\n");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{golden, handmade};

    /// A reader of its own: unfolded lines, each as name and value, values unescaped.
    fn read(text: &str) -> Vec<(String, String)> {
        assert!(text.ends_with("\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']), "{text:?}");
        assert!(text.split("\r\n").all(|l| l.len() <= LONGEST), "{text}");
        let whole = text.replace("\r\n ", "");
        let part = |line: &str| {
            let (name, value) = line.split_once(':').unwrap_or((line, ""));
            let (mut out, mut chars) = (String::new(), value.chars());
            while let Some(c) = chars.next() {
                match (c, if c == '\\' { chars.next() } else { None }) {
                    ('\\', Some('n')) => out.push('\n'),
                    ('\\', Some(next)) => out.push(next),
                    (c, _) => out.push(c),
                }
            }
            (name.to_owned(), out)
        };
        whole.split("\r\n").filter(|l| !l.is_empty()).map(part).collect()
    }

    fn values(lines: &[(String, String)], name: &str) -> Vec<String> {
        lines.iter().filter(|l| l.0 == name).map(|l| l.1.clone()).collect()
    }

    #[test]
    fn every_event_with_its_days() {
        let e = handmade::estimate();
        let text = calendar(&e).unwrap_or_default();
        golden::same("calendar.ics", &text);
        let lines = read(&text);
        assert_eq!(values(&lines, "BEGIN").len(), 1 + e.programme.events.len());
        assert_eq!(values(&lines, "END").len(), 1 + e.programme.events.len());
        // The end is the day after the last one: 2 to 4 December ends on the 5th.
        assert_eq!(values(&lines, "DTSTART;VALUE=DATE")[2], "20261202");
        assert_eq!(values(&lines, "DTEND;VALUE=DATE")[2], "20261205");
        assert!(values(&lines, "DTSTAMP").iter().all(|d| d == "20261125T000000Z"));
        let ids: std::collections::BTreeSet<_> = values(&lines, "UID").into_iter().collect();
        assert_eq!(ids.len(), e.programme.events.len());
        assert_eq!(calendar(&e), Some(text));
    }

    #[test]
    fn long_and_odd_texts_come_back_whole() {
        let mut e = handmade::estimate();
        let odd = "a; b, c\\ \u{e9}\u{1F9F1}".repeat(20);
        e.programme.events[0].details =
            vec![odd.clone(), "second, line".to_owned(), "ends\r\u{7}".to_owned()];
        e.title = format!("{odd}\u{1b}");
        let lines = read(&calendar(&e).unwrap_or_default());
        assert_eq!(values(&lines, "DESCRIPTION")[0], format!("{odd}\nsecond, line\nends"));
        assert_eq!(values(&lines, "X-WR-CALNAME")[0], odd);
    }

    #[test]
    fn entries_keep_their_ids_when_dates_move() {
        let mut e = handmade::estimate();
        let ids = |e: &Estimate| values(&read(&calendar(e).unwrap_or_default()), "UID");
        let before = ids(&e);
        for event in &mut e.programme.events {
            (event.from, event.to) = (event.from.plus(7), event.to.plus(7));
        }
        assert_eq!(ids(&e), before);
        e.programme.events.push(e.programme.events[0].clone());
        assert_eq!(ids(&e).len(), before.len() + 1);
        assert_ne!(ids(&e).last(), before.first());
        e.programme.events.clear();
        assert_eq!(calendar(&e), None);
    }
}
