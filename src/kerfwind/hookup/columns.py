"""The chains worth considering for each route.

Left out is only what cannot be in a best answer: a chain that weighs more, whatever is
shared or owned already, than another chain of the same route made all of new pieces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..shop import End
from .chains import UNREACHED, Column, Joining, Part, Route
from .ends import Floats, no_port
from .made import Made, plate, printed, stepped_cuff
from .model import Weights

MOST_PIECES = 3
#: Chains kept of one route and head; what is beyond is told by `Columns.dropped`.
MOST_KEPT = 400

Pieces = tuple[tuple[int, bool], ...]
Head = tuple[int, bool]


@dataclass(frozen=True)
class Columns:
    """All columns; ``dropped``: least weight of a chain left out for number alone."""

    columns: tuple[Column, ...]
    heads: dict[tuple[int, Head], float]
    dropped: float


@dataclass(frozen=True)
class _Walk:
    """Oriented parts ``2 p + turned``: weight of each, of each after each, least price.

    ``cheap`` is the least that a part adds whatever else is chosen; ``new`` its price.
    """

    weight: Floats
    after: Floats
    cheap: Floats
    new: Floats

    @classmethod
    def of(cls, joining: Joining, parts: Sequence[Part], change: float) -> _Walk:
        count = 2 * len(parts)
        weight = (joining.piece_air + joining.piece_hang[:, None]).reshape(count)
        faces = np.arange(count)
        after = joining.joint[np.ix_(faces ^ 1, faces)]
        new = np.array([np.inf if p.price is None else p.price for p in parts])
        cheap = np.where([p.owned > 0 for p in parts], 0.0, np.minimum(new, change))
        return cls(weight, after, np.repeat(cheap, 2), np.repeat(new, 2))


def list_columns(
    parts: Sequence[Part],
    routes: Sequence[Route],
    hose_ends: dict[int, End],
    joining: Joining,
    weights: Weights,
    *,
    own_printer: bool,
) -> Columns:
    """Columns of all routes, and the heads that hoses may carry with their weight.

    ``hose_ends`` holds the end of each tool hose that faces the tools.
    """
    walk = _Walk.of(joining, parts, weights.change)
    heads = _heads(parts, routes, hose_ends, joining)
    columns: list[Column] = []
    dropped = np.inf
    for index, route in enumerate(routes):
        targets: list[Head | None] = [None]
        if route.tool:
            targets += [g for (hose, g) in heads if hose == route.hose]
        for head in targets:
            found, lost = _of_route(
                index, route, head, parts, joining, walk, weights, len(parts), own_printer
            )
            columns += found
            dropped = min(dropped, lost)
        columns.append(Column(index, None, (), UNREACHED + route.air, unreached=True))
    used = {(routes[c.route].hose, c.head) for c in columns if c.head is not None}
    kept = {key: weight for key, weight in heads.items() if key in used}
    return Columns(tuple(columns), kept, float(dropped))


def _heads(
    parts: Sequence[Part], routes: Sequence[Route], hose_ends: dict[int, End], joining: Joining
) -> dict[tuple[int, Head], float]:
    """Pieces that could stay on a hose, with the weight of their joint to it."""
    heads: dict[tuple[int, Head], float] = {}
    first = 2 * len(parts)
    for hose in hose_ends:
        users = [i for i, r in enumerate(routes) if r.tool and r.hose == hose]
        if not users:
            continue
        row = first + 2 * users[0] + 1
        for face in range(first):
            # Worth it only for several tools; one tool's last piece stays on the tool.
            if len(users) > 1 and np.isfinite(joining.joint[face ^ 1, row]):
                heads[(hose, (face // 2, bool(face % 2)))] = float(joining.fixing[face ^ 1, row])
    return heads


def _of_route(
    index: int, route: Route, head: Head | None, parts: Sequence[Part], joining: Joining,
    walk: _Walk, weights: Weights, count: int, own_printer: bool,
) -> tuple[list[Column], float]:  # fmt: skip
    start, hose_row = 2 * count + 2 * index, 2 * count + 2 * index + 1
    if head is None:
        row, end, ahead, mate = hose_row, route.downstream, 0.0, route.finish
    else:
        part, turned = head
        row = 2 * part + turned
        fitting = parts[part].fitting
        end = fitting.end_b if turned else fitting.end_a
        ahead = float(joining.piece_air[part, int(turned)] + joining.air[row ^ 1, hose_row])
        mate = fitting.name
    fixed = route.air + ahead
    remade = joining.remade[:, row] if route.tool else np.zeros(len(joining.remade))
    made = _made(route, end, mate, own_printer)
    columns = [
        Column(index, head, (), m.price + fixed + _weigh(m, weights), m) for m in made
    ]  # fmt: skip
    if route.tool and no_port(route.upstream):
        return columns, np.inf
    best = min((c.weight for c in columns), default=np.inf)
    direct = float(joining.joint[start, row] + remade[start] + fixed)
    if np.isfinite(direct):
        columns.append(Column(index, head, (), direct))
        best = min(best, direct)
    most = MOST_PIECES - (head is not None)
    found = _walks(start, row, joining, walk, remade, fixed, best, most)
    lost = np.inf
    if len(found) > MOST_KEPT:
        lost = found[MOST_KEPT][0]
        found = found[:MOST_KEPT]
    for _, weight, faces in found:
        pieces = tuple((f // 2, bool(f % 2)) for f in faces)
        columns.append(Column(index, head, pieces, weight))
    return _undominated(columns, best), lost


def _weigh(made: Made, weights: Weights) -> float:
    return made.loss_pa / 1000 * weights.air_per_kpa + made.length_m * weights.hang_per_m


def _made(route: Route, end: End, mate: str, own_printer: bool) -> list[Made]:
    if route.tool and no_port(route.upstream):
        bored = plate(route.tool, end)
        return [bored] if bored else []
    mates = (route.start, mate)
    options = (
        printed(route.upstream, end, mates, own_printer),
        stepped_cuff(route.upstream, end, mates),
    )
    return [m for m in options if m is not None]


def _walks(
    start: int, row: int, joining: Joining, walk: _Walk, remade: Floats, fixed: float,
    best: float, most: int,
) -> list[tuple[float, float, tuple[int, ...]]]:  # fmt: skip
    """Chains of pieces as (least possible weight, weight, oriented parts), lightest first."""
    count = len(walk.weight)
    if not count or most < 1:
        return []
    faces = np.arange(count)
    enter = joining.joint[start, :count] + walk.weight
    leave = joining.joint[faces ^ 1, row] + remade[faces ^ 1] + fixed
    found: list[tuple[float, float, tuple[int, ...]]] = []

    def keep(weight: Floats, chosen: NDArray[np.int64], best: float) -> float:
        """Note chains of the same length, and the bound after them."""
        low = weight + walk.cheap[chosen].sum(axis=1)
        new = weight + walk.new[chosen].sum(axis=1)
        best = min(best, float(new.min(initial=np.inf)))
        order = np.argsort(low, kind="stable")[: 4 * MOST_KEPT]
        for i in order[low[order] <= best + 1e-9]:
            found.append((float(low[i]), float(weight[i]), tuple(int(f) for f in chosen[i])))
        return best

    one = np.flatnonzero(np.isfinite(enter + leave))
    best = keep((enter + leave)[one], one[:, None], best)
    low_enter = enter + walk.cheap
    first = np.flatnonzero(low_enter < best)
    low_leave = leave + walk.cheap
    last = np.flatnonzero(low_leave < best)
    if most >= 2 and len(first) and len(last):
        middle = walk.after[np.ix_(first, last)] + walk.weight[last]
        two = enter[first][:, None] + middle + leave[last][None, :]
        a, b = np.nonzero(np.isfinite(two))
        best = keep(two[a, b], np.stack([first[a], last[b]], axis=1), best)
    if most >= 3 and len(first) and len(last):
        best = _three(walk, enter, leave, first, last, best, keep)
    return sorted(f for f in found if f[0] <= best + 1e-9)


def _three(walk: _Walk, enter: Floats, leave: Floats, first: NDArray[np.int64],
           last: NDArray[np.int64], best: float, keep: object) -> float:  # fmt: skip
    assert callable(keep)
    to_last = walk.after[:, last] + walk.weight[last] + leave[last]
    nearest = (to_last + walk.cheap[last]).min(axis=1)
    for f in first:
        step = enter[f] + walk.after[f] + walk.weight
        low = step + walk.cheap + walk.cheap[f] + nearest
        middle = np.flatnonzero(low <= best + 1e-9)
        if not len(middle):
            continue
        total = step[middle][:, None] + to_last[middle]
        m, b = np.nonzero(np.isfinite(total))
        chosen = np.stack([np.full(len(m), f), middle[m], last[b]], axis=1)
        best = keep(total[m, b], chosen, best)
    return best


def _undominated(columns: list[Column], best: float) -> list[Column]:
    """Of columns with the same parts the lightest; none that another beats with fewer."""
    kept: list[Column] = []
    for column in sorted(columns, key=lambda c: (c.weight, len(c.pieces))):
        mine = sorted(p for p, _ in column.pieces)
        if not any(_within([p for p, _ in k.pieces], mine) for k in kept):
            kept.append(column)
    return kept


def _within(few: list[int], many: list[int]) -> bool:
    rest = list(many)
    for part in few:
        if part not in rest:
            return False
        rest.remove(part)
    return True
