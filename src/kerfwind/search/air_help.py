"""What would help most: every single change a person could make, solved and ranked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from ..air import Piece, Trial, branch_air, quick_air, room_air, suction_curve
from ..finding import Reading
from ..quantity import Draw, Quantity, middle, show
from ..quantity.printing import UnitChoice
from ..shop import End, Hose, Shop, Tool
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
    gain_m3_s: Reading
    share: float
    caught: float
    chips: float
    cost_low: float
    cost_high: float
    catch: str = ""


def what_would_help(
    shop: Shop,
    tool: Tool,
    hose: Hose,
    pieces: Sequence[Piece],
    link: Hose | None,
    draw: Draw,
    *,
    link_length_m: Array | float | None = None,
    link_bends: float | None = None,
) -> tuple[Change, ...]:
    """Every single change at one tool, the one that gains most airflow first.

    Of two that gain alike the cheaper comes first. Each is solved over the same samples, so
    the gain is that of the change and not of chance; a few hundred of them rank as well as
    thousands, so no more are taken of a larger draw.
    """
    draw = Draw(min(draw.count, _SAMPLES), draw.seed)
    room = room_air(shop.room.altitude, shop.room.temperature, draw)
    curve = suction_curve(shop, draw, room)
    now = Trial(shop, tool, hose, tuple(pieces), link, curve, link_length_m, link_bends)
    rows = list(_changes(now))
    before, *afters = quick_air([now, *(row[2] for row in rows)], room, draw)
    changes = []
    for (key, what, _, cost, catch), after in zip(rows, afters, strict=True):
        gain = after.airflow_m3_s - before.airflow_m3_s
        changes.append(
            Change(
                key,
                what,
                Reading.of(gain, "airflow"),
                middle(gain) / middle(before.airflow_m3_s),
                after.caught,
                after.chips,
                *cost,
                catch,
            )
        )
    return tuple(sorted(changes, key=lambda c: (-round(c.share, 2), c.cost_high)))


_Row = tuple[str, str, Trial, tuple[float, float], str]


def _changes(s: Trial) -> Iterator[_Row]:
    units: UnitChoice = s.shop.shop.units
    yield from _hose_changes(s, s.hose, "tool", units)
    if s.link is not None and s.shop.separator.in_use:
        yield from _hose_changes(s, s.link, "link", units)
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
    stronger = s.curve.scaled(_STRONGER, _STRONGER)
    yield (
        "vacuum",
        "a vacuum with a quarter more suction and airflow",
        replace(s, curve=stronger),
        fact("air.cost.vacuum").span,
        "Check the circuit first.",
    )


def _hose_changes(s: Trial, hose: Hose, role: str, units: UnitChoice) -> Iterator[_Row]:
    per_metre = fact("air.cost.hose_m").span
    long = hose.length.best_si
    if role == "link" and s.link_length_m is not None:
        long = middle(s.link_length_m)
    whole = (per_metre[0] * long, per_metre[1] * long)

    def using(other: Hose) -> Trial:
        return replace(s, hose=other) if role == "tool" else replace(s, link=other)

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
    shop: Shop,
    draw: Draw,
    *,
    link: Hose | None = None,
    link_length_m: float | None = None,
    link_bends: float | None = None,
) -> dict[str, tuple[Change, ...]]:
    """For each tool at an open end, each other open gate closed in turn, by what it gains there.

    The system is solved once for each gate, for all tools. The link hose as for `branch_air`.
    """
    solve = partial(
        branch_air, shop, draw, link=link, link_length_m=link_length_m, link_bends=link_bends
    )
    now = solve()
    if not now.tools:
        return {}
    changes: dict[str, list[Change]] = {on.tool: [] for on in now.tools}
    ways = {on.tool: set(_way(shop, on.branch)) for on in now.tools}
    opened = [b.name for b in shop.branches if b.gate == "open"]
    for gate in opened:
        others = [on for on in now.tools if gate not in ways[on.tool]]
        if not others:
            continue
        after = {t.tool: t for t in solve(open_branches=[g for g in opened if g != gate]).tools}
        for on in others:
            then = after[on.tool]
            gain = then.airflow_m3_s - on.airflow_m3_s
            changes[on.tool].append(
                Change(
                    f"gate.{gate}",
                    f"the gate of {gate} closed",
                    Reading.of(gain, "airflow"),
                    middle(gain) / middle(on.airflow_m3_s),
                    then.caught.likelihood,
                    then.chips.likelihood,
                    0.0,
                    0.0,
                )
            )
    return {tool: tuple(sorted(rows, key=lambda c: -c.share)) for tool, rows in changes.items()}


def _way(shop: Shop, branch: str) -> list[str]:
    joins = {b.name: b.to for b in shop.branches}
    way = []
    while branch in joins:
        way.append(branch)
        branch = joins[branch]
    return way
