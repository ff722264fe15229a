"""The workshop from above: tools, where the unit may stand for each, where to park it."""

from __future__ import annotations

import math

from ..hookup.reach import FloorMap, ReachChoice
from ..quantity import UnitChoice, show
from .model import Balloon, Circle, Dimension, Drawing, Item, Label, Polyline, rectangle


def room_drawing(floor: FloorMap, choice: ReachChoice, *, units: UnitChoice = "in") -> Drawing:
    """The room with one choice of hose: reach circles, parking spots, outlets.

    A circle is where the unit's middle may stand for that tool; a spot in a square serves
    every tool whose circle holds it.
    """
    length, width = floor.length_m, floor.width_m
    items: list[Item] = [
        rectangle(0, 0, length, width, "outline", 1.0),
        Dimension((0, 0), (length, 0), "x", "below"),
        Dimension((0, 0), (0, width), "y", "left"),
    ]
    for circle in choice.circles:
        items.append(_within(circle.x_m, circle.y_m, circle.radius_m, length, width))
    for tool in floor.tools:
        items += [
            Circle((tool.x_m, tool.y_m), 0.06, "outline", 0.3),
            Label((tool.x_m, tool.y_m), tool.name, "leader", size="small"),
        ]
    for outlet in floor.outlets:
        items += [
            rectangle(outlet.x_m - 0.05, outlet.y_m - 0.05, 0.1, 0.1, "outline", 0.0),
            Label((outlet.x_m, outlet.y_m), outlet.name, "leader", size="small", weight="It"),
        ]
    for number, spot in enumerate(choice.spots, start=1):
        items += [
            rectangle(spot.x_m - 0.26, spot.y_m - 0.26, 0.52, 0.52, "new"),
            Balloon((spot.x_m, spot.y_m), str(number), square=True),
        ]
    hose = show(choice.hose_m, "length", units)
    return Drawing(f"Where to park with {hose} of hose", tuple(items))


def _within(x: float, y: float, radius: float, length: float, width: float) -> Polyline:
    """The part of a circle that lies in the room, walls followed where it is cut."""
    points = []
    for n in range(97):
        angle = 2 * math.pi * n / 96
        points.append(
            (
                min(max(x + radius * math.cos(angle), 0.0), length),
                min(max(y + radius * math.sin(angle), 0.0), width),
            )
        )
    return Polyline(tuple(points), "centre")
