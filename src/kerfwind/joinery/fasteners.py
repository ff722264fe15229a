"""Screws that suit the thickness, and where they go."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from ..facts import Amount, Statement, state
from ..sources import fact

_IN = 0.0254

#: Lengths on sale (common practice, no source) [m].
INCH_LENGTHS = tuple(x * _IN for x in (0.625, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 3.0, 3.5))
METRIC_LENGTHS = tuple(x / 1000 for x in (16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 70, 80, 90))


@dataclass(frozen=True)
class ScrewSize:
    """A wood screw by its diameter, with its drills (common practice, no source) [m].

    ``gauge`` is its number where it is sold by one, 0 where it goes by its diameter.
    """

    gauge: int
    diameter_m: float
    clearance_m: float
    pilot_m: float

    @property
    def says(self) -> Statement | Amount:
        """Its size as it is asked for."""
        if self.gauge:
            return state("joinery.screw.gauge", number=self.gauge)
        return Amount(self.diameter_m, "length", "metric")


_INCH = (
    ScrewSize(6, 0.138 * _IN, 9 / 64 * _IN, 5 / 64 * _IN),
    ScrewSize(8, 0.164 * _IN, 11 / 64 * _IN, 3 / 32 * _IN),
    ScrewSize(10, 0.190 * _IN, 3 / 16 * _IN, 7 / 64 * _IN),
)
_METRIC = (
    ScrewSize(0, 0.0035, 0.0036, 0.002),
    ScrewSize(0, 0.004, 0.0042, 0.0025),
    ScrewSize(0, 0.005, 0.0052, 0.003),
)


def screw_size(thickness_m: float, metric: bool) -> ScrewSize:
    """The screw for a plywood edge: its diameter about a quarter of the thickness."""
    rows = _METRIC if metric else _INCH
    if thickness_m < 0.0155:
        return rows[0]
    return rows[1] if thickness_m < 0.0215 else rows[2]


@cache
def _on_sale(metric: bool) -> tuple[float, ...]:
    """Lengths of wood screws with countersunk heads, shortest first [m]."""
    if metric:
        return METRIC_LENGTHS
    return tuple(sorted((*INCH_LENGTHS, fact("cart.screw.eighths").value)))


def into_edge_m(
    thickness_m: float, size: ScrewSize, carries: bool, metric: bool, deep_m: float = math.inf
) -> float | None:
    """Length of a screw through one panel into another's edge [m].

    For 3/4 in plywood it is 2-1/2 in where it carries and 1-1/2 in for lipping (common
    practice); other thicknesses keep the same depth of thread in screw diameters. None when
    none stays inside an edge ``deep_m`` deep.
    """
    key = "cart.screw.carries" if carries else "cart.screw.lipping"
    depth = (fact(key).value - 23 / 32 * _IN) / (0.164 * _IN)
    want = thickness_m + depth * size.diameter_m
    most = thickness_m + deep_m - fact("cart.screw.point").value
    lengths = [x for x in _on_sale(metric) if thickness_m < x <= most]
    if not lengths:
        return None
    return min(lengths, key=lambda length: (round(abs(length - want), 6), length))


def into_face_m(through_m: float, into_m: float, metric: bool) -> float | None:
    """Longest screw through one panel into another's face that does not come out [m].

    Glue carries such a joint; its screws draw it together until that has set. None when the
    longest that stays inside would bite too little even for that.

    Examples
    --------
    >>> round(into_face_m(0.0127, 0.0127, metric=False) / 0.0254, 3)
    0.875
    """
    most = through_m + into_m - fact("cart.screw.point").value
    fitting = [length for length in _on_sale(metric) if length <= most + 1e-9]
    least = fact("cart.screw.clamps").value * into_m
    if not fitting or fitting[-1] - through_m < least:
        return None
    return fitting[-1]


def spread(length_m: float, least: int = 2) -> list[float]:
    """Places of screws along a joint of this length, from its start [m].

    End distance and spacing as is usual; on short joints the end distance shrinks to a
    quarter of the length.
    """
    end = min(fact("cart.screw.end_distance").value, length_m / 4)
    span = length_m - 2 * end
    count = max(least, math.ceil(span / fact("cart.screw.spacing").value - 1e-9) + 1)
    return [end + span * k / (count - 1) for k in range(count)]
