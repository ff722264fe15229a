"""What would help most: every single change a person could make, solved and ranked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from ..air import (
    BranchAir,
    BranchTool,
    Connection,
    Link,
    SuctionCurve,
    branch_air,
    quick_air,
    room_air,
    suction_curve,
)
from ..facts import Band
from ..quantity import Draw, Quantity, middle, show
from ..quantity.printing import UnitChoice
from ..shop import End, Hose, Shop
from ..sources import fact

Array = NDArray[np.float64]

#: Bores that hoses are sold in [m]; common practice.
_HOSE_BORES = (0.027, 0.032, 0.038, 0.044, 0.050, 0.057, 0.063, 0.076, 0.102)
_STRONGER = 1.25
_SHORTER = 0.5
_SAMPLES = 256


@dataclass(frozen=True)
class Change:
    """One change, and what it does to one tool.

    Attributes
    ----------
    key, what
        For programs, and in words.
    gain_m3_s
        Airflow gained at the tool: the band over the samples, each against itself.
    share
        The same as a part of the airflow before, in the middle.
    caught, chips
        Likelihood of either verdict afterwards.
    cost_low, cost_high
        Whole units of money; roughly.
    catch
        What it costs otherwise; empty where nothing.
    """

    key: str
    what: str
    gain_m3_s: Band
    share: float
    caught: float
    chips: float
    cost_low: float
    cost_high: float
    catch: str = ""


def what_would_help(connection: Connection, draw: Draw) -> tuple[Change, ...]:
    """Every single change at one tool, the one that gains most airflow first.

    Of two that gain alike the cheaper comes first. Each is solved over the same samples, so
    the gain is that of the change and not of chance; a few hundred of them rank as well as
    thousands, so no more are taken of a larger draw.
    """
    draw = Draw(min(draw.count, _SAMPLES), draw.seed)
    shop = connection.shop
    room = room_air(shop.room.altitude, shop.room.temperature, draw)
    curve = suction_curve(shop, draw, room)
    now = replace(connection, curve=curve)
    rows = list(_changes(now, curve))
    before, *afters = quick_air([now, *(row[2] for row in rows)], room, draw)
    changes = []
    for (key, what, _, cost, catch), after in zip(rows, afters, strict=True):
        gain = after.airflow_m3_s - before.airflow_m3_s
        changes.append(
            Change(
                key,
                what,
                Band.of(gain, "airflow"),
                middle(gain) / middle(before.airflow_m3_s),
                after.caught,
                after.chips,
                *cost,
                catch,
            )
        )
    return tuple(sorted(changes, key=lambda c: (-round(c.share, 2), c.cost_high)))


_Row = tuple[str, str, Connection, tuple[float, float], str]


def _changes(s: Connection, curve: SuctionCurve) -> Iterator[_Row]:
    units: UnitChoice = s.shop.shop.units
    yield from _hose_changes(s, s.hose, "tool", units)
    if s.link is not None and s.shop.separator.in_use:
        yield from _hose_changes(s, s.link.hose, "link", units)
    fitting = fact("air.cost.fitting").span
    for i, piece in enumerate(s.pieces):
        rest = s.pieces[:i] + s.pieces[i + 1 :]
        name = piece.fitting.name
        yield (
            f"without.{name}",
            f"a direct fit in place of the {name}",
            replace(s, pieces=rest),
            fitting,
            "",
        )
    for which in ("tool_end", "unit_end"):
        cuff: End = getattr(s.hose, which)
        if cuff.inside.best_si < 0.98 * s.hose.bore.best_si:
            wide = s.hose.model_copy(update={which: _wide_end(cuff, s.hose.bore)})
            yield (
                f"full_bore.{which}",
                f"a full-bore cuff at the {s.hose.name}'s "
                f"{'tool' if which == 'tool_end' else 'unit'} end",
                replace(s, hose=wide),
                fitting,
                "",
            )
    if s.tool.bends > 1:
        straight = s.tool.model_copy(update={"bends": 1})
        yield "straighter", "hose laid with a single bend", replace(s, tool=straight), (0, 0), ""
    vacuum = s.shop.vacuum
    measured = vacuum.suction.points or vacuum.suction.home_test is not None
    if vacuum.filter != "clean" and not measured:
        clean = s.shop.model_copy(update={"vacuum": vacuum.model_copy(update={"filter": "clean"})})
        yield (
            "filter",
            "a clean filter",
            replace(s, shop=clean),
            fact("air.cost.filter").span,
            ("Clean it outdoors, with a mask on."),
        )
    yield "leaks", "every joint sealed", replace(s, sealed=True), (0, 5), ""
    if s.shop.separator.in_use:
        bare = s.shop.model_copy(
            update={"separator": s.shop.separator.model_copy(update={"in_use": False})}
        )
        yield (
            "bypass",
            "the separator left out",
            replace(s, shop=bare),
            (0, 0),
            ("All dust then loads the filter, which takes the gain away again."),
        )
    stronger = curve.scaled(_STRONGER, _STRONGER)
    yield (
        "vacuum",
        "a vacuum with a quarter more suction and airflow",
        replace(s, curve=stronger),
        fact("air.cost.vacuum").span,
        "Check the circuit first.",
    )


def _hose_changes(s: Connection, hose: Hose, role: str, units: UnitChoice) -> Iterator[_Row]:
    per_metre = fact("air.cost.hose_m").span
    long = hose.length.best_si
    link = s.link if role == "link" else None
    if link is not None and link.length_m is not None:
        long = middle(link.length_m)
    whole = (per_metre[0] * long, per_metre[1] * long)

    def using(other: Hose) -> Connection:
        if link is None:
            return replace(s, hose=other)
        return replace(s, link=replace(link, hose=other))

    wider = next((b for b in _HOSE_BORES if b > 1.06 * hose.bore.best_si), None)
    if wider is not None:
        factor = wider / hose.bore.best_si
        ends = {e: _scaled_end(getattr(hose, e), factor) for e in ("tool_end", "unit_end")}
        up = hose.model_copy(update={"bore": _times(hose.bore, factor), **ends})
        slower = "Air moves slower in it: chips may settle sooner."
        yield (
            f"wider.{role}",
            f"{hose.name} one bore up, {show(wider, 'length', units)}",
            using(up),
            whole,
            slower,
        )
    if role == "tool":
        short = hose.model_copy(update={"length": _times(hose.length, _SHORTER)})
        yield (
            f"shorter.{role}",
            f"{hose.name} cut to {show(long * _SHORTER, 'length', units)}",
            using(short),
            (0, 0),
            "It reaches less far.",
        )
    if hose.wall == "ribbed":
        smooth = hose.model_copy(update={"wall": "smooth"})
        yield f"smooth.{role}", f"{hose.name} smooth inside", using(smooth), whole, ""


def _times(q: Quantity, factor: float) -> Quantity:
    return replace(
        q, best_si=q.best_si * factor, low_si=q.low_si * factor, high_si=q.high_si * factor
    )


def _scaled_end(end: End, factor: float) -> End:
    return end.model_copy(
        update={k: _times(getattr(end, k), factor) for k in ("inside", "outside")}
    )


def _wide_end(end: End, bore: Quantity) -> End:
    return end.model_copy(update={"inside": bore})


def gates_that_help(
    shop: Shop, draw: Draw, tool: str, *, link: Link | None = None
) -> tuple[Change, ...]:
    """Each other open gate closed in turn, by what it gains at one tool of a branched system.

    The link hose as for `branch_air`.
    """
    solve = partial(branch_air, shop, draw, link=link)
    now = solve()
    on = next((t for t in now.tools if t.tool == tool), None)
    if on is None:
        return ()
    gates = [
        b.name for b in shop.branches if b.gate == "open" and b.name not in _way(shop, on.branch)
    ]
    opened = [b.name for b in shop.branches if b.gate == "open"]
    changes = []
    for gate in gates:
        after = _tool_of(solve(open_branches=[g for g in opened if g != gate]), tool)
        gain = after.airflow_m3_s - on.airflow_m3_s
        changes.append(
            Change(
                f"gate.{gate}",
                f"the gate of {gate} closed",
                Band.of(gain, "airflow"),
                middle(gain) / middle(on.airflow_m3_s),
                after.caught.likelihood,
                after.chips.likelihood,
                0.0,
                0.0,
            )
        )
    return tuple(sorted(changes, key=lambda c: -c.share))


def _tool_of(air: BranchAir, tool: str) -> BranchTool:
    return next(t for t in air.tools if t.tool == tool)


def _way(shop: Shop, branch: str) -> list[str]:
    joins = {b.name: b.to for b in shop.branches}
    way = []
    while branch in joins:
        way.append(branch)
        branch = joins[branch]
    return way
