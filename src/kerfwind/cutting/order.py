"""From a nest's trees to numbered cuts in an order that suits the saw."""

from __future__ import annotations

import heapq
from collections import Counter, deque
from dataclasses import dataclass, replace
from typing import Literal

from ..facts import Statement, state
from .model import Axis, Nest, Node, Piece, Rect, Saw, SheetNest

CutKind = Literal["trim", "rip", "crosscut"]
How = Literal["fence", "sled", "line", "store"]

_TINY_M = 1e-7

#: What cuts made at one setting share: kind, way, whether the rest runs along the fence, setting.
_Key = tuple[CutKind, How, bool, int]


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


@dataclass(frozen=True)
class CutStep:
    """Cuts made at one setting, one after another.

    ``setting_m`` is the distance from blade to fence, from blade to the sled's stop, or
    from the reference edge to the line. ``from_far`` says that it is the rest, not the
    piece named, that runs along the fence.
    """

    number: int
    kind: CutKind
    how: How
    setting_m: float
    cuts: tuple[SawCut, ...]
    from_far: bool = False
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
    from_far: bool
    after: tuple[_Task, ...]

    @property
    def key(self) -> _Key:
        # The tenth keeps 64ths of an inch and 0.005 mm off the edge where rounding turns.
        return self.cut.kind, self.how, self.from_far, round(self.setting_m * 1e5 + 0.1)


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


def _halved(node: Node, saw: Saw) -> Node:
    """For the store: many parallel cuts as a few that quarter the sheet, then the rest."""
    if node.kind != "cut":
        return node
    parts = tuple(_halved(p, saw) for p in node.parts)
    node = replace(node, parts=parts)
    if len(parts) < 3 or _carried(node.rect, saw):
        return node
    axis = node.axis
    middle = _near(node.rect, axis) + _extent(node.rect, axis) / 2

    def group(chosen: tuple[Node, ...], far: float) -> Node:
        if len(chosen) == 1:
            return chosen[0]
        rect = _between(node.rect, axis, _near(chosen[0].rect, axis), far)
        return _halved(Node(rect, "cut", axis, chosen), saw)

    def options(k: int) -> tuple[bool, float]:
        low = _between(node.rect, axis, _near(node.rect, axis), _far(parts[k - 1].rect, axis))
        high = _between(node.rect, axis, _near(parts[k].rect, axis), _far(node.rect, axis))
        fits = _carried(low, saw) and _carried(high, saw)
        return not fits, abs(_near(parts[k].rect, axis) - middle)

    at = min(range(1, len(parts)), key=options)
    low = group(parts[:at], _far(parts[at - 1].rect, axis))
    high = group(parts[at:], _far(node.rect, axis))
    return replace(node, parts=(low, high))


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
        text = ""
        at += 1
        while at > 0:
            at, rest = divmod(at - 1, 26)
            text = chr(ord("a") + rest) + text
        return Piece("part", sheet.number, f"{sheet.number}{text}")


def _kind(sheet: SheetNest, outer: Rect, axis: Axis) -> CutKind:
    if sheet.kind.grain == "length":
        return "rip" if axis == "y" else "crosscut"
    longer: Axis = "y" if outer.length_m >= outer.width_m else "x"
    return "rip" if axis == longer else "crosscut"


def _way(
    saw: Saw, kind: CutKind, size: float, rest: float, length: float
) -> tuple[How, float, bool]:
    """How to make a cut on this saw: the way, the setting, whether the rest runs the fence."""
    if saw.kind != "table":
        return "line", size, False
    limit = saw.fence_limit_m
    on_sled = saw.crosscut_limit_m is None or length <= saw.crosscut_limit_m
    # An edge too short to guide along the fence is cut on the sled, whichever way its grain runs.
    if on_sled and (kind != "rip" or length < saw.smallest_length_m):
        return "sled", size, False
    far_side = rest if rest >= saw.smallest_width_m else 0.0
    for setting, far in ((size, False), (far_side, True)):
        # A piece wider than the edge that runs along the fence can twist and bind.
        if setting > _TINY_M and (limit is None or setting <= limit) and length >= setting * 0.999:
            return "fence", setting, far
    return ("sled" if on_sled else "line"), size, False


