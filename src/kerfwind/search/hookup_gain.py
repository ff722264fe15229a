"""What one more fitting would change: the next purchase, by the airflow it gains.

Fittings on sale are ranked by the rough loss that each would spare, used alone between a
tool and its hose; the few best are then solved in full by the air room.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..air import Connection, Link, Piece, quick_air, room_air, suction_curve
from ..facts import Ref, Statement, Term
from ..hookup import Chain, Hookups, fit
from ..hookup.fits import holds_each
from ..hookup.loss import fitting_pa, fittings_pa, step_pa
from ..kept import Kept
from ..quantity import Draw, middle
from ..shop import End, Fitting, Hose, Shop, Tool
from ..shop.catalogue.fittings import Offer, offers
from .hookup_air import pieces_of

#: Fittings solved in full.
MOST_SOLVED = 4
#: A fitting that holds this likely can be picked by size in the store.
LEAST_LIKELY = 0.1
#: A gain below this part of the airflow is within the roughness of any of it.
LEAST_GAIN = 0.01


@dataclass(frozen=True)
class ToolGain:
    """Airflow at one tool before and with the fitting [m³/s], medians; likelihood it fits."""

    tool: str
    before_m3_s: float
    after_m3_s: float
    likelihood: float

    @property
    def share(self) -> float:
        """The gain as a part of what there was."""
        return self.after_m3_s / self.before_m3_s - 1 if self.before_m3_s > 0 else 0.0


@dataclass(frozen=True)
class FittingGain:
    """One purchase and what it would do, best tool first."""

    fitting: Ref | Term | Statement
    price: float
    turned: bool
    tools: tuple[ToolGain, ...]

    @property
    def airflow_m3_s(self) -> float:
        """Airflow gained, summed over the tools that gain."""
        return sum(t.after_m3_s - t.before_m3_s for t in self.tools)


@dataclass(frozen=True)
class _Use:
    tool: Tool
    hose: Hose
    turned: bool
    spared_pa: float
    likelihood: float


def next_fittings(
    shop: Shop, hookups: Hookups, draw: Draw, *, on_sale: Sequence[Offer] | None = None
) -> tuple[FittingGain, ...]:
    """Purchases that would gain air, most first; empty where none would.

    Parameters
    ----------
    hookups
        The chains as they are planned; what they buy already is not offered again.
    """
    bought = {p.what for p in hookups.purchases}
    now = _now(shop, hookups)
    ranked: list[tuple[float, Offer, list[_Use]]] = []
    sold = [o for o in (offers() if on_sale is None else on_sale) if o.fitting.called not in bought]
    inner = fittings_pa([offer.fitting for offer in sold]).tolist()
    _hold_first(
        [
            (each.tool.port, first)
            for offer, lost in zip(sold, inner, strict=True)
            for each in now
            for turned in (False, True)
            for first, last in [_ends(offer.fitting, turned)]
            if _spared(each, first, last, lost[turned]) > 0
        ],
        draw,
    )
    for offer, lost in zip(sold, inner, strict=True):
        uses = _uses(now, offer.fitting, lost, draw)
        if uses:
            ranked.append((sum(u.spared_pa for u in uses), offer, uses))
    ranked.sort(key=lambda row: -row[0])
    gains = _solved(shop, hookups, [(o, u) for _, o, u in ranked[:MOST_SOLVED]], draw)
    return tuple(sorted((g for g in gains if g.tools), key=lambda g: -g.airflow_m3_s))


@dataclass(frozen=True)
class _Now:
    """A tool with fittings between its port and its hose, and what they lose [Pa]."""

    tool: Tool
    hose: Hose
    loss_pa: float


def _now(shop: Shop, hookups: Hookups) -> list[_Now]:
    hoses = {h.name: h for h in shop.hoses}
    joined = []
    for tool in shop.tools:
        chain = hookups.chain(tool.name)
        hose = hoses.get(chain.hose)
        if hose is not None and chain.pieces and chain.plate is None:
            joined.append(_Now(tool, hose, _loss(chain)))
    return joined


_held: Kept[NDArray[np.bool_]] = Kept(2048)
_rows: Kept[NDArray[np.float64]] = Kept(320)


def _holds(end_a: End, end_b: End, draw: Draw) -> NDArray[np.bool_]:
    """Whether two ends hold, along the sample axis; kept for ends that stay the same."""
    return _held.of((end_a, end_b), draw, lambda: fit(end_a, end_b, draw, _rows).holds)


def _hold_first(pairs: Sequence[tuple[End, End]], draw: Draw) -> None:
    """See how pairs hold that are not known yet, all at once."""
    new = list({(id(a), id(b)): (a, b) for a, b in pairs if not _held.knows((a, b), draw)}.values())
    if new:
        for pair, holds in zip(new, holds_each(new, draw, _rows), strict=True):
            _held.of(pair, draw, lambda holds=holds: holds)  # type: ignore[misc]


def _ends(fitting: Fitting, turned: bool) -> tuple[End, End]:
    """The end towards the tool and the end towards the hose."""
    return (fitting.end_b, fitting.end_a) if turned else (fitting.end_a, fitting.end_b)


def _spared(each: _Now, first: End, last: End, inner_pa: float) -> float:
    """Rough loss spared by a fitting with these ends that itself loses so much [Pa]."""
    port, hose = each.tool.port, each.hose.tool_end
    spared = each.loss_pa - inner_pa
    spared -= step_pa(port.inside.best_si, first.inside.best_si)
    return spared - step_pa(last.inside.best_si, hose.inside.best_si)


def _uses(now: Sequence[_Now], fitting: Fitting, inner: Sequence[float], draw: Draw) -> list[_Use]:
    """Where a fitting would spare something; ``inner`` is its own loss, not turned and turned."""
    uses = []
    for each in now:
        best: _Use | None = None
        for turned in (False, True):
            first, last = _ends(fitting, turned)
            spared = _spared(each, first, last, inner[turned])
            if spared <= (best.spared_pa if best else 0.0):
                continue
            holds = _holds(each.tool.port, first, draw)
            if np.mean(holds) < LEAST_LIKELY:
                continue
            likelihood = float(np.mean(holds & _holds(last, each.hose.tool_end, draw)))
            if likelihood >= LEAST_LIKELY:
                best = _Use(each.tool, each.hose, turned, spared, likelihood)
        if best is not None:
            uses.append(best)
    return uses


def _loss(chain: Chain) -> float:
    """Rough loss of a chain without its hose [Pa]."""
    loss = sum(fitting_pa(p.fitting, p.turned) for p in chain.pieces)
    return loss + sum(
        step_pa(j.upstream_end.inside.best_si, j.downstream_end.inside.best_si)
        for j in chain.joints
    )


def _solved(
    shop: Shop, hookups: Hookups, tried: Sequence[tuple[Offer, list[_Use]]], draw: Draw
) -> list[FittingGain]:
    """What each fitting gains where it is of use, all solved at once."""
    room = room_air(shop.room.altitude, shop.room.temperature, draw)
    curve = suction_curve(shop, draw, room)
    link = Link(shop.link) if shop.link else None
    tools = {use.tool.name: use for _, uses in tried for use in uses}
    connections = [
        Connection(shop, use.tool, use.hose, pieces_of(hookups.chain(use.tool.name)), link, curve)
        for use in tools.values()
    ]
    connections += [
        Connection(shop, use.tool, use.hose, (Piece(offer.fitting, use.turned),), link, curve)
        for offer, uses in tried
        for use in uses
    ]
    flows = iter([middle(q.airflow_m3_s) for q in quick_air(connections, room, draw)])
    before = {name: next(flows) for name in tools}
    found = []
    for offer, uses in tried:
        gains = [
            ToolGain(use.tool.name, was, after, use.likelihood)
            for use in uses
            for was, after in [(before[use.tool.name], next(flows))]
            if after > was * (1 + LEAST_GAIN)
        ]
        gains.sort(key=lambda g: -g.share)
        found.append(FittingGain(offer.fitting.called, offer.price, uses[0].turned, tuple(gains)))
    return found
