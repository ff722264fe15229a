"""A cart built from its panels as cut and its steps alone comes out as it was planned."""

from __future__ import annotations

import re
from dataclasses import replace
from importlib.resources import files

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kerfwind.cart import CannotBuild, Cart, with_entries, with_fixes
from kerfwind.checks import backframe, low, tower
from kerfwind.drawing.model import Label
from kerfwind.drawing.steps import step_drawing
from kerfwind.joinery.aligned import HAIR_M
from kerfwind.joinery.model import Alignment, Pocket
from kerfwind.options.fit import ORDER
from kerfwind.quantity import Draw
from kerfwind.shop import Shop
from kerfwind.view.placing import placings
from tests.say import VOICE

from .builder import NEAR_M, Builder, BuiltPanel, CannotFollowError
from .reader import rows_of
from .shops import FITTINGS, cart_of, shop, shops

#: Half of what separates two marks of a rule, twice over: each distance is rounded once.
_MARK_M = 0.0254 / 32
_LARGE = 'name = "4 x 8"\nthickness = "23/32 in"\nlength = "96 in"\nwidth = "48 in"\nprice = 60\n'
FORMS = (tower, backframe, low)


def built(cart: Cart) -> dict[str, BuiltPanel]:
    """The cart's panels as a builder puts them together."""
    letters = {p.name: p.key for p in cart.placed}
    return Builder(cart.panels, letters).follow(cart.steps)


def _seat(pocket: Pocket, thickness_m: float) -> tuple[float, float, float]:
    """Where the head of a pocket's screw sits, on the panel's drawing and in its depth."""
    back = pocket.reach_m - pocket.seat_m * np.cos(pocket.angle_rad)
    deep = pocket.seat_m * np.sin(pocket.angle_rad) * (1.0 if pocket.face == "upper" else -1.0)
    dx, dy = pocket.way
    return pocket.x_m + dx * back, pocket.y_m + dy * back, thickness_m / 2 + deep


def prove_built(cart: Cart) -> None:
    """What was built is what was planned, and every screw finds wood through its own hole."""
    made = built(cart)
    assert set(made) == {p.name for p in cart.placed}
    first = next(iter(made))
    moved = cart.body(first).low - made[first].low
    for name, panel in made.items():
        body = cart.body(name)
        assert panel.low + moved == pytest.approx(body.low, abs=NEAR_M), name
        assert panel.high + moved == pytest.approx(body.high, abs=NEAR_M), name
    rows = {h.key: h for h in cart.hardware}
    for joint in cart.joints:
        one, two = made[joint.first], made[joint.second]
        for screw in joint.screws:
            head = np.array(screw.head_m) - moved
            way = np.array(screw.direction)
            if joint.by_pockets:
                seat = min(
                    (two.point(*_seat(p, two.panel.thickness_m)) for p in two.panel.pockets),
                    key=lambda p: float(np.linalg.norm(p - head)),
                )
                assert np.linalg.norm(seat - head) < NEAR_M, (joint.first, joint.second)
                point = seat + (rows[screw.hardware].length_m or 0.0) * way
                assert np.all(point > one.low + 0.001), (joint.first, joint.second)
                assert np.all(point < one.high - 0.001), (joint.first, joint.second)
                continue
            hole = min(
                (
                    one.point(h.x_m, h.y_m, d)
                    for h in one.panel.holes
                    for d in (0.0, one.panel.thickness_m)
                ),
                key=lambda p: float(np.linalg.norm(p - head)),
            )
            assert np.linalg.norm(hole - head) < NEAR_M, (joint.first, joint.second)
            point = hole + (rows[screw.hardware].length_m or 0.0) * way
            assert np.all(point > two.low + 0.001), (joint.first, joint.second)
            assert np.all(point < two.high - 0.001), (joint.first, joint.second)


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
@pytest.mark.parametrize("joint", ["screwed butt", "pocket hole", "dado", "glue"])
def test_built_with_room_to_the_rear(form: str, joint: str) -> None:
    wishes = f'joint = "{joint}"\nextra_depth = "4 in"\nextra_width = "3 in"\nlargest_width = "40 in"\nlargest_length = "40 in"\n'
    prove_built(cart_of(shop(wishes=wishes), form=form))


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_built_with_options(form: str) -> None:
    options = '"handle", "cord wrap", "fitting rack"'
    if form != "low":
        options += ', "hose holder", "shelf", "drawer", "switch"'
    wishes = f'options = [{options}]\nlargest_width = "50 in"\nlargest_length = "50 in"\nextra_depth = "4 in"\nnarrowest_door = "48 in"\n'
    prove_built(cart_of(shop(wishes=wishes, more=FITTINGS), form=form))


