"""What joints hold by their kind."""

import math

import pytest

from kerfwind.cart import Cart
from kerfwind.checks import strength
from kerfwind.checks.joints import bears_n, pulled_n
from kerfwind.joinery.fasteners import screw_size
from kerfwind.joinery.pockets import pocket_size
from kerfwind.quantity import Draw
from kerfwind.sources import fact

from ..cart.shops import NOMINAL, cart_of, shop
from ..say import answer

IN = 0.0254


LB = 4.4482216152605


WIDE = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "36 in"\n'


def made(form: str, joint: str, hold: str = "rim", more: str = "", draw: Draw = NOMINAL) -> Cart:
    s = shop(wishes=f'form = "{form}"\njoint = "{joint}"\nhold_bucket = "{hold}"\n{more}' + WIDE)
    return cart_of(s, draw)


def test_glue_alone_is_refused_where_end_grain_carries() -> None:
    cart = made("tower", "glue")
    s = shop(wishes='joint = "glue"\n' + WIDE)
    found = {f.key: f for f in strength(s, cart, NOMINAL, plate=False)}["cart.joints.kept"]
    assert found.level == "advice"
    assert found.outcome == "end_grain"
    assert "end grain" in answer(found)
    # The ballast's tray is screwed whatever is wished for: it must come off again.
    glued = [j for j in cart.joints if "tray" not in j.first]
    assert any(j.how == "screwed butt" for j in cart.joints if "tray" in j.first)
    for joint in glued:
        bare = not joint.screws
        face = joint.how == "glued face"
        assert bare == (face or not joint.carries), joint.how
        assert bool(joint.kept) == (not bare)


def test_a_pocket_screw_holds_less_than_one_through_the_face() -> None:
    butt, pocket = made("tower", "screwed butt"), made("tower", "pocket hole")
    one, two = (
        pulled_n(c, next(j for j in c.joints if j.second == "lower rail"), NOMINAL)[0]
        for c in (butt, pocket)
    )
    assert 0 < two < one
    # By hand: 2850 G² D by the thread in the face, three quarters in plywood, 0.67 for the slant,
    # and the part of it square to the joint.
    size = pocket_size(23 / 32 * IN, 23 / 32 * IN, screw_size(23 / 32 * IN, False), False)
    assert size is not None
    hand = 2850 * 0.45**2 * 0.164 * LB * size.out_m / IN * 0.75 * 0.67 * math.cos(math.radians(15))
    assert two == pytest.approx(hand, rel=1e-6)


def test_a_push_on_a_shelf_in_grooves_is_borne_by_one_shoulder() -> None:
    """Rebates at both ends: whichever way it is pushed, one shoulder bears."""
    cart = made("tower", "dado")
    side = next(p for p in cart.panels if p.name == "side")
    notch = sum(b for _, _, b in side.notches)
    rows = [j for j in cart.joints if j.first == "shelf"]
    hand = (side.width_m - notch) * IN / 4 * fact("cart.dado.bearing").value
    assert bears_n(cart, rows) == pytest.approx(hand, rel=0.02)
    assert bears_n(made("tower", "pocket hole"), rows) == 0
