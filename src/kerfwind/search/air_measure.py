"""Which unknown matters most to a verdict, so that one measurement is worth making."""

from __future__ import annotations

import itertools
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
from .air_help import Tried

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
    used = (*air.way.rests_on, *air.curve.rests_on, *air.series.room.rests_on)
    if verdict == "chips":
        used = (*used, tool.rise)
        narrowest = Narrowest.of(air.way.chips_pass)
        margin = np.log(carried(tool, air.runs, narrowest, draw))
    else:
        margin = _catch_margin(tool, air.airflow_m3_s, draw)
    return _worth(used, margin, air.airflow_m3_s, draw)


def measured_for_catch(tool: Tool, found: Tried, draw: Draw) -> tuple[Measurement, ...]:
    """`which_measurement` for catching dust, from the air that changes were tried against."""
    if draw.nominal:
        return ()
    now = found.now
    used = (*now.way.rests_on, *now.curve.rests_on, *found.room.rests_on)
    flow = now.air.airflow_m3_s
    return _worth(used, _catch_margin(tool, flow, draw), flow, draw)


def _catch_margin(tool: Tool, airflow_m3_s: Array, draw: Draw) -> Array:
    return np.asarray(np.log(airflow_m3_s * model_error(draw) / catch_need(tool, draw)))


def _worth(
    used: Sequence[Quantity], margin: Array, flow: Array, draw: Draw
) -> tuple[Measurement, ...]:
    """Measurements of what was used, by how far each settles whether a margin is above nothing."""
    passes = float(np.mean(margin > 0))
    base = max(passes, 1 - passes)
    unresolved, spread = _unresolved(margin, base), np.var(flow)
    groups = _groups(used)
    if not groups:
        return ()
    told = np.array(_regressed([[draw.of(q) for q in g] for g in groups.values()], margin, flow))
    of_margin, of_flow = told[:, 0], told[:, 1]
    left = (margin - of_margin).std(axis=1)[:, None]
    z = np.where(left > 0, of_margin / np.where(left > 0, left, 1.0), np.sign(of_margin) * 9)
    chance = _normal(z)
    worth = np.maximum(chance, 1 - chance).mean(axis=1) - unresolved
    shares = of_flow.var(axis=1) / spread
    rows = [
        Measurement(
            what,
            how,
            tuple(q.path for q in members),
            max(settles, 0.0),
            share,
            any(q.assumed for q in members),
        )
        for ((what, how), members), settles, share in zip(
            groups.items(), worth.tolist(), shares.tolist(), strict=True
        )
    ]
    return tuple(sorted(rows, key=lambda m: (-round(m.settles, 3), -m.share)))


def _unresolved(margin: Array, base: float) -> float:
    # The same normal model with nothing known, so that worth starts from nothing.
    chance = float(_normal(np.array([np.mean(margin) / max(float(np.std(margin)), 1e-30)]))[0])
    return max(chance, 1 - chance) if 0 < base < 1 else 1.0


def _groups(used: Sequence[Quantity]) -> dict[tuple[Statement, Term], list[Quantity]]:
    """Quantities by the measurement that tells them."""
    groups: dict[tuple[Statement, Term], list[Quantity]] = {}
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


def _regressed(groups: Sequence[Sequence[Array]], *targets: Array) -> list[Array]:
    """For each group of inputs the least squares of the targets on them, their squares and products.

    Shape ``(targets, samples)`` each.
    """
    wanted = np.array(targets)
    every = np.array([x for g in groups for x in g])
    every = every - every.mean(axis=1)[:, None]
    deviation = every.std(axis=1)
    spread = np.ptp(every, axis=1) > 0
    every /= np.maximum(deviation, 1e-30)[:, None]
    begins = np.cumsum([0, *map(len, groups)])
    z = [every[a:b][spread[a:b]] for a, b in itertools.pairwise(begins)]
    found = [_by_many(each, wanted) if len(each) != 1 else None for each in z]
    alone = [i for i, each in enumerate(z) if len(each) == 1]
    if alone:
        for i, one in zip(alone, _by_one(np.array([z[i][0] for i in alone]), wanted), strict=True):
            found[i] = one
    return [each for each in found if each is not None]


def _by_many(z: Array, targets: Array) -> Array:
    columns = [np.ones(targets.shape[1]), *z]
    columns += [z[i] * z[j] for i in range(len(z)) for j in range(i, len(z))]
    basis = np.stack(columns, axis=1)
    solution, *_ = np.linalg.lstsq(basis, targets.T, rcond=None)
    return np.asarray((basis @ solution).T)


def _by_one(z: Array, targets: Array) -> Array:
    """The same for inputs one at a time, of mean 0 and deviation 1, shape ``(inputs, samples)``."""
    count = z.shape[1]
    square = np.square(z)
    # What a square has beyond a constant and the input itself.
    bow = square - 1.0 - (square * z).mean(axis=1)[:, None] * z
    size = np.square(bow).sum(axis=1)
    along = (targets @ z.T / count).T
    bowed = (targets @ bow.T / np.where(size > 1e-9 * count, size, np.inf)).T
    mean = targets.mean(axis=1)
    return np.asarray(
        mean[None, :, None] + along[:, :, None] * z[:, None] + bowed[:, :, None] * bow[:, None]
    )


def _normal(z: Array) -> Array:
    # A loop, since importing scipy.special takes longer than all that is asked of it.
    scaled = (z * -math.sqrt(0.5)).ravel().tolist()
    return np.array([math.erfc(x) / 2 for x in scaled]).reshape(z.shape)
