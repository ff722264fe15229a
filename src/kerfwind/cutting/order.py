"""From a nest's trees to numbered cuts in an order that suits the saw and the person."""

from __future__ import annotations

import heapq
from collections import Counter, deque
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..facts import Statement, state
from .model import Axis, Nest, Node, Order, Piece, Rect, Saw, SheetNest
from .names import piece_letters

CutKind = Literal["trim", "rip", "crosscut"]
How = Literal["fence", "stop", "sled", "line", "store"]

_TINY_M = 1e-7

#: Part-cut pieces beyond which finishing one comes before keeping a setting.
MOST_OPEN = 8

#: What cuts made at one setting share: kind, way, setting.
_Key = tuple[CutKind, How, int]


@dataclass(frozen=True)
class SawCut:
    """One pass of the saw.

    Attributes
    ----------
    line_m
        x0, y0, x1, y1 on the sheet [m]: the edge of the piece that is kept.
    waste_side
        +1 where the kerf lies at higher x or y than the line, -1 where lower.
    piece
        What is put on the saw; ``gives`` is cut from it and ``rest`` remains (None where
        nothing does).
    reference
        The edge the size is taken from.
    side
        Which edge of the piece that is, seen on the sheet's drawing.
    left_over
        The rest is a panel whose size is merely what this cut leaves.
    """

    number: int
    sheet: int
    kind: CutKind
    axis: Axis
    line_m: tuple[float, float, float, float]
    waste_side: Literal[1, -1]
    piece: Piece
    gives: Piece
    rest: Piece | None
    length_m: float
    size_m: float
    rest_m: float
    reference: Literal["factory edge", "sawn edge"]
    side: Literal["left", "right", "near", "far"] = "near"
    left_over: bool = False


@dataclass(frozen=True)
class CutStep:
    """Cuts made at one setting, one after another.

    ``setting_m`` is the distance from blade to fence, from blade to a stop (the sled's, or
    one on the other side of the blade for a narrow strip), or from the reference edge to the
    line. It is the size of what each cut gives; of a trim along a line, what it takes off.
    """

    number: int
    kind: CutKind
    how: How
    setting_m: float
    cuts: tuple[SawCut, ...]
    cautions: tuple[Statement, ...] = ()


@dataclass(frozen=True)
class _Task:
    """A piece with cuts to come: ``outer`` as it lies there, ``node`` what it becomes."""

    sheet: SheetNest
    node: Node
    outer: Rect
    piece: Piece


@dataclass(frozen=True)
class _Ready:
    """The next cut of a task."""

    task: _Task
    cut: SawCut
    how: How
    setting_m: float
    after: tuple[_Task, ...]

    @property
    def key(self) -> _Key:
        # The tenth keeps 64ths of an inch and 0.005 mm off the edge where rounding turns.
        return self.cut.kind, self.how, round(self.setting_m * 1e5 + 0.1)


def _far(rect: Rect, axis: Axis) -> float:
    return rect.x_m + rect.length_m if axis == "x" else rect.y_m + rect.width_m


def _near(rect: Rect, axis: Axis) -> float:
    return rect.x_m if axis == "x" else rect.y_m


def _extent(rect: Rect, axis: Axis) -> float:
    return rect.length_m if axis == "x" else rect.width_m


def _other(axis: Axis) -> Axis:
    return "y" if axis == "x" else "x"


def _between(rect: Rect, axis: Axis, near: float, far: float) -> Rect:
    if axis == "x":
        return Rect(near, rect.y_m, far - near, rect.width_m)
    return Rect(rect.x_m, near, rect.length_m, far - near)


def _carried(rect: Rect, saw: Saw) -> bool:
    if saw.carry_m is None:
        return True
    sides = sorted((rect.length_m, rect.width_m))
    box = sorted(saw.carry_m)
    return sides[0] <= box[0] + _TINY_M and sides[1] <= box[1] + _TINY_M


