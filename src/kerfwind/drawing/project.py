"""Pictures of bodies in space with hidden lines right: sides, isometric, perspective."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from kerfwind.solids import Body

from .mesh import Mesh, mesh_of
from .model import Drawing, Item, LineMeaning, Point, Polygon, Polyline
from .overlap import Floats
from .view import View
from .visible import (
    Screen,
    area_of,
    gaps,
    hidden_intervals,
    nearest_depth,
    screen_of,
    visible_faces,
)

Hidden = Literal["none", "dashed"]
#: Unit vector to the light in the drawing's own right, up, away: over the left shoulder.
_LIGHT = (-0.45, 0.7, -0.55)


@dataclass(frozen=True)
class SeenLine:
    """A line of a picture, by the index of the body it belongs to."""

    points: tuple[Point, ...]
    line: LineMeaning
    body: int


@dataclass(frozen=True)
class SeenFace:
    """The visible part of a flat face; further loops are holes."""

    loops: tuple[tuple[Point, ...], ...]
    grey: float
    body: int


@dataclass(frozen=True)
class Picture:
    """What is seen of the bodies, in drawing units (metres where the view is true)."""

    view: View
    names: tuple[str, ...]
    faces: tuple[SeenFace, ...]
    lines: tuple[SeenLine, ...]

    def seen_at(self, name: str) -> Point | None:
        """A spot well inside the largest visible face of a body, for a leader to end on.

        None where nothing of it can be seen.
        """
        number = self.names.index(name)
        mine = [f for f in self.faces if f.body == number]
        if not mine:
            return None
        return _inner_point(max(mine, key=lambda f: abs(area_of(np.asarray(f.loops[0])))).loops)


def picture(
    bodies: Sequence[Body],
    view: View,
    *,
    emphasised: Collection[str] = (),
    hidden: Hidden = "none",
    shaded: bool = True,
    crease_deg: float = 28.0,
) -> Picture:
    """Project closed bodies with hidden lines removed or dashed.

    Parameters
    ----------
    emphasised
        Names of the bodies that are new in this step: heavy outlines and darker faces,
        while all others step back. Empty: all alike.
    hidden
        Whether edges behind something are dashed.
    shaded
        Light greys by the fall of light; else all faces are white.
    crease_deg
        Faces that meet at a smaller angle are drawn as one round surface.

    Raises
    ------
    ValueError
        No bodies, a body without triangles, or one behind the eye of a perspective.
    """
    mesh = mesh_of(bodies, crease_deg)
    screen = screen_of(mesh, view.project(mesh.points))
    new = np.asarray([b.name in emphasised for b in bodies])
    tones = np.asarray([b.tone for b in bodies], dtype=float)
    faces = _faces(mesh, screen, view, tones, new, shaded)
    lines = _lines(mesh, screen, new, hidden)
    return Picture(view, tuple(b.name for b in bodies), tuple(faces), tuple(lines))


def picture_drawing(title: str, seen: Picture, items: Sequence[Item] = ()) -> Drawing:
    """A picture as a drawing; ``items`` are dimensions, balloons and labels upon it."""
    painted: list[Item] = [Polygon(f.loops[0], None, f.grey, holes=f.loops[1:]) for f in seen.faces]
    order: dict[str, int] = {"hidden": 0, "old": 1, "edge": 2, "outline": 3, "new": 4}
    painted += [
        Polyline(line.points, line.line)
        for line in sorted(seen.lines, key=lambda s: order.get(s.line, 1))
    ]
    scaled: Literal["scale", "free"] = "scale" if seen.view.true_size else "free"
    return Drawing(title, (*painted, *items), scaled=scaled)


def _faces(
    mesh: Mesh,
    screen: Screen,
    view: View,
    tones: Floats,
    new: np.ndarray[tuple[int, ...], np.dtype[np.bool_]],
    shaded: bool,
) -> list[SeenFace]:
    light = np.asarray(_LIGHT) / np.linalg.norm(_LIGHT)
    axes = np.asarray((view.right, view.up, view.away), dtype=float)
    axes /= np.linalg.norm(axes, axis=1, keepdims=True)
    found = []
    for number, loops in visible_faces(mesh, screen):
        body = int(mesh.body[number])
        lit = float(np.clip(mesh.normals[number] @ axes.T @ light, 0.0, 1.0))
        tone = float(tones[body])
        if new.any():
            tone = 0.8 if new[body] else 0.5 + tone / 2
        depth = 0.2 if not new.any() or new[body] else 0.09
        grey = tone - depth * (1.0 - lit) if shaded else 1.0
        found.append(SeenFace(_outer_first(loops), round(grey, 3), body))
    return found


def _outer_first(loops: list[Floats]) -> tuple[tuple[Point, ...], ...]:
    ranked = sorted(loops, key=lambda loop: -abs(area_of(loop)))
    return tuple(tuple(map(tuple, loop.tolist())) for loop in ranked)


def _inner_point(loops: Sequence[Sequence[Point]]) -> Point:
    """The middle of the widest level chord through the face's upper, middle or lower part."""
    edges = np.concatenate(
        [
            np.concatenate([np.asarray(loop), np.roll(np.asarray(loop), -1, axis=0)], axis=1)
            for loop in loops
        ]
    )
    low, high = edges[:, 1].min(), edges[:, 1].max()
    best, at = -1.0, (float(edges[0, 0]), float(edges[0, 1]))
    for share in (0.5, 0.4, 0.6, 0.25, 0.75):
        y = low + share * (high - low)
        across = (edges[:, 1] <= y) != (edges[:, 3] <= y)
        e = edges[across]
        xs = np.sort(e[:, 0] + (y - e[:, 1]) / (e[:, 3] - e[:, 1]) * (e[:, 2] - e[:, 0]))
        for a, b in zip(xs[0::2], xs[1::2], strict=False):
            if b - a > best * 1.3 + 1e-12:
                best, at = float(b - a), (float((a + b) / 2), float(y))
    return at