def prove_readable(cart: Cart) -> None:
    """Built from the printed sentences, the panels stand where they are planned to a mark's width."""
    letters = {p.name: p.key for p in cart.placed}
    panels = {name: cart.panel(key) for name, key in letters.items()}
    steps = []
    for step in cart.steps:
        read = [row for line in placings(cart, step, VOICE) for row in rows_of(line, panels)]
        steps.append(replace(step, aligned=tuple(read)))
    made = Builder(cart.panels, letters, near_m=_MARK_M).follow(steps)
    assert set(made) == set(letters)
    first = next(iter(made))
    moved = cart.body(first).low - made[first].low
    for name, panel in made.items():
        assert panel.low + moved == pytest.approx(cart.body(name).low, abs=2 * _MARK_M), name


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
@pytest.mark.parametrize("joint", ["screwed butt", "dado"])
@pytest.mark.parametrize("hold", ["rim", "standing"])
def test_built_from_the_printed_sentences(form: str, joint: str, hold: str) -> None:
    wishes = (
        f'joint = "{joint}"\nhold_bucket = "{hold}"\nextra_depth = "4 in"\nextra_width = "3 in"\n'
        'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "48 in"\n'
    )
    prove_readable(cart_of(shop(wishes=wishes, sheet=_LARGE), form=form))


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_options_are_built_from_the_printed_sentences(form: str) -> None:
    wishes = (
        'options = ["handle", "cord wrap", "fitting rack"]\nlargest_width = "50 in"\n'
        'largest_length = "50 in"\nextra_depth = "4 in"\nnarrowest_door = "48 in"\n'
    )
    prove_readable(cart_of(shop(wishes=wishes, more=FITTINGS), form=form))


@settings(max_examples=12, deadline=None)
@given(s=shops(joint=None), which=st.sampled_from(FORMS))
def test_any_cart_is_built_as_planned(s: Shop, which) -> None:  # type: ignore[no-untyped-def]
    try:
        cart = which(s, s.sheets[0], Draw(1))
    except CannotBuild:
        return
    prove_built(cart)


@settings(max_examples=6, deadline=None)
@given(s=shops(joint=None), which=st.sampled_from(FORMS), data=st.data())
def test_any_cart_with_all_that_is_wished_for(s: Shop, which, data: st.DataObject) -> None:  # type: ignore[no-untyped-def]
    """Of 500 such, tried once, 162 were refused and built by their remedies; all came out as planned."""
    options = data.draw(st.lists(st.sampled_from(ORDER), unique=True, max_size=4))
    entries = {
        "wishes.options": ", ".join(options),
        "wishes.ballast": f"{data.draw(st.integers(0, 15))} kg",
        "wishes.outriggers": f"{data.draw(st.sampled_from([0, 25, 40, 60]))} mm",
        "wishes.hose_anchor": data.draw(st.sampled_from(["port", "low"])),
    }
    wished = data.draw(st.sets(st.sampled_from(sorted(entries))))
    changed = with_entries(s, s.sheets[0], {k: entries[k] for k in wished})
    try:
        cart = which(*changed, Draw(1))
    except CannotBuild as error:
        cart = which(*with_fixes(*changed, error.fixes), Draw(1))
    prove_built(cart)


def test_a_wrong_step_is_found_out() -> None:
    """Flush where the parts stand apart, and a row left out: the builder arrives elsewhere."""
    cart = cart_of(shop(wishes='extra_depth = "4 in"\nlargest_length = "40 in"\n'), form="tower")

    def with_rows(change) -> Cart:  # type: ignore[no-untyped-def]
        steps = tuple(
            replace(s, aligned=tuple(r for a in s.aligned for r in change(a))) for s in cart.steps
        )
        return replace(cart, steps=steps)

    def flush(row: Alignment) -> list[Alignment]:
        return [replace(row, offset_m=0.0) if row.how == "marked" else row]

    with pytest.raises(AssertionError):
        prove_built(with_rows(flush))
    with pytest.raises(CannotFollowError):
        prove_built(with_rows(lambda row: [] if row.how == "marked" else [row]))


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_each_distance_is_drawn_in_the_picture_of_its_step(form: str) -> None:
    wishes = (
        'hold_bucket = "standing"\nextra_depth = "4 in"\nlargest_width = "60 in"\n'
        'largest_length = "60 in"\nnarrowest_door = "48 in"\n'
    )
    cart = cart_of(shop(wishes=wishes, sheet=_LARGE), form=form)
    places = {p.name for p in cart.placed}
    seen = 0
    for step in cart.steps:
        wanted = {
            VOICE.plain().length(abs(r.offset_m), 32)
            for r in step.aligned
            if r.how == "marked" and r.part in places and abs(r.offset_m) >= HAIR_M
        }
        if not wanted:
            continue
        picture = step_drawing(cart, step, VOICE)
        assert picture is not None
        labels = {item.text for item in picture.items if isinstance(item, Label)}
        assert wanted <= labels, (step.number, wanted - labels)
        seen += len(wanted)
    assert seen


def test_no_sentence_of_a_step_says_where_a_part_goes() -> None:
    """Where parts go is found from the solids; a message that says it too could differ."""
    words = files("kerfwind.words") / "en"
    for room in ("cart", "options"):
        text = (words / f"{room}.ftl").read_text(encoding="utf-8")
        for line in text.splitlines():
            found = re.search(r"flush (with|at|below|above)|level with the|above the bottom", line)
            assert found is None, line
