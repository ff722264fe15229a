"""Parking and reach by plain geometry."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from kerfwind.facts import Ref
from kerfwind.hookup import reach
from kerfwind.hookup.free_floor import free_floors, outlines
from kerfwind.hookup.reach import circle, fewest_sets, floor_map, meetings, where
from kerfwind.quantity import Draw, parse
from kerfwind.shop import Shop
from kerfwind.shop.model import Place, Rectangle, Spot
from kerfwind.sources import fact

from .shops import base, size

SLACK = fact("hookup.hose_slack").value


def spot(x: float, y: float) -> Spot:
    return Spot(x=parse(f"{x} m", "length"), y=parse(f"{y} m", "length"))


def place(x: float, y: float, turn: float = 0.0) -> Place:
    at = spot(x, y)
    return Place(x=at.x, y=at.y, turn=parse(f"{turn} °", "angle"))


def placed(*places: tuple[float, float], hose_m: float = 2.4, **more: object) -> Shop:
    """A room of 8 by 5 m with tools at places, no rise."""
    pattern = base().tools[0]
    tools = tuple(
        pattern.model_copy(
            update={"name": f"tool {i}", "place": place(x, y), "rise": parse("0 m", "length")}
        )
        for i, (x, y) in enumerate(places)
    )
    hose = base().hoses[0].model_copy(update={"length": parse(f"{hose_m} m", "length")})
    room = base().room.model_copy(
        update={
            "length": parse("8 m", "length"),
            "width": parse("5 m", "length"),
            "outlets": more.get("outlets", ()),
        }
    )
    circuit = base().circuit.model_copy(update={"cord": more.get("cord")})
    hoses = (hose, base().hoses[2])
    return base().model_copy(
        update={"tools": tools, "hoses": hoses, "room": room, "circuit": circuit}
    )


def mapped(shop: Shop):  # type: ignore[no-untyped-def]
    on = {t.name: shop.hoses[0] for t in shop.tools}
    found = floor_map(shop, on, Draw(1), footprint_m=(0.6, 0.6))
    assert found is not None
    return found


def test_two_near_tools_share_a_spot_and_two_far_ones_do_not() -> None:
    near = mapped(placed((2, 2), (2 + 1.9 * 2.4 / SLACK, 2)))
    [own] = [c for c in near.choices if c.owned]
    assert [s.tools for s in own.spots] == [("tool 0", "tool 1")]
    # Half way between them is the spot that needs the least hose.
    assert own.spots[0].needed_m == pytest.approx(0.95 * 2.4, abs=0.02)
    far = mapped(placed((2, 2), (2 + 2.1 * 2.4 / SLACK, 2)))
    [own] = [c for c in far.choices if c.owned]
    assert own.moves == 1


def test_every_tool_is_within_the_hose_of_its_spot() -> None:
    rng = np.random.default_rng(4)
    places = [(float(x), float(y)) for x, y in rng.uniform((0.3, 0.3), (7.7, 4.7), (9, 2))]
    found = mapped(placed(*places))
    for choice in found.choices:
        served = [t for s in choice.spots for t in s.tools]
        assert sorted([*served, *choice.unserved]) == sorted(f"tool {i}" for i in range(9))
        for s in choice.spots:
            assert 0.3 - 1e-9 <= s.x_m <= 7.7 + 1e-9
            assert s.needed_m <= choice.hose("big hose").length_m + 1e-6
            for name in s.tools:
                x, y = places[int(name.split()[1])]
                assert SLACK * math.hypot(s.x_m - x, s.y_m - y) <= s.needed_m + 1e-9


def test_a_longer_hose_never_needs_more_spots_and_costs_more_air() -> None:
    rng = np.random.default_rng(5)
    places = [(float(x), float(y)) for x, y in rng.uniform((0.3, 0.3), (7.7, 4.7), (8, 2))]
    own, *others = mapped(placed(*places)).choices
    assert own.owned
    assert own.price == 0
    ranked = sorted([own, *others], key=lambda c: c.hose("big hose").length_m)
    spots = [(len(c.unserved), len(c.spots)) for c in ranked]
    assert spots == sorted(spots, reverse=True)
    assert len(set(spots)) == len(spots)
    loss = [c.hose("big hose").loss_pa / c.hose("big hose").length_m for c in ranked]
    assert loss == pytest.approx([loss[0]] * len(loss))
    assert all(c.price > 0 for c in others)


def test_each_tool_reaches_as_far_as_its_own_hose() -> None:
    shop = placed((2, 2), (6, 2))
    short, long = (
        shop.hoses[0],
        shop.hoses[0].model_copy(update={"name": "long hose", "length": parse("4 m", "length")}),
    )
    found = floor_map(shop, {"tool 0": short, "tool 1": long}, Draw(1), footprint_m=(0.6, 0.6))
    assert found is not None
    own = found.choices[0]
    radius = {c.name: c.radius_m for c in own.circles}
    assert radius == pytest.approx({"tool 0": 2.4 / SLACK, "tool 1": 4 / SLACK})
    # 2.0 + 3.33 m of reach span the 4 m between them.
    assert [s.tools for s in own.spots] == [("tool 0", "tool 1")]
    assert dict(own.spots[0].needed).keys() == {"big hose", "long hose"}
    assert {c.changed for c in found.choices[1:]} <= {"big hose", "long hose"}


def test_a_rise_shortens_the_reach() -> None:
    shop = placed((2, 2))
    risen = shop.tools[0].model_copy(update={"rise": size(900)})
    found = mapped(shop.model_copy(update={"tools": (risen,)}))
    [own] = [c for c in found.choices if c.owned]
    assert own.circles[0].radius_m == pytest.approx((2.4 - 0.9) / SLACK)


def test_the_cord_holds_the_unit_near_an_outlet() -> None:
    cord = parse("1.2 m", "length")
    shop = placed((2, 2), (6, 2), outlets=(spot(0.5, 2.0),), cord=cord)
    found = mapped(shop)
    [own] = [c for c in found.choices if c.owned]
    assert own.unserved == ("tool 1",)
    [parked] = own.spots
    assert math.hypot(parked.x_m - 0.5, parked.y_m - 2.0) <= 1.2 / SLACK + 1e-6
    assert parked.outlet == 1
    assert {f.about: f.level for f in found.findings}[Ref("tool", "tool 1")] == "problem"


def test_without_places_there_is_no_map() -> None:
    on = {t.name: base().hoses[0] for t in base().tools}
    assert floor_map(base(), on, Draw(1)) is None


@given(
    st.floats(0, 5),
    st.floats(0, 5),
    st.floats(0.2, 4),
    st.floats(0, 5),
    st.floats(0, 5),
    st.floats(0.2, 4),
)
def test_crossings_lie_on_both_circles(
    ax: float, ay: float, ar: float, bx: float, by: float, br: float
) -> None:
    for x, y in meetings(np.array([(ax, ay), (bx, by)]), np.array([ar, br])):
        assert math.hypot(x - ax, y - ay) == pytest.approx(ar, abs=1e-5)
        assert math.hypot(x - bx, y - by) == pytest.approx(br, abs=1e-5)


@pytest.mark.parametrize("seed", range(12))
def test_lengths_worth_showing_are_those_of_trying_every_length(seed: int) -> None:
    rng = np.random.default_rng(seed)
    spots = tuple((float(rng.uniform(0, 8)), float(rng.uniform(0, 5))) for _ in range(5))
    own = float(rng.uniform(1.5, 6.0))
    shop = placed(*spots, hose_m=own)
    hose = shop.hoses[0]
    of = {t.name: hose.name for t in shop.tools}
    floor = reach.Floor(free_floors(shop), shop.tools, reach.plugs(shop), {hose.name: hose}, of)
    own_score = floor.score({hose.name: own})
    best, expected = (math.inf, math.inf), []
    for length in (ft * 0.3048 for ft in reach.SOLD_FT):
        score = floor.score({hose.name: length})
        if score < best and (score < own_score or length < own):
            expected.append(length)
        best = min(best, score)
    assert floor.worth({hose.name: own}, hose.name) == expected


@pytest.mark.parametrize("seed", range(8))
def test_very_many_sets_come_to_an_end(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Trying all would not: there each row serves what those before it leave."""
    member = np.random.default_rng(seed).random((100, 120)) < 0.15
    member[0, ~member.any(axis=0)] = True
    monkeypatch.setattr("kerfwind.hookup.reach._MOST_LOOKS", 100_000)
    found = fewest_sets(member)
    assert member[found].any(axis=0).all()
    assert len(found) <= 25
    left = np.ones(120, bool)
    for row in found:
        assert (member[row] & left).any()
        left &= ~member[row]


