"""Plywood as it really measures: every thickness builds, or its remedy does."""

import pytest

from kerfwind.checks import backframe, low, tower
from kerfwind.checks.joints import joint_findings
from kerfwind.joinery.fasteners import into_face_m
from kerfwind.quantity import Draw
from kerfwind.sources import fact
from kerfwind.words import Voice

from .proofs import prove_it_or_its_remedy
from .shops import cart_of, shop
from .test_mixed import mixed

CARTS = (tower, backframe, low)
WIDE = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "40 in"\n'
#: 7/16, 1/2, 5/8 and 3/4 in as they are sold and as they measure, and metric ones a little off.
THICK = (11.0, 12.7, 13.0, 13.5, 13.9, 15.1, 17.0, 17.5, 20.5, 23.25, 25.0)


def plywood(t: float) -> str:
    return f'name = "s"\nthickness = "{t} mm"\nlength = "2440 mm"\nwidth = "1220 mm"\nprice = 70\n'


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("t", THICK)
def test_any_thickness_builds_or_its_remedy_does(t: float, units: str) -> None:
    for i, joint in enumerate(("screwed butt", "pocket hole", "dado", "glue")):
        form = CARTS[(i + round(t)) % 3]
        hold = ("rim", "standing")[i % 2]
        wishes = f'joint = "{joint}"\nhold_bucket = "{hold}"\n{WIDE}'
        s = shop(sheet=plywood(t), wishes=wishes, units=units)
        built = prove_it_or_its_remedy(form, s)
        assert built or joint == "pocket hole"


@pytest.mark.parametrize("units", ["in", "mm"])
def test_second_sheets_of_odd_thickness_build(units: str) -> None:
    for i, (main, second) in enumerate(
        [(11.0, 25.0), (25.0, 11.0), (12.7, 17.0), (17.0, 13.5), (13.9, 12.7), (23.5, 11.5)]
    ):
        s = mixed(
            "lipping",
            "cleat",
            "rail",
            "shelf",
            hold=("rim", "standing")[i % 2],
            main=f"{main} mm",
            second=f"{second} mm",
            units=units,
        )
        assert prove_it_or_its_remedy(CARTS[i % 3], s)


@pytest.mark.parametrize("metric", [False, True])
def test_two_faces_of_one_thickness_always_find_a_screw(metric: bool) -> None:
    """It leaves wood before its point and bites a third of the second, whatever they measure."""
    least, most = fact("cart.thickness.least").value, fact("cart.thickness.most").value
    for i in range(1001):
        t = least + (most - least) * i / 1000
        length = into_face_m(t, t, metric)
        assert length is not None
        assert t + t / 3 <= length <= 2 * t - 0.003 + 1e-9


def test_screws_that_only_draw_faces_together_are_told() -> None:
    """Through 11 mm into 11 mm the longest that stays inside, 5/8 in, bites 4.9 mm; 7/8 in 9.5 of 12.7."""
    told = {}
    for t in (11.0, 12.7):
        s = shop(sheet=plywood(t), wishes=WIDE)
        found = joint_findings(cart_of(s), Draw(20))
        told[t] = [f for f in found if f.key == "cart.joints.faces"]
    assert [f.level for f in told[11.0]] == ["advice"]
    assert "4.9 mm" in Voice(units="mm").finding(told[11.0][0]).answer
    assert told[12.7] == []
