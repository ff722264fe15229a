"""A first nest at once: greedy filling of sheets under several rules, no compiled code."""

from __future__ import annotations

import heapq
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, NamedTuple

import numpy as np

from ..kept import Kept
from .problem import Layout, Part, Problem, Spot
from .tree import carried

Split = Literal["long", "short", "x", "y"]
Rank = Literal["area", "side", "width", "fit"]


@dataclass(frozen=True)
class Rule:
    """How a sheet is filled: which part next, and how the rest is divided."""

    rank: Rank
    split: Split
    tight: float

    def weight(self, part: Part) -> float:
        """What a part counts for; the largest that fits goes next."""
        if self.rank == "area" or self.rank == "fit":
            return float(part.area)
        if self.rank == "side":
            return float(max(part.w, part.h)) ** 2
        return float(min(part.w, part.h)) ** 2


_SPLITS: tuple[Split, ...] = ("long", "short", "x", "y")
_RANKS: tuple[tuple[Rank, float], ...] = (
    ("area", 0.0),
    ("area", 0.3),
    ("side", 0.3),
    ("width", 0.3),
    ("fit", 1.0),
)
RULES: tuple[Rule, ...] = tuple(
    Rule(rank, split, tight) for split in _SPLITS for rank, tight in _RANKS
)


#: Effort of a place looked for, and of a part looked at meanwhile [ms].
_PLACE, _LOOK = 0.008, 0.0004


@dataclass
class Tally:
    """Effort of the plain search, about a millisecond each."""

    effort: float = 0.0

    def add(self, ranked: Ranked) -> None:
        """Count what a nest took."""
        self.effort += ranked.places * _PLACE + ranked.looks * _LOOK


#: A first cut across a sheet: at this x, or at this y.
FirstCut = tuple[Literal["x", "y"], int] | None


def first_cuts(problem: Problem, stock: int) -> list[FirstCut]:
    """None, or for a sheet too big to carry, a few places for one cut that mends that.

    The places lie at sides of parts and sums of two, which leave the least waste.
    """
    return _cuts.of((problem,), stock, lambda: _first_cuts(problem, stock))


_cuts: Kept[list[FirstCut]] = Kept(16)


