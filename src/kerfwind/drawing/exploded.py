"""The cart taken apart in the air: each part moved back the way it comes to its place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from kerfwind.cart.model import Cart
from kerfwind.joinery.model import PanelJoint
from kerfwind.solids import Body
from kerfwind.words import Voice

from .model import Balloon, Drawing, Item, Label
from .motion import Motion, motions, panels_box
from .overlap import Floats
from .project import picture, picture_drawing
from .view import perspective, turned

#: Clear space between parts that are pulled apart [m].
GAP_M = 0.075
#: About the way in which the parts are looked at.
_EYE = turned(-35.0, 20.0)
#: A hose goes so much farther rather than stand before the middle of a part, or so near it [m];
#: and so much rather than hang in front of parts with all its length.
_HIDING_M, _NEAR_M, _BEFORE_M = 0.15, 0.06, 1.0


@dataclass(frozen=True)
class Exploded:
    """Bodies pulled apart.

    Attributes
    ----------
    bodies
        In their new places, in the order of the cart's.
    offsets_m
        How far each was moved, by name.
    ways
        Straight lines, shape (k, 2, 3) [m], from a spot of each moved body to the same
        spot of what it is fixed to.
    """

    bodies: tuple[Body, ...]
    offsets_m: dict[str, Floats]
    ways: Floats


def exploded(cart: Cart, bodies: Sequence[Body] | None = None, gap_m: float = GAP_M) -> Exploded:
    """Pull a cart apart so that no two parts' enclosing boxes meet along their ways.

    ``bodies`` are the cart's own unless simpler ones of the same names are given.
    """
    shown = {b.name: b for b in (bodies if bodies is not None else cart.bodies)}
    offsets: dict[str, Floats] = {}
    known = motions(cart)
    hoses: list[str] = []
    for name, motion in known.items():
        body = shown[name]
        start = offsets[motion.onto] if motion.onto in offsets else np.zeros(3)
        if body.part_of:
            offsets[name] = start
        elif body.kind == "hose":
            hoses.append(name)
        elif motion.from_side.any():
            far = _clear(body, start, motion.from_side, shown, offsets, gap_m)
            offsets[name] = start + far * motion.from_side
        else:
            offsets[name] = start
    # The coil stays near its holder; the link hose finds its way about it.
    for name in sorted(hoses, key="link hose".__eq__):
        offsets[name] = _out_of_the_way(shown[name], shown, offsets, gap_m)
    moved = tuple(b.moved(offsets.get(b.name, np.zeros(3)).tolist()) for b in shown.values())
    return Exploded(moved, offsets, _ways(cart, known, shown, offsets))


def _clear(
    body: Body,
    start: Floats,
    side: Floats,
    shown: dict[str, Body],
    offsets: dict[str, Floats],
    gap_m: float,
) -> float:
    """How far a body must go along ``side`` to stand clear.

    Things are drawn out past all that stands in their way; a panel only to the first gap
    that it fits, as a bracket between two posts does.
    """
    axis = int(np.argmax(np.abs(side)))
    across = [i for i in range(3) if i != axis]
    low, high = body.low + start, body.high + start
    size = float(high[axis] - low[axis])
    taken: list[tuple[float, float]] = []
    for name, offset in offsets.items():
        other_low, other_high = shown[name].low + offset, shown[name].high + offset
        shared = np.minimum(high, other_high) - np.maximum(low, other_low)
        if np.any(shared[across] <= 1e-6):
            continue
        ends = sorted(float(side[axis] * v[axis]) for v in (other_low, other_high))
        taken.append((ends[0], ends[1]))
    start_at = float(low[axis] if side[axis] > 0 else -high[axis])
    at = start_at
    for near, far in sorted(taken):
        room = near - (at + size) >= gap_m - 1e-9
        if room and body.kind == "panel":
            break
        if far > at - gap_m:
            at = far + gap_m
    return at - start_at


def _out_of_the_way(
    body: Body, shown: dict[str, Body], offsets: dict[str, Floats], gap_m: float
) -> Floats:
    """A short way out for what is fixed at both ends, in front of as few others as may be."""
    sides = [np.array(s, dtype=float) for s in ((1, 0, 0), (-1, 0, 0), (0, -1, 0), (0, 1, 0))]
    ways: list[Floats] = [
        side * (_clear(body, np.zeros(3), side, shown, offsets, gap_m) + more)
        for side in sides
        for more in (0.0, 0.15, 0.3, 0.45)
    ]
    middles = np.array([(shown[n].low + shown[n].high) / 2 + offsets[n] for n in offsets])
    seen, hose = _EYE.project(middles)[:, :2], _EYE.project(body.vertices)[:, :2]
    parts = [_EYE.project(shown[n].vertices + offsets[n])[:, :2] for n in offsets]
    low, high = (np.array([f(p, axis=0) for p in parts]) for f in (np.min, np.max))

    def cost(way: Floats) -> float:
        there = hose + _EYE.project(way)[:2]
        off = np.hypot(*(seen[:, None] - there[None]).transpose(2, 0, 1)).min(axis=1)
        before = np.all((there[:, None] > low) & (there[:, None] < high), axis=2).any(axis=1)
        hidden = _HIDING_M * int((off < _NEAR_M).sum()) + _BEFORE_M * float(before.mean())
        return float(np.linalg.norm(way)) + hidden

    if body.name == "link hose":
        return min(ways, key=cost)
    # A coil that hangs on the outside goes off from there.
    near, far = panels_box(shown.values())
    hung = (body.low + body.high - near - far) / 2
    return min(ways, key=lambda way: (-float(np.sign(way) @ hung), cost(way)))


def _ways(
    cart: Cart, known: dict[str, Motion], shown: dict[str, Body], offsets: dict[str, Floats]
) -> Floats:
    """Screws' axes where parts are screwed, else the middle line of what is set down."""
    found: list[tuple[Floats, Floats]] = []
    done: set[str] = set()
    for joint in cart.joints:
        pair = (joint.first, joint.second)
        ties = [known[a].onto == b for a, b in (pair, pair[::-1])]
        ends = [offsets[n] for n in pair]
        if not any(ties) and np.linalg.norm(np.cross(ends[0] - ends[1], joint.way)):
            continue
        for spot in _spots(joint, shown):
            found.append((spot + ends[0], spot + ends[1]))
        done |= set(pair)
    for name, motion in known.items():
        if name in done or motion.onto is None or shown[name].part_of:
            continue
        body, onto = shown[name], shown[motion.onto]
        middle = (body.low + body.high) / 2
        if motion.from_side[2]:
            middle[2] = body.low[2] if motion.from_side[2] > 0 else body.high[2]
            at = middle.copy()
            at[2] = min(max(middle[2], onto.low[2]), onto.high[2])
        else:
            at = middle.copy()
        found.append((middle + offsets[name], at + offsets[motion.onto]))
    return np.asarray(found, dtype=float).reshape(-1, 2, 3)


