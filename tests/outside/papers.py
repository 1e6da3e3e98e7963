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
    two_pages(path, {"sw": "kadi ya hatua", "fr": "fiche"}[lang])
    for english in ("before this stage begins", "left after", "setting out: levels", "cautions of this stage", "working day"):
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
    program.need("offer", job, "--out", path)
    text_of(path)
    pages = pages_of(path)
    if "sheet " in pages[0][0]:
        raise Wrong("letters of a title block lie hidden under the text")
    upright = [page for page, tall in pages if tall]
    # The section stands on a sheet of its own where its letters would be too small in the text.
    if len(upright) > 2 or len(pages) - len(upright) not in (1, 2):
        raise Wrong(f"{len(upright)} pages of text and {len(pages) - len(upright)} sheets, not two at most and one or two")
    letters(path)
    signed = [page.count("date, signature") for page in upright]
    if max(signed) != 2:
        raise Wrong(f"those who sign do not stand on one page: {signed}")


def letters(path):
    """No letter of the paper or of its drawings is lower than ISO 3098 has any: 1.8 mm, 0.729 of its size in DejaVu."""
    boxes = subprocess.run(["pdftotext", "-bbox", str(path), "-"], capture_output=True, text=True, check=True).stdout
    words = re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>', boxes)
    # A box is as high as the descriptor of the face says, 0.760 over and 0.240 under the line (table OS/2): its size.
    # Words that stand upright are as wide.
    least = 1.8 / 25.4 * 72 / 0.729
    if len(words) < 100:
        raise Wrong("the paper has hardly a word")
    for a, b, c, d, word in words:
        across = min(float(c) - float(a), float(d) - float(b))
        # Of a short word the length may be less than its height.
        if len(word) > 3 and across < least * 0.99:
            raise Wrong(f"`{word}` is {across:.2f} pt high, not {least:.2f}")


def pages_of(path):
    """Text of each page, and whether it stands upright: drawings lie."""
    said = subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True).stdout
    sizes = subprocess.run(["pdfinfo", "-l", "999", str(path)], capture_output=True, text=True, check=True).stdout
    tall = [float(w) < float(h) for w, h in re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", sizes)]
    return list(zip(said.split("\f")[:-1], tall, strict=True))


def two_pages(path, head):
    """No card has more than two pages of text, whatever its language."""
    card, count = None, 0
    for page, tall in pages_of(path):
        found = re.search(head + r" ?: (.+)", page)
        if tall and found:
            card, count = found.group(1), 0
        count += tall
        if count > 2:
            raise Wrong(f"the card {card} has more than two pages")
    if card is None:
        raise Wrong("there is no card")


def cards(program, job, path):
    program.need("cards", job, "--out", path)
    stages = [s["title"] for s in program.json("orders", job)["stages"]]
    text = text_of(path)
    in_order(text.upper(), [f"STAGE CARD: {title.upper()}" for title in stages])
    two_pages(path, "stage card")
    for page, tall in pages_of(path):
        figures = re.findall(r"(\d+\.\d+)\s+(?:m|m2|m3|kg)\s+built", page) if tall else []
        if any(len(f.partition(".")[2]) > 3 for f in figures):
            raise Wrong(f"more places than a tape shows: {figures}")
    for want in ("done by ", "depth below the datum", "poured on ", "sources: [1]"):
        if want not in text:
            raise Wrong(f"no card has a line `{want}`")
