"""Handle, holders, rack, drawer, shelf and switch: in every form, proved on the solids."""

import json
import math
import re
from dataclasses import fields
from pathlib import Path
from typing import Literal

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from kerfwind.cart import CannotBuild, Cart, with_fixes
from kerfwind.cart.forms import tower
from kerfwind.cart.hosepath import bend_m
from kerfwind.cart.whole_cart import carried_bodies_of
from kerfwind.checks import build
from kerfwind.checks.tipping import SIDES
from kerfwind.cutting import nest
from kerfwind.facts import Statement
from kerfwind.hookup import choose
from kerfwind.one_cart import cart_view
from kerfwind.options.drawer import build_drawer, drawer_shapes
from kerfwind.options.fit import ORDER
from kerfwind.options.ledge import seat
from kerfwind.options.places import Blocked, NoScrewsError, OptionPlace, Site
from kerfwind.options.spool import coil_radii_m
from kerfwind.quantity import Draw
from kerfwind.search.sheet_choice import kinds_of, laid_panels, saw_of
from kerfwind.shop import Shop, parse_shop
from kerfwind.sources import fact
from kerfwind.words import Voice
from tests.say import refused, text, title_of, told

from .proofs import prove, prove_drilled, prove_it_or_its_remedy, prove_ways
from .shops import FITTINGS, NOMINAL, as_laid_out, cart_of, shop, shops

EXAMPLE = Path(__file__).parents[2] / "tests" / "shops" / "one_car.toml"
FORMS = ("tower", "backframe", "low")
WIDE = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "36 in"\n'


def wished(form: str, *options: str, more: str = FITTINGS, wishes: str = "") -> Shop:
    rows = f'form = "{form}"\nhold_bucket = "rim"\noptions = {json.dumps(options)}\n'
    return shop(wishes=rows + WIDE + wishes, more=more)


def built(s: Shop, draw: Draw = NOMINAL) -> Cart:
    cart = cart_of(s, draw)
    prove(cart)
    prove_ways(cart)
    return cart


@pytest.mark.parametrize("form", FORMS)
def test_each_option_in_each_form(form: str) -> None:
    # What steadies a cart changes with what it carries: here the options alone are to differ.
    plain = 'ballast = "0 lb"\noutriggers = "0 in"\n'
    bare = built(wished(form, wishes=plain))
    for option in ORDER:
        # On the low form's uprights, hose and switch find room on a board across the handle.
        also = ("handle",) if form == "low" and option in ("hose holder", "switch") else ()
        cart = built(wished(form, option, *also, wishes=plain))
        assert len(cart.panels) > len(bare.panels)
        assert len(cart.steps) > len(bare.steps)
        assert cart.wood_area_m2 > bare.wood_area_m2 or cart.sizes != bare.sizes


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("units", ["in", "mm"])
def test_all_that_is_told_of_an_option_is_in_the_readers_units(
    form: str, units: Literal["in", "mm"]
) -> None:
    """Whatever the rule is marked in: only what is bought by its size is named by that."""
    voice, other = Voice(units=units), r"\d mm\b" if units == "in" else r"\d in\b"
    together = (("fitting rack", "cord wrap", "drawer"), ("hose holder", "shelf"), ("switch",))
    measures = "metric" if units == "in" else "inch"
    kinds: set[str] = set()
    for wished_for in together:
        cart = built(wished(form, "handle", *wished_for, wishes=f'measures = "{measures}"\n'))
        told_of = [
            each
            for step in cart.steps
            for each in (step.title, *step.says, *step.cautions)
            if isinstance(each, Statement) and each.kind.startswith("options.")
        ]
        told_of += [home.place for home in cart.homes]
        kinds |= {each.kind for each in told_of}
        for each in told_of:
            assert re.search(other, voice.text(each)) is None
        for finding in cart.findings:
            if finding.key.startswith("cart.options."):
                said = voice.finding(finding)
                assert re.search(other, f"{said.answer} {said.do} {said.numbers}") is None
        dowels = [voice.text(h.what) for h in cart.hardware if h.kind == "dowel"]
        assert all(re.search(other, dowel) for dowel in dowels)
        assert bool(dowels) == ("fitting rack" in wished_for)
    assert {kind.split(".")[1] for kind in kinds} == {
        "handle",
        "hose",
        "cord",
        "drawer",
        "rack",
        "shelf",
        "switch",
        "hang",
        "seen",
    } | ({"handle_board"} if form == "low" else set())


