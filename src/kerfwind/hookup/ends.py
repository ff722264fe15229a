"""Diameters of ends along the sample axis, for one end or for a table of many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..kept import Kept
from ..quantity import Draw, Quantity
from ..shop import End
from ..sources import fact

Floats = NDArray[np.float64]


def diameters(end: End, draw: Draw) -> tuple[Floats, Floats]:
    """Inside and outside diameter [m] of one end, each of shape ``(draw.count,)``.

    Two assumed diameters of one end rise and fall together, and an assumed one follows
    the error of a measured one; so a thick-walled small end and a thin-walled large one
    are not drawn by chance, and the inside stays inside the outside.
    """
    inside, outside = end.inside, end.outside
    if inside.assumed and outside.assumed:
        share = _share(outside, draw)
        i = inside.low_si + share * (inside.high_si - inside.low_si)
        o = outside.low_si + share * (outside.high_si - outside.low_si)
    else:
        i, o = draw.of(inside), draw.of(outside)
        if inside.assumed:
            i = i + (o - outside.best_si)
        elif outside.assumed:
            o = o + (i - inside.best_si)
    least = 2 * fact("hookup.least_wall").value
    thin = o - i < least
    if inside.assumed:
        i = np.where(thin, o - least, i)
    elif outside.assumed:
        o = np.where(thin, i + least, o)
    else:
        i = np.minimum(i, o)
    return i, o


def _share(quantity: Quantity, draw: Draw) -> Floats:
    wide = quantity.high_si - quantity.low_si
    if wide <= 0:
        return np.full(draw.count, 0.5)
    return (draw.of(quantity) - quantity.low_si) / wide


def no_port(end: End) -> bool:
    """Whether the file says that there is no port here (``nominal = "none"``)."""
    return end.nominal is not None and end.nominal.strip().lower() == "none"


@dataclass(frozen=True)
class EndTable:
    """Many ends side by side.

    ``inside``, ``outside``, ``length`` [m] and ``slope`` (diameter gained for each metre
    of depth) have shape ``(ends, count)``, the rest ``(ends,)``. ``lock`` is 0 for a plain
    end; two ends that lock into each other share another number.
    """

    inside: Floats
    outside: Floats
    length: Floats
    slope: Floats
    rubber: NDArray[np.bool_]
    lock: NDArray[np.int64]
    may_go_in: NDArray[np.bool_]
    may_go_over: NDArray[np.bool_]

    @classmethod
    def of(cls, ends: Sequence[End], draw: Draw, rows: Kept[Floats] | None = None) -> EndTable:
        """The table of ``ends`` in their order; ``rows`` keeps what was drawn of each."""
        sizes = np.empty((4, len(ends), draw.count))
        lock = np.zeros(len(ends), dtype=np.int64)
        names: dict[tuple[str, str], int] = {}
        for row, end in enumerate(ends):
            if rows is None:
                sizes[:, row] = _drawn(end, draw)
            else:
                sizes[:, row] = rows.of((end,), draw, lambda end=end: _drawn(end, draw))  # type: ignore[misc]
            if end.joint != "plain":
                # Without a size in its name a thread or lock has no known mate.
                name = (end.joint, end.nominal or f"#{row}")
                lock[row] = names.setdefault(name, len(names) + 1)
        inside, outside, length, slope = sizes
        return cls(
            inside,
            outside,
            length,
            slope,
            np.array([e.material == "rubber" for e in ends], dtype=bool),
            lock,
            np.array([e.goes != "over" for e in ends], dtype=bool),
            np.array([e.goes != "in" for e in ends], dtype=bool),
        )


def _drawn(end: End, draw: Draw) -> Floats:
    """Inside, outside, length [m] and slope of one end, shape ``(4, count)``."""
    inside, outside = diameters(end, draw)
    return np.stack([inside, outside, draw.of(end.length), 2 * np.tan(draw.of(end.taper) / 2)])
