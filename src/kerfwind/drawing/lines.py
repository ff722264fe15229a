"""The lines of a picture: which edges are drawn, what of them is seen, and how heavy."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .crossing import crossing_segments
from .mesh import Ints, Mesh
from .model import LineMeaning, Point
from .overlap import Floats
from .view import View
from .visible import Screen, gaps, hidden_intervals, merged, nearest_depth

_Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class SeenLine:
    """A line of a picture, by the index of the body it belongs to."""

    points: tuple[Point, ...]
    line: LineMeaning
    body: int


@dataclass(frozen=True)
class _Edges:
    """Candidates: ends on paper (k, 2, 3), and what each is.

    ``contour`` has one side towards the eye, ``back`` none; ``firm`` ones may be dashed.
    """

    ends: Floats
    keys: list[tuple[Hashable, Hashable]]
    body: Ints
    contour: _Bools
    back: _Bools
    firm: _Bools


@dataclass(frozen=True)
class _Piece:
    """A part of a line, with keys by which pieces that meet are chained."""

    edge: int
    ends: tuple[Point, Point]
    keys: tuple[Hashable, Hashable]
    middle: float


def seen_lines(mesh: Mesh, screen: Screen, view: View, new: _Bools, dashed: bool) -> list[SeenLine]:
    """All lines of a picture, hidden ones dashed where wanted.

    Parameters
    ----------
    new
        For each body, whether it is emphasised.
    """
    edges = _candidates(mesh, screen, view, dashed)
    covered = hidden_intervals(mesh, screen, edges.ends)
    across = np.linalg.norm((edges.ends[:, 1] - edges.ends[:, 0])[:, :2], axis=1)
    short = 1.5e-3 * screen.size
    seen: list[_Piece] = []
    hidden: list[_Piece] = []
    for n, intervals in enumerate(covered):
        if across[n] < 1e-6 * screen.size:
            continue
        if edges.back[n]:
            # Facing away, it is behind its own body whatever rounding says.
            hidden.append(_piece(edges, n, 0.0, 1.0))
            continue
        least = min(0.4, short / across[n])
        seen += [_piece(edges, n, s, t) for s, t in gaps(intervals, least)]
        if dashed and edges.firm[n]:
            hidden += [_piece(edges, n, s, t) for s, t in intervals if t - s > least]
    meanings = _meanings(mesh, screen, edges, seen, new)
    lines = _chained(seen, meanings, [int(edges.body[p.edge]) for p in seen])
    if hidden:
        left = _uncovered(hidden, seen, screen.size)
        kinds: list[LineMeaning] = ["hidden"] * len(left)
        lines += _chained(left, kinds, [int(edges.body[p.edge]) for p in left])
    return lines


def free_lines(mesh: Mesh, screen: Screen, ends: Floats) -> list[SeenLine]:
    """Visible parts of lines that belong to no body, shape (k, 2, 3) on paper."""
    found = []
    covered = hidden_intervals(mesh, screen, ends)
    for (p, q), intervals in zip(ends[..., :2], covered, strict=True):
        length = float(np.linalg.norm(q - p))
        if length < 1e-6 * screen.size:
            continue
        for s, t in gaps(intervals, 4e-3 * screen.size / length):
            a, b = p + s * (q - p), p + t * (q - p)
            found.append(
                SeenLine(((float(a[0]), float(a[1])), (float(b[0]), float(b[1]))), "centre", -1)
            )
    return found


def _candidates(mesh: Mesh, screen: Screen, view: View, dashed: bool) -> _Edges:
    front = np.append(screen.front, False)
    one, two = front[mesh.sides[:, 0]], front[mesh.sides[:, 1]]
    contour = one != two
    back = ~one & ~two & mesh.sharp & dashed
    chosen = np.nonzero(contour | (one & two & mesh.sharp) | back)[0]
    ids = mesh.edges[chosen]
    keys: list[tuple[Hashable, Hashable]] = [(int(a), int(b)) for a, b in ids]
    crossings, owner = crossing_segments(mesh)
    # Ends that meet get one key, though each pair of triangles found its own.
    grid = np.round(crossings / (1e-5 * (float(np.ptp(mesh.points)) or 1.0))).astype(int)
    keys += [(("cross", *a), ("cross", *b)) for a, b in grid.tolist()]
    count = len(crossings)
    none = np.zeros(count, dtype=bool)
    return _Edges(
        np.concatenate([screen.xyd[ids], view.project(crossings)]),
        keys,
        np.concatenate([mesh.body[mesh.sides[chosen, 0]], owner]),
        np.append(contour[chosen], none),
        np.append(back[chosen], none),
        np.append(contour[chosen] | mesh.sharp[chosen], none),
    )


def _piece(edges: _Edges, n: int, s: float, t: float) -> _Piece:
    (x0, y0, _), (x1, y1, _) = edges.ends[n].tolist()
    a = (x0 + s * (x1 - x0), y0 + s * (y1 - y0))
    b = (x0 + t * (x1 - x0), y0 + t * (y1 - y0))
    keys = (edges.keys[n][0] if s == 0 else (n, s), edges.keys[n][1] if t == 1 else (n, t))
    return _Piece(n, (a, b), keys, (s + t) / 2)


def _meanings(
    mesh: Mesh, screen: Screen, edges: _Edges, seen: list[_Piece], new: _Bools
) -> list[LineMeaning]:
    if not seen:
        return []
    numbers = np.asarray([p.edge for p in seen])
    contour = edges.contour[numbers]
    if new.any():
        # Creases within a new part stay thin, so that its outline speaks.
        fresh = new[edges.body[numbers]]
        return [
            "old" if not f else "new" if c else "edge" for f, c in zip(fresh, contour, strict=True)
        ]
    heavy = contour & _open_behind(mesh, screen, edges, seen, numbers)
    return ["outline" if h else "edge" for h in heavy]


def _open_behind(
    mesh: Mesh, screen: Screen, edges: _Edges, seen: list[_Piece], numbers: Ints
) -> _Bools:
    """Whether there is nothing close behind a line on one of its sides."""
    t = np.asarray([p.middle for p in seen])
    p, q = edges.ends[numbers, 0], edges.ends[numbers, 1]
    middle = p + t[:, None] * (q - p)
    along = (q - p)[:, :2] / np.linalg.norm((q - p)[:, :2], axis=1, keepdims=True)
    aside = np.stack([-along[:, 1], along[:, 0]], axis=1) * 2e-3 * screen.size
    one = nearest_depth(mesh, screen, middle[:, :2] + aside)
    two = nearest_depth(mesh, screen, middle[:, :2] - aside)
    return np.asarray(np.maximum(one, two) - middle[:, 2] > 0.08 * screen.size)


def _chained(pieces: list[_Piece], meanings: list[LineMeaning], body: list[int]) -> list[SeenLine]:
    """Pieces of one body and meaning that share an end, joined to longer lines."""
    at: dict[tuple[LineMeaning, int, Hashable], list[int]] = {}
    for n, piece in enumerate(pieces):
        for key in piece.keys:
            at.setdefault((meanings[n], body[n], key), []).append(n)
    used = [False] * len(pieces)
    lines: list[SeenLine] = []

    def walk(n: int, key: Hashable) -> list[Point]:
        """Points beyond piece n, going on from its end ``key``."""
        points: list[Point] = []
        while True:
            here = at[meanings[n], body[n], key]
            near = [m for m in here if not used[m]]
            if not near or len(here) > 2:
                return points
            n = near[0]
            used[n] = True
            (a, b), (ka, kb) = pieces[n].ends, pieces[n].keys
            point, key = (b, kb) if ka == key else (a, ka)
            points.append(point)

    for n, piece in enumerate(pieces):
        if used[n]:
            continue
        used[n] = True
        ahead, back = walk(n, piece.keys[1]), walk(n, piece.keys[0])
        lines.append(SeenLine((*reversed(back), *piece.ends, *ahead), meanings[n], body[n]))
    return lines


def _uncovered(hidden: list[_Piece], seen: list[_Piece], size: float) -> list[_Piece]:
    """Hidden pieces less what lies exactly under a visible or an earlier hidden one.

    They are keyed anew by where their ends lie on paper.
    """
    slack = 1e-4 * size
    d = np.asarray([p.ends for p in hidden], dtype=float)
    every = np.concatenate([np.asarray([p.ends for p in seen], dtype=float).reshape(-1, 2, 2), d])
    low, high = every.min(axis=1) - slack, every.max(axis=1) + slack
    n, m = _boxes_met(low[len(seen) :], high[len(seen) :], low, high)
    earlier = m < len(seen) + n
    n, m = n[earlier], m[earlier]
    p, way = d[n, 0], d[n, 1] - d[n, 0]
    length = np.linalg.norm(way, axis=1)
    u = way / length[:, None]
    others = every[m] - p[:, None]
    off = np.abs(others[..., 0] * u[:, None, 1] - others[..., 1] * u[:, None, 0]).max(axis=1)
    on = off < slack
    along = np.sort(np.einsum("kpi,ki->kp", others[on], u[on]) / length[on, None], axis=1)
    start, end = np.clip(along[:, 0], 0.0, 1.0), np.clip(along[:, 1], 0.0, 1.0)
    covered = merged(n[on], start, end, len(hidden))
    found: list[_Piece] = []
    for piece, (a, b), intervals in zip(hidden, d.tolist(), covered, strict=True):
        least = 2.0 * slack / float(np.hypot(b[0] - a[0], b[1] - a[1]))
        for s, t in gaps(intervals, least):
            ends = [(a[0] + v * (b[0] - a[0]), a[1] + v * (b[1] - a[1])) for v in (s, t)]
            keys = [tuple(round(c / (4 * slack)) for c in end) for end in ends]
            found.append(_Piece(piece.edge, (ends[0], ends[1]), (keys[0], keys[1]), 0.5))
    return found


def _boxes_met(low_a: Floats, high_a: Floats, low_b: Floats, high_b: Floats) -> tuple[Ints, Ints]:
    """Pairs of boxes on paper that overlap."""
    first, second = [], []
    block = max(1, 2_000_000 // max(len(low_b), 1))
    for start in range(0, len(low_a), block):
        part = slice(start, start + block)
        meet = low_a[part, None, 0] <= high_b[:, 0]
        meet &= high_a[part, None, 0] >= low_b[:, 0]
        meet &= low_a[part, None, 1] <= high_b[:, 1]
        meet &= high_a[part, None, 1] >= low_b[:, 1]
        i, j = np.nonzero(meet)
        first.append(i + start)
        second.append(j)
    return np.concatenate(first), np.concatenate(second)
