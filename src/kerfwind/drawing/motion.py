"""Which way each part of a cart comes to its place, from its joints and from what stands where."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from kerfwind.cart.model import Cart
from kerfwind.joinery.model import PanelJoint, Step
from kerfwind.solids import Body

from .overlap import Floats

_TOUCH_M = 2e-3
_UP, _DOWN, _FRONT = (
    np.array([0.0, 0.0, 1.0]),
    np.array([0.0, 0.0, -1.0]),
    np.array([0.0, -1.0, 0.0]),
)


@dataclass(frozen=True)
class Motion:
    """How one part arrives.

    Attributes
    ----------
    onto
        The part that it is fixed to, set on or fitted into; None for those that others come to.
    from_side
        Unit vector from its place to where it comes from; zero where it stays, and for hoses.
    """

    onto: str | None
    from_side: Floats


def panels_box(bodies: Iterable[Body]) -> tuple[Floats, Floats]:
    """The least and the greatest corner of all panels [m]."""
    panels = [b for b in bodies if b.kind == "panel"]
    return np.min([b.low for b in panels], axis=0), np.max([b.high for b in panels], axis=0)


def motions(cart: Cart) -> dict[str, Motion]:
    """How each body of the cart arrives, in the order of assembly.

    A panel comes to what it is fixed to along the way that the two meet. In a step whose parts
    are all new, those that others are joined to stay. What is screwed to an upright face comes
    from the side away from it, casters from below; vacuum, bucket and cyclone from above, or
    from the front where something stands over their place.
    """
    found: dict[str, Motion] = {}
    joints = {j.key: j for j in cart.joints}
    bodies = {b.name: b for b in cart.bodies}
    for step in cart.steps:
        mine = [joints[k] for k in step.joints if k in joints]
        panels = [n for n in step.new if bodies[n].kind == "panel"]
        found |= _fastened(panels, mine, found)
        for name in step.new:
            if name not in found:
                found[name] = _hung(name, step) or _set_down(bodies[name], bodies, found)
    return found


def _hung(name: str, step: Step) -> Motion | None:
    """How a thing comes that touches an upright face, by its step, and stands on nothing."""
    against = [r for r in step.aligned if r.part == name and r.how == "against"]
    if len(against) != 1 or against[0].axis == "z":
        return None
    [row] = against
    axis = "xyz".index(row.axis)
    side = np.zeros(3)
    side[axis] = 1.0 if row.to_side in ("right", "rear") else -1.0
    return Motion(row.to, side)


def _fastened(
    names: Sequence[str], joints: Sequence[PanelJoint], before: dict[str, Motion]
) -> dict[str, Motion]:
    found: dict[str, Motion] = {}
    waiting = list(names)
    while waiting:
        settled = before.keys() | found.keys()
        ready = [n for n in waiting if any(_other(j, n) in settled for j in joints)]
        for name in ready:
            found[name] = _against([j for j in joints if _other(j, name) in settled], name)
        if not ready:
            driven = {j.first for j in joints}
            ready = [n for n in waiting if n not in driven] or waiting[:1]
            found |= {n: Motion(None, np.zeros(3)) for n in ready}
        waiting = [n for n in waiting if n not in found]
    return found


def _other(joint: PanelJoint, name: str) -> str | None:
    if name not in (joint.first, joint.second):
        return None
    return joint.second if joint.first == name else joint.first


def _against(joints: Sequence[PanelJoint], name: str) -> Motion:
    main = max(joints, key=lambda j: len(j.screws))
    ways = []
    for joint in (main, *joints):
        way = np.asarray(joint.way, dtype=float)
        ways.append(-way if joint.first == name else way)
    total = np.sum(ways, axis=0)
    axis = int(np.argmax(np.abs(total)))
    side = np.zeros(3)
    side[axis] = np.sign(total[axis])
    return Motion(_other(main, name), side)


def _set_down(body: Body, bodies: dict[str, Body], placed: dict[str, Motion]) -> Motion:
    """What is not screwed to a panel: casters, round things, hoses."""
    if body.part_of in placed:
        return Motion(body.part_of, placed[body.part_of].from_side)
    if body.kind == "hose":
        return Motion(None, np.zeros(3))
    if body.kind == "panel":
        return Motion(None, np.zeros(3))
    others = [bodies[n] for n in placed if _over_each_other(bodies[n], body)]
    if body.kind == "hardware":
        over = [b for b in others if abs(b.low[2] - body.high[2]) < _TOUCH_M]
        under = [b for b in others if abs(b.high[2] - body.low[2]) < _TOUCH_M]
        beside = None if over else _beside(body, [bodies[n] for n in placed])
        if beside is not None:
            return beside
        if under and not over:
            return Motion(under[0].name, _UP)
        return Motion(over[0].name if over else None, _DOWN)
    below = [b for b in others if b.high[2] <= body.high[2] - _TOUCH_M]
    onto = max(below, key=lambda b: float(b.high[2]), default=None)
    roofed = any(b.low[2] >= body.high[2] - _TOUCH_M for b in others)
    if not roofed:
        return Motion(onto.name if onto else None, _UP)
    return Motion(onto.name if onto else None, _off(body, onto, bodies, placed))


def _beside(body: Body, others: Sequence[Body]) -> Motion | None:
    """How a thing comes that is screwed to an upright face."""
    for other in others:
        shared = np.minimum(body.high, other.high) - np.maximum(body.low, other.low)
        for axis in (0, 1):
            if abs(shared[axis]) < _TOUCH_M and np.all(np.delete(shared, axis) > _TOUCH_M):
                side = np.zeros(3)
                side[axis] = np.sign((body.low + body.high - other.low - other.high)[axis])
                return Motion(other.name, side)
    return None


def _off(
    body: Body, onto: Body | None, bodies: dict[str, Body], placed: dict[str, Motion]
) -> Floats:
    """Which way a thing under something else goes off: as its rack does, else to the front."""
    holder = placed[onto.name] if onto else None
    while holder and not holder.from_side[:2].any():
        holder = placed.get(holder.onto or "")
    if holder and holder.onto:
        face = holder.from_side * np.where(
            holder.from_side > 0, bodies[holder.onto].high, bodies[holder.onto].low
        )
        if holder.from_side @ (body.low + body.high) / 2 > face.sum():
            return holder.from_side
    return _FRONT


def _over_each_other(one: Body, two: Body) -> bool:
    return bool(
        np.all(np.minimum(one.high, two.high)[:2] - np.maximum(one.low, two.low)[:2] > _TOUCH_M)
    )


def shown_before(cart: Cart, step: Step) -> list[str]:
    """Names of the bodies that are in place when the step begins."""
    return [n for s in cart.steps if s.number < step.number for n in s.new]
