"""Errors planted in the meshes and in a paper: each must be seen by solids.py, in the work where it is."""
from copy import deepcopy

from program import Wrong
from second_model import Reader, length
from solids_tank import RANKS, WORKS

# What is wrong, in which sample, which length of the mesh's job grows by so many mm (or factor), and the work that shows it.
SIZES = (
    ("a partition 10 mm thicker", "school", "tank.partitions.thickness", 10, "brickwork-partition"),
    ("a cover 5 mm thicker", "clinic", "tank.cover.thickness", 5, "concrete-cover"),
    ("a cover 5 mm higher", "workshop", "tank.cover_top", 5, "disposal"),
    ("a tank 1 mm wider", "smallest", "tank.width", 1, "excavation-pit"),
    ("a fall of 1 mm more", "rest-house", "tank.base.fall", 1, "void-clear-space"),
    ("a projection 1 mm wider", "textbook", "tank.base.projection", 1, "formwork-base-edge"),
    ("a working space 1 mm wider", "clinic", "tank.pit.working_space", 1, "backfill"),
    ("a column 1 mm larger", "clinic", "tank.columns.size.0", 1, "formwork-column"),
    ("a pocket 1 mm deeper", "rest-house", "tank.columns.pocket", 1, "concrete-pocket"),
    ("a ring beam 1 mm higher up", "clinic", "tank.ring_beams.0.above_floor", 1, "brickwork-wall"),
    ("a ring beam 1 mm deeper", "school", "tank.ring_beams.0.depth", 1, "formwork-ring-beam"),
    ("a span beam 1 mm wider", "rest-house", "tank.cover.span_beam.width", 1, "formwork-cover-soffit"),
    ("an over-break 1 mm thicker", "rest-house", "tank.pit.over_break", 1, "dug_actual"),
    ("a bearing 1 mm longer", "school", "tank.cover.span_beam.bearing", 1, "concrete-span-beam"),
    ("an opening 1 mm higher", "rest-house", "tank.partitions.opening.height", 1, "plaster-wall"),
    ("a manhole 1 mm longer", "rest-house", "tank.cover.manholes.0.0", 1, "damp-proof-membrane"),
    ("a shaft 1 mm thicker", "school", "tank.manhole_shafts.thickness", 1, "manhole-shaft"),
    ("a board built in 1 mm deeper", "school", "tank.boards.0.built_in", 1, "concrete-board"),
    ("a haunch 1 mm wider", "school", "tank.haunch.width", 1, "screed"),
    ("a pipe hole 1 mm wider", "rest-house", "tank.pipes.inlet.diameter", 1, "void-pipe-hole"),
    ("a soak pit 1 mm wider", "lined-pits", "soak_pit.diameter", 1, "earthwork-support"),
    ("a foot 1 mm wider", "lined-pits", "soak_pit.lining.foot.width", 1, "concrete-soak-foot"),
    ("a foot 1 mm thicker", "lined-pits", "soak_pit.lining.foot.thickness", 1, "formwork-soak-foot"),
    ("a lining 1 mm thicker", "lined-pits", "soak_pit.lining.thickness", 1, "brickwork-soak-pit"),
)
# The second wrongly takes space from the first, in this sample.
SWAPPED = (("column", "wall", "clinic"), ("column", "ring-beam", "rest-house"), ("ring-beam", "wall", "rest-house"),
           ("board", "wall", "school"), ("opening", "partition", "rest-house"), ("manhole", "cover", "rest-house"),
           ("shaft-void", "shaft", "school"), ("pipe-hole", "wall", "clinic"), ("span-beam", "wall-beam", "school"),
           ("haunch", "clear", "school"))


def grown(job, path, more):
    """The job with one length longer; a length left out starts from its default."""
    job = deepcopy(job)
    *tables, last = path.split(".")
    here = job
    for word in tables:
        here = here[int(word)] if word.isdigit() else here.setdefault(word, {})
    if isinstance(here, list):
        last = int(last)
        old = here[last]
    else:
        old = here[last] if last in here else Reader(job).raw(path)
    here[last] = f"{float(length(old) + more)} mm"
    return job


def reranked(high, low):
    ranks = [name for name in RANKS if name != low]
    ranks.insert(ranks.index(high), low)
    return tuple(ranks)


def seen(works, work, what):
    if work not in works:
        raise Wrong(f"{what} passed; {', '.join(sorted(works)) or 'nothing'} differed")


def run(tally, compare, jobs):
    """`compare(name, job, ranks)` gives the works that differ; `jobs` are the samples."""
    for what, name, path, more, work in SIZES:
        tally.check(f"planted: {what}", seen, compare(name, grown(jobs[name], path, more), RANKS), work, what)
    for high, low, name in SWAPPED:
        tally.check(f"planted: {low} before {high}", seen, compare(name, jobs[name], reranked(high, low)), WORKS[high],
                    f"{low} taking space from the {high}")
