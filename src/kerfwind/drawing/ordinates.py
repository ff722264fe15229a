"""Rows of distances from one edge: compact where a panel has many holes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from .canvas import SIZES, Canvas, block_size
from .model import Ordinates, Point
from .tiers import GAP, Frame

_STRAIGHT = 2.5  # extension line past the outline before it turns aside [mm]
_TURN = 2.0  # length of the piece that leads aside [mm]
_PITCH = 3.4  # text to text [mm]


def spread(wanted: Sequence[float], pitch: float) -> list[float]:
    """Places at least ``pitch`` apart, in order, as near to the wanted ones as can be.

    Least squares under order constraints by pooling neighbours (isotonic regression,
    Barlow and others 1972; cited from memory).
    """
    blocks: list[list[float]] = []
    for n, want in enumerate(wanted):
        blocks.append([want - n * pitch, 1.0])
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            value, weight = blocks.pop()
            before = blocks[-1]
            total = before[1] + weight
            blocks[-1] = [(before[0] * before[1] + value * weight) / total, total]
    flat = [value for value, weight in blocks for _ in range(round(weight))]
    return [value + n * pitch for n, value in enumerate(flat)]


def _bounded(places: list[float], frame: Frame) -> list[float]:
    """Pushed out of the corner that belongs to the neighbouring side."""
    if frame.spill_high:
        least = frame.u_low - 1.0
        return [max(p, least + n * _PITCH) for n, p in enumerate(places)]
    most = frame.u_high + 1.0
    last = len(places) - 1
    return [min(p, most - (last - n) * _PITCH) for n, p in enumerate(places)]


def set_ordinates(
    canvas: Canvas,
    frame: Frame,
    item: Ordinates,
    at: Callable[[Point], Point],
    write: Callable[[float], str],
    unit_m: float,
) -> float:
    """Write the row; returns how far it reaches beyond the outline [mm]."""
    axis = 0 if item.along == "x" else 1
    size = SIZES["normal"]
    nearest: dict[float, tuple[float, str]] = {}
    edge_point = (item.datum, 0.0) if axis == 0 else (0.0, item.datum)
    nearest[round(frame.u(at(edge_point)), 2)] = (frame.edge, "0")
    for p in item.points:
        text = write((p[axis] - item.datum) * unit_m)
        u, v = round(frame.u(at(p)), 2), frame.v(at(p))
        known = nearest.get(u)
        if known is None or v > known[0]:
            nearest[u] = (v, known[1] if known else text)
    us = sorted(nearest)
    longest = max(block_size(nearest[u][1], size, "Regular")[0] for u in us)
    foot = frame.edge + _STRAIGHT + _TURN
    for u, place in zip(us, _bounded(spread(us, _PITCH), frame), strict=True):
        v, text = nearest[u]
        canvas.lead(
            frame.point(u, min(v + GAP, frame.edge + GAP)),
            frame.point(u, frame.edge + _STRAIGHT),
            frame.point(place, foot),
        )
        half = block_size(text, size, "Regular")[0] / 2
        centre = frame.point(place, foot + 0.8 + half)
        canvas.text(text, centre, size=size, turn_deg=90.0 if frame.level else 0.0)
    return _STRAIGHT + _TURN + 0.8 + longest + 1.0