def _lines(
    mesh: Mesh,
    screen: Screen,
    new: np.ndarray[tuple[int, ...], np.dtype[np.bool_]],
    hidden: Hidden,
) -> list[SeenLine]:
    front = np.append(screen.front, False)
    one, two = front[mesh.sides[:, 0]], front[mesh.sides[:, 1]]
    contour = one != two
    crease = one & two & mesh.sharp
    drawn = contour | crease
    behind = ~one & ~two & mesh.sharp if hidden == "dashed" else np.zeros(len(drawn), dtype=bool)
    edges = np.nonzero(drawn | behind)[0]
    body = mesh.body[mesh.sides[edges, 0]]
    covered = hidden_intervals(mesh, screen, edges)
    ends = screen.xyd[mesh.edges[edges]]
    length = np.linalg.norm((ends[:, 1] - ends[:, 0])[:, :2], axis=1)
    short = 1.5e-3 * screen.size
    kept: list[tuple[int, float, float]] = []
    dashed: list[tuple[int, float, float]] = []
    for n, intervals in enumerate(covered):
        if length[n] < 1e-6 * screen.size:
            continue
        if behind[edges[n]]:
            # Facing away, it is behind its own body whatever rounding says.
            dashed.append((n, 0.0, 1.0))
            continue
        least = min(0.4, short / length[n])
        kept += [(n, s, t) for s, t in gaps(intervals, least)]
        if hidden == "dashed" and (contour[edges[n]] or mesh.sharp[edges[n]]):
            dashed += [(n, s, t) for s, t in intervals if t - s > least]
    ids = mesh.edges[edges]
    outer = _outer(mesh, screen, edges, ends, kept, contour)
    meanings: list[LineMeaning] = []
    for (n, _, _), is_outer in zip(kept, outer, strict=True):
        if new.any():
            meanings.append("new" if new[body[n]] else "old")
        else:
            meanings.append("outline" if is_outer else "edge")
    if new.any():
        # Creases within a new part stay thin, so that its outline speaks.
        meanings = [
            "edge" if m == "new" and not contour[edges[n]] else m
            for m, (n, _, _) in zip(meanings, kept, strict=True)
        ]
    pieces = _pieces(kept, ends, ids, screen.size)
    lines = _chained(pieces, meanings, [int(body[n]) for n, _, _ in kept])
    if dashed:
        hidden_pieces = _pieces(dashed, ends, ids, screen.size)
        left = _uncovered([p for p, _ in hidden_pieces], [p for p, _ in pieces], screen.size)
        lines += [SeenLine(p, "hidden", int(body[dashed[n][0]])) for n, p in left]
    return lines


