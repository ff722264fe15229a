"""Panels of two thicknesses: joints, screws, sizes and checks follow each panel's own."""

import pytest

from kerfwind.cart import CannotBuild, with_fixes
from kerfwind.cart.work import surfaces
from kerfwind.checks import build, strength
from kerfwind.cutting import check_nest, cut_order, nest
from kerfwind.joinery.fasteners import into_edge_m, screw_size
from kerfwind.options import FORMS
from kerfwind.quantity import Draw
from kerfwind.search.sheet_choice import all_kinds, laid_panels, saw_of, second_group, sheet_groups
from kerfwind.shop import Shop
from kerfwind.sources import fact

from ..say import to_do
from .proofs import prove
from .shops import NOMINAL, cart_of, shop

WIDE = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "40 in"\n'
ROLES = {
    "lipping": ("lipping", "long lipping", "short lipping"),
    "cleat": ("bucket cleat",),
    "rail": ("rail",),
    "shelf": ("shelf",),
}


def mixed(
    *roles: str,
    form: str = "tower",
    hold: str = "rim",
    main: str = "18 mm",
    second: str = "12 mm",
    width: str = "1220 mm",
    more: str = "",
    units: str = "mm",
) -> Shop:
    rows = "".join(
        f'name = "{name}"\nthickness = "{t}"\nlength = "2440 mm"\nwidth = "{w}"\nprice = {p}\n{end}'
        for name, t, w, p, end in (
            ("main", main, "1220 mm", 70, "[[sheets]]\n"),
            ("second", second, width, 40, ""),
        )
    )
    listed = ", ".join(f'"{r}"' for r in roles)
    wishes = f'form = "{form}"\nhold_bucket = "{hold}"\n{WIDE}second_sheet = "second"\n'
    return shop(wishes=f"{wishes}second_panels = [{listed}]\n{more}", sheet=rows, units=units)


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
@pytest.mark.parametrize("second", ["12 mm", "25 mm"])
@pytest.mark.parametrize("roles", [(r,) for r in ROLES] + [tuple(ROLES)])
def test_each_role_has_its_thickness_and_all_touches(
    form: str, second: str, roles: tuple[str, ...]
) -> None:
    s = mixed(*roles, form=form, second=second, hold="standing" if "cleat" in roles else "rim")
    cart = cart_of(s)
    prove(cart)
    named = {name for role in roles for name in ROLES[role]}
    for panel in cart.panels:
        want = float(second.split()[0]) / 1000 if panel.name in named else 0.018
        assert panel.thickness_m == pytest.approx(want), panel.name
        assert panel.second == (panel.name in named)


@pytest.mark.parametrize("main", ["12 mm", "18 mm", "25 mm", "23/32 in"])
@pytest.mark.parametrize("second", ["11.9 mm", "15/32 in", "21 mm"])
def test_screws_follow_both_panels_and_no_point_comes_through(main: str, second: str) -> None:
    s = mixed(*ROLES, main=main, second=second, units="in")
    cart = cart_of(s)
    at = {p.name: cart.panel(p.key) for p in cart.placed}
    rows = {h.key: h for h in cart.hardware}
    bites: dict[str, list[tuple[float, float]]] = {}
    into_face: set[str] = set()
    for joint in cart.joints:
        first, other = at[joint.first].thickness_m, at[joint.second].thickness_m
        row = rows[joint.screws[0].hardware]
        assert row.length_m is not None
        if joint.how == "glued-screwed face":
            assert row.length_m <= first + other - fact("cart.screw.point").value + 1e-9
            into_face.add(row.key)
            continue
        size = screw_size(other, False)
        assert (row.diameter_m, row.pilot_hole_m) == (size.diameter_m, size.pilot_m)
        # As much of it bites as in plywood of one thickness: in diameters of the screw.
        key = "cart.screw.carries" if joint.carries else "cart.screw.lipping"
        depth = (fact(key).value - 23 / 32 * 0.0254) / (0.164 * 0.0254)
        bites.setdefault(row.key, []).append((row.length_m - first, depth * size.diameter_m))
    for key, found in bites.items():
        # One length serves several joints where it may: the joint that asks for most decides.
        assert all(bite >= wanted - 0.0066 for bite, wanted in found)
        assert key in into_face or any(bite <= wanted + 0.0066 for bite, wanted in found)
    drilled = {h.diameter_m for p in cart.panels for h in p.holes}
    assert drilled == {h.clearance_hole_m for h in cart.hardware if h.key.startswith("screw-")}