@pytest.mark.parametrize("seed", range(60))
def test_fewest_sets_agrees_with_trying_all(seed: int) -> None:
    rng = np.random.default_rng(seed)
    member = rng.random((9, 7)) < 0.3
    member[rng.integers(0, 9, 7), np.arange(7)] = True
    found = fewest_sets(member)
    assert member[found].any(axis=0).all()
    least = next(
        n
        for n in range(1, 10)
        if any(member[list(rows)].any(axis=0).all() for rows in itertools.combinations(range(9), n))
    )
    assert len(found) == least


def furnished(seed: int) -> Shop:
    """Tools with outlines at random, turned any way."""
    rng = np.random.default_rng(seed)
    places = [(float(x), float(y)) for x, y in rng.uniform((1, 1), (7, 4), (5, 2))]
    shop = placed(*places)
    tools = tuple(
        t.model_copy(
            update={
                "size": Rectangle(
                    length=size(rng.uniform(300, 1400)), width=size(rng.uniform(300, 900))
                ),
                "place": place(x, y, float(rng.choice([0.0, 90.0, rng.uniform(0, 180)]))),
            }
        )
        for t, (x, y) in zip(shop.tools, places, strict=True)
    )
    return shop.model_copy(update={"tools": tools})


def unit_at(x: float, y: float, sides: tuple[float, float], turned: bool) -> Polygon:
    a, b = sides[::-1] if turned else sides
    return box(x - a / 2, y - b / 2, x + a / 2, y + b / 2)


