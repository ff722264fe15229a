"""Each form with each joint, proved on its solids."""

import math

import pytest
from hypothesis import given, settings

from kerfwind.cart import CannotBuild, Cart, work
from kerfwind.cart.work import surfaces
from kerfwind.checks import backframe, low, tower
from kerfwind.facts import Fix
from kerfwind.joinery.drilled import drilled_m3
from kerfwind.joinery.fasteners import screw_size
from kerfwind.joinery.pockets import footprint, pocket_size
from kerfwind.quantity import Draw
from kerfwind.shop import Shop
from kerfwind.solids import exact
from kerfwind.sources import fact
from tests.say import minded, refused, told

from .proofs import prove, prove_drilled, prove_it_or_its_remedy
from .shops import NOMINAL, as_laid_out, cart_of, shop, shops

IN = 0.0254
LB = 4.4482216152605
FORMS = {"tower": tower, "backframe": backframe, "low": low}
JOINTS = ("pocket hole", "dado", "glue")
WIDE = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "36 in"\n'


def made(form: str, joint: str, hold: str = "rim", more: str = "", draw: Draw = NOMINAL) -> Cart:
    s = shop(wishes=f'form = "{form}"\njoint = "{joint}"\nhold_bucket = "{hold}"\n{more}' + WIDE)
    return cart_of(s, draw)


def test_no_screw_runs_into_another_where_a_rail_meets_side_and_bottom() -> None:
    """The rail's corner: screws along it from the side, and up into it from the bottom."""
    cart = made("tower", "glue")
    rows = {h.key: h.length_m or 0.0 for h in cart.hardware}
    up = next(j for j in cart.joints if (j.first, j.second) == ("bottom", "lower rail"))
    side = next(j for j in cart.joints if (j.first, j.second) == ("left side", "lower rail"))
    reach = max(s.head_m[0] + rows[s.hardware] for s in side.screws)
    assert min(s.head_m[0] for s in up.screws) > reach


def test_pockets_of_a_rail_do_not_meet_at_its_corners() -> None:
    cart = made("tower", "pocket hole")
    rail = next(p for p in cart.panels if p.name == "rail")
    boxes = [footprint(p) for p in rail.pockets]
    assert len(boxes) == 8
    for i, a in enumerate(boxes):
        for b in boxes[:i]:
            apart = max(b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3])
            assert apart >= fact("cart.pocket.margin").value - 1e-9


def test_thin_plywood_takes_no_pockets_and_says_so() -> None:
    s = shop(
        wishes='joint = "pocket hole"\n' + WIDE,
        sheet='name = "thin"\nthickness = "12 mm"\nlength = "2440 mm"\nwidth = "1220 mm"\n',
    )
    with pytest.raises(CannotBuild) as raised:
        cart_of(s)
    assert [u.place for u in raised.value.unmet] == ["wishes.joint"]
    assert raised.value.fixes == (Fix("wishes.joint", "screwed butt", True),)


def test_panels_that_go_into_grooves_grow_and_the_cart_does_not() -> None:
    butt, dado = (
        as_laid_out(shop(wishes=f'form = "tower"\njoint = "{joint}"\nhold_bucket = "rim"\n' + WIDE))
        for joint in ("screwed butt", "dado")
    )
    assert dado.sizes == butt.sizes
    sink = IN / 4
    for name, along, across in (("side", 2, 0), ("rail", 2, 1), ("shelf", 0, 0), ("bottom", 0, 0)):
        one = next(p for p in butt.panels if p.name == name)
        two = next(p for p in dado.panels if p.name == name)
        assert two.length_m - one.length_m == pytest.approx(along * sink)
        assert two.width_m - one.width_m == pytest.approx(across * sink)


