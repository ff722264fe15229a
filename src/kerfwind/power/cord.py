"""The unit's cord: how thick its wire must be, and whether the one that is owned is."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..facts import Amount, Ref, Term, facts
from ..finding import Finding, finding
from ..quantity import Draw
from ..shop import Shop
from ..sources import fact

Array = NDArray[np.float64]

#: Wires of cords on sale, thin to thick; the thinnest is for lamps and never proposed.
_AWG = ("18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG")
_METRIC = ("0.75 mm²", "1.0 mm²", "1.5 mm²", "2.5 mm²", "4 mm²")
_PROPOSED = (*_AWG[1:], *_METRIC[2:])


def wire_ohm_m(wire: str, celsius: float | None = None) -> float:
    """Resistance of one conductor at its working temperature [Ω/m], by the conductor tables.

    AWG: National Electrical Code, chapter 9, table 8, at 75 °C. Metric: IEC 60228 class 5 at
    20 °C, warmed to a cord's working temperature, or to ``celsius``.

    Examples
    --------
    >>> round(wire_ohm_m("14 AWG") * 304.8, 2)
    3.14
    >>> round(wire_ohm_m("1.5 mm²", 20.0) * 1000, 1)
    13.3
    """
    table = fact(f"power.wire.{wire}").value
    if wire in _AWG:
        return table
    warm = fact("power.cord_warm").value - 273.15 if celsius is None else celsius
    return table * (1 + fact("power.copper_warming").value * (warm - 20.0))


def cord_drop(amps: ArrayLike, length_m: ArrayLike, ohm_m: float, volts: ArrayLike) -> Array:
    """Share of the voltage lost along a cord's two conductors: 2 r L I / V; broadcasts.

    Parameters
    ----------
    amps, length_m, volts
        Current [A], length of the cord [m], voltage at the outlet [V].
    ohm_m
        Resistance of one conductor [Ω/m].

    Examples
    --------
    15 m of 14 AWG at 12 A and 120 V:

    >>> round(100 * float(cord_drop(12, 15, wire_ohm_m("14 AWG"), 120)), 2)
    3.09
    """
    loop = 2 * ohm_m * np.asarray(length_m, dtype=float)
    return np.asarray(loop * np.asarray(amps, dtype=float) / np.asarray(volts, dtype=float))


def cord_findings(shop: Shop, draw: Draw, american: bool) -> list[Finding]:
    """What wire the cord's length asks for, and whether the wire that is owned will do."""
    found = []
    if shop.circuit.cord_wire is not None:
        found.append(_owned(shop, draw))
    if shop.circuit.cord is not None:
        found.append(_asked(shop, draw, _AWG if american else _METRIC))
    return found


def _greatest(shop: Shop, draw: Draw) -> tuple[float, float]:
    """The vacuum's current [A] and the cord's length [m], both at their most."""
    amps = float(np.max(draw.of(shop.vacuum.amps)))
    cord = shop.circuit.cord
    return amps, 0.0 if cord is None else float(np.max(draw.of(cord)))


def _owned(shop: Shop, draw: Draw) -> Finding:
    circuit, wire = shop.circuit, shop.circuit.cord_wire
    assert wire is not None
    amps, length = _greatest(shop, draw)
    most, drop = fact(f"power.cord.{wire}").value, fact("power.cord_drop").value
    loss = float(cord_drop(amps, length, wire_ohm_m(wire), circuit.volts.low_si))
    hot = amps > most
    unread = hot and shop.vacuum.amps.assumed
    return finding(
        "power.cord_owned",
        "perhaps_hot"
        if unread
        else "hot"
        if hot
        else "loses"
        if loss > drop
        else "length_unknown"
        if circuit.cord is None
        else "good",
        "unknown"
        if unread or (not hot and circuit.cord is None)
        else "stop"
        if hot
        else "problem"
        if loss > drop
        else "good",
        Ref("vacuum", shop.vacuum.name),
        facts=facts(
            wire=Term("cord", wire),
            current=Amount(amps, "current", "short"),
            carries=Amount(most, "current", "short"),
            loss=Amount(loss, "share", "fine"),
            most=Amount(drop, "share"),
        ),
        sources=(f"power.cord.{wire}", f"power.wire.{wire}", "power.cord_drop"),
        measure=("vacuum.amps",) if unread else ("circuit.cord",) if circuit.cord is None else (),
    )


def _asked(shop: Shop, draw: Draw, wires: tuple[str, ...]) -> Finding:
    circuit = shop.circuit
    assert circuit.cord is not None
    amps, length = _greatest(shop, draw)
    least = fact("power.cord_drop").value
    usual = [w for w in wires if w in _PROPOSED]
    fits = (
        (wire, drop)
        for wire in usual
        if amps <= fact(f"power.cord.{wire}").value
        and (drop := float(cord_drop(amps, length, wire_ohm_m(wire), circuit.volts.low_si)))
        <= least
    )
    wire, drop = next(fits, ("", 0.0))
    about = Ref("vacuum", shop.vacuum.name)
    current, long = Amount(amps, "current", "short"), Amount(length, "length", "tall")
    if not wire:
        return finding(
            "power.cord",
            "none",
            "problem",
            about,
            facts=facts(cord=long, current=current, most=Amount(least, "share")),
            sources=(f"power.wire.{usual[-1]}", "power.cord_drop"),
        )
    return finding(
        "power.cord",
        "thinnest" if wire == usual[0] else "thicker",
        "advice",
        about,
        facts=facts(
            cord=long,
            current=current,
            thickness=Term("cord", wire),
            loss=Amount(drop, "share", "fine"),
        ),
        sources=(f"power.wire.{wire}", "power.cord_drop", f"power.cord.{wire}"),
    )
