"""What is drawn of the hookups, the air and the room: drawings not yet laid on paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..air import Loss
from ..drawing.chain import ChainPiece, chain_drawing
from ..drawing.chart import PathPart, SystemCurve, path_chart, suction_chart
from ..drawing.reducer import reducer_drawing
from ..drawing.room import ToolPlace, hoses_fact, room_drawing, tool_places
from ..facts import Amount, Listing, Name, Ref, Statement, Term, state
from ..hookup import InLine, on_the_unit
from ..hookup.reach import Parking
from ..plan import Plan
from ..quantity import band, middle
from ..words import Voice
from .figure import Figure

#: Losses below this part of the whole are put together.
_SMALL = 0.01


@dataclass(frozen=True)
class KeyRow:
    """A letter on the map of the room, and the tools at that place."""

    letter: str
    names: str


def suction_figure(plan: Plan, voice: Voice, width_mm: float) -> Figure:
    """The vacuum against the way from a few tools whose airflows lie apart."""
    first = plan.air[0].system_curve
    by_tool = {each.tool: each for each in plan.air}
    systems = []
    for each in map(by_tool.__getitem__, plan.apart):
        curve = each.system_curve
        meeting = (middle(each.airflow_m3_s), middle(each.suction_pa))
        systems.append(SystemCurve(each.tool, curve.airflow_m3_s, curve.suction_pa, meeting))
    drawing = suction_chart(
        first.airflow_m3_s,
        first.vacuum_pa,
        systems,
        band_pa=(first.vacuum_low_pa, first.vacuum_high_pa),
        voice=voice,
        width_mm=width_mm,
    )
    title, caption = voice.word("view.chart.suction"), "view.chart.suction"
    return Figure("suction.svg", drawing, title, voice.say(caption, attribute="caption"))


def path_figure(plan: Plan, voice: Voice, width_mm: float) -> Figure:
    """Where the suction goes at the tool that has the least air."""
    least = min(plan.air, key=lambda a: middle(a.airflow_m3_s))
    drawing = path_chart(_parts(least.budget, voice), voice=voice, width_mm=width_mm)
    tool = Ref("tool", least.tool)
    caption = voice.say("view.chart.path", attribute="caption")
    return Figure("path.svg", drawing, voice.word("view.chart.path", tool=tool), caption)


def _parts(budget: Sequence[Loss], voice: Voice) -> list[PathPart]:
    """The budget with what is under a hundredth of it put together."""
    total = sum(loss.pressure_pa for loss in budget)
    parts, small = [], np.zeros_like(total)
    for loss in budget:
        if middle(loss.pressure_pa / total) < _SMALL:
            small = small + loss.pressure_pa
        else:
            parts.append(_part(voice.text(loss.name), loss.pressure_pa))
    return [*parts, _part(voice.word("air.loss.smaller"), small)] if small.any() else parts


def _part(name: str, pressure_pa: NDArray[np.float64]) -> PathPart:
    low, best, high = band(pressure_pa)
    return PathPart(name, float(best), "step", float(low), float(high))


def chain_figures(
    plan: Plan, voice: Voice, width_mm: float, most_scale: float
) -> dict[str, Figure]:
    """Port, fittings and hose of each tool that a chain reaches, by the tool's name."""
    return {
        chain.tool: Figure(
            f"hookup-{number}.svg",
            chain_drawing(
                [_drawn(piece, voice) for piece in plan.lines[chain.tool]],
                voice=voice,
                width_mm=width_mm,
                most_scale=most_scale,
            ),
        )
        for number, chain in enumerate(plan.hookups.tools, start=1)
        if chain.tool in plan.lines
    }


def hose_step_figures(plan: Plan, voice: Voice, width_mm: float) -> dict[int, Figure]:
    """Each tool hose as its step puts it on the unit, by the step's number."""
    figures = {}
    for step in plan.steps:
        names = [t.key.removeprefix("hose:") for t in step.takes if t.key.startswith("hose:")]
        used = [n for n in names if any(c.hose == n for c in plan.hookups.unit)]
        line = on_the_unit(plan.hookups, plan.shop.hose(used[0])) if used else ()
        if line and isinstance(step.title, Statement) and step.title.kind == "unit.title.hose":
            drawing = chain_drawing(
                [_drawn(piece, voice) for piece in line],
                voice=voice,
                width_mm=width_mm,
                most_scale=0.2,
            )
            figures[step.number] = Figure(f"step-{step.number}.svg", drawing)
    return figures


def _drawn(piece: InLine, voice: Voice) -> ChainPiece:
    return ChainPiece(
        voice.text(piece.what),
        *piece.start_m,
        *piece.end_m,
        piece.length_m,
        voice.text(Term("fit", piece.joint)) if piece.joint else "",
        piece.flexible,
        piece.origin not in (None, "owned"),
    )


def reducer_figures(plan: Plan, voice: Voice) -> list[Figure]:
    """Each printed reducer cut open."""
    return [
        Figure(f"reducer-{number}.svg", reducer_drawing(reducer, voice))
        for number, reducer in enumerate(plan.hookups.printed, start=1)
    ]


def room_key(plan: Plan, voice: Voice) -> list[KeyRow]:
    """Letters on the map of the room, where names would be too many."""
    return [
        KeyRow(p.letter, voice.text(Listing(tuple(Ref("tool", n) for n in p.names), "commas")))
        for p in (tool_places(plan.floor) if plan.floor else ())
        if p.letter
    ]


def room_figures(plan: Plan, voice: Voice) -> list[Figure]:
    """The room with the hoses as owned, and with the change that spares most moves."""
    if plan.floor is None:
        return []
    own, *others = plan.floor.choices
    fewer = [c for c in others if (len(c.unserved), c.moves) < (len(own.unserved), own.moves)]
    best = sorted(fewer, key=lambda c: (len(c.unserved), c.moves, c.price))[:1]
    lettered = [p for p in tool_places(plan.floor) if p.letter]
    figures = []
    for number, choice in enumerate([own, *best], start=1):
        title = voice.word("view.room", hoses=hoses_fact(choice), moves=choice.moves)
        spots = tuple(
            state(
                "view.room.spot",
                number=n,
                left=Amount(spot.x_m, "length"),
                front=Amount(spot.y_m, "length"),
                tools=_reached(spot, lettered),
                hoses=Listing(
                    tuple(
                        state(
                            "view.room.needs",
                            length=Amount(length, "length"),
                            hose=Ref("hose", name),
                        )
                        for name, length in spot.needed
                    ),
                    "commas",
                ),
            )
            for n, spot in enumerate(choice.spots, start=1)
        )
        said = [
            voice.word("view.room.arcs"),
            voice.word("view.room.spots", spots=Listing(spots, "semicolons")),
        ]
        if choice.unserved:
            tools = Listing(tuple(Ref("tool", t) for t in choice.unserved), "commas")
            said.append(voice.word("view.room.out_of_reach", tools=tools))
        figures.append(
            Figure(
                f"room-{number}.svg",
                room_drawing(plan.floor, choice, voice=voice),
                title[:1].upper() + title[1:],
                voice.text(Listing(tuple(map(Name, said)), "sentences")),
            )
        )
    return figures


def _reached(spot: Parking, lettered: Sequence[ToolPlace]) -> Listing:
    """The tools that a spot serves, by their letters where all at a place are served."""
    whole = [p for p in lettered if set(p.names) <= set(spot.tools)]
    named = {name for p in whole for name in p.names}
    letters = [Name(p.letter) for p in whole]
    return Listing((*letters, *(Ref("tool", t) for t in spot.tools if t not in named)), "commas")
