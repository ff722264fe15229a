"""What would help most: every single change a person could make, solved and ranked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from ..air import (
    Connection,
    Link,
    QuickWay,
    RoomAir,
    SuctionCurve,
    branch_air,
    quick_ways,
    room_air,
    suction_curve,
)
from ..air.path import curve_is_measured
from ..air.verdict import told_airflow
from ..facts import Amount, Band, Fact, Fix, Ref, Statement, state
from ..quantity import Draw, Quantity, middle
from ..shop import End, Hose, Shop
from ..sources import fact

#: Bores that hoses are sold in [m]; common practice.
_HOSE_BORES = (0.027, 0.032, 0.038, 0.044, 0.050, 0.057, 0.063, 0.076, 0.102)
_STRONGER = 1.25
_SHORTER = 0.5
_SAMPLES = 256
#: A verdict that is this likely is called good.
_SURE = 0.9


@dataclass(frozen=True)
class Change:
    """One change, and what it does to one tool.

    Attributes
    ----------
    key, what
        For programs, and for a sentence to say.
    gain_m3_s
        Airflow gained at the tool: the band over the samples, each against itself.
    share
        The same as a part of the airflow before, in the middle.
    caught, chips
        Likelihood of either verdict afterwards.
    cost_low, cost_high
        Whole units of money; roughly.
    catch
        What it costs otherwise, or what to mind; None where nothing.
    fix
        The field of the shop file that it changes, where it is just one.
    """

    key: str
    what: Statement
    gain_m3_s: Band
    share: float
    caught: float
    chips: float
    cost_low: float
    cost_high: float
    catch: Statement | None = None
    fix: Fix | None = None


@dataclass(frozen=True)
class Tried:
    """Changes tried at one tool, and its air without any."""

    changes: tuple[Change, ...]
    now: QuickWay
    room: RoomAir


def what_would_help(connection: Connection, draw: Draw) -> tuple[Change, ...]:
    """Every single change at one tool, the one that gains most airflow first."""
    return try_changes(connection, draw).changes


def try_changes(connection: Connection, draw: Draw) -> Tried:
    """Solve every single change at one tool, and rank them: what gains most airflow first.

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
    before, *afters = quick_ways([now, *(row.tried for row in rows)], room, draw)
    had = middle(before.air.airflow_m3_s)
    changes = []
    for row, after in zip(rows, (way.air for way in afters), strict=True):
        gain = Band.of(after.airflow_m3_s - before.air.airflow_m3_s, "airflow")
        changes.append(
            Change(
                row.key,
                row.what,
                gain,
                gain.best / had,
                after.caught,
                after.chips,
                *row.cost,
                row.catch,
                _fix(row.field, told_airflow(after.airflow_m3_s, draw), after.caught),
            )
        )
    ranked = tuple(sorted(changes, key=lambda c: (-round(c.share, 2), c.cost_high)))
    return Tried(ranked, before, room)


@dataclass(frozen=True)
class _Row:
    """A change to try; ``field`` is the place in the shop file and what it becomes."""

    key: str
    what: Statement
    tried: Connection
    cost: tuple[float, float] = (0.0, 0.0)
    catch: Statement | None = None
    field: tuple[str, Fact] | None = None


def _fix(field: tuple[str, Fact] | None, airflow: Band, caught: float) -> Fix | None:
    if field is None:
        return None
    return Fix(*field, caught >= _SURE, airflow)


