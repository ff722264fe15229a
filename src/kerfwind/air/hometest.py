"""The home test: suction behind holes of known size, turned into a suction curve."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..quantity import Draw, Quantity, middle
from ..shop import HomeTest, Shop
from ..sources import fact
from .curve import SuctionCurve, check_points
from .fitting import fit_falling
from .orifice import airflow_m3_s, recovered_pa
from .properties import RoomAir
from .series import Element, Series

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Readings:
    """Points at the vacuum's inlet: readings by samples, and their standard deviations."""

    airflow_m3_s: Array
    suction_pa: Array
    airflow_sd: Array
    suction_sd: Array


def stub_share(draw: Draw) -> Array:
    """How much of the jet's momentum comes back in the vacuum's inlet alone, by samples."""
    return draw.between(*fact("air.orifice.stub").span, "air.orifice.stub")


def points_of(
    test: HomeTest,
    room: RoomAir,
    draw: Draw,
    bore_m: Array,
    hose: Sequence[Element] = (),
    mixed: Array | float = 1.0,
) -> Readings:
    """Each reading as airflow and suction at the inlet, its errors drawn.

    Parameters
    ----------
    bore_m
        Bore behind the plate.
    hose
        What lies between the plate and the vacuum's inlet.
    mixed
        Part of the jet's momentum that comes back behind the plate.

    Raises
    ------
    OrificeError
        A plate or hole the relation does not hold for.
    """
    all_holes = draw.between(*fact("air.orifice.c").span, "air.orifice.c", "normal")
    thick = draw.between(*fact("air.orifice.thick").span, "air.orifice.thick")
    plate = draw.of(test.plate)
    edge_span = fact("air.orifice.edge").span
    rho = np.asarray(room.density_kg_m3)
    flows: list[Array] = []
    pulls: list[Array] = []
    flow_sd: list[float] = []
    pull_sd: list[float] = []
    for i, reading in enumerate(test.readings):
        hole, hole_sd = _read(reading.hole, draw, fact("air.orifice.hole").span, relative=False)
        pull, sd = _read(reading.suction, draw, fact("air.orifice.gauge").span, relative=True)
        pull = np.maximum(pull, 0.0)
        if reading.hole.best_si == 0:
            flow = np.zeros(draw.count)
            spread = 0.0
        else:
            edge = draw.between(*edge_span, f"air.orifice.edge[{i}]", "normal")
            flow = airflow_m3_s(
                hole,
                pull,
                room,
                plate_m=np.minimum(plate, 0.5 * hole),
                coefficient=all_holes * edge,
                thick=thick,
            )
            of_edge = (edge_span[1] - edge_span[0]) / 4
            spread = middle(flow) * float(np.hypot(2 * hole_sd / reading.hole.best_si, of_edge))
            pull = pull + recovered_pa(flow, hole, bore_m, rho, mixed)
            if hose:
                lost = sum(step[0] for step in Series(tuple(hose), room).march(flow * rho))
                pull = pull + lost
        flows.append(flow)
        pulls.append(pull)
        flow_sd.append(spread)
        pull_sd.append(sd)
    return Readings(np.array(flows), np.array(pulls), np.array(flow_sd), np.array(pull_sd))


def _read(
    quantity: Quantity, draw: Draw, usual: tuple[float, float], *, relative: bool
) -> tuple[Array, float]:
    """Samples of a reading and its standard deviation; the usual error where none is given."""
    sample = draw.of(quantity)
    if quantity.shape != "exact":
        wide = quantity.high_si - quantity.low_si
        return sample, wide / (4 if quantity.shape == "normal" else float(np.sqrt(12)))
    size = quantity.best_si if relative else float(quantity.best_si > 0)
    error = draw.between(*usual, f"{quantity.path}.reading", "normal")
    return sample + size * error, size * (usual[1] - usual[0]) / 4


def from_home_test(
    test: HomeTest,
    room: RoomAir,
    draw: Draw,
    bore_m: Array,
    hose: Sequence[Element] = (),
    mixed: Array | float = 1.0,
) -> SuctionCurve:
    """The suction curve through a home test's readings; it never rises.

    Parameters as for `points_of`.

    Raises
    ------
    OrificeError
        A plate or hole the relation does not hold for.
    CurveError
        Readings that no falling curve can hold.
    """
    r = points_of(test, room, draw, bore_m, hose, mixed)
    check_points(
        [float(x) for x in np.median(r.airflow_m3_s, axis=1)],
        [float(x) for x in np.median(r.suction_pa, axis=1)],
    )
    fit = fit_falling(
        r.airflow_m3_s,
        r.suction_pa,
        r.airflow_sd,
        r.suction_sd,
        draw.between(*fact("air.curve_bow").span, "air.curve_bow"),
    )
    rests = (test.plate, *(q for reading in test.readings for q in (reading.hole, reading.suction)))
    return SuctionCurve(*fit, "home test", rests)


def home_test_curve(shop: Shop, draw: Draw, room: RoomAir, hose: Sequence[Element]) -> SuctionCurve:
    """The curve of the shop's own home test; ``hose`` is what lay behind the plate."""
    test = shop.vacuum.suction.home_test
    if test is None:
        raise ValueError("the shop file holds no home test")
    if test.at == "inlet" or not hose:
        return from_home_test(
            test, room, draw, draw.of(shop.vacuum.inlet.inside), mixed=stub_share(draw)
        )
    return from_home_test(test, room, draw, hose[0].bore_m, hose)
