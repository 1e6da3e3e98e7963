"""The calendar file, read by the package icalendar: the same entries and days as the JSON of `orders`."""
import re
from datetime import date, datetime, timedelta

from icalendar import Calendar

from program import ROOT, SAMPLES, Wrong, sample

# Long, with everything that must be escaped, and letters of more than one byte where lines fold.
ODD = "Brunnen süd; stage, two\\\\three " + "é🧱" * 60


def run(program, tally, room):
    """Every sample with a first day; then one with a title that is hard to write."""
    for name in SAMPLES:
        tally.check(f"{name}: calendar", same, program, sample(name), room / name)
    text = (ROOT / sample("rest-house")).read_text(encoding="utf-8")
    odd = room / "odd.toml"
    odd.write_text(text.replace('title = "Rest house, hill road"', f'title = "{ODD}"'), encoding="utf-8")
    calendar = tally.check("odd title: calendar", same, program, odd, room / "odd")
    if calendar is not None:
        tally.check("odd title: comes back whole", whole, calendar)


def same(program, job, folder):
    program.need("estimate", job, "--out", folder)
    orders = program.json("orders", job)
    path = folder / "calendar.ics"
    if not orders["events"]:
        if path.exists():
            raise Wrong("a calendar without dates")
        return None
    data = path.read_bytes()
    if any(len(line) > 75 for line in data.split(b"\r\n")) or b"\n" in data.replace(b"\r\n", b""):
        raise Wrong("lines are not folded, or do not end in CR LF")
    calendar = Calendar.from_ical(data)
    read = [entry(event) for event in calendar.walk("VEVENT")]
    told = [(e["kind"].upper(), date.fromisoformat(e["from"]), date.fromisoformat(e["to"]), e["title"],
             "\n".join(e["details"] + [e["source"]] * bool(e["source"]))) for e in orders["events"]]
    if read != told:
        raise Wrong(f"{len(read)} entries read, {len(told)} told: {[p for p in zip(read, told) if p[0] != p[1]][:1]}")
    ids = {str(event["UID"]) for event in calendar.walk("VEVENT")}
    if len(ids) != len(read):
        raise Wrong("two entries have one id")
    stamp = datetime.fromisoformat(orders["job"]["date"]).date()
    if any(event["DTSTAMP"].dt.date() != stamp for event in calendar.walk("VEVENT")):
        raise Wrong("a stamp is not of the job's date")
    return calendar


def entry(event):
    """Kind, first day, last day, title, further lines."""
    last = event["DTEND"].dt - timedelta(days=1)
    return (event["CATEGORIES"].cats[0], event["DTSTART"].dt, last, str(event["SUMMARY"]), str(event.get("DESCRIPTION", "")))


def whole(calendar):
    title, name = ODD.replace("\\\\", "\\"), str(calendar["X-WR-CALNAME"])
    # The package leaves texts of properties it does not know as they stand in the file.
    if re.sub(r"\\(.)", r"\1", name) != title:
        raise Wrong(f"the title became {name!r}")
