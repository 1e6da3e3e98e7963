"""Papers to print, read by poppler: real text in reading order, embedded faces, pages counted."""
import re
import subprocess

from program import SAMPLES, Wrong, sample


def run(program, tally, room):
    for name in SAMPLES:
        tally.check(f"{name}: offer", offer, program, sample(name), room / f"{name}-offer.pdf")
        for lang, says in (("sw", "Isomwe na msemaji wa Kiswahili"), ("fr", "À faire relire par un francophone")):
            path = room / f"{name}-cards-{lang}.pdf"
            tally.check(f"{name}: cards, {lang}", drafts, program, sample(name), path, lang, says)
        tally.check(f"{name}: cards", cards, program, sample(name), room / f"{name}-cards.pdf")


def text_of(path):
    said = subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True).stdout
    faces = subprocess.run(["pdffonts", str(path)], capture_output=True, text=True, check=True).stdout.splitlines()[2:]
    if not faces or any(re.split(r"\s+", line.strip())[-5:-2] != ["yes", "yes", "yes"] for line in faces):
        raise Wrong(f"faces are not all embedded, cut down and mapped to letters: {faces}")
    pages = said.split("\f")[:-1]
    for n, page in enumerate(pages, 1):
        if f"page {n} of {len(pages)}" not in page:
            raise Wrong(f"page {n} of {len(pages)} is not said on it")
    return re.sub(r"[\s\u00a0]+", " ", said)


def in_order(text, wants):
    at = 0
    for want in wants:
        want = re.sub(r"[\s\u00a0]+", " ", want)
        found = text.find(want, at)
        if found < 0:
            raise Wrong(f"`{want}` is not there, or not in its place")
        at = found + len(want)


def drafts(program, job, path, lang, says):
    """Cards of another language: each page says that it is a draft, in both languages."""
    program.need("cards", job, "--out", path, "--lang", lang)
    said = subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True).stdout
    pages = said.split("\f")[:-1]
    of = {"sw": "ukurasa {} kati ya {}", "fr": "page {} sur {}"}[lang]
    for n, page in enumerate(pages, 1):
        page = re.sub(r"[\s\u00a0]+", " ", page)
        for want in (says, "To be read by a speaker before use", of.format(n, len(pages))):
            if want not in page:
                raise Wrong(f"page {n} does not say `{want}`")
    for english in ("before this stage begins", "to have in store", "cautions of this stage", "working day"):
        if english in said:
            raise Wrong(f"`{english}` is not {lang}")


def offer(program, job, path):
    program.need("offer", job, "--out", path, "--bill")
    bill = program.json("bill", job)
    places = len(bill["total"].partition(".")[2])
    whole, _, part = bill["total"].partition(".")
    shown = f"{int(whole):,}".replace(",", " ") + ("." + part if places else "")
    text = text_of(path)
    in_order(text, ["Offer", "What is built", "The price", shown, bill["total_in_words"].split()[0],
                    "Not in the price", "Agreed", "Appendix: the priced bill"])


def cards(program, job, path):
    program.need("cards", job, "--out", path)
    stages = [s["title"] for s in program.json("orders", job)["stages"]]
    text = text_of(path)
    in_order(text.upper(), [f"STAGE CARD: {title.upper()}" for title in stages])
