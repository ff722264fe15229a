"""The tree of edge-to-edge cuts that takes a sheet's parts apart.

Found from where the parts lie. In each piece the parts are pushed to the low corner, so
that what is left over gathers at the high ends in rectangles as large as may be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from .model import Axis


@dataclass(frozen=True)
class Block:
    """A part's extents on the sheet, in ticks with a kerf included; ``label`` names it."""

    x: int
    y: int
    w: int
    h: int
    label: int


@dataclass(frozen=True)
class Cut:
    """A piece of the sheet in ticks: divided along ``axis``, a part, or left over.

    Positions are absolute. Sides include one kerf, which the next cut takes.
    """

    x: int
    y: int
    w: int
    h: int
    axis: Axis = "x"
    parts: tuple[Cut, ...] = ()
    label: int = -1


class NotEdgeToEdgeError(ValueError):
    """The parts cannot be taken apart by cuts from edge to edge."""


def _low(block: Block, axis: Axis) -> int:
    return block.x if axis == "x" else block.y


def _high(block: Block, axis: Axis) -> int:
    return block.x + block.w if axis == "x" else block.y + block.h


def _extent(block: Block, axis: Axis) -> int:
    return block.w if axis == "x" else block.h


def _other(axis: Axis) -> Axis:
    return "y" if axis == "x" else "x"


AXES: tuple[Axis, Axis] = ("x", "y")


def _labels(blocks: Sequence[Block]) -> tuple[int, ...]:
    return tuple([b.label for b in blocks])


def _groups(blocks: Sequence[Block], axis: Axis) -> list[tuple[Block, ...]]:
    """Blocks apart from each other along an axis, low to high."""
    groups: list[list[Block]] = []
    reach = -1
    for block in sorted(blocks, key=lambda b: _low(b, axis)):
        if groups and _low(block, axis) < reach:
            groups[-1].append(block)
        else:
            groups.append([block])
        reach = max(reach, _high(block, axis))
    return [tuple(g) for g in groups]


def _span(group: Sequence[Block], axis: Axis) -> int:
    return max(_high(b, axis) for b in group) - min(_low(b, axis) for b in group)


Box = tuple[int, int]


def carried(w: int, h: int, box: Box | None) -> bool:
    """Whether a piece fits the biggest that can be carried, either way round."""
    if box is None:
        return True
    a, b = box
    return (w <= a and h <= b) or (w <= b and h <= a)


#: More parts than this, and the way with the larger leftover is taken unseen.
_LOOK = 24

#: A leftover of at least these sides, in ticks, may be cut free before what is beside it.
Offcut = tuple[int, int]

#: What is amiss with a tree, smaller first: panels left over, cuts thinner than a kerf,
#: cuts in the store; then the offcuts, negated, the slivers, and the cuts.
Marks = tuple[int, int, int, float, int, int]

_FLAWLESS: Marks = (0, 0, 0, 0.0, 0, 0)


def _sum(a: Marks, b: Marks) -> Marks:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3], a[4] + b[4], a[5] + b[5])


@dataclass(frozen=True)
class Sawing:
    """What a saw asks of a tree, in ticks.

    ``kerf`` is the width of a cut; ``box`` the biggest piece that can be carried home;
    ``offcut`` the sides from which a leftover is kept; ``sliver`` those below which it is
    too thin to fall safely; ``edge`` what of the sheet's far edges is sawn off with the waste,
    for which the box has room already.
    """

    kerf: int = 0
    box: Box | None = None
    offcut: Offcut = (12_000_000, 4_000_000)
    sliver: int = 400_000
    edge: int = 0


def build(
    w: int, h: int, blocks: list[Block], sawing: Sawing, *, set_x: bool = True, set_y: bool = True
) -> tuple[Cut, Marks]:
    """The tree for a rectangle of ``w`` by ``h``, and what is amiss with it.

    Each part but the last of a piece is sawn to a size; so is the last wherever a kerf is
    left beside it. Nothing is sawn off a piece merely to be rid of waste, unless that sets
    the size of a panel or frees a useful offcut. ``set_x`` and ``set_y`` say that the
    rectangle's own sides are sawn or factory sizes, not what a cut left over.

    A piece too big for the box is first divided where one cut makes both halves fit, if
    there is such a place. Raises NotEdgeToEdgeError where no order of full cuts takes the
    blocks apart.
    """
    return _Builder(w, h, sawing).node(tuple(blocks), 0, 0, w, h, set_x, set_y)


#: Place, sides and set sides of a piece.
Where = tuple[int, int, int, int, bool, bool]