@pytest.mark.parametrize("seed", range(12))
def test_free_floor_is_where_the_unit_keeps_clear_of_all_outlines(seed: int) -> None:
    """Against a general geometry library: shapes grown and intersected there."""
    shop, sides = furnished(seed), (0.7, 0.5)
    stands = [Polygon(o.corners) for o in outlines(shop)]
    for polygon, tool in zip(stands, shop.tools, strict=True):
        assert tool.size is not None
        assert polygon.area == pytest.approx(tool.size.length.best_si * tool.size.width.best_si)
    play = fact("hookup.park_play").value
    rng = np.random.default_rng(seed)
    spots = rng.uniform((-0.2, -0.2), (8.2, 5.2), (400, 2))
    for floor in free_floors(shop, sides):
        free = floor.free(spots)
        for (x, y), ok in zip(spots, free, strict=True):
            inner = unit_at(x, y, sides, floor.turned)
            grown = unit_at(x, y, (sides[0] + 2 * play, sides[1] + 2 * play), floor.turned)
            clear = all(grown.distance(s) > 0 for s in stands)
            if not clear and all(grown.intersection(s).area < 1e-6 for s in stands):
                continue  # a sliver of less than a square millimetre tells nothing
            assert ok == (clear and box(0, 0, 8, 5).contains(inner))


@pytest.mark.parametrize("seed", range(12))
def test_no_spot_on_a_fine_grid_serves_more_than_the_spots_tried(seed: int) -> None:
    shop = furnished(seed)
    floors = free_floors(shop, (0.7, 0.5))
    circles = [circle(t, 1.3) for t in shop.tools]
    spots, serves = where(floors, circles, ())
    for x, y, number in spots:
        assert floors[int(number)].free(np.array([[x, y]]))[0]
    xs, ys = np.meshgrid(np.linspace(0, 8, 161), np.linspace(0, 5, 101))
    grid = np.column_stack([xs.ravel(), ys.ravel()])
    for each in floors:
        free = grid[each.free(grid)]
        at = np.array([(c.x_m, c.y_m) for c in circles])
        near = np.linalg.norm(free[:, None] - at[None], axis=2) <= [c.radius_m for c in circles]
        for row in np.unique(near, axis=0):
            assert any(np.all(served >= row) for served in serves)


@pytest.mark.parametrize("seed", range(6))
def test_a_lattice_serves_what_slightly_shorter_hoses_reach(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    rng = np.random.default_rng(seed)
    shop = placed(*[(float(x), float(y)) for x, y in rng.uniform((1, 1), (7, 4), (9, 2))])
    floors = free_floors(shop, (0.7, 0.5))
    # A free spot has a point of the lattice within a diagonal of its squares.
    diagonal = 1.5 * max(
        math.sqrt((right - left) * (back - front) / reach.LATTICE)
        for left, front, right, back in (each.area for each in floors)
    )
    circles = [circle(t, 1.6) for t in shop.tools]
    exact = where(floors, circles, ())[1]
    shorter = [replace(c, radius_m=c.radius_m - diagonal) for c in circles]
    reached = where(floors, shorter, ())[1]
    monkeypatch.setattr(reach, "MOST_CROSSED", 0)
    spots, served = where(floors, circles, ())
    for (x, y, number), row in zip(spots, served, strict=True):
        assert floors[int(number)].free(np.array([[x, y]]))[0]
        away = [math.hypot(x - c.x_m, y - c.y_m) - c.radius_m for c in circles]
        assert [bool(a <= 1e-9) for a in away] == row.tolist()
        assert any(np.all(most >= row) for most in exact)
    for row in reached:
        assert any(np.all(each >= row) for each in served)


@pytest.mark.parametrize("seed", range(6))
def test_parked_units_stand_clear(seed: int) -> None:
    shop = furnished(seed)
    on = {t.name: shop.hoses[0] for t in shop.tools}
    found = floor_map(shop, on, Draw(1), footprint_m=(0.7, 0.5))
    assert found is not None
    assert found.choices[0].spots
    for choice in found.choices:
        for parked in choice.spots:
            unit = unit_at(parked.x_m, parked.y_m, (0.7, 0.5), parked.turned)
            assert all(unit.intersection(Polygon(o.corners)).area < 1e-9 for o in found.outlines)
