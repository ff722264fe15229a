"""Which hose by reach: brute force over spots and hoses, and whole shops."""

from __future__ import annotations

import itertools
import tracemalloc

import numpy as np
import pytest

from kerfwind.hookup import Weights, choose
from kerfwind.hookup.placing import Reach, _lightest_set, reach
from kerfwind.quantity import Draw, parse
from kerfwind.shop import Shop
from kerfwind.shop.model import Rectangle
from tests.say import answer

from .shops import base, end, hose, size, with_parts
from .test_reach import place

NOMINAL = Draw(1)


@pytest.mark.parametrize("seed", range(60))
def test_hoses_and_moves_together_are_least(seed: int) -> None:
    """Every hose for every tool, every set of spots, tried one by one."""
    rng = np.random.default_rng(seed)
    tools, hoses, spots = 4, 2, 6
    serves = rng.random((spots, tools, hoses)) < 0.45
    pattern = base().tools[0]
    named = tuple(pattern.model_copy(update={"name": f"tool {i}"}) for i in range(tools))
    kinds = tuple(base().hoses[0].model_copy(update={"name": f"hose {i}"}) for i in range(hoses))
    added = np.round(rng.uniform(0, 9, (tools, hoses)), 2)
    move = float(rng.choice([0.0, 1.0, 4.0]))
    found = Reach(named, kinds, serves).lightest(added, move)
    within = [i for i in range(tools) if serves[:, i].any()]
    assert sorted(found) == [f"tool {i}" for i in within]

    def weight(picked: tuple[int, ...]) -> float:
        least = min(
            (
                n
                for n in range(1, spots + 1)
                for rows in itertools.combinations(range(spots), n)
                if all(serves[list(rows), i, h].any() for i, h in zip(within, picked, strict=True))
            ),
            default=np.inf,
        )
        if least == np.inf:
            return np.inf
        return sum(added[i, h] for i, h in zip(within, picked, strict=True)) + move * (least - 1)

    best = min(weight(p) for p in itertools.product(range(hoses), repeat=len(within)))
    mine = tuple(int(found[f"tool {i}"].split()[1]) for i in within)
    assert weight(mine) == pytest.approx(best)


def test_many_tools_and_many_spots_stay_small() -> None:
    """Half a million sets grow from two thousand: of most, only what they weigh is held."""
    cost = np.random.default_rng(4).uniform(1, 9, (300, 60))
    tracemalloc.start()
    chosen = _lightest_set(cost, 60.0)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert len(chosen) >= 2
    assert most < 100e6


def shop_with(*places: tuple[float, float], short_m: float, long_m: float) -> Shop:
    """Like tools in an 8 by 5 m room, a short hose that suits them and a long one that is
    narrower."""
    port = end(57.2, 62.4, length=50)
    kept = hose("short", end(62.6, 68, length=50)), hose("long", end(62.7, 68, length=50), 50.0)
    sized = tuple(
        h.model_copy(update={"length": parse(f"{m} m", "length")})
        for h, m in zip(kept, (short_m, long_m), strict=True)
    )
    shop = with_parts({f"tool {i}": port for i in range(len(places))}, (base().hoses[2], *sized))
    tools = tuple(
        t.model_copy(update={"place": place(*p), "rise": parse("0 m", "length")})
        for t, p in zip(shop.tools, places, strict=True)
    )
    room = shop.room.model_copy(
        update={"length": parse("8 m", "length"), "width": parse("5 m", "length")}
    )
    return shop.model_copy(update={"tools": tools, "room": room})


def on(shop: Shop, **weights: float) -> tuple[dict[str, str], object]:
    found = choose(shop, NOMINAL, weights=Weights(**weights), on_sale=())
    return {c.tool: c.hose for c in found.tools}, found.by_reach


def test_a_hose_that_reaches_from_no_free_spot_is_no_choice() -> None:
    shop = shop_with((4.0, 2.5), short_m=1.0, long_m=4.0)
    # A tool in the middle of a large outline: 1.25 m at least from where a unit may stand.
    wide = Rectangle(length=size(1800), width=size(1800))
    deep = shop.tools[0].model_copy(update={"size": wide})
    walled = shop.model_copy(update={"tools": (deep,)})
    near = reach(walled)
    assert near is not None
    assert near.allowed() == {"tool 0": frozenset({"long"})}
    assert on(walled)[0] == {"tool 0": "long"}
    said = [
        answer(f) for f in choose(walled, NOMINAL, on_sale=()).findings if f.key == "hookup.hoses"
    ]
    assert said == ["Not chosen from, since no free spot lets them reach: short at the tool 0."]
    # Without its outline the unit may stand beside it, and the short hose is the better.
    assert on(shop)[0] == {"tool 0": "short"}


def test_a_move_has_its_price() -> None:
    shop = shop_with((1.0, 2.5), (7.0, 2.5), short_m=2.0, long_m=4.5)
    stay, told = on(shop, move=0.0, second_hose=0.0)
    assert set(stay.values()) == {"short"}
    moved, told = on(shop, move=50.0, second_hose=0.0)
    assert set(moved.values()) == {"long"}
    assert (told.spots, told.other_spots) == (1, 2)  # type: ignore[attr-defined]
    assert told.other_adds < 0  # type: ignore[attr-defined]
    assert {t for t, *_ in told.changed} == {"tool 0", "tool 1"}  # type: ignore[attr-defined]


def test_the_answer_with_moves_is_no_heavier_than_without_asking_the_map() -> None:
    rng = np.random.default_rng(3)
    for _ in range(6):
        places = [(float(x), float(y)) for x, y in rng.uniform((0.5, 0.5), (7.5, 4.5), (5, 2))]
        shop = shop_with(*places, short_m=1.8, long_m=3.5)
        found = choose(shop, NOMINAL, on_sale=())
        near = reach(shop)
        assert near is not None
        weight = found.weight
        assert found.by_reach is not None
        hoses = {c.tool: c.hose for c in found.tools}
        assert near.spots(hoses) == found.by_reach.spots
        if found.by_reach.other_spots is not None:
            other = (
                weight
                + found.by_reach.other_adds
                + Weights().move * (found.by_reach.other_spots - found.by_reach.spots)
            )
            assert weight <= other + 1e-9
