"""Which unknown matters most to a verdict, so that one measurement is worth making."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..air import ToolAir, catch_need
from ..air.verdict import Narrowest, carried, model_error
from ..facts import Place, Statement, Term, state
from ..quantity import Draw, Quantity
from ..shop import Tool

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Measurement:
    """One measurement worth making.

    Attributes
    ----------
    what, how
        What to measure and with what, for a sentence to say.
    places
        Where it goes in the shop file.
    settles
        By how much the chance of a right call on the verdict rises once it is known, 0 to
        0.5: what the measurement is worth.
    share
        Part of the airflow's variance that it accounts for.
    assumed
        Whether the program supplied the value so far.
    """

    what: Statement
    how: Term
    places: tuple[str, ...]
    settles: float
    share: float
    assumed: bool


def which_measurement(
    tool: Tool, air: ToolAir, draw: Draw, verdict: str = "caught"
) -> tuple[Measurement, ...]:
    """Measurements by how far each would settle a verdict of one tool, the best first.

    Inputs known by one measurement go together: both figures of the suction curve are
    settled by the home test. What an input tells is found by regression of the verdict's
    margin on it, up to squares: what is left over, taken as normal, gives the chance of
    passing once it is known. The worth is the expected rise of the better of the two calls
    (expected value of partial perfect information).

    Parameters
    ----------
    verdict
        ``caught`` or ``chips``.
    """
    if draw.nominal:
        return ()
    margin = _margin(tool, air, draw, verdict)
    flow = air.airflow_m3_s
    passes = float(np.mean(margin > 0))
    base = max(passes, 1 - passes)
    rows = []
    for (what, how), members in _groups(air, (tool.rise,) if verdict == "chips" else ()).items():
        explained = _regressed([draw.of(q) for q in members], margin)
        left = float(np.std(margin - explained))
        chance = _normal((explained / left) if left > 0 else np.sign(explained) * 9)
        worth = float(np.mean(np.maximum(chance, 1 - chance))) - _unresolved(margin, base)
        share = float(np.var(_regressed([draw.of(q) for q in members], flow)) / np.var(flow))
        rows.append(
            Measurement(
                what,
                how,
                tuple(q.path for q in members),
                max(worth, 0.0),
                share,
                any(q.assumed for q in members),
            )
        )
    return tuple(sorted(rows, key=lambda m: (-round(m.settles, 3), -m.share)))


def _unresolved(margin: Array, base: float) -> float:
    # The same normal model with nothing known, so that worth starts from nothing.
    chance = float(_normal(np.array([np.mean(margin) / max(float(np.std(margin)), 1e-30)]))[0])
    return max(chance, 1 - chance) if 0 < base < 1 else 1.0


def _margin(tool: Tool, air: ToolAir, draw: Draw, verdict: str) -> Array:
    if verdict == "caught":
        return np.asarray(np.log(air.airflow_m3_s * model_error(draw) / catch_need(tool, draw)))
    narrowest = Narrowest.of(air.way.chips_pass)
    return np.asarray(np.log(carried(tool, air.runs, narrowest, draw)))


def _groups(
    air: ToolAir, of_the_tool: tuple[Quantity, ...]
) -> dict[tuple[Statement, Term], list[Quantity]]:
    groups: dict[tuple[Statement, Term], list[Quantity]] = {}
    used = (*air.way.rests_on, *air.curve.rests_on, *air.series.room.rests_on, *of_the_tool)
    for q in dict.fromkeys(used):
        # What is still to be bought cannot be measured yet.
        if q.path.startswith("catalogue[") or (q.shape == "exact" and q.standing != "label"):
            continue
        groups.setdefault(_measurement(q), []).append(q)
    return {k: v for k, v in groups.items() if any(q.shape != "exact" for q in v)}


def _measurement(q: Quantity) -> tuple[Statement, Term]:
    path, _, last = q.path.rpartition(".")
    owner = Place(path)
    if q.path.startswith("vacuum.suction"):
        return state("search.measure.suction"), Term("gauge", "home test")
    if last in ("inside", "outside"):
        return state("search.measure.inside", of=owner), Term("gauge", "mouth calipers")
    if last == "bore":
        return state("search.measure.bore", of=owner), Term("gauge", "inside calipers")
    if last == "altitude":
        return state("search.measure.altitude"), Term("gauge", "map")
    if last == "length":
        return state("search.measure.length", of=owner), Term("gauge", "tape")
    gauge = Term("gauge", "tape" if q.dimension_name == "length" else "reading")
    return state("search.measure.other", place=Place(q.path)), gauge


def _regressed(inputs: Sequence[Array], target: Array) -> Array:
    """Least squares of ``target`` on the inputs, their squares and products."""
    z = [(x - x.mean()) / max(float(x.std()), 1e-30) for x in inputs if np.ptp(x) > 0]
    columns = [np.ones_like(target), *z]
    columns += [z[i] * z[j] for i in range(len(z)) for j in range(i, len(z))]
    basis = np.stack(columns, axis=1)
    solution, *_ = np.linalg.lstsq(basis, target, rcond=None)
    return np.asarray(basis @ solution)


def _normal(z: Array) -> Array:
    # A loop, since importing scipy.special takes longer than all that is asked of it.
    return np.array([math.erfc(x) / 2 for x in (z * -math.sqrt(0.5)).tolist()])
