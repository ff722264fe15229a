"""The least weight of a small shop's hookups by looking at every answer there is.

Written from the definition, not from the code: every chain of up to two pieces, every
head on every hose, every way of lending. Only the weights of joints are shared.
"""

from __future__ import annotations

from itertools import product

import numpy as np

from kerfwind.hookup.chains import UNREACHED, Joining, Part, Route
from kerfwind.hookup.made import printed, stepped_cuff
from kerfwind.hookup.model import Weights
from kerfwind.shop import End

Chain = tuple[float, tuple[int, ...]]


def lending(part: Part, fixed: int, uses: tuple[int, ...], change: float) -> float:
    """Least weight of one part's uses, over every number shared and every way to borrow."""
    best = np.inf
    for shared in range(max(uses, default=0) + 1):
        for borrowed in product(*(range(min(n, shared) + 1) for n in uses)):
            missing = fixed + sum(uses) - sum(borrowed) + shared - part.owned
            if missing <= 0:
                bill = 0.0
            elif part.price is None:
                continue
            else:
                bill = missing * part.price
            best = min(best, bill + change * sum(borrowed))
    return best


def chains(
    route: int,
    routes: list[Route],
    parts: list[Part],
    joining: Joining,
    weights: Weights,
    head: tuple[int, bool] | None,
    own_printer: bool,
) -> list[Chain]:
    """Every chain of a route: its weight without parts, and its parts."""
    here = routes[route]
    start, stop = joining.starts[route], joining.finishes[route]
    end: End = here.downstream
    target, fixed, mate = stop, here.of_hose, here.finish
    if head is not None:
        part, turned = head
        target = 2 * part + turned
        fitting = parts[part].fitting
        end = fitting.end_b if turned else fitting.end_a
        out = 2 * part + (not turned)
        fixed += joining.piece_air[part, int(turned)] + joining.air[out, stop]
        mate = fitting.called
    found: list[Chain] = [] if head is not None else [(UNREACHED + here.of_hose, ())]
    for how in (
        stepped_cuff(here.upstream, end, (here.start, mate)),
        printed(here.upstream, end, (here.start, mate), own_printer),
    ):
        if how is not None:
            air = how.loss_pa / 1000 * weights.air_per_kpa
            found.append((how.price + air + how.length_m * weights.hang_per_m + fixed, ()))

    def extend(weight: float, at: int, used: tuple[int, ...]) -> None:
        whole = weight + joining.joint[at, target]
        if here.tool:
            whole += joining.remade[at, target]
        if np.isfinite(whole):
            found.append((float(whole), used))
        if len(used) < 2:
            for p in range(len(parts)):
                for t in (False, True):
                    piece = joining.piece_air[p, int(t)] + joining.piece_hang[p]
                    more = weight + joining.joint[at, 2 * p + t] + piece
                    if np.isfinite(more):
                        extend(more, 2 * p + (not t), (*used, p))

    extend(fixed, start, ())
    return found


def least_weight(
    parts: list[Part],
    routes: list[Route],
    demands: list[tuple[int, ...]],
    follows: dict[int, int],
    joining: Joining,
    weights: Weights,
    own_printer: bool = False,
) -> float:
    """Least weight over every answer."""
    hoses = sorted({r.hose for r in routes if r.tool})
    links = [routes[r].hose for g in demands for r in g if not routes[r].tool]
    kinds = ("coupling", "cuff", "hose end")
    oriented = [
        (p, t) for p in range(len(parts)) for t in (False, True) if parts[p].fitting.kind in kinds
    ]
    known: dict[tuple[int, tuple[int, bool] | None], list[Chain]] = {}

    def listed(route: int, head: tuple[int, bool] | None) -> list[Chain]:
        if (route, head) not in known:
            known[(route, head)] = chains(route, routes, parts, joining, weights, head, own_printer)
        return known[(route, head)]

    best = np.inf
    for setup in product(*([None, "bare", *oriented] for _ in hoses)):
        used = {h: s for h, s in zip(hoses, setup, strict=True) if s is not None}
        heads: dict[int, tuple[int, bool]] = {}
        constant = 0.0
        for hose, state in used.items():
            if state != "bare":
                part, turned = state  # type: ignore[misc]
                row = joining.finishes[
                    next(i for i, r in enumerate(routes) if r.tool and r.hose == hose)
                ]
                heads[hose] = (part, turned)
                constant += joining.fixing[2 * part + (not turned), row]
        if not used or not np.isfinite(constant):
            continue
        for link in links or [None]:
            kept = [*used, *([] if link is None else [link])]
            rows = [
                [c for r in g if (h := routes[r].hose) in used for c in listed(r, heads.get(h))]
                for g in demands
                if routes[g[0]].tool
            ]
            tools = len(rows)
            rows += [listed(r, None) for r, hose in follows.items() if hose in kept]
            total = constant + weights.second_hose * len(kept)
            best = min(best, total + _together(rows, tools, parts, heads, weights.change))
    return best


def _together(
    rows: list[list[Chain]],
    tools: int,
    parts: list[Part],
    heads: dict[int, tuple[int, bool]],
    change: float,
) -> float:
    """Least weight of one chain from each row, all combinations at once."""
    if not all(rows):
        return np.inf
    shape = [len(r) for r in rows]
    total = np.zeros(shape)
    codes = {p: np.zeros(shape, dtype=np.int64) for p in range(len(parts))}
    for axis, row in enumerate(rows):
        along = [-1 if a == axis else 1 for a in range(len(rows))]
        total = total + np.array([w for w, _ in row]).reshape(along)
        for p in codes:
            # Digits: tools that need one, two, three of it; then fixed uses.
            need = [used.count(p) for _, used in row]
            digit = [(0 if not n else 10 ** (n - 1)) if axis < tools else 1000 * n for n in need]
            codes[p] = codes[p] + np.array(digit).reshape(along)
    for p, code in codes.items():
        worn = sum(head[0] == p for head in heads.values())
        weights = np.zeros(code.max() + 1)
        for value in np.flatnonzero(np.bincount(code.ravel())).tolist():
            uses = tuple(n for n in (1, 2, 3) for _ in range(value // 10 ** (n - 1) % 10))
            weights[value] = lending(parts[p], value // 1000 + worn, uses, change)
        total = total + weights[code]
    return float(total.min())
