"""What is said of the cart's height and depth holds of all of it, its link hose with it."""

import pytest

from tests.say import answer

from ..cart.shops import cart_of, shop


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_height_and_depth_are_those_of_the_hose_where_it_stands_over(form: str) -> None:
    cart = cart_of(shop(wishes='largest_width = "40 in"'), form=form)
    hose = next(b for b in cart.bodies if b.name == "link hose")
    wood = [b for b in cart.bodies if b.kind == "panel"]
    assert cart.sizes.height_over_hose_m == pytest.approx(
        max(cart.sizes.height_m, float(hose.high[2])), abs=0.005
    )
    front = min(float(b.low[1]) for b in [hose, *wood])
    rear = max(float(b.high[1]) for b in wood)
    assert cart.sizes.length_over_hose_m == pytest.approx(rear - front, abs=0.005)


def test_a_hose_over_the_wished_height_is_said_and_is_no_fault_of_the_wood() -> None:
    top = cart_of(shop(), form="tower").sizes
    assert top.hose_top_m > top.height_m
    between = (top.hose_top_m + top.height_m) / 2
    for wished, level in ((between, "advice"), (top.hose_top_m + 0.02, "good")):
        found = cart_of(shop(wishes=f'greatest_height = "{1000 * wished:.0f} mm"'), form="tower")
        said = {f.key: f for f in found.findings}
        assert said["cart.height.hose"].level == level
        assert said["cart.height"].level == "good"
    assert "high" in answer(said["cart.height.hose"])