class _Namer:
    """Names for pieces between sheet and panel: ``1a``, ``1b`` on sheet 1."""

    def __init__(self) -> None:
        self._next: Counter[int] = Counter()

    def name(self, sheet: SheetNest, node: Node) -> Piece:
        if node.kind == "panel":
            return Piece("panel", sheet.number, sheet.pieces[node.piece].pencil)
        if node.kind != "cut":
            return Piece(node.kind, sheet.number)
        at = self._next[sheet.number]
        self._next[sheet.number] += 1
        return Piece("part", sheet.number, f"{sheet.number}{piece_letters(at)}")


def _kind(sheet: SheetNest, outer: Rect, axis: Axis) -> CutKind:
    if sheet.kind.grain == "length":
        return "rip" if axis == "y" else "crosscut"
    longer: Axis = "y" if outer.length_m >= outer.width_m else "x"
    return "rip" if axis == longer else "crosscut"


def _way(saw: Saw, kind: CutKind, size: float, rest: float, length: float) -> How:
    """How to make a cut of this size on this saw, so that the size itself is what is set."""
    if saw.kind != "table":
        return "line"

    def runs(width: float) -> bool:
        # A piece wider than the edge that runs along the fence can twist and bind.
        return _within(width, saw.fence_limit_m) and length >= width * 0.999

    # An edge too short to guide along the fence is cut on the sled, whichever way its grain runs.
    short = length < saw.smallest_length_m
    if (kind != "rip" or short or not runs(size)) and _within(length, saw.crosscut_limit_m):
        if _within(size, saw.stop_limit_m):
            return "sled"
        if short:
            return "line"
    if size < saw.smallest_width_m <= rest:
        # No hand passes between blade and fence where a wide piece could run there instead.
        if runs(rest):
            return "stop"
        held = _within(length, saw.crosscut_limit_m) and _within(size, saw.stop_limit_m)
        return "sled" if held else "line"
    return "fence" if runs(size) else "line"


def _within(value: float, limit: float | None) -> bool:
    return limit is None or value <= limit + _TINY_M


def _factory(sheet: SheetNest, axis: Axis, at: float) -> bool:
    if sheet.kind.offcut:
        return False
    full = sheet.kind.length_m if axis == "x" else sheet.kind.width_m
    return abs(at) < _TINY_M or abs(at - full) < _TINY_M


def _ready(task: _Task, saw: Saw, namer: _Namer) -> _Ready | None:
    """The next cut of a task, or None where it is done."""
    sheet, node, outer = task.sheet, task.node, task.outer
    if node.kind in ("offcut", "waste"):
        return None
    store = not sheet.kind.offcut and not _carried(outer, saw)
    if store and node.kind == "cut":
        return _divide(task, saw, namer, store)
    for axis in ("y", "x"):
        # Only an edge that panels and the fence refer to is trimmed: the near ones.
        axis_: Axis = "y" if axis == "y" else "x"
        if _near(node.rect, axis_) - _near(outer, axis_) > _TINY_M:
            return _trimmed(task, saw, axis_, store)
    return _divide(task, saw, namer, store) if node.kind == "cut" else None


def _trimmed(task: _Task, saw: Saw, axis: Axis, store: bool) -> _Ready:
    sheet, node, outer = task.sheet, task.node, task.outer
    line = _near(node.rect, axis)
    off = line - _near(outer, axis)
    left = _between(outer, axis, line, _far(outer, axis))
    kept = _extent(left, axis)
    length = _extent(outer, _other(axis))
    direction = _kind(sheet, outer, axis)
    strip = max(off - saw.kerf_m, 0.0)
    how = _way(saw, direction, kept, strip, length)
    if how in ("stop", "line") or store:
        how = "store" if store else "line"
    # Along a line one measures what comes off; along the fence, what stays.
    setting = off if how in ("line", "store") else kept
    waste = Piece("waste", sheet.number) if strip > _TINY_M else None
    return _Ready(
        task,
        SawCut(
            0,
            sheet.number,
            "trim",
            axis,
            _line(outer, axis, line),
            -1,
            task.piece,
            task.piece,
            waste,
            length,
            kept,
            strip,
            "factory edge",
            _side(axis, near=how in ("line", "store")),
        ),
        how,
        setting,
        (_Task(sheet, node, left, task.piece),),
    )


