#!/usr/bin/env python3
"""Recalculates a workbook in LibreOffice and prints every cell as JSON: {sheet: {cell: value}}.

usage: recalc.py FILE.xlsx [--set NAME=VALUE ...] [--poison]

LibreOffice does not recalculate an .xlsx on load by itself. A throw-away profile tells it to (OOXMLRecalcMode
0 = always). --set puts a number into a named cell first. --poison first overwrites every stored result of a
formula with 777: what comes back without it was truly recalculated. The file itself is never touched.

Needs LibreOffice Calc and openpyxl 3.1.5; nothing else.
"""
import argparse
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import zipfile
from xml.etree import ElementTree

import openpyxl

SETTING = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""
MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
OF = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
PACKAGE = "{http://schemas.openxmlformats.org/package/2006/relationships}"
CELL = re.compile(r'<c r="([A-Z]+[0-9]+)"([^>]*?)(?:/>|>(.*?)</c>)', re.S)


def parts(book):
    """The file inside the package that holds each sheet, by the sheet's name; and the named cells."""
    tree = ElementTree.fromstring(book.read("xl/workbook.xml"))
    links = ElementTree.fromstring(book.read("xl/_rels/workbook.xml.rels"))
    targets = {link.get("Id"): link.get("Target") for link in links.iter(PACKAGE + "Relationship")}
    sheets = {s.get("name"): "xl/" + targets[s.get(OF + "id")].removeprefix("/xl/") for s in tree.iter(MAIN + "sheet")}
    names = {}
    for name in tree.iter(MAIN + "definedName"):
        sheet, _, cell = (name.text or "").rpartition("!")
        if re.fullmatch(r"\$[A-Z]+\$[0-9]+", cell):
            names[name.get("name").lower()] = (sheet.strip("'").replace("''", "'"), cell.replace("$", ""))
    return sheets, names


def set_number(text, cell, value):
    """The sheet's text with a plain number in the cell."""
    found = [m for m in CELL.finditer(text) if m.group(1) == cell]
    if len(found) != 1 or "<f>" in (found[0].group(3) or ""):
        sys.exit(f"cell {cell} does not hold a plain value")
    attributes = re.sub(r'\s+t="[^"]*"', "", found[0].group(2))
    start, end = found[0].span()
    return f'{text[:start]}<c r="{cell}"{attributes}><v>{value}</v></c>{text[end:]}'


def poison(text):
    """The sheet's text with every formula's stored result overwritten, and how many there were."""

    def spoil(match):
        cell, attributes, body = match.groups()
        if "<f" not in (body or ""):
            return match.group(0)
        attributes = re.sub(r'\s+t="[^"]*"', "", attributes)
        body = re.sub(r"<v>.*?</v>|<v\s*/>", "", body, flags=re.S)
        return f'<c r="{cell}"{attributes}>{body}<v>777</v></c>'

    return CELL.sub(spoil, text)


def prepare(source, target, settings, spoil):
    """A copy with numbers set and, if asked, results spoiled."""
    with zipfile.ZipFile(source) as book, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as copy:
        sheets, names = parts(book)
        wanted = {}
        for setting in settings:
            name, equals, value = setting.partition("=")
            if not equals or name.lower() not in names:
                sys.exit(f"no named cell for --set {setting}")
            float(value)
            sheet, cell = names[name.lower()]
            wanted.setdefault(sheets[sheet], []).append((cell, value))
        for entry in book.infolist():
            data = book.read(entry)
            if entry.filename in sheets.values():
                text = data.decode("utf-8")
                for cell, value in wanted.get(entry.filename, []):
                    text = set_number(text, cell, value)
                data = (poison(text) if spoil else text).encode("utf-8")
            copy.writestr(entry, data)


def recalculate_all(books, office="soffice"):
    """Every cell's value after a forced recalculation, for each (file, settings, spoil); LibreOffice starts once."""
    with tempfile.TemporaryDirectory() as room:
        room = pathlib.Path(room)
        profile = room / "profile" / "user"
        profile.mkdir(parents=True)
        (profile / "registrymodifications.xcu").write_text(SETTING)
        (room / "in").mkdir()
        copies = [room / "in" / f"book-{n}.xlsx" for n in range(len(books))]
        for (source, settings, spoil), copy in zip(books, copies):
            prepare(source, copy, settings, spoil)
        home = f"-env:UserInstallation={(room / 'profile').as_uri()}"
        command = [office, home, "--headless", "--convert-to", "xlsx", "--outdir", str(room / "out")]
        done = subprocess.run([*command, *map(str, copies)], capture_output=True, text=True,
                              timeout=180 + 5 * len(copies), check=False)
        results = []
        for (source, _, _), copy in zip(books, copies):
            result = room / "out" / copy.name
            if done.returncode or not result.exists():
                sys.exit(f"LibreOffice did not convert {source}: {done.stdout}{done.stderr}")
            results.append(values(result))
        return results


def recalculate(source, settings=(), spoil=False, office="soffice"):
    """Every cell's value of one file after a forced recalculation."""
    return recalculate_all([(source, settings, spoil)], office)[0]


def values(path):
    """Every cell's stored value: {sheet: {cell: value}}."""
    book = openpyxl.load_workbook(path, data_only=True)
    return {
        sheet.title: {c.coordinate: c.value for row in sheet.iter_rows() for c in row if c.value is not None}
        for sheet in book.worksheets
    }


def main():
    """Command line."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("file")
    words.add_argument("--set", action="append", default=[], metavar="NAME=VALUE", help="a number for a named cell")
    words.add_argument("--poison", action="store_true", help="spoil all stored results first")
    asked = words.parse_args()
    cells = recalculate(asked.file, asked.set, asked.poison)
    json.dump(cells, sys.stdout, indent=1, ensure_ascii=False, default=str)
    print()


if __name__ == "__main__":
    main()
