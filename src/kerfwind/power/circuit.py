"""Vacuum and tools on their branch circuit: each alone, together, for long, and at the start."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..facts import Amount, Listing, Name, Ref, Statement, facts, state
from ..finding import Finding, finding, judge
from ..quantity import Draw, Quantity
from ..shop import Shop, Tool
from ..sources import fact
from .cord import cord_findings

Array = NDArray[np.float64]


def is_american(shop: Shop) -> bool:
    """Whether the National Electrical Code's rules are asked: circuits of 100 to 130 V."""
    return 100 <= shop.circuit.volts.best_si <= 130


def circuit_findings(shop: Shop, draw: Draw) -> list[Finding]:
    """The vacuum alone, for long, with each tool that shares its circuit, and its cord.

    The appliance's share follows the National Electrical Code, 210.23, where the
    circuit is of 100 to 130 V; elsewhere the fuse and the local rule. What runs together
    is checked against the breaker's rating apart from that.
    """
    circuit = shop.circuit
    american = is_american(shop)
    findings = [_vacuum_alone(shop, draw, american)]
    if american and (long := _continuous(shop, draw)) is not None:
        findings.append(long)
    findings += cord_findings(shop, draw, american)
    tools = [t for t in shop.tools if t.operation != "sweeping"]
    findings += [f for t in tools if (f := _tool_alone(shop, t, draw, american)) is not None]
    if not circuit.tool_shares:
        if circuit.other_loads is not None:
            findings.append(_with_others(shop, draw))
        return findings
    pairs = [(tool, _together(shop, tool, draw)) for tool in tools]
    findings += [f for _, f in pairs]
    findings += _two_circuits(shop, pairs, american)
    if tools:
        findings.append(_start(shop, tools, draw, american))
    return findings


def _vacuum_alone(shop: Shop, draw: Draw, american: bool) -> Finding:
    circuit, vacuum = shop.circuit, shop.vacuum
    if american:
        alone = judge(
            key="power.vacuum_alone",
            about=Ref("vacuum", vacuum.name),
            value=draw.of(vacuum.amps),
            limit=fact("power.plug_in_share").value * draw.of(circuit.breaker),
            must="at most",
            dimension="current",
            draw=draw,
            rests_on=(vacuum.amps, circuit.breaker),
            sources=("power.plug_in_share",),
            outcome="over",
        )
        return _outlet(alone, draw.of(vacuum.amps))
    alone = judge(
        key="power.vacuum_fused",
        about=Ref("vacuum", vacuum.name),
        value=draw.of(vacuum.amps),
        limit=draw.of(circuit.breaker),
        must="at most",
        dimension="current",
        draw=draw,
        rests_on=(vacuum.amps, circuit.breaker),
        sources=("power.fuse_13a",),
        outcome="over",
    )
    fuse = fact("power.fuse_13a").value
    if alone.level != "good" or float(np.max(draw.of(vacuum.amps))) <= fuse:
        return alone
    outlet = facts(fuse=Amount(fuse, "current", "short"))
    return replace(alone, level="advice", outcome="british", facts=outlet)


def _outlet(alone: Finding, amps: Array) -> Finding:
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


def _tool_alone(shop: Shop, tool: Tool, draw: Draw, american: bool) -> Finding | None:
    """A tool that takes more than its plug may; None where it does not, or was never read."""
    part = fact("power.plug_in_share").value if american else 1.0
    found = judge(
        key="power.tool_alone",
        about=Ref("tool", tool.name),
        value=draw.of(tool.amps),
        limit=part * draw.of(shop.circuit.breaker),
        must="at most",
        dimension="current",
        draw=draw,
        rests_on=(tool.amps, shop.circuit.breaker),
        sources=("power.plug_in_share",) if american else ("power.fuse_13a",),
        outcome="over",
    )
    return None if found.level in ("good", "unknown") else found


def _continuous(shop: Shop, draw: Draw) -> Finding | None:
    """The vacuum running for hours in the longest session; None where none is so long."""
    longest = max(
        (sum(t.time.best_si for t in session.operations if t.tool) for session in shop.sessions),
        default=0.0,
    )
    if longest < fact("power.continuous_from").value:
        return None
    return judge(
        key="power.continuous",
        about=Ref("vacuum", shop.vacuum.name),
        value=fact("power.continuous").value * draw.of(shop.vacuum.amps),
        limit=draw.of(shop.circuit.breaker),
        must="at most",
        dimension="current",
        draw=draw,
        rests_on=(shop.vacuum.amps, shop.circuit.breaker),
        sources=("power.continuous", "power.continuous_from"),
        outcome="over",
        facts=facts(time=Amount(longest, "time", "hours")),
    )


def _others(shop: Shop, draw: Draw) -> tuple[Array | float, tuple[Quantity, ...]]:
    loads = shop.circuit.other_loads
    return (0.0, ()) if loads is None else (draw.of(loads), (loads,))


def _together(shop: Shop, tool: Tool, draw: Draw) -> Finding:
    circuit, vacuum = shop.circuit, shop.vacuum
    others, extra = _others(shop, draw)
    together = judge(
        key="power.together",
        about=Ref("tool", tool.name),
        value=draw.of(vacuum.amps) + draw.of(tool.amps) + others,
        limit=draw.of(circuit.breaker),
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
    return together


def _two_circuits(
    shop: Shop, pairs: Sequence[tuple[Tool, Finding]], american: bool
) -> list[Finding]:
    """Which tools may share the unit's circuit and which want another, where one is too few."""
    apart = [t for t, f in pairs if f.level != "good"]
    if not apart:
        return []
    shared = [t for t, f in pairs if f.level == "good"]
    return [
        finding(
            "power.two_circuits",
            "some_share" if shared else "all_apart",
            "advice",
            Ref("vacuum", shop.vacuum.name),
            facts=facts(
                practice="us" if american else "metric",
                with_unit=_named(shared),
                apart=_named(apart),
            ),
            sources=("nec",) if american else ("bs-1363",),
        )
    ]


def _named(tools: Sequence[Tool]) -> Listing:
    return Listing(tuple(Ref("tool", t.name) for t in tools), "commas")


def _start(shop: Shop, tools: Sequence[Tool], draw: Draw, american: bool) -> Finding:
    """Both motors started at once, and what an outlet that starts the vacuum must carry."""
    largest = max(tools, key=lambda t: t.amps.best_si)
    running = draw.of(shop.vacuum.amps) + draw.of(largest.amps)
    surge = fact("power.start").span
    return finding(
        "power.start",
        "one_after_another",
        "advice",
        Ref("vacuum", shop.vacuum.name),
        facts=facts(
            tool=Ref("tool", largest.name),
            running=_amps(float(np.median(running)), float(np.max(running))),
            surge=_amps(float(np.median(running)) * surge[0], float(np.median(running)) * surge[1]),
            practice="us" if american else "metric",
        ),
        sources=("power.start",),
    )


def _amps(low: float, high: float) -> Statement | Amount:
    if round(low) == round(high):
        return Amount(round(high), "current", "short")
    return state(
        "number.range", before=Name(f"{low:.0f}"), after=Amount(round(high), "current", "short")
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
