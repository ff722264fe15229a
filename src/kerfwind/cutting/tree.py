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


def build(w: int, h: int, blocks: list[Block], x: int = 0, y: int = 0) -> Cut:
    """The tree for a rectangle of ``w`` by ``h`` at ``x``, ``y``.

    Raises NotEdgeToEdgeError where no order of full cuts takes the blocks apart.
    """
    if not blocks:
        return Cut(x, y, w, h)
    if len(blocks) == 1 and (blocks[0].w, blocks[0].h) == (w, h):
        return Cut(x, y, w, h, label=blocks[0].label)
    options: list[tuple[int, int, Axis, list[list[Block]]]] = []
    ways: tuple[tuple[Axis, int, int], ...] = (("x", w, h), ("y", h, w))
    for axis, extent, other in ways:
        groups = _groups(blocks, axis)
        rest = extent - sum(_span(g, axis) for g in groups)
        if rest < 0:
            raise NotEdgeToEdgeError("parts reach over the edge")
        if len(groups) > 1 or rest:
            options.append((rest * other, len(groups), axis, groups))
    if not options:
        raise NotEdgeToEdgeError(f"{len(blocks)} parts interlock")
    rest, _, axis, groups = max(options, key=lambda o: (o[0], o[1]))
    spans = [(_span(g, axis), g) for g in groups]
    spans.sort(key=lambda pair: -pair[0])
    parts: list[Cut] = []
    at = x if axis == "x" else y
    for span, group in spans:
        if axis == "x":
            parts.append(build(span, h, group, at, y))
        else:
            parts.append(build(w, span, group, x, at))
        at += span
    if axis == "x" and at < x + w:
        parts.append(Cut(at, y, x + w - at, h))
    if axis == "y" and at < y + h:
        parts.append(Cut(x, at, w, y + h - at))
    return Cut(x, y, w, h, axis, tuple(parts))


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
