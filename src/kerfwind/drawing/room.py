"""The workshop from above: tools with their outlines, where the unit may stand, where to park."""

from __future__ import annotations

import math

from ..hookup.reach import FloorMap, Parking, ReachChoice
from ..quantity import UnitChoice, show
from .model import Circle, Dimension, Drawing, Item, Label, Polygon, Polyline, rectangle


def room_drawing(floor: FloorMap, choice: ReachChoice, *, units: UnitChoice = "in") -> Drawing:
    """The room with one choice of hoses: outlines, reach circles, parking spots, outlets.

    A circle is where the unit's middle may stand for that tool; the unit is drawn to scale
    at each spot, with its number.
    """
    length, width = floor.length_m, floor.width_m
    items: list[Item] = [
        rectangle(0, 0, length, width, "outline", 1.0),
        Dimension((0, 0), (length, 0), "x", "below"),
        Dimension((0, 0), (0, width), "y", "left"),
    ]
    outlined = {o.name: o.corners for o in floor.outlines}
    items += [Polygon(corners, "edge", 0.93) for corners in outlined.values()]
    for circle in choice.circles:
        items += _within(circle.x_m, circle.y_m, circle.radius_m, length, width)
    for spot in choice.spots:
        items.append(Polygon(_footprint(floor, spot), "new", 0.98))
    for tool in floor.tools:
        corners = outlined.get(tool.name)
        if corners is None:
            items += [
                Circle((tool.x_m, tool.y_m), 0.05, "outline", 0.3),
                Label((tool.x_m, tool.y_m), tool.name, "leader", size="small"),
            ]
        else:
            room = _room(corners)
            items.append(Label((tool.x_m, tool.y_m), tool.name, room=room, size="small"))
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
    return Drawing(f"Where to park with {said(choice, units)}", tuple(items))


def said(choice: ReachChoice, units: UnitChoice) -> str:
    """The hoses and their lengths in words."""
    return ", ".join(
        f"{show(h.length_m, 'length', units)} of {h.name}" + ("" if h.owned else " (new)")
        for h in choice.hoses
    )


def _footprint(floor: FloorMap, spot: Parking) -> tuple[tuple[float, float], ...]:
    a, b = _sides(floor, spot)
    x, y = spot.x_m, spot.y_m
    return (
        (x - a / 2, y - b / 2), (x + a / 2, y - b / 2), (x + a / 2, y + b / 2), (x - a / 2, y + b / 2)
    )  # fmt: skip


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