def test_a_shallow_edge_shortens_the_screw() -> None:
    size = screw_size(0.018, True)
    assert into_edge_m(0.018, size, True, True, 0.030) == pytest.approx(0.045)
    assert into_edge_m(0.018, size, True, True, 0.002) is None


def test_a_thinner_lipping_makes_the_cart_smaller_by_it() -> None:
    for form, many in (("tower", 1), ("backframe", 1), ("low", 2)):
        lengths = [
            FORMS[form](s, s.sheets[0], NOMINAL).sizes.length_m
            for s in (mixed("lipping", form=form, second=t) for t in ("18 mm", "12 mm"))
        ]
        assert lengths[0] - lengths[1] == pytest.approx(many * 0.006)


def test_a_thinner_shelf_sags_more_and_is_checked_as_thin() -> None:
    """Plate theory: a third of the stiffness is left at 12/18 of the thickness, (2/3)³."""
    sags = []
    for second in ("18 mm", "12 mm"):
        s = mixed("shelf", second=second)
        cart = cart_of(s, Draw(60))
        found = next(f for f in strength(s, cart, Draw(60)) if f.key == "cart.shelf.sag")
        assert found.value is not None
        sags.append(found.value.best)
        last = found
    assert sags[1] / sags[0] == pytest.approx((18 / 12) ** 3, rel=0.02)
    assert last.level == "good" or "second_panels" in to_do(last)


def test_the_nest_is_by_thickness() -> None:
    s = mixed("lipping", "cleat", "shelf", hold="standing", form="low")
    cart = cart_of(s)
    panels = laid_panels(cart.panels, "plywood", "plywood")
    kinds = all_kinds([s.sheets[0]], second_group(s), cart.panels)
    found = nest(panels, kinds, saw_of(s.saw), budget=60)
    assert check_nest(found, panels, kinds, saw_of(s.saw), cut_order(found, saw_of(s.saw))) == []
    thick = {p.name: p.thickness_m for p in panels}
    for sheet in found.sheets:
        assert {thick[p.panel] for p in sheet.pieces} == {sheet.kind.thickness_m}
    assert [[x.name for x in g] for g in sheet_groups(s)] == [["main"]]


@pytest.mark.parametrize(
    ("second", "width", "place"),
    [
        ("9 mm", "1220 mm", "second.thickness"),
        ("34 mm", "1220 mm", "second.thickness"),
        ("12 mm", "250 mm", "second.width"),
    ],
)
def test_a_second_sheet_that_does_not_do_is_named_with_a_remedy(
    second: str, width: str, place: str
) -> None:
    s = mixed("shelf", second=second, width=width)
    with pytest.raises(CannotBuild) as raised:
        cart_of(s)
    assert [u.place for u in raised.value.unmet] == ["wishes.second_sheet"]
    assert place in [fix.place for fix in raised.value.fixes]
    prove(build(*with_fixes(s, s.sheets[0], raised.value.fixes), NOMINAL))


def test_what_is_painted_follows_each_thickness() -> None:
    edges = [
        surfaces(cart_of(s))[1]
        for s in (mixed("lipping", "shelf", second=t) for t in ("18 mm", "12 mm"))
    ]
    assert edges[1] < edges[0]


def test_mass_and_centre_against_the_mesh_integral() -> None:
    """Closed forms against the volume integral over the solids, within 0.1 %."""
    s = mixed(*ROLES, hold="standing")
    cart = cart_of(s)
    density = fact("cart.plywood.density").value
    bodies = [cart.body(p.name) for p in cart.placed]
    mass = sum(b.mass_kg(density) for b in bodies)
    centre = sum(b.mass_kg(density) * b.centroid_m for b in bodies) / mass
    wood = cart.parts["plywood"]
    assert wood.mass_kg[0] == pytest.approx(mass, rel=1e-3)
    assert wood.centre_m[:, 0] == pytest.approx(centre, abs=1e-3 * cart.sizes.height_m)