class _Builder:
    """Builds one tree; what is found of groups of parts is found once."""

    def __init__(self, w: int, h: int, sawing: Sawing) -> None:
        self._area = w * h
        self._ends = w, h
        self._kerf = sawing.kerf
        self._box = sawing.box
        self._sawing = sawing
        self._needs: dict[tuple[frozenset[int], Axis, bool], int] = {}
        self._apart: dict[tuple[tuple[int, ...], Axis], list[tuple[Block, ...]]] = {}
        self._nodes: dict[tuple[tuple[int, ...], Where], tuple[Cut, Marks]] = {}

    def _groups(self, blocks: tuple[Block, ...], axis: Axis) -> list[tuple[Block, ...]]:
        key = _labels(blocks), axis
        known = self._apart.get(key)
        if known is None:
            known = self._apart[key] = _groups(blocks, axis)
        return known

    def _carried(self, x: int, y: int, w: int, h: int) -> bool:
        """Whether a piece is small enough to be carried home."""
        edge = self._sawing.edge
        far_x, far_y = (
            edge * (at == end) for at, end in zip((x + w, y + h), self._ends, strict=True)
        )
        return carried(w - far_x, h - far_y, self._box)

    def need(self, blocks: tuple[Block, ...], axis: Axis, *, is_set: bool) -> int:
        """Length along an axis with which every part of a piece can be sawn to its size.

        ``is_set`` says that this length will be a sawn size itself.
        """
        if len(blocks) == 1:
            return _extent(blocks[0], axis) + (0 if is_set else self._kerf)
        key = (frozenset(b.label for b in blocks), axis, is_set)
        known = self._needs.get(key)
        if known is not None:
            return known
        across = self._groups(blocks, axis)
        ways: list[int] = []
        if len(across) > 1:
            sizes = [self.need(g, axis, is_set=True) for g in across]
            last = min(
                self.need(g, axis, is_set=False) - n for g, n in zip(across, sizes, strict=True)
            )
            ways.append(sum(sizes) + last)
        along = self._groups(blocks, _other(axis))
        if len(along) > 1:
            ways.append(max(self.need(g, axis, is_set=is_set) for g in along))
        if not ways:
            raise NotEdgeToEdgeError(f"{len(blocks)} parts interlock")
        if not is_set:
            ways.append(self.need(blocks, axis, is_set=True) + self._kerf)
        found = self._needs[key] = min(ways)
        return found

    def _least(self, blocks: tuple[Block, ...], axis: Axis) -> int:
        """Length along an axis that a group takes at least, as it lies or pushed together."""
        return min(_span(blocks, axis), self.need(blocks, axis, is_set=True))

    def node(
        self, blocks: tuple[Block, ...], x: int, y: int, w: int, h: int, set_x: bool, set_y: bool
    ) -> tuple[Cut, Marks]:
        """The best tree of a piece."""
        key = _labels(blocks), (x, y, w, h, set_x, set_y)
        known = self._nodes.get(key)
        if known is None:
            known = self._nodes[key] = self._node(blocks, x, y, w, h, set_x, set_y)
        return known

    def _node(
        self, blocks: tuple[Block, ...], x: int, y: int, w: int, h: int, set_x: bool, set_y: bool
    ) -> tuple[Cut, Marks]:
        if not blocks:
            return Cut(x, y, w, h), self._leftover(w, h)
        if len(blocks) == 1 and (blocks[0].w, blocks[0].h) == (w, h):
            left_over = int(not set_x) + int(not set_y) if self._kerf else 0
            return Cut(x, y, w, h, label=blocks[0].label), (min(left_over, 1), 0, 0, 0.0, 0, 0)
        where = (x, y, w, h, set_x, set_y)
        if not self._carried(x, y, w, h):
            halves = self._halves(blocks, *where)
            if halves is not None:
                return halves
        options: list[tuple[int, Axis, list[tuple[Block, ...]]]] = []
        for axis in AXES:
            extent, other = (w, h) if axis == "x" else (h, w)
            groups = self._groups(blocks, axis)
            rest = extent - sum(self._least(g, axis) for g in groups)
            if rest < 0:
                continue
            if len(groups) > 1 or (rest and self._worth(groups[0], axis, extent, other)):
                options.append((rest * other, axis, groups))
        if not options:
            raise NotEdgeToEdgeError(f"{len(blocks)} parts interlock")
        options.sort(key=lambda o: -o[0])
        if len(blocks) > _LOOK:
            options = options[:1]
        made = [self._divided(axis, groups, *where) for _, axis, groups in options]
        return min(made, key=lambda m: m[1])

    def _leftover(self, w: int, h: int) -> Marks:
        w, h = w - self._kerf, h - self._kerf
        short, long = self._sawing.offcut[1], self._sawing.offcut[0]
        if min(w, h) >= short and max(w, h) >= long:
            return (0, 0, 0, -round((w * h / self._area) ** 2, 6), 0, 0)
        return (0, 0, 0, 0.0, int(0 < min(w, h) < self._sawing.sliver), 0)

    def _useful(self, extent: int, other: int) -> bool:
        return self._leftover(extent, other)[3] < 0

    def _worth(self, blocks: tuple[Block, ...], axis: Axis, extent: int, other: int) -> bool:
        """Whether to cut a piece's end off: it sets a panel's size, or frees an offcut."""
        if len(blocks) == 1:
            return extent > _extent(blocks[0], axis)
        need = self.need(blocks, axis, is_set=True)
        if extent - need < self._kerf:
            return False
        sets = any(_extent(b, axis) == need for b in blocks)
        return sets or self._useful(extent - need, other)

    def _divided(
        self,
        axis: Axis,
        groups: list[tuple[Block, ...]],
        x: int,
        y: int,
        w: int,
        h: int,
        set_x: bool,
        set_y: bool,
    ) -> tuple[Cut, Marks]:
        extent, other = (w, h) if axis == "x" else (h, w)
        sized = [(self.need(g, axis, is_set=True), g) for g in groups]
        sized.sort(key=lambda pair: -pair[0])
        total = sum(n for n, _ in sized)
        if total > extent:
            sized = [(self._least(g, axis), g) for _, g in sized]
            total = sum(n for n, _ in sized)
        rest = extent - total
        last = sized[-1]
        if rest < self._kerf:
            # The one that is not sawn to its size should be one whose parts still are.
            last = min(
                sized, key=lambda pair: self.need(pair[1], axis, is_set=False) > pair[0] + rest
            )
            sized.remove(last)
            sized.append(last)
        single = len(last[1]) == 1
        cut_last = (
            (rest > 0)
            if single
            else rest >= max(self._kerf, 1)
            and (
                any(_extent(b, axis) == last[0] for b in last[1])
                or self._useful(rest, other)
                or len(sized) == 1
            )
        )
        parts: list[Cut] = []
        marks: Marks = (0, int(cut_last and rest < self._kerf), 0, 0.0, 0, 0)
        at = x if axis == "x" else y
        end = at + extent
        for number, (size, group) in enumerate(sized, 1):
            final = number == len(sized) and not cut_last
            size = end - at if final else size
            if axis == "x":
                cut, found = self.node(group, at, y, size, h, not final, set_y)
            else:
                cut, found = self.node(group, x, at, w, size, set_x, not final)
            parts.append(cut)
            marks = _sum(marks, found)
            at += size
        if cut_last:
            over = end - at
            parts.append(Cut(at, y, over, h) if axis == "x" else Cut(x, at, w, over))
            marks = _sum(marks, self._leftover(over, other))
        count = len(parts) - 1
        in_store = 0 if self._carried(x, y, w, h) else count
        return Cut(x, y, w, h, axis, tuple(parts)), _sum(marks, (0, 0, in_store, 0.0, 0, count))

    def _halves(
        self, blocks: tuple[Block, ...], x: int, y: int, w: int, h: int, set_x: bool, set_y: bool
    ) -> tuple[Cut, Marks] | None:
        """Divided in the store, whose cut is no more than roughly where it should be."""
        found: list[tuple[bool, float, Axis, int, tuple[Block, ...], tuple[Block, ...]]] = []
        for axis in AXES:
            extent = w if axis == "x" else h
            groups = sorted(
                self._groups(blocks, axis),
                key=lambda g: (-self.need(g, axis, is_set=False), g[0].label),
            )
            for k in range(1, len(groups) + 1):
                low = tuple(b for g in groups[:k] for b in g)
                high = tuple(b for g in groups[k:] for b in g)
                size = sum(self.need(g, axis, is_set=True) for g in groups[:k]) + self._kerf
                most = extent - (
                    sum(self.need(g, axis, is_set=True) for g in groups[k:]) + self._kerf
                    if high
                    else self._kerf
                )
                if size > most:
                    size = sum(self._least(g, axis) for g in groups[:k])
                    rest = extent - size
                    if rest < sum(self._least(g, axis) for g in groups[k:]) or rest <= 0:
                        continue
                if axis == "x":
                    halves = (x, y, size, h), (x + size, y, w - size, h)
                else:
                    halves = (x, y, w, size), (x, y + size, w, h - size)
                fits = self._carried(*halves[0]) and (not high or self._carried(*halves[1]))
                off = abs(2 * size - extent) / extent
                found.append((not fits, off, axis, size, low, high))
        if not found:
            return None
        best: tuple[Cut, Marks] | None = None
        fitting = [f for f in found if not f[0]]
        for _, _, axis, size, low, high in fitting[:6] or [min(found, key=lambda f: f[:2])]:
            if axis == "x":
                one = self.node(low, x, y, size, h, False, set_y)
                two = self.node(high, x + size, y, w - size, h, False, set_y)
            else:
                one = self.node(low, x, y, w, size, set_x, False)
                two = self.node(high, x, y + size, w, h - size, set_x, False)
            cut = Cut(x, y, w, h, axis, (one[0], two[0]))
            marks = _sum(_sum(one[1], two[1]), (0, 0, 1, 0.0, 0, 1))
            order = (marks[2], marks[0], marks[1], *marks[3:])
            if best is None or order < (best[1][2], best[1][0], best[1][1], *best[1][3:]):
                best = (cut, marks)
        return best


def leaves(cut: Cut) -> list[Cut]:
    """Parts and leftovers, low to high."""
    if not cut.parts:
        return [cut]
    return [leaf for part in cut.parts for leaf in leaves(part)]


def settings(cut: Cut, found: set[tuple[Axis, int]] | None = None) -> set[tuple[Axis, int]]:
    """Distinct fence settings: sides that a cut has to measure."""
    found = set() if found is None else found
    for part, _ in pairwise(cut.parts):
        found.add((cut.axis, part.w if cut.axis == "x" else part.h))
    for part in cut.parts:
        settings(part, found)
    return found