def _outer(
    mesh: Mesh,
    screen: Screen,
    edges: np.ndarray[tuple[int, ...], np.dtype[np.intp]],
    ends: Floats,
    kept: list[tuple[int, float, float]],
    contour: np.ndarray[tuple[int, ...], np.dtype[np.bool_]],
) -> list[bool]:
    """Whether a contour has nothing close behind it: those lines are drawn heavy."""
    if not kept:
        return []
    n = np.asarray([k[0] for k in kept])
    t = np.asarray([(k[1] + k[2]) / 2 for k in kept])
    p, q = ends[n, 0], ends[n, 1]
    middle = p + t[:, None] * (q - p)
    along = (q - p)[:, :2] / np.linalg.norm((q - p)[:, :2], axis=1, keepdims=True)
    across = np.stack([-along[:, 1], along[:, 0]], axis=1) * 2e-3 * screen.size
    one = nearest_depth(mesh, screen, middle[:, :2] + across)
    two = nearest_depth(mesh, screen, middle[:, :2] - across)
    drop = np.maximum(one, two) - middle[:, 2]
    return [bool(d) for d in contour[edges[n]] & (drop > 0.08 * screen.size)]


_Piece = tuple[tuple[Point, Point], tuple[object, object]]


def _pieces(
    kept: list[tuple[int, float, float]],
    ends: Floats,
    ids: np.ndarray[tuple[int, ...], np.dtype[np.intp]],
    size: float,
) -> list[_Piece]:
    """Ends on paper of each piece, and keys by which pieces that meet are chained."""
    made: list[_Piece] = []
    for n, s, t in kept:
        (x0, y0, _), (x1, y1, _) = ends[n].tolist()
        a, b = (x0 + s * (x1 - x0), y0 + s * (y1 - y0)), (x0 + t * (x1 - x0), y0 + t * (y1 - y0))
        keys: tuple[object, object] = (
            int(ids[n, 0]) if s == 0 else (n, s),
            int(ids[n, 1]) if t == 1 else (n, t),
        )
        made.append(((a, b), keys))
    return made


def _chained(pieces: list[_Piece], meanings: list[LineMeaning], body: list[int]) -> list[SeenLine]:
    """Pieces of one body and meaning that share an end, joined to longer lines."""
    at: dict[tuple[LineMeaning, int, object], list[int]] = {}
    for n, (_, keys) in enumerate(pieces):
        for key in keys:
            at.setdefault((meanings[n], body[n], key), []).append(n)
    used = [False] * len(pieces)
    lines: list[SeenLine] = []

    def walk(n: int, key: object) -> list[Point]:
        """Points beyond piece n, going on from its end ``key``."""
        points: list[Point] = []
        while True:
            near = [m for m in at[meanings[n], body[n], key] if not used[m]]
            if not near or len(at[meanings[n], body[n], key]) > 2:
                return points
            n = near[0]
            used[n] = True
            (a, b), (ka, kb) = pieces[n]
            point, key = (b, kb) if ka == key else (a, ka)
            points.append(point)

    for n, ((a, b), (ka, kb)) in enumerate(pieces):
        if used[n]:
            continue
        used[n] = True
        ahead, back = walk(n, kb), walk(n, ka)
        lines.append(SeenLine((*reversed(back), a, b, *ahead), meanings[n], body[n]))
    return lines


def _uncovered(
    dashed: list[tuple[Point, Point]], visible: list[tuple[Point, Point]], size: float
) -> list[tuple[int, tuple[Point, Point]]]:
    """Hidden pieces less what lies exactly under a visible or an earlier hidden one."""
    slack = 1e-4 * size
    d = np.asarray(dashed, dtype=float)
    every = np.concatenate([np.asarray(visible, dtype=float).reshape(-1, 2, 2), d])
    low, high = every.min(axis=1) - slack, every.max(axis=1) + slack
    found: list[tuple[int, tuple[Point, Point]]] = []
    for n, (p, q) in enumerate(d):
        length = float(np.hypot(*(q - p)))
        u = (q - p) / length
        before = len(visible) + n
        near = (low[:before] <= np.maximum(p, q)).all(axis=1)
        near &= (high[:before] >= np.minimum(p, q)).all(axis=1)
        others = every[:before][near] - p
        off = np.abs(others[..., 0] * u[1] - others[..., 1] * u[0]).max(axis=1)
        along = np.sort((others[off < slack] @ u) / length, axis=1)
        rows = sorted((float(a), float(b)) for a, b in along)
        for s, t in gaps(_joined(rows), 2.0 * slack / length):
            a, b = p + s * (q - p), p + t * (q - p)
            found.append((n, ((float(a[0]), float(a[1])), (float(b[0]), float(b[1])))))
    return found


def _joined(rows: list[tuple[float, float]]) -> list[tuple[float, float]]:
    made: list[tuple[float, float]] = []
    for s, t in rows:
        if made and s <= made[-1][1]:
            made[-1] = (made[-1][0], max(made[-1][1], t))
        else:
            made.append((s, t))
    return made
