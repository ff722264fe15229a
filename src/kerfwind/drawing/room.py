"""The workshop from above: tools with their outlines, where the unit may stand, where to park."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..facts import Amount, Fact, Listing, Ref, state
from ..hookup.free_floor import Outline
from ..hookup.reach import Circle as Place
from ..hookup.reach import FloorMap, Parking, ReachChoice
from ..words import Voice
from .model import Circle, Dimension, Drawing, Item, Label, Polygon, Polyline, rectangle

_APART_M = 0.15  # tools nearer than this stand at one place
_MOST_NAMES = 18  # more lines of names would crowd the map: letters stand there instead
_MOST_CIRCLES = 16  # more could not be told apart


@dataclass(frozen=True)
class ToolPlace:
    """Tools that stand at one place of the room; ``letter`` where the map has no room for names."""

    x_m: float
    y_m: float
    names: tuple[str, ...]
    letter: str


def tool_places(floor: FloorMap) -> list[ToolPlace]:
    """The places of the tools from left to right, with letters where names would be too many."""
    groups: list[list[Place]] = []
    for tool in sorted(floor.tools, key=lambda t: (t.x_m, t.y_m)):
        near = (g for g in groups if math.dist(_at(g[0]), _at(tool)) < _APART_M)
        group = next(near, None)
        if group is None:
            groups.append([tool])
        else:
            group.append(tool)
    crowded = len(floor.tools) > _MOST_NAMES or any(len(g) > 4 for g in groups)
    order = {t.name: n for n, t in enumerate(floor.tools)}
    return [
        ToolPlace(
            *_at(g[0]),
            tuple(sorted((t.name for t in g), key=order.__getitem__)),
            _letters(n) if crowded else "",
        )
        for n, g in enumerate(groups)
    ]


def _at(place: Place) -> tuple[float, float]:
    return place.x_m, place.y_m


def _letters(n: int) -> str:
    """a to z, then aa, ab and so on."""
    return (_letters(n // 26 - 1) if n >= 26 else "") + chr(ord("a") + n % 26)


def room_drawing(floor: FloorMap, choice: ReachChoice, *, voice: Voice) -> Drawing:
    """The room with one choice of hoses: outlines, reach circles, parking spots, outlets.

    A circle is where the unit's middle may stand for that tool; the unit is drawn to scale
    at each spot, with its number. Tools at one place share a label: their names, or the letter
    of ``tool_places``.
    """
    length, width = floor.length_m, floor.width_m
    items: list[Item] = [
        rectangle(0, 0, length, width, "outline", 1.0),
        Dimension((0, 0), (length, 0), "x", "below"),
        Dimension((0, 0), (0, width), "y", "left"),
    ]
    outlined = {o.name: o for o in floor.outlines}
    drawn = {_rounded(o): o.corners for o in floor.outlines}
    items += [Polygon(corners, "edge", 0.93) for corners in drawn.values()]
    circles = {(round(c.x_m, 2), round(c.y_m, 2), round(c.radius_m, 2)): c for c in choice.circles}
    many = len(circles) > _MOST_CIRCLES
    for circle in () if many else circles.values():
        items += _within(circle.x_m, circle.y_m, circle.radius_m, length, width)
    for spot in choice.spots:
        items.append(Polygon(_footprint(floor, spot), "new", 0.98))
    places = tool_places(floor)
    for place in places:
        text = place.letter or "\n".join(place.names)
        at = (place.x_m, place.y_m)
        outline = next((outlined[n].corners for n in place.names if n in outlined), None)
        if outline is None:
            items += [Circle(at, 0.05, "outline", 0.3), Label(at, text, "leader", size="small")]
        else:
            items.append(Label(at, text, room=_room(outline), size="small"))
    for outlet in floor.outlets:
        items += [
            rectangle(outlet.x_m - 0.05, outlet.y_m - 0.05, 0.1, 0.1, "outline", 0.0),
            Label((outlet.x_m, outlet.y_m), outlet.name, "leader", size="small", weight="It"),
        ]
    for number, spot in enumerate(choice.spots, start=1):
        a, b = _sides(floor, spot)
        items.append(
            Label((spot.x_m, spot.y_m), str(number), room=(a, b), size="large", weight="Bold")
        )
    notes = (
        *([voice.word("drawing.room.letters")] if any(p.letter for p in places) else []),
        *([voice.word("drawing.room.no_circles")] if many else []),
    )
    title = voice.word("drawing.room", hoses=hoses_fact(choice))
    return Drawing(title, tuple(items), notes=notes)


def _rounded(outline: Outline) -> tuple[tuple[int, int], ...]:
    """An outline to the centimetre: tools that share a bench are drawn once."""
    return tuple((round(100 * x), round(100 * y)) for x, y in outline.corners)


def hoses_fact(choice: ReachChoice) -> Fact:
    """The hoses and their lengths."""
    return Listing(
        tuple(
            state(
                "drawing.room.owned" if h.owned else "drawing.room.new",
                length=Amount(h.length_m, "length"),
                hose=Ref("hose", h.name),
            )
            for h in choice.hoses
        ),
        "commas",
    )


def _footprint(floor: FloorMap, spot: Parking) -> tuple[tuple[float, float], ...]:
    a, b = _sides(floor, spot)
    x, y = spot.x_m, spot.y_m
    return (
        (x - a / 2, y - b / 2),
        (x + a / 2, y - b / 2),
        (x + a / 2, y + b / 2),
        (x - a / 2, y + b / 2),
    )


def _sides(floor: FloorMap, spot: Parking) -> tuple[float, float]:
    """The unit's sides along the room and across it."""
    a, b = floor.footprint_m
    return (b, a) if spot.turned else (a, b)


def _room(corners: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    """Sides of an upright rectangle about the middle that lies in the outline."""
    (x0, y0), (x1, y1), (x2, y2) = corners[:3]
    a, b = math.hypot(x1 - x0, y1 - y0), math.hypot(x2 - x1, y2 - y1)
    turn = math.atan2(y1 - y0, x1 - x0)
    c, s = abs(math.cos(turn)), abs(math.sin(turn))
    if s < 1e-6:
        return a, b
    if c < 1e-6:
        return b, a
    # As large as fits with the outline's own proportions, whichever way it leans.
    scale = min(a / (a * c + b * s), b / (a * s + b * c))
    return a * scale, b * scale


def _within(x: float, y: float, radius: float, length: float, width: float) -> list[Item]:
    """The arcs of a circle that lie in the room."""
    pieces: list[list[tuple[float, float]]] = [[]]
    for n in range(145):
        angle = 2 * math.pi * n / 144
        point = (x + radius * math.cos(angle), y + radius * math.sin(angle))
        if 0 <= point[0] <= length and 0 <= point[1] <= width:
            pieces[-1].append(point)
        elif pieces[-1]:
            pieces.append([])
    return [Polyline(tuple(p), "centre") for p in pieces if len(p) > 1]
