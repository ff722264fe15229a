"""The exhaust's jet against published relations, and what is said of each side; the bench."""

import numpy as np
import pytest

from kerfwind.checks.exhaust import floor_speed_m_s, jet_speed_m_s
from kerfwind.finding import Finding
from kerfwind.quantity import Draw
from kerfwind.shop import AssumedText, Shop
from kerfwind.sources import fact

from ..cart.shops import NOMINAL, cart_of, shop
from ..say import answer, to_do

WIDE = 'largest_width = "48 in"\nlargest_length = "40 in"\nnarrowest_door = "36 in"\n'


def found(s: Shop, draw: Draw = NOMINAL) -> dict[str, Finding]:
    return {f.key: f for f in cart_of(s, draw).findings}


def best(each: Finding) -> float:
    assert each.value is not None
    return each.value.best


def out_on(side: str, form: str = "tower", more: str = "", wishes: str = "") -> Shop:
    vacuum = f'air_out_on = "{side}"\n{more}'
    return shop(vacuum=vacuum, wishes=f'form = "{form}"\n{WIDE}{wishes}')


def test_the_jet_keeps_most_of_its_momentum() -> None:
    """Pope (2000), section 5.1, from memory: the mean flow carries 85 to 95 % of it far away."""
    airflow, vents, x = 0.05, 0.004, 1.5
    on_axis = float(jet_speed_m_s(airflow, vents, x))
    r = np.linspace(0, 1.5, 20_001)
    profile = on_axis * np.exp(-np.log(2) * (r / (fact("cart.exhaust.spread").value * x)) ** 2)
    momentum = float(np.trapezoid(profile**2 * 2 * np.pi * r, r))
    assert momentum / (airflow**2 / vents) == pytest.approx(0.9, abs=0.06)


def test_close_to_the_vents_it_is_no_faster_than_it_left() -> None:
    assert float(jet_speed_m_s(0.04, 0.004, 0.01)) == pytest.approx(10)


def test_the_fastest_air_on_the_floor_is_the_profiles_own_maximum() -> None:
    airflow, vents, height = 0.05, 0.004, 0.5
    x = np.linspace(0.5, 60, 200_001)
    spread = fact("cart.exhaust.spread").value
    profile = jet_speed_m_s(airflow, vents, x) * np.exp(-np.log(2) * (height / (spread * x)) ** 2)
    assert float(floor_speed_m_s(airflow, vents, height)) == pytest.approx(
        np.sqrt(2) * float(profile.max()), rel=1e-6
    )


@pytest.mark.parametrize(
    ("form", "side", "level"),
    [
        ("tower", "front", "problem"),
        ("tower", "rear", "advice"),
        ("tower", "left", "good"),
        ("tower", "top", "good"),
        ("low", "rear", "good"),
        ("backframe", "rear", "advice"),
    ],
)
def test_nobody_stands_in_it(form: str, side: str, level: str) -> None:
    each = found(out_on(side, form))["cart.exhaust.person"]
    assert each.level == level
    assert bool(to_do(each)) == (level != "good")


def test_a_side_that_was_assumed_is_not_called_good() -> None:
    s = out_on("left")
    guess = {"air_out_on": AssumedText("left")}
    s = s.model_copy(update={"vacuum": s.vacuum.model_copy(update=guess)})
    each = found(s)["cart.exhaust.person"]
    assert each.level == "unknown"
    assert each.measure == ("vacuum.air_out_on",)


def test_low_vents_lift_dust_and_high_ones_do_not() -> None:
    draw = Draw(512)
    assert found(out_on("rear"), draw)["cart.exhaust.floor"].level in ("good", "unknown")
    given = 'suction = { sealed = "75 inH2O", open_airflow = "140 cfm" }\n'
    high = found(out_on("rear", more='exhaust_height = "18 in"\n' + given), draw)
    low = found(out_on("rear", more='exhaust_height = "1-1/2 in"\n' + given), draw)
    assert high["cart.exhaust.floor"].level == "good"
    assert low["cart.exhaust.floor"].level in ("problem", "advice")
    assert best(low["cart.exhaust.floor"]) > 2 * best(high["cart.exhaust.floor"])


def test_wood_before_the_vents_turns_it_down() -> None:
    each = found(out_on("right", "low"), Draw(256))["cart.exhaust.floor"]
    assert each.level == "advice"
    assert each.outcome == "turned_down"
    assert "wood stands" in answer(each)


@pytest.mark.parametrize(
    ("bench", "level", "out"),
    [("80 in", "good", None), ("45 in", "advice", "good"), ("30 in", None, "stop")],
)
def test_three_benches(bench: str, level: str | None, out: str | None) -> None:
    rows = found(out_on("rear", wishes=f'under_bench = "{bench}"\n'))
    levels = {key: rows[key].level for key in rows}
    assert levels.get("cart.under_bench") == level
    assert levels.get("cart.under_bench.lifted_out") == out


def test_no_bench_no_finding() -> None:
    assert not [key for key in found(out_on("rear")) if "bench" in key]


def test_the_bench_is_held_against_the_highest_thing() -> None:
    s = out_on("rear", wishes='under_bench = "45 in"\n')
    cart = cart_of(s)
    rows = {f.key: f for f in cart.findings}
    hose = cart.body("link hose").high[2]
    assert best(rows["cart.under_bench"]) == pytest.approx(hose, abs=1e-6)
    kept = [
        b for b in cart.bodies if b.name not in ("bucket", "cyclone", "cyclone inlet", "link hose")
    ]
    top = max(float(b.high[2]) for b in kept)
    assert best(rows["cart.under_bench.lifted_out"]) == pytest.approx(top, abs=1e-6)