def _line(outer: Rect, axis: Axis, at: float) -> tuple[float, float, float, float]:
    if axis == "x":
        return (at, outer.y_m, at, outer.y_m + outer.width_m)
    return (outer.x_m, at, outer.x_m + outer.length_m, at)


def _side(axis: Axis, *, near: bool) -> Literal["left", "right", "near", "far"]:
    if axis == "x":
        return "left" if near else "right"
    return "near" if near else "far"


def _divide(task: _Task, saw: Saw, namer: _Namer, store: bool) -> _Ready:
    sheet, node, outer = task.sheet, task.node, task.outer
    axis = node.axis
    first, others = node.parts[0], node.parts[1:]
    # Before its edges are trimmed a piece is measured from where it begins.
    line = _far(first.rect, axis)
    cut_off = _between(outer, axis, _near(outer, axis), line)
    size = _extent(cut_off, axis)
    rest_m = _far(outer, axis) - line - saw.kerf_m
    name = namer.name(sheet, first)
    after = [_Task(sheet, first, cut_off, name)]
    remaining = _between(outer, axis, line + saw.kerf_m, _far(outer, axis))
    inner = _between(node.rect, axis, _near(others[0].rect, axis), _far(node.rect, axis))
    left = others[0] if len(others) == 1 else Node(inner, "cut", axis, others)
    rest = namer.name(sheet, left) if rest_m > _TINY_M else None
    if rest is not None:
        after.append(_Task(sheet, left, remaining, rest))
    kind = _kind(sheet, outer, axis)
    length = _extent(outer, _other(axis))
    how = "store" if store else _way(saw, kind, size, max(rest_m, 0.0), length)
    return _Ready(
        task,
        SawCut(
            0,
            sheet.number,
            kind,
            axis,
            _line(outer, axis, line),
            1,
            task.piece,
            name,
            rest,
            length,
            size,
            max(rest_m, 0.0),
            "factory edge" if _factory(sheet, axis, _near(outer, axis)) else "sawn edge",
            _side(axis, near=how != "stop"),
            saw.kerf_m > 0 and _is_left_over(left, axis),
        ),
        how,
        size,
        tuple(after),
    )


def _is_left_over(node: Node, axis: Axis) -> bool:
    """Whether some panel of what a cut leaves keeps that as its size along the axis."""
    if node.kind == "panel":
        return True
    if node.kind != "cut":
        return False
    if node.axis == axis:
        return _is_left_over(node.parts[-1], axis)
    return any(_is_left_over(p, axis) for p in node.parts)


def _cautions(step: CutStep, saw: Saw) -> tuple[Statement, ...]:
    found: list[Statement] = []
    length = min(c.length_m for c in step.cuts)
    size = min(min(c.size_m, c.rest_m) if c.rest_m > _TINY_M else c.size_m for c in step.cuts)
    small = saw.smallest_width_m
    if step.how == "fence" and step.setting_m < small:
        found.append(state("cutting.caution.narrow"))
    elif step.how in ("fence", "stop") and size < small:
        found.append(state("cutting.caution.narrow_falls"))
    # On a sled a piece lies with the side that is cut through along the sled's fence.
    held = min(c.size_m + c.rest_m for c in step.cuts)
    if step.how == "sled" and held < saw.smallest_length_m:
        found.append(state("cutting.caution.short"))
    elif step.how == "sled" and size < small:
        found.append(state("cutting.caution.short_falls"))
    by_hand = step.how == "line" and saw.kind != "table" and step.kind != "trim"
    kept = [c.rest_m for c in step.cuts if c.rest and c.rest.kind != "waste"]
    if by_hand and min(length, *(c.size_m for c in step.cuts), *kept) < small:
        found.append(state("cutting.caution.small"))
    if step.how == "line" and saw.kind == "table":
        sledded = all(_within(c.length_m, saw.crosscut_limit_m) for c in step.cuts)
        found.append(state("cutting.caution.marked" if sledded else "cutting.caution.large"))
    longest = max(c.length_m for c in step.cuts)
    if step.how == "line" and saw.kind == "track" and not _within(longest, saw.track_m):
        found.append(state("cutting.caution.track"))
    if any(c.left_over for c in step.cuts):
        found.append(state("cutting.caution.left_over"))
    elif saw.kerf_m > 0 and any(c.rest is None and c.kind != "trim" for c in step.cuts):
        found.append(state("cutting.caution.grazing"))
    return tuple(found)


