"""Every drawing of a plan as SVG, by file name."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from ..air import Loss, ToolAir
from ..drawing import Paper, layout, svg
from ..drawing.chain import ChainPiece, chain_drawing
from ..drawing.chart import PathPart, SystemCurve, path_chart, suction_chart
from ..drawing.reducer import reducer_drawing
from ..drawing.room import ToolPlace, room_drawing, said, tool_places
from ..facts import Term
from ..hookup import Chain
from ..hookup.reach import Parking
from ..plan import Plan
from ..quantity import band, middle, show
from ..shop import End
from ..view.findings import voice_of
from ..words import Voice
from .cart_figures import begin_cart
from .figure_files import PAGE_MM, Figures

Samples = NDArray[np.float64]

#: Kept for half the page's heading, and the heading and caption of each map on it [mm].
_AROUND_MAP_MM = 41.0


def draw_all(plan: Plan, cart: Callable[[], Figures] | None = None) -> Figures:
    """Draw everything that the printed plan shows.

    Parameters
    ----------
    cart
        Gives the cart's own drawings, where they were begun before.
    """
    if cart is None and plan.build is not None:
        cart = begin_cart(plan.shop, plan.build)
    figures = Figures()
    width, _ = PAGE_MM[plan.shop.shop.page]
    _charts(plan, figures, width)
    _chains(plan, figures, width)
    _reducers(plan, figures, width)
    _rooms(plan, figures, Paper(*PAGE_MM[plan.shop.shop.page]))
    return figures if cart is None else figures.with_cart(cart())


def _chains(plan: Plan, figures: Figures, width: float) -> None:
    for number, chain in enumerate(plan.hookups.tools, start=1):
        if not chain.reached:
            continue
        placed = layout(
            chain_drawing(
                chain_pieces(plan, chain), units=plan.units, width_mm=width - 14, most_scale=0.3
            ),
            Paper(width, 60),
            plan.units,
            footer=False,
        )
        figures.chains[chain.tool] = figures.add(f"hookup-{number}.svg", svg(placed))


def _reducers(plan: Plan, figures: Figures, width: float) -> None:
    for number, reducer in enumerate(plan.hookups.printed, start=1):
        drawn = reducer_drawing(reducer, voice_of(plan))
        placed = layout(drawn, Paper(width, 70), plan.units)
        figures.reducers.append(figures.add(f"reducer-{number}.svg", svg(placed)))


def _rooms(plan: Plan, figures: Figures, page: Paper) -> None:
    """The room with the hoses as owned, and with the change that spares most moves."""
    if plan.floor is None:
        return
    own, *others = plan.floor.choices
    fewer = [c for c in others if (len(c.unserved), c.moves) < (len(own.unserved), own.moves)]
    best = sorted(fewer, key=lambda c: (len(c.unserved), c.moves, c.price))[:1]
    lettered = [p for p in tool_places(plan.floor) if p.letter]
    figures.room_key = [{"letter": p.letter, "names": ", ".join(p.names)} for p in lettered]
    # Two maps share a page.
    high = page.height / 2 - _AROUND_MAP_MM if best else 105.0
    for number, choice in enumerate([own, *best], start=1):
        drawn = room_drawing(plan.floor, choice, units=plan.units)
        placed = layout(drawn, Paper(page.width, high), plan.units)
        spots = "; ".join(
            f"spot {n}: {_reached(spot, lettered)} ({_needs(plan, spot)})"
            for n, spot in enumerate(choice.spots, start=1)
        )
        left = f" Out of reach: {', '.join(choice.unserved)}." if choice.unserved else ""
        title = said(choice, plan.units)
        figures.rooms.append(
            {
                "title": f"{title[:1].upper()}{title[1:]}: "
                f"{choice.moves} move{'' if choice.moves == 1 else 's'}",
                "file": figures.add(f"room-{number}.svg", svg(placed)),
                "caption": f"{spots}.{left}",
            }
        )


def _reached(spot: Parking, lettered: Sequence[ToolPlace]) -> str:
    """The tools that a spot serves, by their letters where all at a place are served."""
    whole = [p for p in lettered if set(p.names) <= set(spot.tools)]
    named = {name for p in whole for name in p.names}
    return ", ".join([*(p.letter for p in whole), *(t for t in spot.tools if t not in named)])


def _needs(plan: Plan, spot: Parking) -> str:
    """How long each hose must be there."""
    return "needs " + ", ".join(
        f"{show(length, 'length', plan.units)} of {name}" for name, length in spot.needed
    )


def chain_pieces(plan: Plan, chain: Chain) -> list[ChainPiece]:
    """Port, fittings and hose of one tool, as they follow each other."""
    joints, voice = chain.joints, voice_of(plan)
    hose = plan.shop.hose(chain.hose)
    first, last = joints[0].upstream_end, joints[-1].downstream_end
    pieces = [
        _piece(
            chain.tool,
            first,
            first,
            first.length.best_si,
            voice.text(Term("fit", joints[0].fit.kind)),
        )
    ]
    for piece, joint in zip(chain.pieces, joints[1:], strict=True):
        pieces.append(
            _piece(
                voice.text(piece.in_short),
                piece.upstream,
                piece.downstream,
                piece.fitting.length.best_si,
                voice.text(Term("fit", joint.fit.kind)),
                to_get=piece.origin != "owned",
            )
        )
    pieces.append(_piece(hose.name, last, last, 0.3, "", flexible=True))
    return pieces


def _piece(
    name: str,
    start: End,
    end: End,
    length_m: float,
    joint: str,
    *,
    flexible: bool = False,
    to_get: bool = False,
) -> ChainPiece:
    return ChainPiece(
        name,
        start.outside.best_si,
        min(start.inside.best_si, 0.98 * start.outside.best_si),
        end.outside.best_si,
        min(end.inside.best_si, 0.98 * end.outside.best_si),
        length_m,
        joint,
        flexible,
        to_get,
    )


def _charts(plan: Plan, figures: Figures, width: float) -> None:
    air = plan.air
    if not air:
        return
    first = air[0].system_curve
    flow = first.airflow_m3_s
    systems = []
    for each in _distinct(plan):
        curve = each.system_curve
        meeting = (middle(each.airflow_m3_s), middle(each.suction_pa))
        systems.append(SystemCurve(each.tool, curve.airflow_m3_s, curve.suction_pa, meeting))
    drawing = suction_chart(
        flow,
        first.vacuum_pa,
        systems,
        band_pa=(first.vacuum_low_pa, first.vacuum_high_pa),
        units=plan.units,
        width_mm=min(width - 45, 130),
    )
    placed = layout(drawing, Paper(width, 120), plan.units, footer=False)
    figures.charts.append(
        {
            "title": "The vacuum against the way the air takes",
            "file": figures.add("suction.svg", svg(placed)),
            "caption": "The falling curve is what the vacuum can pull, with its band; each rising "
            "curve is what the way from a tool takes. Where they meet is the airflow.",
        }
    )
    least = min(air, key=lambda a: middle(a.airflow_m3_s))
    parts = _parts(least.budget, voice_of(plan))
    drawing = path_chart(parts, units=plan.units, width_mm=70)
    placed = layout(drawing, Paper(width, 190), plan.units, footer=False)
    figures.charts.append(
        {
            "title": f"Where the suction goes: {least.tool}",
            "file": figures.add("path.svg", svg(placed)),
            "caption": "Pressure lost from the port (above) to the filter (below), part by part.",
        }
    )


def _parts(budget: Sequence[Loss], voice: Voice) -> list[PathPart]:
    """The budget with what is under a hundredth of it put together."""
    total = sum(loss.pressure_pa for loss in budget)
    parts, small = [], np.zeros_like(total)
    for loss in budget:
        if middle(loss.pressure_pa / total) < 0.01:
            small = small + loss.pressure_pa
        else:
            parts.append(_part(voice.text(loss.name), loss.pressure_pa))
    return [*parts, _part(voice.word("air.loss.smaller"), small)] if small.any() else parts


def _part(name: str, pressure_pa: Samples) -> PathPart:
    low, middle, high = band(pressure_pa)
    return PathPart(name, float(middle), "step", float(low), float(high))


def _distinct(plan: Plan, most: int = 4) -> list[ToolAir]:
    """Tools whose curves lie apart, from the most air to the least."""
    ranked = sorted(plan.air, key=lambda a: -middle(a.airflow_m3_s))
    kept = [ranked[0]]
    for each in ranked[1:]:
        gap = middle(kept[-1].airflow_m3_s) / middle(each.airflow_m3_s)
        if gap > 1.06 and len(kept) < most:
            kept.append(each)
    return kept
