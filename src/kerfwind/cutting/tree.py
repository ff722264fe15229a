"""The tree of edge-to-edge cuts that takes a sheet's parts apart.

Found from where the parts lie. In each piece the parts are pushed to the low corner, so
that what is left over gathers at the high ends in rectangles as large as may be.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from operator import itemgetter
from typing import NamedTuple

from .model import Axis


class Block(NamedTuple):
    """A part's extents on the sheet, in ticks with a kerf included; ``label`` names it."""

    x: int
    y: int
    w: int
    h: int
    label: int


class Cut(NamedTuple):
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


#: Ways to cut along: blocks have their place first along x, then along y, and then their sides.
AXES: tuple[Axis, Axis] = ("x", "y")
_X, _Y = 0, 1
_SIDE = 2

#: Blocks that lie in one piece, in an order of their own.
_Blocks = tuple[Block, ...]


class _Group:
    """Blocks of one piece, and what was found of them; of equal blocks there is one group."""

    __slots__ = ("apart", "area", "blocks", "least", "needs")

    def __init__(self, blocks: _Blocks) -> None:
        self.blocks = blocks
        self.area = sum([b.w * b.h for b in blocks])
        #: By axis the groups that lie apart, low to high.
        self.apart: list[tuple[_Group, ...] | None] = [None, None]
        #: By axis what they need at least, and what they need where that is a sawn size or is not.
        self.least: list[int | None] = [None, None]
        self.needs: list[int | None] = [None, None, None, None]


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


class NotReachedError(ValueError):
    """No tree is as good as was asked for."""


def build(
    w: int,
    h: int,
    blocks: list[Block],
    sawing: Sawing,
    *,
    set_x: bool = True,
    set_y: bool = True,
    reach: float = math.inf,
) -> tuple[Cut, Marks]:
    """The tree for a rectangle of ``w`` by ``h``, and what is amiss with it.

    Each part but the last of a piece is sawn to a size; so is the last wherever a kerf is
    left beside it. Nothing is sawn off a piece merely to be rid of waste, unless that sets
    the size of a panel or frees a useful offcut. ``set_x`` and ``set_y`` say that the
    rectangle's own sides are sawn or factory sizes, not what a cut left over.

    A piece too big for the box is first divided where one cut makes both halves fit, if
    there is such a place.

    Raises
    ------
    NotEdgeToEdgeError
        No order of full cuts takes the blocks apart.
    NotReachedError
        Of each tree something is amiss, or it takes more than one cut in the store, or its offcuts
        do not come to ``reach``, as `Marks` count them.
    """
    builder = _Builder(w, h, len(blocks), sawing)
    group = builder.group(tuple(blocks))
    cut, marks = builder.best(group, 0, 0, w, h, set_x, set_y, reach=reach)
    in_store = int(not builder.carried(0, 0, w, h))
    if reach < math.inf and (marks[2], marks[0], marks[1], marks[3]) > (in_store, 0, 0, reach):
        raise NotReachedError
    return cut, marks


#: Place, sides and set sides of a piece.
Where = tuple[int, int, int, int, bool, bool]