def cut_order(nest: Nest, saw: Saw, order: Order | None = None) -> list[CutStep]:
    """Numbered steps that take every sheet apart.

    Cuts in the store come first. With ``order`` ``sheets``, or where the saw's is that, one sheet is finished before the
    next is begun, with few part-cut pieces about; with ``settings`` each setting serves all
    sheets before it is changed. Trims come before rips, rips before crosscuts and long
    before short, unless too many pieces would lie about.

    Examples
    --------
    Sizes are in metres [m]:

    >>> import kerfwind as kw
    >>> saw, sheet = kw.Saw(), kw.SheetKind("full", 2.44, 1.22)
    >>> layout = kw.nest([kw.Panel("side", 0.6, 0.4, quantity=4)], [sheet], saw)
    >>> [step.number for step in kw.cut_order(layout, saw)]
    [1, 2]
    """
    namer = _Namer()
    first: list[_Ready] = []
    for sheet in nest.sheets:
        full = Rect(0.0, 0.0, sheet.kind.length_m, sheet.kind.width_m)
        task = _Task(sheet, sheet.tree, full, Piece("sheet", sheet.number))
        ready = _ready(task, saw, namer)
        if ready is not None:
            first.append(ready)
    in_store, at_home = _store_first(first, saw, namer)
    lots = [at_home]
    if (order or saw.order) == "sheets":
        of_sheet: dict[int, list[_Ready]] = {}
        for each in at_home:
            of_sheet.setdefault(each.cut.sheet, []).append(each)
        lots = list(of_sheet.values())
    made = _grouped(in_store)
    for lot in lots:
        named = _named(lot, saw, namer)
        made += _best_order(named)
    steps: list[CutStep] = []
    number = 0
    for run in made:
        cuts = []
        for each in run:
            number += 1
            cuts.append(replace(each.cut, number=number))
        kind, how, _ = run[0].key
        step = CutStep(len(steps) + 1, kind, how, run[0].setting_m, tuple(cuts))
        steps.append(replace(step, cautions=_cautions(step, saw)))
    return steps


def _store_first(first: list[_Ready], saw: Saw, namer: _Namer) -> tuple[list[_Ready], list[_Ready]]:
    """Cuts made in the store, and the first ones to make at home."""
    store: list[_Ready] = []
    home: list[_Ready] = []
    waiting = deque(first)
    while waiting:
        now = waiting.popleft()
        if now.how != "store":
            home.append(now)
            continue
        store.append(now)
        waiting.extend(r for t in now.after if (r := _ready(t, saw, namer)) is not None)
    return store, home


#: Cuts and what each makes possible, by their place in the list: the first ones come first.
_Chart = tuple[list[_Ready], list[tuple[int, ...]], int]


def _named(first: list[_Ready], saw: Saw, namer: _Namer) -> _Chart:
    """All cuts of a lot with their pieces named once, and which come after which."""
    cuts = list(first)
    after: list[tuple[int, ...]] = []
    at = 0
    while at < len(cuts):
        fresh = [r for t in cuts[at].after if (r := _ready(t, saw, namer)) is not None]
        after.append(tuple(range(len(cuts), len(cuts) + len(fresh))))
        cuts += fresh
        at += 1
    return cuts, after, len(first)


def _grouped(cuts: Sequence[_Ready]) -> list[list[_Ready]]:
    """Cuts in the order given, those at one setting that follow each other together."""
    runs: list[list[_Ready]] = []
    for each in cuts:
        if runs and runs[-1][0].key == each.key:
            runs[-1].append(each)
        else:
            runs.append([each])
    return runs