@pytest.mark.parametrize("form", ["tower", "backframe"])
def test_many_options_at_once(form: str) -> None:
    options = ("handle", "hose holder", "drawer", "shelf", "switch", "cord wrap")
    cart = built(wished(form, *options), Draw(50))
    keys = [p.key for p in cart.panels]
    assert len(set(keys)) == len(keys) > 24
    assert {f.key for f in cart.findings} >= {
        "cart.options.handle",
        "cart.options.handle_holds",
        "cart.options.hose",
        "cart.options.switch",
        "cart.options.cord",
    }
    low, high = fact("cart.handle.height").span
    assert low <= cart.sizes.handle_m <= high


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_a_hand_reaches_into_the_drawer(form: str) -> None:
    """A hand is some 95 mm broad (common practice); an inch more is chosen where there is room."""
    floor = next(p for p in built(wished(form, "drawer")).panels if p.name == "drawer floor")
    assert floor.width_m >= 5 * 0.0254 - 1e-6
    assert floor.length_m > 0.25


def test_without_wishes_nothing_is_added() -> None:
    cart = as_laid_out(wished("tower"))
    assert not [
        name
        for name in cart.parts
        if name not in ("plywood", "casters", "vacuum", "bucket", "cyclone", "dust")
    ]
    assert cart.homes == ()


def test_the_coil_uses_up_the_hose_and_never_kinks_it() -> None:
    """A circle's circumference: turns x 2 pi r is the hose."""
    hose = wished("tower").hose("tool hose")
    for turns, radius in coil_radii_m(hose):
        assert radius >= bend_m(hose)
        assert turns * 2 * math.pi * radius == pytest.approx(hose.length.high_si)
    cart = built(wished("tower", "hose holder"))
    coil = cart.body("coiled hose")
    across = float(coil.high[2] - coil.low[2])
    assert across / 2 >= bend_m(hose)
    length = coil.volume_m3 / (math.pi * (hose.bore.best_si / 2 + 0.003) ** 2)
    assert length == pytest.approx(hose.length.best_si, rel=0.08)


def test_a_short_hose_hangs_too() -> None:
    text = (
        'name = "short"\nuse = "tool"\nbore = "57 mm"\nlength = "18 in"\nsmallest_bend = "110 mm"\n'
    )
    s = wished("tower", "hose holder")
    row = parse_shop(f'[[hoses]]\n{text}[[tools]]\nname = "a"\nhood = "pad holes"\n').shop.hoses[0]
    s = s.model_copy(update={"hoses": (s.hoses[0], row)})
    assert coil_radii_m(row) == [(1, pytest.approx(0.110))]
    built(s)


def test_a_seat_is_made_from_the_measured_ends() -> None:
    for fitting in wished("tower", "fitting rack").fittings:
        made = seat(fitting, 1, metric=True)
        a, b = fitting.end_a, fitting.end_b
        if made.peg:
            assert made.hole <= min(a.inside.low_si, b.inside.low_si) - 0.003
        else:
            down, up = (a, b) if made.down == "a" else (b, a)
            assert made.hole > down.outside.high_si
            assert up.outside.low_si > made.hole or fitting.turn.best_si > 0


@pytest.mark.parametrize("form", FORMS)
def test_the_rack_has_a_place_for_each_fitting(form: str) -> None:
    s = wished(form, "fitting rack")
    cart = built(s)
    names = [f.name for f in s.fittings for _ in range(f.count)]
    assert [h.fitting for h in cart.homes] == names
    assert len({h.place for h in cart.homes}) == len(names)
    boards = [p for p in cart.panels if p.name.endswith("board")]
    assert sum(len(p.openings) for p in boards) == len(names)


