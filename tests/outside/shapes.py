"""Meshes of the package manifold3d: making them, joining and cutting them, and the faces by which two of them touch.

Lengths in mm, coordinates as 64-bit floats. A circle is a polygon of SIDES sides with the circle's area (by the declared
pi), so volumes and plans carry no error of the chord; an upright face round it is CHORD times too large, and divided by it.
"""
from functools import lru_cache
from math import pi, sin, sqrt, tan

import numpy as np
from manifold3d import Manifold, Mesh64, OpType
from second_model import PI

SIDES = 64
SAME_AREA = sqrt(2 * float(PI) / (SIDES * sin(2 * pi / SIDES)))  # radius of the polygon over that of the circle
CHORD = sqrt(SIDES * tan(pi / SIDES) / float(PI))  # girth of the polygon over that of the circle
STEP = 2.0**-7  # mm; nothing in a job is as thin as two of them


class Broken(Exception):
    """A mesh that is no solid."""


def sound(solid):
    if solid.status().name != "NoError":
        raise Broken(str(solid.status()))
    return solid


def strip(stations, y0, y1):
    """A solid between two chains of levels: stations are (x, bottom, top), joined by straight lines."""
    n = len(stations)
    points = [(x, y, z) for y in (y0, y1) for x, bottom, top in stations for z in (bottom, top)]
    low, high = [2 * i for i in range(n)], [2 * i + 1 for i in range(n)]
    outline = low + high[::-1]
    front = [t for i in range(n - 1) for t in ((low[i], low[i + 1], high[i + 1]), (low[i], high[i + 1], high[i]))]
    back = [tuple(2 * n + i for i in reversed(t)) for t in front]
    girth = []
    for a, b in zip(outline, outline[1:] + outline[:1]):
        girth += [(b, a, 2 * n + a), (b, 2 * n + a, 2 * n + b)]
    mesh = Mesh64(vert_properties=np.array(points, dtype=np.float64), tri_verts=np.array(front + back + girth, dtype=np.uint64))
    return sound(Manifold(mesh))


def box(plan, bottom, top):
    x0, x1, y0, y1 = map(float, plan)
    return strip([(x0, float(bottom), float(top)), (x1, float(bottom), float(top))], y0, y1)


def sloping(along, bottoms, tops, wide):
    """A strip between two straight lines, level or not."""
    ends = [(float(x), float(b), float(t)) for x, b, t in zip((0, along), bottoms, tops)]
    return strip(ends, 0.0, float(wide))


def frustum(bottom_plan, bottom, top_plan, top):
    corners = [(float(x), float(y), float(z)) for plan, z in ((bottom_plan, bottom), (top_plan, top))
               for x in plan[:2] for y in plan[2:]]
    return sound(Manifold.hull_points(np.array(corners)))


def disc(diameter, bottom, top):
    radius = float(diameter) / 2 * SAME_AREA
    return sound(Manifold.cylinder(float(top - bottom), radius, radius, SIDES).translate((0, 0, float(bottom))))


def tube(outer, inner, bottom, top):
    return disc(outer, bottom, top) - disc(inner, bottom, top)


def drilled(diameter, y, z, x0, x1):
    """A round hole along x, its middle at y and z; flat below and above, so that it keeps inside its square."""
    return disc(diameter, 0, x1 - x0).rotate((0, 0, 180 / SIDES)).rotate((0, 90, 0)).translate((float(x0), float(y), float(z)))


def join(solids):
    solids = list(solids)
    return Manifold.batch_boolean(solids, OpType.Add) if solids else Manifold()


def turned(solid):
    """The triangles of a mesh: areas as vectors, that point outwards."""
    mesh = solid.to_mesh64()
    corners = np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts)]
    return np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2


@lru_cache(maxsize=64)
def upright(solid):
    """Area of all upright faces."""
    areas = turned(solid)
    size = np.linalg.norm(areas, axis=1)
    return float(size[np.abs(areas[:, 2]) <= 1e-9 * size].sum())


def underside(solid):
    """Area on plan of all that faces down."""
    down = turned(solid)[:, 2]
    return float(-down[down < 0].sum())


@lru_cache(maxsize=64)
def slopes(solid):
    """Whether any face leans along x."""
    areas = turned(solid)
    return bool((np.abs(areas[:, 0] * areas[:, 2]) > 1e-12).any())


def shared(solid, other):
    """Area of the upright faces, flat or round, that two solids have in common: joined they lose it twice."""
    return (upright(solid) + upright(other) - upright(solid + other)) / 2


def room(solid):
    """Its volume, reckoned near the origin: a thin shell far away would lose digits."""
    return 0.0 if solid.is_empty() else solid.translate(tuple(-least for least in solid.bounding_box()[:3])).volume()


def moved(solid, other, way):
    """Area of the faces of a solid that look one way and touch the other, as seen from there.

    The solid is moved a step: what it then shares with the other is the area times the step, and where a slope ends
    there a wedge that grows with the square of the step; two steps take it out.
    """
    if solid.is_empty() or other.is_empty():
        return 0.0
    once = room(solid.translate(tuple(STEP * w for w in way)) ^ other)
    if way[1] or not (slopes(solid) or slopes(other)):
        return once / STEP
    twice = room(solid.translate(tuple(2 * STEP * w for w in way)) ^ other)
    return (4 * once - twice) / (2 * STEP)


def beside(solid, other):
    """Area of the upright flat faces of a solid that touch the other; floors slope along x only."""
    return sum(moved(solid, other, way) for way in ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0)))


def over(solid, other):
    """Area on plan where a solid stands on the other."""
    return moved(solid, other, (0, 0, -1))