def _best_order(chart: _Chart) -> list[list[_Ready]]:
    """Of a few orders the one with few pieces about, then with the fewest settings."""
    if not chart[0]:
        return []
    found: tuple[tuple[int, int, int], list[list[_Ready]]] | None = None
    for most in (len(chart[0]), MOST_OPEN, MOST_OPEN // 2, 1):
        line, open_pieces = _Bench(chart, most).run()
        runs = _grouped([chart[0][at] for at in line])
        mark = (max(0, open_pieces - MOST_OPEN), len(runs), open_pieces)
        if found is None or mark < found[0]:
            found = (mark, runs)
        if open_pieces <= MOST_OPEN // 2:
            break
    assert found is not None
    return found[1]


class _Bench:
    """Cuts that can be made now, by their setting; ``most`` pieces may lie about.

    Settings are ranked anew when a cut of one joins, older entries of the heap are passed
    over: each cut costs the logarithm of their number.
    """

    def __init__(self, chart: _Chart, most: int) -> None:
        self._cuts, self._after, self._first = chart
        self._keys = [c.key for c in self._cuts]
        self._future = Counter(self._keys)
        self._waiting: dict[_Key, deque[int]] = {}
        self._ranks: list[tuple[tuple[float, ...], _Key]] = []
        self._current: dict[_Key, tuple[float, ...]] = {}
        self._stack: list[int] = []
        self._done: set[int] = set()
        self._most = most
        #: Entries pushed and passed over, for what it costs.
        self.work = 0

    def run(self) -> tuple[list[int], int]:
        """The cuts in order, and the most pieces with cuts to come that lie about at once."""
        line: list[int] = []
        lying, most = 0, 0
        begun: set[Piece] = set()
        for first in range(self._first):
            self._join(first)
        key: _Key | None = None
        while (now := self._next(key, lying)) is not None:
            at = now
            line.append(at)
            cut = self._cuts[at]
            key = cut.key
            lying += len(self._after[at]) - (cut.cut.piece in begun)
            begun.update(self._cuts[n].cut.piece for n in self._after[at])
            most = max(most, lying)
            for fresh in self._after[at]:
                self._join(fresh)
        return line, most

    def _join(self, at: int) -> None:
        key = self._keys[at]
        waiting = self._waiting.setdefault(key, deque())
        waiting.append(at)
        self._stack.append(at)
        cut = self._cuts[waiting[0]].cut
        rank = (
            float(cut.kind != "trim"),
            float(self._future[key] > len(waiting)),
            float(cut.kind != "rip"),
            -cut.length_m,
            float(waiting[0]),
        )
        self._current[key] = rank
        heapq.heappush(self._ranks, (rank, key))
        self.work += 1

    def _next(self, key: _Key | None, lying: int) -> int | None:
        """The cut to make now; None where nothing is left to cut."""
        waiting = self._waiting.get(key) if key is not None else None
        if waiting:
            return self._take(waiting)
        if lying >= self._most:
            # Too much lies about: finish what was made last.
            while self._stack:
                at = self._stack.pop()
                self.work += 1
                if at not in self._done:
                    self._waiting[self._keys[at]].remove(at)
                    return self._made(at)
        while self._ranks:
            rank, best = heapq.heappop(self._ranks)
            self.work += 1
            if self._waiting[best] and self._current[best] == rank:
                heapq.heappush(self._ranks, (rank, best))
                return self._take(self._waiting[best])
        return next((self._take(w) for w in self._waiting.values() if w), None)

    def _take(self, waiting: deque[int]) -> int:
        return self._made(waiting.popleft())

    def _made(self, at: int) -> int:
        self._done.add(at)
        self._future[self._keys[at]] -= 1
        return at


def open_pieces(steps: Sequence[CutStep]) -> int:
    """The most part-cut pieces that lie about at once: with cuts to come, sheets not counted."""
    cuts = [c for step in steps for c in step.cuts]
    to_come = Counter(c.piece for c in cuts)
    lying: set[Piece] = set()
    most = 0
    for cut in cuts:
        to_come[cut.piece] -= 1
        if not to_come[cut.piece]:
            lying.discard(cut.piece)
        for piece in (cut.gives, cut.rest):
            if piece is not None and piece.kind == "part" and to_come[piece]:
                lying.add(piece)
        most = max(most, len(lying))
    return most
