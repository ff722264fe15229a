"""A box whose corners nobody measured is not stopped for what was measured of it."""

from kerfwind.finding import Finding
from kerfwind.quantity import Draw
from tests.say import to_do

from ..cart.shops import cart_of, shop

BOX = (
    'shape = "box"\ntop_length = "16 in"\ntop_width = "12 in"\nbottom_length = "15 in"\n'
    'bottom_width = "11 in"\nrim_length = "17 in"\nrim_width = "13 in"\nrim_drop = "1 in"\n'
    'volume = "9 US gal"\n'
)
WISHES = 'hold_bucket = "rim"\nlargest_width = "40 in"\nlargest_length = "40 in"\n'


def rim(corner: str) -> Finding:
    """What is found of the rim of a box with this row of its corner."""
    cart = cart_of(shop(bucket=BOX + corner, wishes=WISHES), Draw(400), form="tower")
    return next(f for f in cart.findings if f.key == "cart.bucket.rim")


def test_an_assumed_corner_leaves_it_open_and_is_what_to_measure() -> None:
    found = rim("")
    assert found.level == "unknown"
    assert found.measure == ("separator.bucket.corner",)
    assert "radius of the box's upright corners" in to_do(found)


def test_a_measured_corner_settles_it() -> None:
    assert rim('corner = "1 in"').level == "good"
