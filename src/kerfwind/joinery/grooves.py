"""Dados: how deep a groove is, how wide, and where it is open at an edge."""

from __future__ import annotations

from ..solids import Face, Groove
from ..sources import fact
from .marks import MarkingRule

#: An edge nearer than this to the panel that goes in is taken as flush with it [m].
FLUSH_M = 0.003

Interval = tuple[float, float]


def depth_m(thickness_m: float, rule: MarkingRule) -> float:
    """Depth of a groove in a panel: a third of its thickness, to the nearest mark [m]."""
    return max(rule.near(thickness_m * fact("cart.dado.depth").value), rule.step_m)


def shoulder_m(wish_m: float, thickness_m: float) -> float:
    """A distance from the groove to the edge: none, or enough that it does not break off [m]."""
    if wish_m < FLUSH_M:
        return wish_m
    return max(wish_m, thickness_m * fact("cart.dado.shoulder").value)


def groove(
    x: Interval, y: Interval, length_m: float, width_m: float, depth: float, face: Face
) -> Groove:
    """The groove in a panel of ``length_m`` by ``width_m`` for an edge that covers ``x``, ``y``.

    It is wider and longer by the play, shared by both sides; at an edge that the mating panel
    is flush with it is open, and the other side has the whole play.
    """
    x0, x1 = _with_play(x, length_m)
    y0, y1 = _with_play(y, width_m)
    return Groove(x0, y0, x1 - x0, y1 - y0, depth, face)


def _with_play(span: Interval, size: float) -> Interval:
    play = fact("cart.dado.play").value
    open_low, open_high = span[0] <= FLUSH_M, size - span[1] <= FLUSH_M
    low = 0.0 if open_low else span[0] - (play if open_high else play / 2)
    high = size if open_high else span[1] + (play if open_low else play / 2)
    return low, high


def kind_of(cut: Groove, length_m: float, width_m: float) -> str:
    """What the trade calls it: a rebate where a long side is open at an edge, else a dado."""
    along = cut.length_m >= cut.width_m
    side = (
        (cut.y_m, width_m - cut.y_m - cut.width_m)
        if along
        else (cut.x_m, length_m - cut.x_m - cut.length_m)
    )
    return "rebate" if min(side) <= 1e-9 else "dado"


def stopped(cut: Groove, length_m: float, width_m: float) -> bool:
    """Whether an end of it stops short of the panel's edge."""
    along = cut.length_m >= cut.width_m
    ends = (
        (cut.x_m, length_m - cut.x_m - cut.length_m)
        if along
        else (cut.y_m, width_m - cut.y_m - cut.width_m)
    )
    return max(ends) > 1e-9