def _spots(joint: PanelJoint, shown: dict[str, Body]) -> list[Floats]:
    """Where two parts meet: the outermost screws, or the middle where glue alone holds them."""
    if joint.screws:
        return [np.asarray(s.head_m) for s in (joint.screws[0], joint.screws[-1])]
    first, second = shown[joint.first], shown[joint.second]
    middle: Floats = (np.maximum(first.low, second.low) + np.minimum(first.high, second.high)) / 2
    return [middle]


def exploded_drawing(cart: Cart, voice: Voice, bodies: Sequence[Body] | None = None) -> Drawing:
    """The exploded view: panels in balloons by their letter, other parts by name."""
    apart = exploded(cart, bodies)
    points = np.concatenate([b.vertices for b in apart.bodies])
    seen = picture(
        apart.bodies, perspective(points, elevation_deg=20.0), crease_deg=38.0, ways=apart.ways
    )
    letters = {p.name: p.key for p in cart.placed}
    items: list[Item] = []
    named: set[str] = set()
    for body in apart.bodies:
        spot = seen.seen_at(body.name)
        if spot is None or body.part_of:
            continue
        if body.name in letters:
            items.append(Balloon(spot, letters[body.name]))
            continue
        name = voice.text(cart.what(body.name))
        if name not in named:
            items.append(Label(spot, name, "leader"))
        named.add(name)
    return picture_drawing("The parts, pulled apart", seen, items)