def _factory(sheet: SheetNest, axis: Axis, at: float) -> bool:
    if sheet.kind.offcut:
        return False
    full = sheet.kind.length_m if axis == "x" else sheet.kind.width_m
    return abs(at) < _TINY_M or abs(at - full) < _TINY_M


def _ready(task: _Task, saw: Saw, namer: _Namer) -> _Ready | None:
    """The next cut of a task, or None where it is done."""
    sheet, node, outer = task.sheet, task.node, task.outer
    kerf = saw.kerf_m
    if node.kind in ("offcut", "waste"):
        return None
    store = not sheet.kind.offcut and not _carried(outer, saw)
    if node.kind == "cut" and (store or _same(outer, node.rect)):
        return _divide(task, saw, namer, store)
    for axis in ("y", "x"):
        axis_: Axis = "y" if axis == "y" else "x"
        near, far = _near(outer, axis_), _far(outer, axis_)
        for keep, side in ((_near(node.rect, axis_), -1), (_far(node.rect, axis_), 1)):
            if (side < 0 and keep - near < _TINY_M) or (side > 0 and far - keep < _TINY_M):
                continue
            left = (
                _between(outer, axis_, keep, far)
                if side < 0
                else _between(outer, axis_, near, keep)
            )
            size = _extent(left, axis_)
            strip = (keep - near if side < 0 else far - keep) - kerf
            after = (_Task(sheet, node, left, task.piece),)
            return _make(
                task,
                saw,
                "trim",
                axis_,
                keep,
                -1 if side < 0 else 1,
                size,
                max(strip, 0.0),
                Piece("waste", sheet.number) if strip > _TINY_M else None,
                after,
                store,
                task.piece,
            )
    return None


def _same(a: Rect, b: Rect) -> bool:
    return (
        abs(a.x_m - b.x_m) < _TINY_M
        and abs(a.y_m - b.y_m) < _TINY_M
        and abs(a.length_m - b.length_m) < _TINY_M
        and abs(a.width_m - b.width_m) < _TINY_M
    )


def _divide(task: _Task, saw: Saw, namer: _Namer, store: bool) -> _Ready | None:
    sheet, node, outer = task.sheet, task.node, task.outer
    axis = node.axis
    first, others = node.parts[0], node.parts[1:]
    line = _far(first.rect, axis)
    cut_off = _between(outer, axis, _near(outer, axis), line)
    size = _extent(cut_off, axis)
    rest_m = _far(outer, axis) - line - saw.kerf_m
    name = namer.name(sheet, first)
    after = [_Task(sheet, first, cut_off, name)]
    rest = None
    if others:
        remaining = _between(outer, axis, _near(others[0].rect, axis), _far(outer, axis))
        inner = _between(node.rect, axis, _near(others[0].rect, axis), _far(node.rect, axis))
        left = (
            others[0]
            if len(others) == 1 and _same(others[0].rect, inner)
            else Node(inner, "cut", axis, others)
        )
        rest = namer.name(sheet, left)
        after.append(_Task(sheet, left, remaining, rest))
    kind = _kind(sheet, outer, axis)
    return _make(
        task, saw, kind, axis, line, 1, size, max(rest_m, 0.0), rest, tuple(after), store, name
    )


def _make(
    task: _Task,
    saw: Saw,
    kind: CutKind,
    axis: Axis,
    line: float,
    side: Literal[1, -1],
    size: float,
    rest_m: float,
    rest: Piece | None,
    after: tuple[_Task, ...],
    store: bool,
    gives: Piece,
) -> _Ready:
    outer = task.outer
    if axis == "x":
        ends = (line, outer.y_m, line, outer.y_m + outer.width_m)
    else:
        ends = (outer.x_m, line, outer.x_m + outer.length_m, line)
    length = _extent(outer, _other(axis))
    direction = _kind(task.sheet, outer, axis)
    far_rest = 0.0 if kind == "trim" else rest_m
    how, setting, from_far = _way(saw, direction, size, far_rest, length)
    if store:
        how, setting, from_far = "store", size, False
    measured_from = _near(outer, axis) if (side > 0) != from_far else _far(outer, axis)
    factory = _factory(task.sheet, axis, measured_from)
    cut = SawCut(
        0,
        task.sheet.number,
        kind,
        axis,
        ends,
        side,
        task.piece,
        gives,
        rest,
        length,
        size,
        rest_m,
        "factory edge" if factory else "sawn edge",
    )
    return _Ready(task, cut, how, setting, from_far, after)