def test_a_groove_stops_where_it_would_show() -> None:
    """No groove reaches the front edge of a shelf; the uprights are notched to pass its stop."""
    for form in FORMS:
        cart = made(form, "dado")
        shelf = next(p for p in cart.panels if p.name == "shelf")
        assert shelf.grooves
        assert all(g.face == "lower" for g in shelf.grooves)
        assert min(g.y_m for g in shelf.grooves) >= fact("cart.dado.stop").value
        assert not any(
            g.x_m < leg and g.y_m < leg for g in shelf.grooves for _, leg in shelf.chamfers
        )
    assert next(p for p in made("low", "dado").panels if p.name == "upright").notches


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("joint", JOINTS)
@pytest.mark.parametrize("hold", ["rim", "standing"])
def test_measured_shop_with_every_joint(form: str, joint: str, hold: str) -> None:
    cart = made(form, joint, hold)
    prove(cart)
    prove_drilled(cart)
    kinds = {j.how for j in cart.joints}
    assert {"pocket hole": "pocket screws", "dado": "glued dado", "glue": "glued face"}[
        joint
    ] in kinds


MIXED = (
    'name = "main"\nthickness = "{} mm"\nlength = "2440 mm"\nwidth = "1220 mm"\nprice = 30\n'
    '[[sheets]]\nname = "other"\nthickness = "{} mm"\nlength = "2440 mm"\nwidth = "1220 mm"\nprice = 20\n'
)


def mixed(form: str, joint: str, main: float, other: float, hold: str, bucket: str = "") -> Shop:
    return shop(
        bucket=bucket,
        units="mm",
        sheet=MIXED.format(main, other),
        wishes=f'form = "{form}"\njoint = "{joint}"\nhold_bucket = "{hold}"\nsecond_sheet = "other"\n'
        'second_panels = ["lipping", "cleat", "rail", "shelf"]\n' + WIDE,
    )


BOX = (
    'shape = "box"\ntop_width = "300 mm"\ntop_length = "380 mm"\nbottom_width = "290 mm"\n'
    'bottom_length = "370 mm"\nrim_width = "325 mm"\nrim_length = "405 mm"\ncorner = "40 mm"\n'
    'volume = "36 L"\n'
)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("joint", JOINTS)
@pytest.mark.parametrize(
    ("main", "other", "hold", "bucket"),
    [(18, 25, "rim", BOX), (21, 15, "standing", BOX), (18, 15, "rim", "")],
)
def test_two_thicknesses_and_a_box_with_every_joint(
    form: str, joint: str, main: float, other: float, hold: str, bucket: str
) -> None:
    cart = cart_of(mixed(form, joint, main, other, hold, bucket))
    prove(cart)
    prove_drilled(cart)


def test_grooves_and_pockets_follow_each_panels_own_thickness() -> None:
    cart = cart_of(mixed("tower", "dado", 18, 24, "rim"))
    deep = {p.name: {round(g.depth_m, 4) for g in p.grooves} for p in cart.panels if p.grooves}
    assert deep == {"side": {0.006}, "bottom": {0.006}, "shelf": {0.008}}
    shelf, play = next(p for p in cart.panels if p.name == "shelf"), fact("cart.dado.play").value
    only_sections = sorted(round(min(g.length_m, g.width_m) - play, 6) for g in shelf.grooves)
    assert only_sections == pytest.approx([0.018, 0.018, 0.024])
    pocket = cart_of(mixed("tower", "pocket hole", 18, 24, "rim"))
    rail = next(p for p in pocket.panels if p.name == "rail")
    seats = {p.to: p.seat_m for p in rail.pockets}
    for edge, into in (("left", 0.018), ("near", 0.018), ("far", 0.024)):
        size = pocket_size(0.024, into, screw_size(0.024, True), True)
        assert size is not None
        assert seats[edge] == pytest.approx(size.seat_m)