def test_each_board_of_the_rack_is_made_in_a_step_of_its_own() -> None:
    s = wished("tower", "fitting rack", more=FITTINGS + FITTINGS.replace('name = "', 'name = "2 '))
    cart = built(s)
    boards = [p.name for p in cart.placed if re.fullmatch(r"rack \d+ board", p.name)]
    assert len(boards) > 1
    steps = [step for step in cart.steps if "fitting rack" in title_of(step)]
    assert [[n for n in step.new if n in boards] for step in steps] == [[b] for b in boards]
    joints = {j.key: j for j in cart.joints}
    for step in steps:
        for key in step.joints:
            assert {joints[key].first, joints[key].second} & set(step.new)


def test_the_last_step_tells_of_fittings_only_where_there_are_any() -> None:
    for options, words in (
        (("hose holder",), "hose"),
        (("fitting rack",), "fittings"),
        (("hose holder", "fitting rack"), "hose and fittings"),
    ):
        last = built(wished("tower", *options)).steps[-1]
        said = f"{title_of(last)} {told(last)}"
        assert ("hose" in said) == ("hose" in words)
        assert ("fitting" in said) == ("fittings" in words)


def test_what_hangs_on_it_weighs_on_it() -> None:
    bare, s = built(wished("tower")), wished("tower", "hose holder")
    cart = built(s)
    stands = {x.state: x for x in cart.stands}
    hose = fact("cart.hose.mass").value * 0.057 * s.hose("tool hose").length.best_si
    gain = (
        stands["bucket full"].load.mass_kg - stands["bucket full, nothing hung on it"].load.mass_kg
    )
    assert float(gain[0]) == pytest.approx(hose)
    coil = cart.body("coiled hose")
    side = "left" if coil.high[0] < 0 else "right"
    before = next(x for x in bare.stands if x.state == "bucket full")
    assert stands["bucket full"].tilt_rad[side][0] < before.tilt_rad[side][0]
    assert cart.sizes.width_m > bare.sizes.width_m
    assert set(SIDES) == set(stands["bucket full"].tilt_rad)


def test_what_has_no_room_is_named_with_a_remedy_that_builds() -> None:
    s = wished("low", "switch")
    with pytest.raises(CannotBuild) as raised:
        cart_of(s)
    [unmet] = raised.value.unmet
    assert unmet.place == "wishes.options"
    assert "switch" in refused(unmet).found
    assert [text(fix.to) for fix in raised.value.fixes] == ["handle, switch"]
    prove(build(*with_fixes(s, s.sheets[0], raised.value.fixes), NOMINAL))


def test_what_a_handle_would_not_find_room_for_is_to_be_left_out() -> None:
    s = wished("low", "switch", "hose holder", "drawer")
    with pytest.raises(CannotBuild) as raised:
        cart_of(s)
    [unmet] = raised.value.unmet
    said = refused(unmet)
    assert said.found == "no room for hose holder, switch"
    assert said.mend.endswith("has room for hose holder. Leave the rest out.")
    [fix] = raised.value.fixes
    assert fix.passes
    assert text(fix.to) == "handle, hose holder, drawer"
    prove(build(*with_fixes(s, s.sheets[0], raised.value.fixes), NOMINAL))


def test_an_option_that_needs_what_the_shop_does_not_list_says_so() -> None:
    with pytest.raises(CannotBuild) as raised:
        cart_of(wished("tower", "fitting rack", more=""))
    [unmet] = raised.value.unmet
    said = refused(unmet)
    assert said.found == "no room for fitting rack (there is no fitting to keep on it)"
    assert said.mend == "Leave it out, or take another form."


def test_a_narrow_door_keeps_the_hose_off_the_sides() -> None:
    tight = 'largest_width = "21 in"\nlargest_length = "22 in"\n'
    rows = 'form = "tower"\noptions = ["hose holder"]\nnarrowest_door = "36 in"\n'
    s = shop(wishes=rows + tight)
    with pytest.raises(CannotBuild) as raised:
        cart_of(s)
    [unmet] = raised.value.unmet
    assert "the largest width of the cart" in refused(unmet).mend
    prove(build(*with_fixes(s, s.sheets[0], raised.value.fixes), NOMINAL))


