"""The tree of edge-to-edge cuts that takes a sheet's parts apart.

Found from where the parts lie. In each piece the parts are pushed to the low corner, so
that what is left over gathers at the high ends in rectangles as large as may be.
"""

from __future__ import annotations

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


def _groups(blocks: list[Block], axis: Axis) -> list[list[Block]]:
    """Blocks apart from each other along an axis, low to high."""
    groups: list[list[Block]] = []
    reach = -1
    for block in sorted(blocks, key=lambda b: _low(b, axis)):
        if groups and _low(block, axis) < reach:
            groups[-1].append(block)
        else:
            groups.append([block])
        reach = max(reach, _high(block, axis))
    return groups


def _span(group: list[Block], axis: Axis) -> int:
    return max(_high(b, axis) for b in group) - min(_low(b, axis) for b in group)


Box = tuple[int, int]


def carried(w: int, h: int, box: Box | None) -> bool:
    """Whether a piece fits the biggest that can be carried, either way round."""
    return box is None or (max(w, h) <= max(box) and min(w, h) <= min(box))


def build(w: int, h: int, blocks: list[Block], box: Box | None = None) -> Cut:
    """The tree for a rectangle of ``w`` by ``h``.

    A piece too big for ``box`` is first divided where one cut makes both halves fit, if
    there is such a place. Raises NotEdgeToEdgeError where no order of full cuts takes the
    blocks apart.
    """
    return _build(w, h, blocks, 0, 0, box)


def _build(w: int, h: int, blocks: list[Block], x: int, y: int, box: Box | None) -> Cut:
    if not blocks:
        return Cut(x, y, w, h)
    if len(blocks) == 1 and (blocks[0].w, blocks[0].h) == (w, h):
        return Cut(x, y, w, h, label=blocks[0].label)
    options: list[tuple[bool, int, int, Axis, list[list[Block]]]] = []
    ways: tuple[tuple[Axis, int, int], ...] = (("x", w, h), ("y", h, w))
    small = carried(w, h, box)
    for axis, extent, other in ways:
        groups = _groups(blocks, axis)
        spans = [_span(g, axis) for g in groups]
        rest = extent - sum(spans)
        if rest < 0:
            raise NotEdgeToEdgeError("parts reach over the edge")
        if len(groups) > 1 or rest:
            halves = not small and _halves(sorted(spans, reverse=True), extent, other, box)
            options.append((halves, rest * other, len(groups), axis, groups))
    if not options:
        raise NotEdgeToEdgeError(f"{len(blocks)} parts interlock")
    halves, waste, _, axis, groups = max(options, key=lambda o: o[:3])
    extent = w if axis == "x" else h
    if waste and len(groups) > 1 and not halves and min(o[1] for o in options) and len(options) > 1:
        # Off with the end first, so that one cut along the other side serves all groups.
        used = sum(_span(g, axis) for g in groups)
        pushed = _pushed(groups, axis)
        if axis == "x":
            kept = _build(used, h, pushed, x, y, box)
            return Cut(x, y, w, h, axis, (kept, Cut(x + used, y, w - used, h)))
        kept = _build(w, used, pushed, x, y, box)
        return Cut(x, y, w, h, axis, (kept, Cut(x, y + used, w, h - used)))
    parts: list[Cut] = []
    at = x if axis == "x" else y
    end = at + extent
    for group in sorted(groups, key=lambda g: -_span(g, axis)):
        span = _span(group, axis)
        if axis == "x":
            parts.append(_build(span, h, group, at, y, box))
        else:
            parts.append(_build(w, span, group, x, at, box))
        at += span
    if at < end:
        parts.append(Cut(at, y, end - at, h) if axis == "x" else Cut(x, at, w, end - at))
    return Cut(x, y, w, h, axis, tuple(parts))


def _pushed(groups: list[list[Block]], axis: Axis) -> list[Block]:
    """Blocks with the gaps between groups closed."""
    made: list[Block] = []
    at = 0
    for group in groups:
        shift = at - min(_low(b, axis) for b in group)
        for b in group:
            x, y = (b.x + shift, b.y) if axis == "x" else (b.x, b.y + shift)
            made.append(Block(x, y, b.w, b.h, b.label))
        at += _span(group, axis)
    return made


def _halves(spans: list[int], extent: int, other: int, box: Box | None) -> bool:
    """Whether one cut between these groups makes both sides small enough to carry."""
    at = 0
    for span in spans:
        at += span
        if at < extent and carried(at, other, box) and carried(extent - at, other, box):
            return True
    return False


def store_cuts(cut: Cut, box: Box | None) -> int:
    """Cuts until every piece can be carried; what is left over may stay behind."""
    if carried(cut.w, cut.h, box) or not cut.parts:
        return 0
    return _store_cuts(list(cut.parts), cut.axis, box)


def _store_cuts(parts: list[Cut], axis: Axis, box: Box | None) -> int:
    if len(parts) == 1:
        return store_cuts(parts[0], box)
    sides = [p.w if axis == "x" else p.h for p in parts]
    other = parts[0].h if axis == "x" else parts[0].w
    total = sum(sides)
    if carried(total, other, box):
        return 0
    ends = [sum(sides[:k]) for k in range(1, len(parts))]
    fits = [carried(e, other, box) and carried(total - e, other, box) for e in ends]
    at = min(range(len(ends)), key=lambda k: (not fits[k], abs(2 * ends[k] - total))) + 1
    return 1 + _store_cuts(parts[:at], axis, box) + _store_cuts(parts[at:], axis, box)


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
