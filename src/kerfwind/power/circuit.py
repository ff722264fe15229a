"""Vacuum and tool on one branch circuit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..finding import Finding, judge
from ..quantity import Draw
from ..shop import Shop
from ..sources import fact

_OVER = "Vacuum and tool together take more than the breaker is rated for: it may trip."
_OTHERS_OVER = (
    "The vacuum and what else runs on its circuit take more than the breaker is rated for: it may "
    "trip."
)
_PERHAPS_OVER = (
    "Vacuum and tool together likely take more than the breaker is rated for, by the currents that "
    "were assumed: read the labels."
)
#: Cords by the area of a conductor [mm²], thin to thick, and the fact that says what each carries.
_AWG = {
    "16 AWG": (1.31, "awg16"),
    "14 AWG": (2.08, "awg14"),
    "12 AWG": (3.31, "awg12"),
    "10 AWG": (5.26, "awg10"),
}
_METRIC = {"1.5 mm²": (1.5, "mm15"), "2.5 mm²": (2.5, "mm25")}
_LOCAL = "Local codes decide; have new circuits put in by a licensed electrician."


def circuit_findings(shop: Shop, draw: Draw) -> list[Finding]:
    """The vacuum alone, then with each tool that shares its circuit.

    The appliance's share follows the National Electrical Code, 210.23, where the
    circuit is of 100 to 130 V; elsewhere the local rule is asked for. What runs together
    is checked against the breaker's rating apart from that.
    """
    circuit, vacuum = shop.circuit, shop.vacuum
    breaker = draw.of(circuit.breaker)
    found: list[Finding] = []
    code_applies = 100 <= circuit.volts.best_si <= 130
    if code_applies:
        alone_finding = judge(
            key="power.vacuum_alone",
            room="power",
            about=vacuum.name,
            check="the vacuum's current against four fifths of its circuit",
            value=draw.of(vacuum.amps),
            limit=fact("power.plug_in_share").value * breaker,
            must="at most",
            dimension="current",
            draw=draw,
            rests_on=(vacuum.amps, circuit.breaker),
            sources=("power.plug_in_share",),
            good="The vacuum alone is within what its circuit allows one plug-in appliance.",
            bad="The vacuum alone takes more than its circuit allows one plug-in appliance.",
            do=f"Use a circuit of a higher rating. {_LOCAL}",
        )
        found.append(_outlet(alone_finding, draw.of(vacuum.amps)))
    if circuit.cord is not None:
        found.append(_cord(shop, draw, code_applies))
    if not circuit.tool_shares:
        if circuit.other_loads is not None:
            found.append(_with_others(shop, draw))
        return found
    others = 0.0 if circuit.other_loads is None else draw.of(circuit.other_loads)
    extra = () if circuit.other_loads is None else (circuit.other_loads,)
    alone = ", as long as nothing else runs on it" if circuit.other_loads is None else ""
    for tool in shop.tools:
        if tool.operation == "sweeping":
            continue
        total = draw.of(vacuum.amps) + draw.of(tool.amps) + others
        together = judge(
            key="power.together",
            room="power",
            about=tool.name,
            check="vacuum and tool together against the breaker",
            value=total,
            limit=breaker,
            must="at most",
            dimension="current",
            draw=draw,
            rests_on=(vacuum.amps, tool.amps, circuit.breaker, *extra),
            sources=("nec",),
            good=f"Vacuum and tool together stay within the breaker's rating{alone}; both "
            "starting at once can still trip it.",
            bad=_OVER,
            do="Plug the tool and the unit into different circuits, and start the vacuum first. "
            + _LOCAL,
        )
        if together.level == "unknown" and together.answer == _OVER:
            together = replace(together, answer=_PERHAPS_OVER)
        found.append(together)
    return found


def _outlet(alone: Finding, amps: NDArray[np.float64]) -> Finding:
    """What passes on a circuit of 20 A may still be too much for an outlet of 15 A on it."""
    most = fact("power.receptacle_15a").value
    if alone.level != "good" or float(np.max(amps)) <= most:
        return alone
    return replace(
        alone,
        level="advice",
        sources=(*alone.sources, "power.receptacle_15a"),
        answer=f"The circuit allows it, but only an outlet of 20 A does: one of 15 A is for {most:g} A "
        "at most, on a 20 A circuit too.",
        do=f"Look at the outlet: one of 20 A has a T-shaped slot. {_LOCAL}",
    )


def _with_others(shop: Shop, draw: Draw) -> Finding:
    """The vacuum with what else runs on its circuit, where the tools run from another."""
    circuit, vacuum = shop.circuit, shop.vacuum
    assert circuit.other_loads is not None
    return judge(
        key="power.with_others",
        room="power",
        about=vacuum.name,
        check="the vacuum and what else runs on its circuit against the breaker",
        value=draw.of(vacuum.amps) + draw.of(circuit.other_loads),
        limit=draw.of(circuit.breaker),
        must="at most",
        dimension="current",
        draw=draw,
        rests_on=(vacuum.amps, circuit.other_loads, circuit.breaker),
        sources=("nec",),
        good="The vacuum and what else runs on its circuit stay within the breaker's rating.",
        bad=_OTHERS_OVER,
        do=f"Plug the unit into another circuit, or switch off what else runs on this one. {_LOCAL}",
    )


def cord_drop(amps: float, length_m: float, area_mm2: float, volts: float) -> float:
    """Share of the voltage lost along a cord's two conductors of copper at 20 °C: 2 rho L I / (A V)."""
    return 2 * fact("power.copper").value * length_m * amps / (area_mm2 * 1e-6 * volts)


def _cord(shop: Shop, draw: Draw, imperial: bool) -> Finding:
    """How thick the unit's cord must be for the vacuum; its thickness is not asked for."""
    circuit, vacuum = shop.circuit, shop.vacuum
    assert circuit.cord is not None
    amps, length = float(np.max(draw.of(vacuum.amps))), float(np.max(draw.of(circuit.cord)))
    least, kinds = fact("power.cord_drop").value, _AWG if imperial else _METRIC
    fits = (
        (name, drop)
        for name, (area, key) in kinds.items()
        if amps <= fact(f"power.cord.{key}").value
        and (drop := cord_drop(amps, length, area, circuit.volts.low_si)) <= least
    )
    name, drop = next(fits, ("", 0.0))
    told = f"Along {circuit.cord.text} of cord at {amps:.3g} A"
    return Finding(
        key="power.cord",
        room="power",
        about=vacuum.name,
        check="the cord's thickness for its length",
        level="advice" if name else "problem",
        answer=f"{told}, conductors of {name} lose {100 * drop:.1f} % of the voltage"
        + ("." if name == next(iter(kinds)) else "; thinner ones lose too much or run hot.")
        if name
        else f"{told}, no usual cord keeps the loss of voltage within {100 * least:.0f} %.",
        do=f"Read the thickness that is printed on the extension: {name} or thicker, rolled out fully. "
        "Never use a thinner one."
        if name
        else f"Shorten the cord, or have an outlet put in nearer. {_LOCAL}",
        sources=(
            "power.copper",
            "power.cord_drop",
            *([f"power.cord.{kinds[name][1]}"] if name else []),
        ),
    )
