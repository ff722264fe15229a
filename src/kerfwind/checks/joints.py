"""What joints hold by their kind, and what is said of those that differ from the wish."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ..cart.model import Cart
from ..fact_samples import Samples, spread_fact
from ..facts import Amount, Fact, Listing, Statement, Term, facts, state
from ..finding import Finding, finding, judge
from ..joinery.grooves import FLUSH_M
from ..joinery.model import FACE_AND_SCREWS, HardwareItem, Kept, PanelJoint
from ..joinery.screws import in_edge_n, in_face_n, lateral_n
from ..quantity import Draw
from ..sources import fact


def _row(cart: Cart, joint: PanelJoint) -> HardwareItem:
    return next(h for h in cart.hardware if h.key == joint.screws[0].hardware)


def _through_m(cart: Cart, joint: PanelJoint) -> float:
    """Wood of the first panel that its screws pass, less what a groove takes [m]."""
    placed = {p.name: p for p in cart.placed}
    first, second = placed[joint.first], placed[joint.second]
    panel = cart.panel(first.key)
    if not joint.in_groove:
        return panel.thickness_m
    ends = [first.at.local(v)[2] for v in (cart.body(second.name).low, cart.body(second.name).high)]
    way = float(np.dot(joint.way, first.at.through))
    return float(min(ends)) if way > 0 else panel.thickness_m - float(max(ends))


def pulled_n(cart: Cart, joint: PanelJoint, draw: Draw) -> Samples:
    """What one screw of a joint may be pulled with, straight out of the joint [N].

    Screws through a face hold by their thread in the other panel's edge. A pocket screw holds
    by its thread in the other panel's face, by what the design standard leaves of a slanted
    nail's withdrawal, and only that part of it which is square to the joint.
    """
    item = _row(cart, joint)
    length, diameter = item.length_m or 0.0, item.diameter_m or 0.0
    if joint.by_pockets:
        cosine = abs(float(np.dot(joint.screws[0].direction, joint.way)))
        pocket = _pocket_seat_m(cart, joint)
        straight = in_face_n(length, diameter, pocket, draw)
        return straight * spread_fact("cart.screw.slanted", draw) * cosine
    through = _through_m(cart, joint)
    if joint.how == FACE_AND_SCREWS:
        return in_face_n(length, diameter, through, draw)
    return in_edge_n(length, diameter, through, draw)


def _pocket_seat_m(cart: Cart, joint: PanelJoint) -> float:
    """From the head to the edge that the screw leaves by, along the screw [m]."""
    axis = int(np.argmax(np.abs(joint.way)))
    first, screw = cart.body(joint.first), joint.screws[0]
    face = float(first.high[axis] if joint.way[axis] > 0 else first.low[axis])
    return (face - screw.head_m[axis]) / screw.direction[axis]


def slid_n(cart: Cart, joint: PanelJoint, draw: Draw) -> Samples:
    """What a joint's screws take before its two panels slide along each other, glue left out [N].

    In an edge they take less than in a face. Below six diameters of penetration the design
    standard gives no value; what it gives at six is scaled down in proportion.
    """
    if not joint.screws:
        return np.zeros(draw.count)
    item = _row(cart, joint)
    diameter, length = item.diameter_m or 0.0, item.length_m or 0.0
    pocket = joint.by_pockets
    side = _pocket_seat_m(cart, joint) if pocket else _through_m(cart, joint)
    each = lateral_n(spread_fact("cart.plywood.gravity", draw), diameter, side, length - side)
    if not pocket and joint.how != FACE_AND_SCREWS:
        each = each * fact("cart.screw.in_end_grain").value
    total: Samples = each * len(joint.screws)
    return total


def bears_n(cart: Cart, joints: Sequence[PanelJoint]) -> float:
    """What the sides of grooves take of a push to the left or right, the weaker way [N].

    A groove's side bears where there is one: not where the groove is open at an edge.
    """
    left = right = 0.0
    for joint in joints:
        a, b = cart.body(joint.first), cart.body(joint.second)
        low, high = np.maximum(a.low, b.low), np.minimum(a.high, b.high)
        box = high - low
        if not joint.in_groove or abs(joint.way[2]) < 0.5 or box[0] > box[1]:
            continue
        force = float(box[1] * box[2]) * fact("cart.dado.bearing").value
        y = float(low[1] + high[1]) / 2
        left += force if _wood(cart, joint.first, float(high[0]) + FLUSH_M, y) else 0.0
        right += force if _wood(cart, joint.first, float(low[0]) - FLUSH_M, y) else 0.0
    return min(left, right)


def _wood(cart: Cart, name: str, x: float, y: float) -> bool:
    """Whether a level panel has wood at a place, at the depth of its grooves."""
    at = next(p for p in cart.placed if p.name == name)
    panel = cart.panel(at.key)
    u, v, _ = at.at.local((x, y, 0.0))
    if not (0 < u < panel.length_m and 0 < v < panel.width_m):
        return False
    return not any(0 < u - g.x_m < g.length_m and 0 < v - g.y_m < g.width_m for g in panel.grooves)


def joint_findings(cart: Cart, draw: Draw) -> list[Finding]:
    """Joints that are not as wished for or lean on glue, and whether the shelf slides."""
    return [*_kept(cart), *_faces(cart), *_shelf(cart, draw)]


def _kept(cart: Cart) -> list[Finding]:
    reasons: dict[Kept, list[PanelJoint]] = {}
    for joint in cart.joints:
        if joint.kept is not None:
            reasons.setdefault(joint.kept, []).append(joint)
    if not reasons:
        return []
    glue = "end grain" in reasons
    why = [
        state("checks.joints.why", joints=_few(rows), why=Term("kept", kept))
        for kept, rows in reasons.items()
    ]
    return [
        finding(
            "cart.joints.kept",
            "end_grain" if glue else "no_room",
            "advice",
            Term("part", "joints"),
            facts=facts(
                count=sum(len(rows) for rows in reasons.values()),
                all=len(cart.joints),
                why=Listing(tuple(why), "semicolons"),
            ),
            sources=("cart.glue.end_grain",) if glue else (),
        )
    ]


def _faces(cart: Cart) -> list[Finding]:
    """Faces that screws only draw together: the longest on sale that stays inside bites little."""
    placed = {p.name: p for p in cart.placed}
    share = fact("cart.screw.holds").value
    rows = []
    for joint in (j for j in cart.joints if j.how == FACE_AND_SCREWS):
        bite = (_row(cart, joint).length_m or 0.0) - _through_m(cart, joint)
        if bite < share * cart.panel(placed[joint.second].key).thickness_m - 1e-9:
            rows.append((joint, bite))
    if not rows:
        return []
    return [
        finding(
            "cart.joints.faces",
            "glue_carries",
            "advice",
            Term("part", "joints"),
            facts=facts(
                bite=Amount(min(bite for _, bite in rows), "length"),
                joints=_few([joint for joint, _ in rows]),
            ),
            sources=("cart.screw.holds", "cart.screw.point"),
        )
    ]


def _few(joints: Sequence[PanelJoint], most: int = 4) -> Statement:
    """Which joints: all of a few, or the first of many and how many more."""
    named: list[Fact] = [
        state("checks.joints.pair", first=Term("panel", j.first), second=Term("panel", j.second))
        for j in joints
    ]
    if len(named) > most:
        named = named[: most - 1]
    return state(
        "checks.joints.some",
        joints=Listing(tuple(named), "commas"),
        others=len(joints) - len(named),
    )


def _shelf(cart: Cart, draw: Draw) -> list[Finding]:
    """A push to the left or right on the shelf: what keeps it on its uprights."""
    rows = [j for j in cart.joints if j.first == "shelf" and j.carries]
    if not rows:
        return []
    wood = bears_n(cart, rows)
    holds = (
        np.full(draw.count, wood) if wood else np.sum([slid_n(cart, j, draw) for j in rows], axis=0)
    )
    screws = ("cart.screw.bearing", "cart.screw.bending_177", "cart.screw.in_end_grain")
    found = judge(
        key="cart.shelf.slide",
        about=Term("panel", "shelf"),
        draw=draw,
        value=holds,
        limit=2 * fact("cart.push.hand").value,
        must="at least",
        dimension="force",
        sources=["cart.push.hand", *(("cart.dado.bearing",) if wood else screws)],
        outcome="slides",
        facts=facts(held_by="wood" if wood else "screws"),
    )
    shallow = [j for j in rows if _short(cart, j)]
    if not wood and shallow and found.level == "good":
        found = replace(found, level="advice", outcome="shallow", otherwise="")
    return [found]


def _short(cart: Cart, joint: PanelJoint) -> bool:
    if not joint.by_pockets:
        return False
    item = _row(cart, joint)
    depth = (item.length_m or 0.0) - _pocket_seat_m(cart, joint)
    return depth < fact("cart.screw.least_penetration").value * (item.diameter_m or 0.0)


def joint_height_m(cart: Cart, joint: PanelJoint) -> tuple[float, float]:
    """Lowest and highest place at which the two panels of a joint meet [m]."""
    a, b = cart.body(joint.first), cart.body(joint.second)
    return float(max(a.low[2], b.low[2])), float(min(a.high[2], b.high[2]))
