"""A light hose against more air: what a tool in the hand gives up for the hose that it hangs on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..air import Connection, QuickAir, quick_air, room_air
from ..air.verdict import told_airflow
from ..facts import Amount, Fix, Listing, Ref, facts, state
from ..finding import Finding, finding
from ..quantity import Draw, middle
from ..shop import Hose, Shop
from ..shop.catalogue.hoods import HAND_HELD

#: Hoses that differ by less in bore are alike in the hand.
_ALIKE = 1.15
_SURE = 0.9


def hand_hoses(shop: Shop, connections: Sequence[Connection], draw: Draw) -> list[Finding]:
    """For each hose that hand-held tools hang on: what another owned one would give and weigh.

    The other hose is taken straight on the tool's port, so its air is the most that it can be.
    """
    room = room_air(shop.room.altitude, shop.room.temperature, draw)
    hoses = [h for h in shop.hoses if h.use == "tool"]
    found = []
    for used in hoses:
        held = [
            c
            for c in connections
            if c.tool.hood in HAND_HELD and c.hose.name == used.name and c.tool.hose is None
        ]
        other = _other(used, hoses)
        if held and other is not None:
            found.append(_trade(used, other, held, draw, quick_air(_both(held, other), room, draw)))
    return found


def _other(used: Hose, hoses: Sequence[Hose]) -> Hose | None:
    """The owned tool hose that differs most in bore, where one differs enough."""
    far = [h for h in hoses if _ratio(h, used) > _ALIKE]
    return max(far, key=lambda h: _ratio(h, used), default=None)


def _ratio(one: Hose, two: Hose) -> float:
    bores = sorted((one.bore.best_si, two.bore.best_si))
    return bores[1] / bores[0]


def _both(held: Sequence[Connection], other: Hose) -> list[Connection]:
    return [*held, *(replace(c, hose=other, pieces=()) for c in held)]


def _trade(
    used: Hose, other: Hose, held: Sequence[Connection], draw: Draw, airs: Sequence[QuickAir]
) -> Finding:
    now, then = airs[: len(held)], airs[len(held) :]
    tools = Listing(
        tuple(
            state(
                "hookup.hand_hose.tool",
                tool=Ref("tool", c.tool.name),
                had=Amount(middle(one.airflow_m3_s), "airflow"),
                other=Amount(middle(two.airflow_m3_s), "airflow"),
            )
            for c, one, two in zip(held, now, then, strict=True)
        ),
        "semicolons",
    )
    return finding(
        "hookup.hand_hose",
        "light" if used.bore.best_si < other.bore.best_si else "heavy",
        "advice",
        Ref("hose", used.name),
        facts=facts(
            hose=Ref("hose", used.name),
            other=Ref("hose", other.name),
            bore=Amount(used.bore.best_si, "length"),
            other_bore=Amount(other.bore.best_si, "length"),
            tools=tools,
        ),
        sources=("hookup.carried_length",),
        fixes=tuple(
            Fix(
                f"tools[{c.tool.name}].hose",
                other.name,
                two.caught >= _SURE,
                told_airflow(two.airflow_m3_s, draw),
            )
            for c, one, two in zip(held, now, then, strict=True)
            if middle(two.airflow_m3_s) > middle(one.airflow_m3_s)
        ),
    )
