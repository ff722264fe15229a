"""The shop's own suction curve, from the best that is known of it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ..facts import Amount, Band, Ref, facts
from ..faults import refusal
from ..finding import Finding, finding, judge
from ..kept import Kept
from ..quantity import Draw
from ..shop import Hose, Shop
from ..sources import fact
from .curve import SuctionCurve, from_figures, from_points
from .errors import CurveError
from .hometest import home_test_curve
from .path import hose_elements
from .properties import RoomAir, room_air

_CURVE_SOURCES = {
    "label": ("air.label_sealed", "air.label_open", "fan-laws"),
    "maker's curve": ("air.maker_sealed", "air.maker_open", "fan-laws"),
    "points": ("total-pressure",),
    "home test": ("iso-5167-2", "total-pressure"),
}

#: Suction is at most this part of the room's pressure; no shop vacuum comes near.
DEEPEST = 0.8


def suction_curve(shop: Shop, draw: Draw, room: RoomAir | None = None) -> SuctionCurve:
    """The shop vacuum's curve: from its home test, its measured points, or its label.

    Raises
    ------
    CurveError
        Measurements that no falling curve can hold, or suction that the room's own
        pressure does not allow.
    OrificeError
        A home test with a plate or hole the orifice relation does not hold for.
    """
    room = room or room_air(shop.room.altitude, shop.room.temperature, draw)
    return _curves.of((shop, room), draw, lambda: _suction_curve(shop, draw, room))


#: Tools are on the same vacuum.
_curves: Kept[SuctionCurve] = Kept(8)


def _suction_curve(shop: Shop, draw: Draw, room: RoomAir) -> SuctionCurve:
    curve = _best_known(shop, draw, room)
    deepest, least = float(np.max(curve.sealed_pa)), float(np.min(room.pressure_pa))
    if deepest > DEEPEST * least:
        raise CurveError(
            refusal(
                "air.curve.too_deep",
                "vacuum.suction",
                deepest=Amount(deepest, "pressure"),
                room=Amount(least, "pressure"),
                most=Amount(DEEPEST, "share"),
            )
        )
    return curve


def _best_known(shop: Shop, draw: Draw, room: RoomAir) -> SuctionCurve:
    suction = shop.vacuum.suction
    if suction.home_test is not None:
        hose = test_hose(shop) if suction.home_test.at == "hose" else None
        behind = hose_elements(shop, hose, draw) if hose else ()
        return home_test_curve(shop, draw, room, behind)
    if suction.points:
        pipe = shop.vacuum.inlet.inside if suction.tap == "pipe" else None
        points = [(p.airflow, p.suction) for p in suction.points]
        return from_points(points, draw, room, pipe, suction.known_from)
    return from_figures(suction.sealed, suction.open_airflow, draw, room, suction.known_from)


def curve_finding(shop: Shop, curve: SuctionCurve) -> Finding:
    """What the curve rests on, how rough it is, and the vacuum's greatest air power."""
    power = Band.of(curve.air_power_peak()[1], "power")
    rough = curve.basis in ("label", "maker's curve")
    return finding(
        "air.suction_curve",
        "label"
        if curve.basis == "label"
        else "maker"
        if curve.basis == "maker's curve"
        else "figures"
        if curve.basis == "figures"
        else "home_test"
        if curve.basis == "home test"
        else "points",
        "advice" if rough else "good",
        Ref("vacuum", shop.vacuum.name),
        facts=facts(power=power),
        value=power,
        sources=_CURVE_SOURCES.get(curve.basis, ()),
        measure=("vacuum.suction.home_test",) if rough else (),
    )


def power_finding(shop: Shop, curve: SuctionCurve, draw: Draw) -> Finding | None:
    """Whether what the vacuum is fed can give the air that its figures promise; None where it can."""
    amps, volts = shop.vacuum.amps, shop.circuit.volts
    fed = judge(
        key="air.air_power",
        about=Ref("vacuum", shop.vacuum.name),
        value=curve.air_power_peak()[1],
        limit=fact("air.efficient").value * draw.of(amps) * draw.of(volts),
        must="at most",
        dimension="power",
        draw=draw,
        rests_on=(*curve.rests_on, amps, volts),
        sources=("air.efficient",),
        outcome="overrated",
    )
    if fed.level == "good":
        return None
    asked = ("vacuum.suction.home_test",) if curve.basis in ("label", "maker's curve") else ()
    return replace(fed, measure=tuple(dict.fromkeys((*fed.measure, *asked))))


def test_hose(shop: Shop) -> Hose | None:
    """The hose the home test is made with: the one named, or the first to the tools."""
    test = shop.vacuum.suction.home_test
    named = [h for h in shop.hoses if test is not None and h.name == test.hose]
    return next(iter(named or [h for h in shop.hoses if h.use == "tool"]), None)