def test_screws_that_take_the_place_of_pockets_are_told_in_the_step() -> None:
    # A bottom that is deepened against tipping leaves room for the pockets.
    thin = as_laid_out(mixed("tower", "pocket hole", 18, 15, "rim"))
    bottom = next(j for j in thin.joints if (j.first, j.second) == ("bottom", "lower rail"))
    assert bottom.kept
    step = next(s for s in thin.steps if bottom.key in s.joints)
    assert "through the bottom's own holes" in told(step)
    thick = as_laid_out(mixed("tower", "pocket hole", 18, 18, "rim"))
    usual = next(s for s in thick.steps if s.title == step.title)
    assert "own holes" not in told(usual)


def test_a_second_sheet_too_thin_for_pockets_is_named() -> None:
    with pytest.raises(CannotBuild) as raised:
        cart_of(mixed("tower", "pocket hole", 18, 12, "rim"))
    assert raised.value.fixes == (Fix("wishes.joint", "screwed butt", True),)
    assert "leave `rail` out of `wishes.second_panels`" in refused(raised.value.unmet[0]).mend


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("joint", JOINTS)
def test_any_shop_with_every_joint(form: str, joint: str) -> None:
    refused: list[Shop] = []

    @settings(max_examples=4)
    @given(shops(joint=joint))
    def one(s: Shop) -> None:
        if not prove_it_or_its_remedy(FORMS[form], s):
            refused.append(s)

    one()
    # Only plywood that is too thin for pockets is refused: of either sheet.
    thin = [min(t.thickness.best_si for t in s.sheets) for s in refused]
    assert all(joint == "pocket hole" and t < 0.0155 for t in thin)


def test_a_rail_cut_short_is_followed_with_its_ends_in_grooves() -> None:
    whole = made("tower", "dado")
    rail = next(p for p in whole.panels if p.name == "rail")
    s = shop(
        wishes='joint = "dado"\n' + WIDE,
        more=f'[[built]]\nname = "rail"\nlength = "{rail.length_m * 1000 - 3:.4f} mm"\n',
    )
    short = cart_of(s)
    prove(short)
    assert short.sizes.bay_width_m == pytest.approx(whole.sizes.bay_width_m - 0.003, abs=1e-5)


def test_open_surface_with_grooves_is_the_solids_own() -> None:
    """Against the surface of all panels joined into one solid."""
    cart = made("tower", "dado")
    panels = [exact(cart.body(p.name)) for p in cart.placed]
    whole = panels[0]
    for each in panels[1:]:
        whole = whole + each
    faces, edges = surfaces(cart)
    # The joined solid shows the hair of play in each groove as well.
    assert faces + edges == pytest.approx(whole.surface_area(), rel=0.04)


def test_tools_hours_and_steps_know_the_joint() -> None:
    for joint, task, tool in (
        ("pocket hole", "pockets", "cart.tool.pocket_guide"),
        ("dado", "grooves", "cart.tool.router"),
    ):
        cart = made("tower", joint)
        s = shop(wishes=f'joint = "{joint}"\n' + WIDE)
        found = work(s, cart)
        assert task in {t.what.key for t in found.tasks}
        assert tool in [n.kind for n in found.tools]
        assert task[:5] in told(cart.steps[0])
        assert "clamp" in minded(cart.steps[0])


def test_holes_weigh_what_they_take() -> None:
    """Closed form: a circle by the thickness, less where a groove is already."""
    cart = made("tower", "dado")
    side = next(p for p in cart.panels if p.name == "side")
    r = side.holes[0].diameter_m / 2
    left = cart.thickness_m - IN / 4
    assert drilled_m3(side) == pytest.approx(len(side.holes) * math.pi * r**2 * left)


def test_copies_of_a_rail_share_their_pockets() -> None:
    """At 15.5 mm the upper rail's were 0.14 mm beside the lower one's, for two spans a hair apart."""
    sheet = 'name = "s"\nthickness = "15.5 mm"\nlength = "96 in"\nwidth = "48 in"\nprice = 70\n'
    s = shop(sheet=sheet, wishes=f'form = "backframe"\njoint = "pocket hole"\n{WIDE}')
    cart = cart_of(s)
    prove(cart)
    prove_drilled(cart)