def _first_cuts(problem: Problem, stock: int) -> list[FirstCut]:
    sheet, box = problem.stocks[stock], problem.box(stock)
    if carried(sheet.w, sheet.h, box):
        return [None]
    sides = sorted({side for p in problem.parts for side in (p.w, p.h)})[-30:]
    sums = {*sides, *(a + b for a in sides for b in sides)}
    found: list[FirstCut] = []
    for at in sorted(sums):
        if at < sheet.w and carried(at, sheet.h, box) and carried(sheet.w - at, sheet.h, box):
            found.append(("x", at + problem.spare))
        if at < sheet.h and carried(sheet.w, at, box) and carried(sheet.w, sheet.h - at, box):
            found.append(("y", at + problem.spare))
    few = 3 if sum(problem.demand) > 100 else 8
    return [None, *found[:: max(1, len(found) // few)][:few]]


#: Kinds of parts from which looking through them is worth arrays.
_MANY = 300
_FIRST_LOOK = 64

_Choice = tuple[int, int, int, bool]
_NONE: _Choice = (-1, 0, 0, False)

#: The largest width and height with wood to spare, and those that fit to a hair or -1.
_Room = tuple[int, int, int, int]


class Ranked:
    """Parts from the greatest weight down, and the best of them for a rectangle."""

    def __init__(self, parts: Sequence[Part], weights: Sequence[float]) -> None:
        self.order = sorted(range(len(parts)), key=lambda i: -weights[i])
        self._parts = [parts[i] for i in self.order]
        self._weights = [weights[i] for i in self.order]
        self._arrays = len(parts) > _MANY
        self._rows = list(range(len(parts)))
        self._each: list[tuple[int, int, int, bool, float]] = []
        self._begun: list[tuple[int, int, int, bool, float]] | None = None
        #: As `best`, with nothing counted.
        self.look = self._best_of_many if self._arrays else self._best
        #: Places looked for and parts looked at, for what it costs.
        self.places = 0
        self.looks = 0
        if self._arrays:
            self._w = np.array([p.w for p in self._parts])
            self._h = np.array([p.h for p in self._parts])
            self._turns = np.array([p.may_turn for p in self._parts])
            self._heavy = np.array(self._weights)

    def begin(self, left: Sequence[int]) -> None:
        """Look only at parts of which some are ``left``; later no more of any may be."""
        rows = [row for row in self._rows if left[self.order[row]]]
        if self._begun is None or rows != self._rows:
            each = [
                (self.order[row], part.w, part.h, part.may_turn, self._weights[row])
                for row in rows
                for part in (self._parts[row],)
            ]
            # What is smaller than the smallest part holds none.
            self._narrowest = min([min(w, h) if t else w for _, w, h, t, _ in each], default=0)
            self._shortest = min([min(w, h) if t else h for _, w, h, t, _ in each], default=0)
            self._rows, self._begun = rows, each
        self._each = self._begun
        if self._arrays and self._rows:
            few = np.array(self._rows)
            self._few = (self._w[few], self._h[few], self._turns[few], self._heavy[few])
            w, h, turns, _ = self._few
            self._alive = np.ones(len(few), dtype=bool)
            low = np.where(turns, np.minimum(w, h), w), np.where(turns, np.minimum(w, h), h)
            self._least = int(low[0].min()), int(low[1].min())

    def best(
        self, fw: int, fh: int, left: list[int], tight: float, room: _Room | None = None
    ) -> _Choice:
        """The part of greatest weight that fits, favoured by ``tight`` where it is snug.

        It is taken: where it was the last of its kind, ``left`` is expected to say so after.

        ``room`` is the largest part with wood to spare each way, where just as large a part
        will do, and where not. Its number, its sides as it lies, and whether it is turned.
        """
        self.places += 1
        return self.look(fw, fh, left, tight, room or (fw, fh, fw, fh))

    def _best(self, fw: int, fh: int, left: list[int], tight: float, room: _Room) -> _Choice:
        each = self._each
        if fw < self._narrowest or fh < self._shortest:
            self.looks += len(each)
            return _NONE
        best = -1.0
        chosen = _NONE
        most_w, most_h, exact_w, exact_h = room
        favour = 1 + tight
        looks = 0
        for i, w, h, turns, weight in each:
            looks += 1
            if weight * favour <= best:
                break  # Those after it weigh no more.
            if (w <= most_w or w == exact_w) and (h <= most_h or h == exact_h):
                wide, high = w / fw, h / fh
                value = weight * (1 + tight * (wide if wide > high else high) ** 4)
                if value > best:
                    best, chosen = value, (i, w, h, False)
            if turns and (h <= most_w or h == exact_w) and (w <= most_h or w == exact_h):
                wide, high = h / fw, w / fh
                value = weight * (1 + tight * (wide if wide > high else high) ** 4)
                if value > best:
                    best, chosen = value, (i, h, w, True)
        self.looks += looks
        if chosen[0] >= 0 and left[chosen[0]] == 1:
            self._each = [row for row in each if row[0] != chosen[0]]
        return chosen

    def _best_of_many(
        self, fw: int, fh: int, left: list[int], tight: float, room: _Room
    ) -> _Choice:
        most_w, most_h, exact_w, exact_h = room
        if not self._rows or fw < self._least[0] or fh < self._least[1]:
            return _NONE
        every_w, every_h, every_turns, every_heavy = self._few
        best = -1.0
        at, size = -1, _FIRST_LOOK
        found_turned = False
        begin = 0
        while begin < len(self._rows) and every_heavy[begin] * (1 + tight) > best:
            part = slice(begin, begin + size)
            w, h, heavy = every_w[part], every_h[part], every_heavy[part]
            self.looks += len(w)
            fits = self._alive[part] & ((w <= most_w) | (w == exact_w))
            fits &= (h <= most_h) | (h == exact_h)
            aside = self._alive[part] & every_turns[part] & ((h <= most_w) | (h == exact_w))
            aside &= (w <= most_h) | (w == exact_h)
            rows = np.flatnonzero(fits | aside)
            if len(rows):
                w, h, heavy = w[rows], h[rows], heavy[rows]
                flat = heavy * (1 + tight * np.maximum(w / fw, h / fh) ** 4)
                up = heavy * (1 + tight * np.maximum(h / fw, w / fh) ** 4)
                flat, up = np.where(fits[rows], flat, -1.0), np.where(aside[rows], up, -1.0)
                value = np.maximum(flat, up)
                first = int(np.argmax(value))
                if value[first] > best:
                    best, at = float(value[first]), begin + int(rows[first])
                    found_turned = bool(up[first] > flat[first])
            begin, size = begin + size, size * 2
        if at < 0:
            return _NONE
        i = self.order[self._rows[at]]
        if left[i] == 1:
            self._alive[at] = False
        w_, h_ = int(every_w[at]), int(every_h[at])
        return (i, h_, w_, True) if found_turned else (i, w_, h_, False)


def fill(
    w: int,
    h: int,
    left: list[int],
    ranked: Ranked,
    rule: Rule,
    first: FirstCut = None,
    *,
    spare: int = 0,
    edge: int = 0,
) -> list[Spot]:
    """Fill one rectangle; ``left`` is reduced by what was placed.

    The smallest free rectangle is served first, by the part of greatest weight that fits,
    where a part that leaves no strip beside it is favoured by ``rule.tight``. A side that a
    saw has set is as good as a part's own size; beside one that was merely left over a part
    takes ``spare`` more, so that it is sawn to its size too. ``edge`` lies beyond ``w`` and
    ``h``, to be sawn off anyway.
    """
    spots: list[Spot] = []
    w, h = w + edge, h + edge
    firm = not edge
    free = [(w * h, 0, 0, 0, w, h, firm, firm)]
    if first is not None:
        axis, at = first
        if axis == "x":
            free = [
                (at * h, 0, 0, 0, at, h, False, firm),
                ((w - at) * h, 1, at, 0, w - at, h, False, firm),
            ]
        else:
            free = [
                (w * at, 0, 0, 0, w, at, firm, False),
                (w * (h - at), 1, 0, at, w, h - at, firm, False),
            ]
    heapq.heapify(free)
    made = len(free)
    ranked.begin(left)
    split, tight = rule.split, rule.tight
    exact = not spare
    push, pop, look = heapq.heappush, heapq.heappop, ranked.look
    places = 0
    while free:
        places += 1
        _, _, x, y, fw, fh, set_x, set_y = pop(free)
        room = (fw - spare, fh - spare, fw if set_x or exact else -1, fh if set_y or exact else -1)
        i, pw, ph, turned = look(fw, fh, left, tight, room)
        if i < 0:
            continue
        left[i] -= 1
        spots.append(Spot(i, x, y, turned))
        rest_w, rest_h = fw - pw, fh - ph
        along_x = split == "x" or (
            split != "y" and (rest_w >= rest_h if split == "long" else rest_w < rest_h)
        )
        if rest_w:
            tall, is_set = (fh, set_y) if along_x else (ph, True)
            push(free, (rest_w * tall, made, x + pw, y, rest_w, tall, False, is_set))
        if rest_h:
            wide, is_set = (pw, True) if along_x else (fw, set_x)
            push(free, (rest_h * wide, made + 1, x, y + ph, wide, rest_h, is_set, False))
        made += 2
    ranked.places += places
    return spots


def fill_stock(
    problem: Problem,
    stock: int,
    left: list[int],
    ranked: Ranked,
    rule: Rule,
    first: FirstCut = None,
) -> list[Spot]:
    """Fill one sheet of a problem's stock, as `fill` does."""
    sheet = problem.stocks[stock]
    edge = min(sheet.edge, problem.spare)
    return fill(sheet.w, sheet.h, left, ranked, rule, first, spare=problem.spare, edge=edge)


class Filling(NamedTuple):
    """What was placed on a sheet, its area, what is left then, and the effort of finding it."""

    spots: tuple[Spot, ...]
    area: int
    left: tuple[int, ...]
    places: int
    looks: int


#: By stock, first cut and the parts that were left.
Filled = dict[tuple[int, FirstCut, tuple[int, ...]], Filling]

#: Parts up to which it is kept how sheets were filled, from one search to the next.
_FEW_PARTS = 200


def filled_before(problem: Problem) -> Callable[[Rule], Filled]:
    """By rule, how sheets were filled whatever they cost; to be added to.

    Of a large problem nothing is kept: it would take much room.
    """
    if sum(problem.demand) > _FEW_PARTS:
        return lambda rule: {}
    stocks = tuple(replace(s, price=0.0, limit=1) for s in problem.stocks)
    kept = _fillings(replace(problem, stocks=stocks))
    return lambda rule: kept.setdefault(rule, {})


@lru_cache(maxsize=6)
def _fillings(problem: Problem) -> dict[Rule, Filled]:
    return {}


def refill(
    problem: Problem,
    stock: int,
    left: Sequence[int],
    ranked: Ranked,
    rule: Rule,
    first: FirstCut,
    known: Filled,
) -> Filling:
    """What goes on one sheet by `fill_stock`, and what is left then; kept in ``known``.

    What was known counts as if it had been looked for, so that budgets mean the same.
    """
    key = stock, first, tuple(left)
    filled = known.get(key)
    if filled is None:
        trial, places, looks = list(left), ranked.places, ranked.looks
        spots = fill_stock(problem, stock, trial, ranked, rule, first)
        filled = known[key] = Filling(
            tuple(spots),
            sum([problem.parts[s.part].area for s in spots]),
            tuple(trial),
            ranked.places - places,
            ranked.looks - looks,
        )
    else:
        ranked.places += filled.places
        ranked.looks += filled.looks
    return filled


def choices(problem: Problem) -> list[tuple[int, ...]]:
    """Sheets on sale to choose among: all of them, then each kind alone.

    The greedy choice between kinds looks no further than one sheet; two small sheets can
    cost less than the large one it would take.
    """
    onsale = tuple(k for k, s in enumerate(problem.stocks) if not s.offcut)
    return [onsale, *((k,) for k in onsale if len(onsale) > 1)]


def nest_by_rule(
    problem: Problem,
    rule: Rule,
    noise: Callable[[], float] | None = None,
    begun: Sequence[Layout] = (),
    *,
    onsale: tuple[int, ...] | None = None,
    tally: Tally | None = None,
    so_far: list[Layout] | None = None,
    known: Filled | None = None,
) -> list[Layout] | None:
    """A whole nest, sheet after sheet; None where the sheets run out.

    Offcuts on hand are filled first, the smallest first. Of the sheets ``onsale``, the
    one that gives most panel area for its price is taken. Sheets in ``begun`` stay as
    they are. ``so_far`` is given the sheets as they are filled, also where they run out.
    ``known`` keeps how sheets were filled under this very rule.
    """
    known = {} if known is None else known
    left: Sequence[int] = problem.demand
    used = [0] * len(problem.stocks)
    layouts: list[Layout] = [] if so_far is None else so_far
    layouts += begun
    for layout in begun:
        used[layout.stock] += 1
    if begun:
        gone = [sum(x) for x in zip(*(each.counts(len(left)) for each in begun), strict=True)]
        left = [n - m for n, m in zip(left, gone, strict=True)]
    ranked = Ranked(
        problem.parts, [rule.weight(p) * (noise() if noise else 1.0) for p in problem.parts]
    )
    onhand = sorted(
        (k for k, s in enumerate(problem.stocks) if s.offcut), key=lambda k: problem.stocks[k].area
    )
    for k in onhand:
        stock = problem.stocks[k]
        while used[k] < stock.limit and any(left):
            filled = refill(problem, k, left, ranked, rule, None, known)
            if not filled.spots:
                break
            used[k] += 1
            layouts.append(Layout(k, filled.spots))
            left = filled.left
    onsale = choices(problem)[0] if onsale is None else onsale
    cuts = {k: first_cuts(problem, k)[::-1] for k in onsale}
    while any(left):
        best: tuple[float, int, Filling] | None = None
        for k in onsale:
            stock = problem.stocks[k]
            if used[k] >= stock.limit:
                continue
            for first in cuts[k]:
                filled = refill(problem, k, left, ranked, rule, first, known)
                if not filled.spots:
                    continue
                value = stock.price / filled.area * (1.0 if any(filled.left) else 0.5)
                if best is None or value < best[0] * (1 - 1e-9):
                    best = (value, k, filled)
        if best is None:
            break
        _, k, filled = best
        used[k] += 1
        layouts.append(Layout(k, filled.spots))
        left = filled.left
    if tally is not None:
        tally.add(ranked)
    return None if any(left) else layouts


def first_nests(problem: Problem, tally: Tally) -> Iterator[list[Layout] | None]:
    """Nests under each rule in turn; None where the sheets run out."""
    before = filled_before(problem)
    for rule in RULES:
        known = before(rule)
        for onsale in choices(problem):
            yield nest_by_rule(problem, rule, onsale=onsale, tally=tally, known=known)


def noisy_nests(problem: Problem, seed: int, tally: Tally) -> Iterator[list[Layout] | None]:
    """Nests under random rules with the parts' weights shaken, without end."""
    chance = random.Random(seed)
    kinds = choices(problem)
    while True:
        rule = chance.choice(RULES)
        spread = chance.choice((0.1, 0.3, 0.6))
        shaker = _shaker(chance, spread)
        yield nest_by_rule(problem, rule, shaker, onsale=chance.choice(kinds), tally=tally)


def _shaker(chance: random.Random, spread: float) -> Callable[[], float]:
    return lambda: 1 + spread * (chance.random() - 0.5)