class _Builder:
    """Builds one tree; what is found of groups of parts is found once."""

    def __init__(self, w: int, h: int, count: int, sawing: Sawing) -> None:
        self._area = w * h
        # Of no more leftovers than there are cuts, each rounded to six digits.
        self._rounding = 1e-6 * (2 * count + 2)
        self._ends = w, h
        self._kerf = sawing.kerf
        self._box = sawing.box
        self._sawing = sawing
        self._known: dict[_Blocks, _Group] = {}
        self._nodes: dict[tuple[_Group, int, int, int, int, bool, bool], tuple[Cut, Marks]] = {}

    def group(self, blocks: _Blocks) -> _Group:
        """The group of these blocks in this order."""
        known = self._known.get(blocks)
        if known is None:
            known = self._known[blocks] = _Group(blocks)
        return known

    def _apart(self, group: _Group, axis: int) -> tuple[_Group, ...]:
        """Groups of blocks apart from each other along an axis, low to high."""
        known = group.apart[axis]
        if known is not None:
            return known
        if len(group.blocks) == 1:
            group.apart[axis] = (group,)
            return (group,)
        side = _SIDE + axis
        found: list[list[Block]] = []
        reach = -1
        for block in sorted(group.blocks, key=itemgetter(axis)):
            low = block[axis]
            if low < reach and found:
                found[-1].append(block)
            else:
                found.append([block])
            high = low + block[side]
            if high > reach:
                reach = high
        made = group.apart[axis] = tuple([self.group(tuple(each)) for each in found])
        return made

    def carried(self, x: int, y: int, w: int, h: int) -> bool:
        """Whether a piece is small enough to be carried home."""
        if self._box is None:
            return True
        edge, (end_x, end_y) = self._sawing.edge, self._ends
        far_x = edge if x + w == end_x else 0
        far_y = edge if y + h == end_y else 0
        return carried(w - far_x, h - far_y, self._box)

    def need(self, group: _Group, axis: int, is_set: bool) -> int:
        """Length along an axis with which every part of a piece can be sawn to its size.

        ``is_set`` says that this length will be a sawn size itself.
        """
        way = 2 * axis + is_set
        known = group.needs[way]
        if known is None:
            known = group.needs[way] = self._need(group, axis, is_set)
        return known

    def _need(self, group: _Group, axis: int, is_set: bool) -> int:
        blocks = group.blocks
        if len(blocks) == 1:
            return blocks[0][_SIDE + axis] + (0 if is_set else self._kerf)
        ways: list[int] = []
        across = self._apart(group, axis)
        if len(across) > 1:
            sizes = [self.need(g, axis, True) for g in across]
            loose = [self.need(g, axis, False) - n for g, n in zip(across, sizes, strict=True)]
            ways.append(sum(sizes) + min(loose))
        along = self._apart(group, 1 - axis)
        if len(along) > 1:
            ways.append(max([self.need(g, axis, is_set) for g in along]))
        if not ways:
            raise NotEdgeToEdgeError(f"{len(blocks)} parts interlock")
        if not is_set:
            ways.append(self.need(group, axis, True) + self._kerf)
        return min(ways)

    def _least(self, group: _Group, axis: int) -> int:
        """Length along an axis that a group takes at least, as it lies or pushed together."""
        known = group.least[axis]
        if known is None:
            side, blocks = _SIDE + axis, group.blocks
            if len(blocks) == 1:
                return blocks[0][side]
            low = min([b[axis] for b in blocks])
            span = max([b[axis] + b[side] for b in blocks]) - low
            known = group.least[axis] = min(span, self.need(group, axis, True))
        return known

    def node(
        self, group: _Group, x: int, y: int, w: int, h: int, set_x: bool, set_y: bool
    ) -> tuple[Cut, Marks]:
        """The best tree of a piece."""
        key = group, x, y, w, h, set_x, set_y
        known = self._nodes.get(key)
        if known is None:
            known = self._nodes[key] = self.best(*key)
        return known

    def best(
        self,
        group: _Group,
        x: int,
        y: int,
        w: int,
        h: int,
        set_x: bool,
        set_y: bool,
        *,
        reach: float = math.inf,
    ) -> tuple[Cut, Marks]:
        """The best tree of a piece; ways in which it cannot ``reach`` so much are not looked at."""
        blocks = group.blocks
        if not blocks:
            return Cut(x, y, w, h), self._leftover(w, h)
        if len(blocks) == 1 and blocks[0][_SIDE:4] == (w, h):
            left_over = int(self._kerf > 0 and not (set_x and set_y))
            return Cut(x, y, w, h, label=blocks[0].label), (left_over, 0, 0, 0.0, 0, 0)
        where = (x, y, w, h, set_x, set_y)
        in_store = not self.carried(x, y, w, h)
        if in_store:
            halves = self._halves(group, *where, reach)
            if halves is not None:
                return halves
        elif len(blocks) == 1 and (single := self._single(blocks[0], *where)):
            return single
        options: list[tuple[int, int, tuple[_Group, ...]]] = []
        for axis in (_X, _Y):
            extent, other = (w, h) if axis == _X else (h, w)
            groups = self._apart(group, axis)
            rest = extent - sum([self._least(g, axis) for g in groups])
            if rest < 0:
                continue
            if len(groups) > 1 or (rest and self._worth(groups[0], axis, extent, other)):
                options.append((rest * other, axis, groups))
        if not options:
            raise NotEdgeToEdgeError(f"{len(blocks)} parts interlock")
        if len(options) == 2 and options[1][0] > options[0][0]:
            options.reverse()
        if len(blocks) > _LOOK:
            options = options[:1]
        best: tuple[Cut, Marks] | None = None
        least: Marks = (0, 0, int(in_store), reach, 0, 0)
        for _, axis, groups in options:
            if self._no_better(best[1] if best else least, axis, groups, in_store, w, h):
                continue
            made = self._divided(axis, groups, in_store, *where)
            if best is None or made[1] < best[1]:
                best = made
        if best is None:
            raise NotReachedError
        return best

    def _single(
        self, block: Block, x: int, y: int, w: int, h: int, set_x: bool, set_y: bool
    ) -> tuple[Cut, Marks] | None:
        """A piece that is carried, with one part in it.

        None where the part is larger, or where what is cut off it is but the edge that was left
        out of account when it was found to be carried.
        """
        panel_w, panel_h = block.w, block.h
        over_x, over_y, kerf = w - panel_w, h - panel_h, self._kerf
        edge = self._sawing.edge if self._box is not None else 0
        if 0 < over_x < edge or 0 < over_y < edge or over_x < 0 or over_y < 0:
            return None
        part = Cut(x, y, panel_w, panel_h, label=block.label)
        thin = int(0 < over_x < kerf) + int(0 < over_y < kerf)
        if not over_x or not over_y:
            along = _X if over_x else _Y
            left_over = int(kerf > 0 and not (set_y if over_x else set_x))
            rest, over = (
                (self._leftover(over_x, h), Cut(x + panel_w, y, over_x, h))
                if over_x
                else (self._leftover(w, over_y), Cut(x, y + panel_h, w, over_y))
            )
            marks = (left_over, thin, 0, rest[3], rest[4], 1)
            return Cut(x, y, w, h, AXES[along], (part, over)), marks
        upper, right = self._leftover(panel_w, over_y), self._leftover(over_x, h)
        beside, above = self._leftover(over_x, panel_h), self._leftover(w, over_y)
        one = (0, thin, 0, upper[3] + right[3], upper[4] + right[4], 2)
        two = (0, thin, 0, beside[3] + above[3], beside[4] + above[4], 2)
        if one < two or (one == two and over_x * h >= over_y * w):
            inner = Cut(x, y, panel_w, h, "y", (part, Cut(x, y + panel_h, panel_w, over_y)))
            return Cut(x, y, w, h, "x", (inner, Cut(x + panel_w, y, over_x, h))), one
        inner = Cut(x, y, w, panel_h, "x", (part, Cut(x + panel_w, y, over_x, panel_h)))
        return Cut(x, y, w, h, "y", (inner, Cut(x, y + panel_h, w, over_y))), two

    def _no_better(
        self, best: Marks, axis: int, groups: tuple[_Group, ...], in_store: bool, w: int, h: int
    ) -> bool:
        """Whether no tree that is divided so can be better: its free wood lies apart.

        Squares of areas that together are no more than what is free in each group's strip.
        """
        if best[0] or best[1] or best[2] > in_store:
            return False
        extent, other = (w, h) if axis == _X else (h, w)
        needs = [self.need(g, axis, True) for g in groups]
        rest = extent - sum(needs)
        if rest < 0:
            return False
        free = [n * other - g.area for n, g in zip(needs, groups, strict=True)]
        # What is left over at the end lies beside one of them at most.
        largest = max(free)
        most = sum([f * f for f in free]) + (largest + rest * other) ** 2 - largest**2
        return best[3] < self._offcuts(most)

    def _offcuts(self, squares: int) -> float:
        """The least that offcuts whose squared areas add up to so much count for, rounded."""
        return -squares / self._area**2 - self._rounding

    def _leftover(self, w: int, h: int) -> Marks:
        w, h = w - self._kerf, h - self._kerf
        small, large = (w, h) if w < h else (h, w)
        if small >= self._sawing.offcut[1] and large >= self._sawing.offcut[0]:
            return (0, 0, 0, -round((w * h / self._area) ** 2, 6), 0, 0)
        return (0, 0, 0, 0.0, int(0 < small < self._sawing.sliver), 0)

    def _useful(self, extent: int, other: int) -> bool:
        return self._leftover(extent, other)[3] < 0

    def _worth(self, group: _Group, axis: int, extent: int, other: int) -> bool:
        """Whether to cut a piece's end off: it sets a panel's size, or frees an offcut."""
        blocks, side = group.blocks, _SIDE + axis
        if len(blocks) == 1:
            return extent > blocks[0][side]
        need = self.need(group, axis, True)
        if extent - need < self._kerf:
            return False
        sets = any(b[side] == need for b in blocks)
        return sets or self._useful(extent - need, other)

    def _divided(
        self,
        axis: int,
        groups: tuple[_Group, ...],
        in_store: bool,
        x: int,
        y: int,
        w: int,
        h: int,
        set_x: bool,
        set_y: bool,
    ) -> tuple[Cut, Marks]:
        extent, other = (w, h) if axis == _X else (h, w)
        sized = [(self.need(g, axis, True), g) for g in groups]
        sized.sort(key=_largest_first)
        total = sum([n for n, _ in sized])
        if total > extent:
            sized = [(self._least(g, axis), g) for _, g in sized]
            total = sum([n for n, _ in sized])
        rest = extent - total
        last = sized[-1]
        if rest < self._kerf:
            # The one that is not sawn to its size should be one whose parts still are.
            last = next(
                (pair for pair in sized if self.need(pair[1], axis, False) <= pair[0] + rest),
                sized[0],
            )
            sized.remove(last)
            sized.append(last)
        size, blocks = last[0], last[1].blocks
        if len(blocks) == 1:
            cut_last = rest > 0
        else:
            cut_last = rest >= max(self._kerf, 1) and (
                any(b[_SIDE + axis] == size for b in blocks)
                or self._useful(rest, other)
                or len(sized) == 1
            )
        parts: list[Cut] = []
        left, thin, store, offcuts, slivers, cuts = (
            0,
            int(cut_last and rest < self._kerf),
            0,
            0.0,
            0,
            0,
        )
        at = x if axis == _X else y
        end = at + extent
        final = len(sized) - (not cut_last)
        for number, (size, group) in enumerate(sized):
            sawn = number < final
            size = size if sawn else end - at
            if axis == _X:
                cut, found = self.node(group, at, y, size, h, sawn, set_y)
            else:
                cut, found = self.node(group, x, at, w, size, set_x, sawn)
            parts.append(cut)
            left += found[0]
            thin += found[1]
            store += found[2]
            offcuts += found[3]
            slivers += found[4]
            cuts += found[5]
            at += size
        if cut_last:
            over = end - at
            parts.append(Cut(at, y, over, h) if axis == _X else Cut(x, at, w, over))
            found = self._leftover(over, other)
            offcuts += found[3]
            slivers += found[4]
        count = len(parts) - 1
        marks = (left, thin, store + (count if in_store else 0), offcuts, slivers, cuts + count)
        return Cut(x, y, w, h, AXES[axis], tuple(parts)), marks

    def _halves(
        self, group: _Group, x: int, y: int, w: int, h: int, set_x: bool, set_y: bool, reach: float
    ) -> tuple[Cut, Marks] | None:
        """Divided in the store, whose cut is no more than roughly where it should be."""
        found: list[tuple[bool, float, int, int, int, list[_Group]]] = []
        for axis in (_X, _Y):
            extent = w if axis == _X else h
            groups = sorted(
                self._apart(group, axis),
                key=lambda g, axis=axis: (-self.need(g, axis, False), g.blocks[0].label),  # type: ignore[misc]
            )
            needs = [self.need(g, axis, True) for g in groups]
            every, before = sum(needs), 0
            for k in range(1, len(groups) + 1):
                before += needs[k - 1]
                size = before + self._kerf
                more = k < len(groups)
                most = extent - (every - before if more else 0) - self._kerf
                if size > most:
                    least = [self._least(g, axis) for g in groups]
                    size = sum(least[:k])
                    rest = extent - size
                    if rest < sum(least[k:]) or rest <= 0:
                        continue
                if axis == _X:
                    halves = (x, y, size, h), (x + size, y, w - size, h)
                else:
                    halves = (x, y, w, size), (x, y + size, w, h - size)
                fits = self.carried(*halves[0]) and (not more or self.carried(*halves[1]))
                off = abs(2 * size - extent) / extent
                found.append((not fits, off, axis, size, k, groups))
        if not found:
            return None
        best: tuple[Cut, Marks] | None = None
        fitting = [f for f in found if not f[0]]
        for _, _, axis, size, k, groups in fitting[:6] or [min(found, key=lambda f: f[:2])]:
            first, second = (
                self.group(tuple([b for g in part for b in g.blocks]))
                for part in (groups[:k], groups[k:])
            )
            near = size * (h if axis == _X else w) - first.area
            far = w * h - near - first.area - second.area
            bound = self._offcuts(near**2 + far**2)
            if reach < bound or (best and best[1][:3] == (0, 0, 1) and best[1][3] < bound):
                continue
            one = (
                self.node(first, x, y, size, h, False, set_y)
                if axis == _X
                else self.node(first, x, y, w, size, set_x, False)
            )
            bound = one[1][3] + self._offcuts(far**2)
            flaws = one[1][2] + 1, one[1][0], one[1][1]
            if reach < bound or (
                best and (*flaws, bound) > (best[1][2], best[1][0], best[1][1], best[1][3])
            ):
                continue
            two = (
                self.node(second, x + size, y, w - size, h, False, set_y)
                if axis == _X
                else self.node(second, x, y + size, w, h - size, set_x, False)
            )
            cut = Cut(x, y, w, h, AXES[axis], (one[0], two[0]))
            marks = _sum(_sum(one[1], two[1]), (0, 0, 1, 0.0, 0, 1))
            order = (marks[2], marks[0], marks[1], *marks[3:])
            if best is None or order < (best[1][2], best[1][0], best[1][1], *best[1][3:]):
                best = (cut, marks)
        if best is None:
            raise NotReachedError
        return best


def _largest_first(pair: tuple[int, _Group]) -> int:
    return -pair[0]


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