def test_the_screws_of_a_plate_meet_no_other_screw() -> None:
    cart = built(wished("tower", "handle", "hose holder", "fitting rack", "cord wrap"))
    lengths = {h.key: h.length_m or 0.0 for h in cart.hardware}
    lines = [
        np.array(s.head_m)
        + np.linspace(0, 1, 9)[:, None] * lengths[s.hardware] * np.array(s.direction)
        for j in cart.joints
        for s in j.screws
    ]
    mounts = [
        np.array(s.head_m)
        + np.linspace(0, 1, 9)[:, None] * lengths[s.hardware] * np.array(s.direction)
        for j in cart.joints
        for s in j.screws
        if j.second in ("left side", "right side", "upper rail") and j.how == "glued-screwed face"
    ]
    assert mounts
    for one in mounts:
        near = [
            float(np.min(np.linalg.norm(one[:, None] - other[None], axis=2)))
            for other in lines
            if not np.allclose(one, other)
        ]
        assert min(near) > 0.005


def test_the_example_with_its_options_comes_out_of_half_a_sheet() -> None:
    """The cart that carries it all: what steadies it is more wood."""
    s = parse_shop(EXAMPLE.read_text()).shop
    for options in ((), s.wishes.options, ("handle", "hose holder", "fitting rack", "cord wrap")):
        each = s.model_copy(update={"wishes": s.wishes.model_copy(update={"options": options})})
        view = cart_view(each, choose(each, NOMINAL))
        cart = as_laid_out(view)
        prove(cart)
        found = nest(
            laid_panels(cart.panels, s.sheets[0].material),
            kinds_of(s.sheets[:1], cart.thickness_m),
            saw_of(s.saw),
            budget=60,
            seed=1,
        )
        assert found.sheets_bought == 2


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("joint", ["screwed butt", "pocket hole", "dado", "glue"])
def test_any_options_on_any_cart(form: str, joint: str) -> None:
    @settings(max_examples=8, phases=[Phase.generate])
    @given(shops(joint=joint), st.data())
    def one(s: Shop, data: st.DataObject) -> None:
        picked = data.draw(st.lists(st.sampled_from(ORDER), min_size=1, max_size=3, unique=True))
        wishes = s.wishes.model_copy(update={"options": tuple(picked), "form": form})
        rack = wished("tower").fittings
        count = data.draw(st.integers(0, len(rack)))
        s = s.model_copy(update={"wishes": wishes, "fittings": rack[:count]})
        prove_it_or_its_remedy(build, s, whole)

    def whole(cart: Cart) -> None:
        prove_ways(cart)
        prove_drilled(cart)

    one()


def test_the_outlet_strip_is_rated_for_no_less_than_the_vacuum_draws() -> None:
    s = shop(vacuum='amps = "12.3 A"\n', wishes='form = "tower"\noptions = ["switch"]\n' + WIDE)
    rows = {h.key: text(h.what) for h in cart_of(s).hardware}
    assert "rated for 13 A or more" in rows["outlet-strip"]


def test_a_place_that_is_given_up_leaves_no_trace() -> None:
    """Everything that putting an option in changes is as it was when its screws find no place."""
    s = wished("tower")
    layout = tower.lay_out(s, s.sheets[0], NOMINAL).joined
    site = Site.of(s, NOMINAL, layout, carried_bodies_of(s, layout)[0])
    touched: set[str] = set()

    def state() -> dict[str, str]:
        return {each.name: repr(getattr(site, each.name)) for each in fields(site)}

    def build(spot: OptionPlace) -> None:
        build_drawer(site, spot)
        site.woods.append(spot.wood)
        touched.update(name for name, was in before.items() if state()[name] != was)
        raise NoScrewsError

    before = state()
    assert isinstance(site.put(lambda wood: drawer_shapes(site, wood), build), Blocked)
    assert touched == {"layout", "woods", "low", "high", "extent", "top", "made"}
    assert state() == before