def _changes(s: Connection, curve: SuctionCurve) -> Iterator[_Row]:
    yield from _hose_changes(s, s.hose, "tool")
    if s.link is not None and s.shop.separator.in_use:
        yield from _hose_changes(s, s.link.hose, "link")
    fitting = fact("air.cost.fitting").span
    for i, piece in enumerate(s.pieces):
        rest = s.pieces[:i] + s.pieces[i + 1 :]
        name = piece.fitting.name
        what = state("search.help.without", fitting=piece.fitting.called)
        yield _Row(f"without.{name}", what, replace(s, pieces=rest), fitting)
    for which in ("tool_end", "unit_end"):
        cuff: End = getattr(s.hose, which)
        if cuff.inside.best_si < 0.98 * s.hose.bore.best_si:
            wide = s.hose.model_copy(update={which: _wide_end(cuff, s.hose.bore)})
            yield _Row(
                f"full_bore.{which}",
                state("search.help.full_bore", hose=Ref("hose", s.hose.name), end=which),
                replace(s, hose=wide),
                fitting,
                field=(f"hoses[{s.hose.name}].{which}.inside", s.hose.bore),
            )
    if s.tool.bends > 1:
        straight = s.tool.model_copy(update={"bends": 1})
        yield _Row(
            "straighter",
            state("search.help.straighter"),
            replace(s, tool=straight),
            field=(f"tools[{s.tool.name}].bends", 1),
        )
    vacuum = s.shop.vacuum
    if vacuum.filter != "clean" and not curve_is_measured(s.shop):
        clean = s.shop.model_copy(update={"vacuum": vacuum.model_copy(update={"filter": "clean"})})
        yield _Row(
            "filter",
            state("search.help.filter"),
            replace(s, shop=clean),
            fact("air.cost.filter").span,
            state("search.help.catch.filter"),
            ("vacuum.filter", "clean"),
        )
    yield _Row("leaks", state("search.help.leaks"), replace(s, sealed=True), (0, 5))
    if s.shop.separator.in_use:
        bare = s.shop.model_copy(
            update={"separator": s.shop.separator.model_copy(update={"in_use": False})}
        )
        yield _Row(
            "bypass",
            state("search.help.bypass"),
            replace(s, shop=bare),
            catch=state("search.help.catch.bypass"),
            field=("separator.in_use", False),
        )
    stronger = curve.scaled(_STRONGER, _STRONGER)
    yield _Row(
        "vacuum",
        state("search.help.vacuum"),
        replace(s, curve=stronger),
        fact("air.cost.vacuum").span,
        state("search.help.catch.vacuum"),
    )


def _hose_changes(s: Connection, hose: Hose, role: str) -> Iterator[_Row]:
    per_metre = fact("air.cost.hose_m").span
    long = hose.length.best_si
    link = s.link if role == "link" else None
    if link is not None and link.length_m is not None:
        long = middle(link.length_m)
    whole = (per_metre[0] * long, per_metre[1] * long)
    named = Ref("hose", hose.name)

    def using(other: Hose) -> Connection:
        if link is None:
            return replace(s, hose=other)
        return replace(s, link=replace(link, hose=other))

    wider = next((b for b in _HOSE_BORES if b > 1.06 * hose.bore.best_si), None)
    if wider is not None:
        factor = wider / hose.bore.best_si
        ends = {e: _scaled_end(getattr(hose, e), factor) for e in ("tool_end", "unit_end")}
        up = hose.model_copy(update={"bore": _times(hose.bore, factor), **ends})
        yield _Row(
            f"wider.{role}",
            state("search.help.wider", hose=named, bore=Amount(wider, "length")),
            using(up),
            whole,
            state("search.help.catch.wider"),
        )
    if role == "tool":
        half = Amount(long * _SHORTER, "length")
        short = hose.model_copy(update={"length": _times(hose.length, _SHORTER)})
        yield _Row(
            f"shorter.{role}",
            state("search.help.shorter", hose=named, length=half),
            using(short),
            catch=state("search.help.catch.shorter"),
            field=(f"hoses[{hose.name}].length", half),
        )
    if hose.wall == "ribbed":
        smooth = hose.model_copy(update={"wall": "smooth"})
        what = state("search.help.smooth", hose=named)
        field: tuple[str, Fact] = (f"hoses[{hose.name}].wall", "smooth")
        yield _Row(f"smooth.{role}", what, using(smooth), whole, field=field)


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
    shop: Shop, draw: Draw, *, link: Link | None = None
) -> dict[str, tuple[Change, ...]]:
    """For each tool at an open end, each other open gate closed in turn, by what it gains there.

    The system is solved once for each gate, for all tools. The link hose as for `branch_air`.
    """
    solve = partial(branch_air, shop, draw, link=link)
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
                    state("search.help.gate", branch=Ref("branch", gate)),
                    Band.of(gain, "airflow"),
                    middle(gain) / middle(on.airflow_m3_s),
                    then.caught.likelihood,
                    then.chips.likelihood,
                    0.0,
                    0.0,
                    fix=_fix(
                        (f"branches[{gate}].gate", "closed"),
                        told_airflow(then.airflow_m3_s, draw),
                        then.caught.likelihood,
                    ),
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
