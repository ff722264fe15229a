"""Parking and reach by plain geometry."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.hookup.reach import Circle, crossing, fewest_sets, floor_map
from kerfwind.quantity import Draw, parse
from kerfwind.shop import Shop
from kerfwind.shop.model import Spot
from kerfwind.sources import fact

from .shops import base, size

SLACK = fact("hookup.hose_slack").value


def spot(x: float, y: float) -> Spot:
    return Spot(x=parse(f"{x} m", "length"), y=parse(f"{y} m", "length"))


def placed(*places: tuple[float, float], hose_m: float = 2.4, **more: object) -> Shop:
    """A room of 8 by 5 m with tools at places, no rise."""
    pattern = base().tools[0]
    tools = tuple(
        pattern.model_copy(update={
            "name": f"tool {i}", "place": spot(x, y), "rise": parse("0 m", "length"),
        })
        for i, (x, y) in enumerate(places)
    )  # fmt: skip
    hose = base().hoses[0].model_copy(update={"length": parse(f"{hose_m} m", "length")})
    room = base().room.model_copy(update={
        "length": parse("8 m", "length"), "width": parse("5 m", "length"),
        "outlets": more.get("outlets", ()),
    })  # fmt: skip
    circuit = base().circuit.model_copy(update={"cord": more.get("cord")})
    hoses = (hose, base().hoses[2])
    return base().model_copy(
        update={"tools": tools, "hoses": hoses, "room": room, "circuit": circuit}
    )


def mapped(shop: Shop):  # type: ignore[no-untyped-def]
    found = floor_map(shop, shop.hoses[0], Draw(1), footprint_m=(0.6, 0.6))
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
            assert s.needed_m <= choice.hose_m + 1e-6
            for name in s.tools:
                x, y = places[int(name.split()[1])]
                assert SLACK * math.hypot(s.x_m - x, s.y_m - y) <= s.needed_m + 1e-9


def test_a_longer_hose_never_needs_more_spots_and_costs_more_air() -> None:
    rng = np.random.default_rng(5)
    places = [(float(x), float(y)) for x, y in rng.uniform((0.3, 0.3), (7.7, 4.7), (8, 2))]
    choices = mapped(placed(*places)).choices
    spots = [(len(c.unserved), len(c.spots)) for c in choices if not c.owned]
    assert spots == sorted(spots, reverse=True)
    loss = [c.loss_pa for c in choices]
    assert loss == sorted(loss)
    assert loss[-1] / loss[0] == pytest.approx(choices[-1].hose_m / choices[0].hose_m)


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
    assert {f.about: f.level for f in found.findings}["tool 1"] == "problem"


def test_without_places_there_is_no_map() -> None:
    assert floor_map(base(), base().hoses[0], Draw(1)) is None


@given(
    st.floats(0, 5), st.floats(0, 5), st.floats(0.2, 4), st.floats(0, 5), st.floats(0, 5),
    st.floats(0.2, 4),
)  # fmt: skip
def test_crossings_lie_on_both_circles(
    ax: float, ay: float, ar: float, bx: float, by: float, br: float
) -> None:
    for x, y in crossing(Circle("a", ax, ay, ar), Circle("b", bx, by, br)):
        assert math.hypot(x - ax, y - ay) == pytest.approx(ar, abs=1e-5)
        assert math.hypot(x - bx, y - by) == pytest.approx(br, abs=1e-5)


@pytest.mark.parametrize("seed", range(60))
def test_fewest_sets_agrees_with_trying_all(seed: int) -> None:
    rng = np.random.default_rng(seed)
    member = rng.random((9, 7)) < 0.3
    member[rng.integers(0, 9, 7), np.arange(7)] = True
    found = fewest_sets(member)
    assert member[found].any(axis=0).all()
    least = next(
        n for n in range(1, 10)
        if any(member[list(rows)].any(axis=0).all() for rows in itertools.combinations(range(9), n))
    )  # fmt: skip
    assert len(found) == least
