"""Vacuum and tool on one branch circuit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..facts import Amount, Ref, Term, facts
from ..finding import Finding, finding, judge
from ..quantity import Draw
from ..shop import Shop
from ..sources import fact

#: Cords by the area of a conductor [mm²], thin to thick, and the fact that says what each carries.
_AWG = {"awg16": 1.31, "awg14": 2.08, "awg12": 3.31, "awg10": 5.26}
_METRIC = {"mm15": 1.5, "mm25": 2.5}


def circuit_findings(shop: Shop, draw: Draw) -> list[Finding]:
    """The vacuum alone, then with each tool that shares its circuit.

    The appliance's share follows the National Electrical Code, 210.23, where the
    circuit is of 100 to 130 V; elsewhere the local rule is asked for. What runs together
    is checked against the breaker's rating apart from that.
    """
    circuit, vacuum = shop.circuit, shop.vacuum
    breaker = draw.of(circuit.breaker)
    findings: list[Finding] = []
    code_applies = 100 <= circuit.volts.best_si <= 130
    if code_applies:
        alone = judge(
            key="power.vacuum_alone",
            about=Ref("vacuum", vacuum.name),
            value=draw.of(vacuum.amps),
            limit=fact("power.plug_in_share").value * breaker,
            must="at most",
            dimension="current",
            draw=draw,
            rests_on=(vacuum.amps, circuit.breaker),
            sources=("power.plug_in_share",),
            outcome="over",
        )
        findings.append(_outlet(alone, draw.of(vacuum.amps)))
    if circuit.cord is not None:
        findings.append(_cord(shop, draw, code_applies))
    if not circuit.tool_shares:
        if circuit.other_loads is not None:
            findings.append(_with_others(shop, draw))
        return findings
    others = 0.0 if circuit.other_loads is None else draw.of(circuit.other_loads)
    extra = () if circuit.other_loads is None else (circuit.other_loads,)
    for tool in shop.tools:
        if tool.operation == "sweeping":
            continue
        together = judge(
            key="power.together",
            about=Ref("tool", tool.name),
            value=draw.of(vacuum.amps) + draw.of(tool.amps) + others,
            limit=breaker,
            must="at most",
            dimension="current",
            draw=draw,
            rests_on=(vacuum.amps, tool.amps, circuit.breaker, *extra),
            sources=("nec",),
            outcome="over",
            facts=facts(others="unknown" if circuit.other_loads is None else "counted"),
        )
        if together.level == "unknown" and together.outcome == "over":
            together = replace(together, outcome="perhaps_over")
        findings.append(together)
    return findings


def _outlet(alone: Finding, amps: NDArray[np.float64]) -> Finding:
    """What passes on a circuit of 20 A may still be too much for an outlet of 15 A on it."""
    most = fact("power.receptacle_15a").value
    if alone.level != "good" or float(np.max(amps)) <= most:
        return alone
    return replace(
        alone,
        level="advice",
        sources=(*alone.sources, "power.receptacle_15a"),
        outcome="outlet",
        facts=facts(outlet=Amount(most, "current", "short")),
    )


def _with_others(shop: Shop, draw: Draw) -> Finding:
    """The vacuum with what else runs on its circuit, where the tools run from another."""
    circuit, vacuum = shop.circuit, shop.vacuum
    assert circuit.other_loads is not None
    return judge(
        key="power.with_others",
        about=Ref("vacuum", vacuum.name),
        value=draw.of(vacuum.amps) + draw.of(circuit.other_loads),
        limit=draw.of(circuit.breaker),
        must="at most",
        dimension="current",
        draw=draw,
        rests_on=(vacuum.amps, circuit.other_loads, circuit.breaker),
        sources=("nec",),
        outcome="over",
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
        (kind, drop)
        for kind, area in kinds.items()
        if amps <= fact(f"power.cord.{kind}").value
        and (drop := cord_drop(amps, length, area, circuit.volts.low_si)) <= least
    )
    kind, drop = next(fits, ("", 0.0))
    about = Ref("vacuum", vacuum.name)
    current = Amount(amps, "current", "short")
    sources = ("power.copper", "power.cord_drop")
    if not kind:
        return finding(
            "power.cord",
            "none",
            "problem",
            about,
            facts=facts(cord=circuit.cord, current=current, most=Amount(least, "share")),
            sources=sources,
        )
    thinnest = kind == next(iter(kinds))
    return finding(
        "power.cord",
        "thinnest" if thinnest else "thicker",
        "advice",
        about,
        facts=facts(
            cord=circuit.cord,
            current=current,
            thickness=Term("cord", kind),
            loss=Amount(drop, "share", "fine"),
        ),
        sources=(*sources, f"power.cord.{kind}"),
    )