def _cautions(step: CutStep, saw: Saw) -> tuple[Statement, ...]:
    found: list[Statement] = []
    length = min(c.length_m for c in step.cuts)
    size = min(min(c.size_m, c.rest_m) if c.rest_m > _TINY_M else c.size_m for c in step.cuts)
    small = saw.smallest_width_m
    if step.how == "fence" and step.setting_m < small:
        found.append(state("cutting.caution.narrow"))
    elif step.how == "fence" and size < small:
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
        found.append(state("cutting.caution.large"))
    return tuple(found)


def cut_order(nest: Nest, saw: Saw) -> list[CutStep]:
    """Numbered steps that take every sheet apart.

    Store cuts come first, then trims, then rips before crosscuts and long before short;
    equal settings are grouped over all sheets, and a setting that later cuts need too
    waits for them where it can.

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
    tasks: list[_Task] = []
    for sheet in nest.sheets:
        full = Rect(0.0, 0.0, sheet.kind.length_m, sheet.kind.width_m)
        tree = sheet.tree if sheet.kind.offcut else _halved(sheet.tree, saw)
        tasks.append(_Task(sheet, tree, full, Piece("sheet", sheet.number)))
    ready = [r for r in (_ready(t, saw, namer) for t in tasks) if r is not None]
    bench = _Bench(_all_keys(ready, saw))
    for each in ready:
        bench.add(each)
    steps: list[CutStep] = []
    number = 0
    while (chosen := bench.next_key()) is not None:
        cuts: list[SawCut] = []
        setting = 0.0
        while (now := bench.take(chosen)) is not None:
            number += 1
            cuts.append(replace(now.cut, number=number))
            setting = now.setting_m
            for fresh in (_ready(t, saw, namer) for t in now.after):
                if fresh is not None:
                    bench.add(fresh)
        step = CutStep(len(steps) + 1, chosen[0], chosen[1], setting, tuple(cuts), chosen[2])
        steps.append(replace(step, cautions=_cautions(step, saw)))
    return steps


#: Sorts settings: the smallest is set next.
_Rank = tuple[bool, bool, bool, bool, float, int, int]


class _Bench:
    """Cuts that can be made now, kept by their setting.

    A setting's rank changes only when a cut of it joins; its older entries in the heap are
    then out of date, and are passed over. So each cut costs the logarithm of their number.
    """

    def __init__(self, future: Counter[_Key]) -> None:
        self._future = future
        self._waiting: dict[_Key, deque[_Ready]] = {}
        self._first: dict[_Key, tuple[float, int, int]] = {}
        self._ranks: list[tuple[_Rank, _Key]] = []
        self._current: dict[_Key, _Rank] = {}
        self._joined = 0
        #: Entries pushed and passed over, for what it costs.
        self.work = 0

    def add(self, ready: _Ready) -> None:
        key = ready.key
        waiting = self._waiting.setdefault(key, deque())
        mine = (-ready.cut.length_m, ready.cut.sheet, self._joined)
        self._joined += 1
        self._first[key] = min(self._first[key], mine) if waiting else mine
        waiting.append(ready)
        rank = (
            ready.how != "store",
            ready.cut.kind != "trim",
            self._future[key] > len(waiting),
            ready.cut.kind != "rip",
            *self._first[key],
        )
        self._current[key] = rank
        heapq.heappush(self._ranks, (rank, key))
        self.work += 1

    def next_key(self) -> _Key | None:
        """The setting to make next; None where nothing is left to cut."""
        while self._ranks:
            rank, key = heapq.heappop(self._ranks)
            self.work += 1
            if self._waiting[key] and self._current[key] == rank:
                return key
        return None

    def take(self, key: _Key) -> _Ready | None:
        """The cut at this setting that has waited longest."""
        if not self._waiting[key]:
            return None
        self._future[key] -= 1
        return self._waiting[key].popleft()


def _all_keys(ready: list[_Ready], saw: Saw) -> Counter[_Key]:
    """How often each setting will be needed in all."""
    found: Counter[_Key] = Counter()
    scratch = _Namer()
    stack = list(ready)
    while stack:
        now = stack.pop()
        found[now.key] += 1
        stack.extend(r for r in (_ready(t, saw, scratch) for t in now.after) if r is not None)
    return found
