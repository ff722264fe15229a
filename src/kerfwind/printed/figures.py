"""Every drawing of a plan as SVG, by file name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ..air import Loss, ToolAir
from ..aside import aside
from ..cart import Cart
from ..drawing import Dimension, Drawing, Paper, layout, layout_together, svg
from ..drawing.chain import ChainPiece, chain_drawing
from ..drawing.chart import PathPart, SystemCurve, path_chart, suction_chart
from ..drawing.exploded import exploded_drawing
from ..drawing.motion import motions
from ..drawing.panel import panel_drawing
from ..drawing.project import Hidden, picture, picture_drawing
from ..drawing.reducer import reducer_drawing
from ..drawing.room import room_drawing
from ..drawing.sheet import sheet_drawing
from ..drawing.steps import step_drawing
from ..drawing.view import FRONT, RIGHT, TOP, View, perspective
from ..hookup import Chain
from ..plan import Plan
from ..quantity import band, middle, show
from ..shop import End
from ..solids import Body, coarser

Samples = NDArray[np.float64]

PAGE_MM = {"letter": (179.0, 245.0), "a4": (174.0, 262.0)}
#: Space for the picture of a step.
STEP_MM = Paper(66, 60)
#: With half the sides, round things still count as round at this angle.
_CREASE_DEG = 38.0


@dataclass
class Figures:
    """File names of the drawings by what they show, and the drawings themselves."""

    cover: str | None = None
    charts: list[dict[str, str]] = field(default_factory=list)
    chains: dict[str, str] = field(default_factory=dict)
    reducers: list[str] = field(default_factory=list)
    rooms: list[dict[str, str]] = field(default_factory=list)
    views: list[dict[str, str]] = field(default_factory=list)
    exploded: str | None = None
    nests: list[dict[str, str]] = field(default_factory=list)
    shapes: list[dict[str, str]] = field(default_factory=list)
    steps: dict[int, str] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)

    def add(self, name: str, text: str) -> str:
        """Keep a drawing under a file name; the name."""
        self.files[name] = text
        return name


def draw_all(plan: Plan) -> Figures:
    """Draw everything that the printed plan shows; the assembly on a core of its own."""
    figures = Figures()
    width, height = PAGE_MM[plan.shop.shop.page]
    assembly = aside(_assembly, plan, width, height)
    _charts(plan, figures, width)
    _chains(plan, figures, width)
    _reducers(plan, figures, width)
    _rooms(plan, figures, width)
    if plan.cart is not None and plan.nest is not None:
        bodies = [coarser(b) for b in plan.cart.bodies]
        _views(plan, bodies, figures, width, height)
        _nests(plan, figures, width, height)
        _shapes(plan, plan.cart, figures, width)
    together = assembly()
    figures.cover, figures.exploded = together.cover, together.exploded
    figures.steps = together.steps
    figures.files.update(together.files)
    return figures


def _assembly(plan: Plan, width: float, height: float) -> Figures:
    """The unit in perspective, pulled apart, and step by step."""
    figures = Figures()
    if plan.cart is not None and plan.nest is not None:
        bodies = [coarser(b) for b in plan.cart.bodies]
        _cover(plan, bodies, figures)
        _exploded(plan, plan.cart, bodies, figures, width, height)
        _steps(plan, plan.cart, bodies, figures)
    return figures


def _cover(plan: Plan, bodies: Sequence[Body], figures: Figures) -> None:
    look = perspective(np.concatenate([b.vertices for b in bodies]))
    seen = picture(bodies, look, crease_deg=_CREASE_DEG)
    placed = layout(picture_drawing("The unit", seen), Paper(150, 118), plan.units, footer=False)
    figures.cover = figures.add("unit.svg", svg(placed))


def _exploded(
    plan: Plan, cart: Cart, bodies: Sequence[Body], figures: Figures, width: float, height: float
) -> None:
    drawing = exploded_drawing(cart, bodies)
    placed = layout(drawing, Paper(width, height - 20), plan.units, footer=False)
    figures.exploded = figures.add("exploded.svg", svg(placed))


def _views(
    plan: Plan, bodies: Sequence[Body], figures: Figures, width: float, height: float
) -> None:
    wood = [b for b in bodies if b.kind in ("panel", "hardware")]
    floor = 0.0
    shelf = max(float(b.high[2]) for b in wood)
    stand = [b for b in bodies if b.kind != "hose"]
    top = max(float(b.high[2]) for b in stand)

    def view(name: str, look: View, extra: Sequence[Dimension], hidden: Hidden = "none") -> Drawing:
        seen = picture(bodies, look, hidden=hidden, crease_deg=_CREASE_DEG)
        return picture_drawing(name, seen, list(extra))

    wl, wr = (min(float(b.low[0]) for b in wood), max(float(b.high[0]) for b in wood))
    wf, wb = (min(float(b.low[1]) for b in wood), max(float(b.high[1]) for b in wood))
    front = view(
        "Front",
        FRONT,
        [
            Dimension(FRONT.at((wl, wf, floor)), FRONT.at((wr, wf, floor)), "x", "below"),
            Dimension(FRONT.at((wl, wf, floor)), FRONT.at((wl, wf, shelf)), "y", "left"),
            Dimension(FRONT.at((wl, wf, floor)), FRONT.at((0, wf, top)), "y", "left"),
        ],
    )
    side = view(
        "Right side",
        RIGHT,
        [Dimension(RIGHT.at((wr, wf, floor)), RIGHT.at((wr, wb, floor)), "x", "below")],
        hidden="dashed",
    )
    above = view("From above", TOP, [])
    placed = layout_together(
        [[front, side], [above, None]], Paper(width, height * 0.66), plan.units,
        title="The unit from three sides",
    )  # fmt: skip
    figures.views.append({"file": figures.add("three-sides.svg", svg(placed))})


def _nests(plan: Plan, figures: Figures, width: float, height: float) -> None:
    assert plan.nest is not None
    for sheet in plan.nest.sheets:
        drawing = sheet_drawing(
            sheet, plan.cuts, kerf_m=plan.shop.saw.kerf.best_si, units=plan.units
        )
        placed = layout(drawing, Paper(width, height * 0.55), plan.units)
        name = figures.add(f"sheet-{sheet.number}.svg", svg(placed))
        figures.nests.append(
            {
                "title": f"Sheet {sheet.number}: {sheet.kind.key}",
                "file": name,
                "caption": f"{100 * sheet.used:.0f} % of it becomes panels. Waste is hatched; "
                "numbers in circles are the cuts in order.",
            }
        )


def _shapes(plan: Plan, cart: Cart, figures: Figures, width: float) -> None:
    for panel in cart.panels:
        placed = layout(panel_drawing(panel, units=plan.units), Paper(width, 100), plan.units)
        title = f"{panel.key}: {panel.name}" + (
            f", {panel.quantity} of them" if panel.quantity > 1 else ""
        )
        name = figures.add(f"panel-{panel.key.lower()}.svg", svg(placed))
        figures.shapes.append({"title": title, "file": name})


def _chains(plan: Plan, figures: Figures, width: float) -> None:
    for number, chain in enumerate(plan.hookups.tools, start=1):
        if not chain.reached:
            continue
        placed = layout(
            chain_drawing(chain_pieces(plan, chain), units=plan.units, width_mm=width - 14, most_scale=0.3),
            Paper(width, 60), plan.units, footer=False,
        )  # fmt: skip
        figures.chains[chain.tool] = figures.add(f"hookup-{number}.svg", svg(placed))


def _reducers(plan: Plan, figures: Figures, width: float) -> None:
    for number, reducer in enumerate(plan.hookups.printed, start=1):
        drawn = reducer_drawing(reducer, units=plan.units)
        placed = layout(drawn, Paper(width, 85), plan.units)
        figures.reducers.append(figures.add(f"reducer-{number}.svg", svg(placed)))


def _rooms(plan: Plan, figures: Figures, width: float) -> None:
    if plan.floor is None:
        return
    for number, choice in enumerate(plan.floor.choices[:2], start=1):
        drawn = room_drawing(plan.floor, choice, units=plan.units)
        placed = layout(drawn, Paper(width, 105), plan.units)
        hose = show(choice.hose_m, "length", plan.units)
        loss = show(choice.loss_pa, "pressure", plan.units)
        spots = "; ".join(
            f"spot {n}: {', '.join(spot.tools)}" for n, spot in enumerate(choice.spots, start=1)
        )
        left = f" Out of reach: {', '.join(choice.unserved)}." if choice.unserved else ""
        figures.rooms.append(
            {
                "title": f"{hose} of hose{' (owned)' if choice.owned else ''}: "
                f"{choice.moves} move{'' if choice.moves == 1 else 's'}, {loss} lost in the hose",
                "file": figures.add(f"room-{number}.svg", svg(placed)),
                "caption": f"{spots}.{left}",
            }
        )


def chain_pieces(plan: Plan, chain: Chain) -> list[ChainPiece]:
    """Port, fittings and hose of one tool, as they follow each other."""
    joints = chain.joints
    hose = plan.shop.hose(chain.hose)
    first, last = joints[0].upstream_end, joints[-1].downstream_end
    pieces = [_piece(chain.tool, first, first, first.length.best_si, joints[0].fit.kind)]
    for piece, joint in zip(chain.pieces, joints[1:], strict=True):
        pieces.append(
            _piece(piece.fitting.name, piece.upstream, piece.downstream,
                   piece.fitting.length.best_si, joint.fit.kind, to_get=piece.origin != "owned")
        )  # fmt: skip
    pieces.append(_piece(hose.name, last, last, 0.3, "", flexible=True))
    return pieces


def _piece(
    name: str, start: End, end: End, length_m: float, joint: str, *,
    flexible: bool = False, to_get: bool = False,
) -> ChainPiece:  # fmt: skip
    return ChainPiece(
        name, start.outside.best_si, min(start.inside.best_si, 0.98 * start.outside.best_si),
        end.outside.best_si, min(end.inside.best_si, 0.98 * end.outside.best_si),
        length_m, joint, flexible, to_get,
    )  # fmt: skip


def _steps(plan: Plan, cart: Cart, bodies: Sequence[Body], figures: Figures) -> None:
    known = motions(cart)
    small = [coarser(b, least_sides=10) if b.kind == "hose" else b for b in bodies]
    for step in cart.steps:
        drawing = step_drawing(cart, step, plan.units, small, known)
        if drawing is not None:
            placed = layout(drawing, STEP_MM, plan.units, footer=False)
            figures.steps[step.number] = figures.add(f"step-{step.number}.svg", svg(placed))


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
        flow, first.vacuum_pa, systems, band_pa=(first.vacuum_low_pa, first.vacuum_high_pa),
        units=plan.units, width_mm=min(width - 45, 130),
    )  # fmt: skip
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
    parts = _parts(least.budget)
    drawing = path_chart(parts, units=plan.units, width_mm=70)
    placed = layout(drawing, Paper(width, 190), plan.units, footer=False)
    figures.charts.append(
        {
            "title": f"Where the suction goes: {least.tool}",
            "file": figures.add("path.svg", svg(placed)),
            "caption": "Pressure lost from the port (above) to the filter (below), part by part.",
        }
    )


def _parts(budget: Sequence[Loss]) -> list[PathPart]:
    """The budget with what is under a hundredth of it put together."""
    total = sum(loss.pressure_pa for loss in budget)
    parts, small = [], np.zeros_like(total)
    for loss in budget:
        if middle(loss.pressure_pa / total) < 0.01:
            small = small + loss.pressure_pa
        else:
            parts.append(_part(f"{loss.part}: {loss.what}", loss.pressure_pa))
    return [*parts, _part("smaller losses together", small)] if small.any() else parts


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
