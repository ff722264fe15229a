"""The floor map: everything to scale, and no words upon each other."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from kerfwind.drawing import Paper, layout, overlaps, svg
from kerfwind.drawing.model import Label, Polygon
from kerfwind.drawing.room import room_drawing, tool_places
from kerfwind.hookup.reach import FloorMap, floor_map
from kerfwind.quantity import Draw
from kerfwind.shop import read_shop
from kerfwind.words import Voice
from tests.hookup.test_reach import furnished


def mapped(seed: int) -> FloorMap:
    shop = furnished(seed)
    on = {t.name: shop.hoses[0] for t in shop.tools}
    found = floor_map(shop, on, Draw(1), footprint_m=(0.7, 0.5))
    assert found is not None
    return found


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("units", ["mm", "in", "both"])
def test_no_words_stand_on_words(seed: int, units: str) -> None:
    floor = mapped(seed)
    for choice in floor.choices:
        placed = layout(
            room_drawing(floor, choice, voice=Voice(units=units)),
            Paper(175, 105),
            Voice(units=units),
        )
        clashes = [o for o in overlaps(placed) if o[0] != "line"]
        assert clashes == []


def test_outlines_and_unit_are_drawn_to_scale() -> None:
    floor = mapped(2)
    choice = floor.choices[0]
    shapes = [i for i in room_drawing(floor, choice, voice=Voice()).items if isinstance(i, Polygon)]
    drawn = {tuple(np.round(np.ravel(p.points), 9)) for p in shapes}
    for outline in floor.outlines:
        assert tuple(np.round(np.ravel(outline.corners), 9)) in drawn
    units = [p for p in shapes if p.line == "new"]
    assert len(units) == len(choice.spots)
    for shape, spot in zip(units, choice.spots, strict=True):
        sides = np.ptp(np.array(shape.points), axis=0)
        assert sides == pytest.approx((0.5, 0.7) if spot.turned else (0.7, 0.5))
        assert np.mean(shape.points, axis=0) == pytest.approx((spot.x_m, spot.y_m))


def test_every_tool_of_the_example_is_named() -> None:
    shop = read_shop("tests/shops/one_car.toml").shop
    on = {t.name: shop.hoses[0] for t in shop.tools}
    floor = floor_map(shop, on, Draw(1), footprint_m=(0.53, 0.53))
    assert floor is not None
    assert len(floor.outlines) == 6
    placed = layout(room_drawing(floor, floor.choices[0], voice=Voice()), Paper(179, 105), Voice())
    assert overlaps(placed) == []
    words = " ".join(re.findall(r">([^<]+)<", svg(placed)))
    for tool in shop.tools:
        assert all(part in words for part in tool.name.split())


@pytest.mark.parametrize(("spots", "each"), [(6, 10), (20, 3), (5, 3)])
def test_tools_at_one_place_share_a_label(spots: int, each: int) -> None:
    """Sixty tools with a label each took most of a minute to place and could not be read."""
    floor = mapped(1)
    first, *_ = floor.tools
    tools = tuple(
        replace(
            first,
            name=f"tool {n} at {k}",
            x_m=floor.length_m * (0.1 + 0.8 * (k % 5) / 4) + 0.01 * n,
            y_m=floor.width_m * (0.1 + 0.8 * (k // 5) / 4),
        )
        for n in range(each)
        for k in range(spots)
    )
    floor = replace(floor, tools=tools, outlines=())
    places = tool_places(floor)
    assert len(places) == spots
    assert sorted(n for p in places for n in p.names) == sorted(t.name for t in tools)
    assert len({p.letter for p in places}) == (1 if spots * each <= 18 else spots)
    drawing = room_drawing(floor, floor.choices[0], voice=Voice())
    texts = [i.text for i in drawing.items if isinstance(i, Label)]
    for place in places:
        assert texts.count(place.letter or "\n".join(place.names)) == 1
    clashes = [
        o for o in overlaps(layout(drawing, Paper(175, 80), Voice(units="mm"))) if o[0] != "line"
    ]
    assert clashes == []
