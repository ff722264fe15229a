"""Panels cut a little differently: the cart and its checks follow."""

import pytest

from kerfwind.cart import CannotBuild
from kerfwind.quantity import Draw
from kerfwind.shop import Shop
from tests.say import refused

from .proofs import prove, prove_ways
from .shops import as_laid_out, cart_of, shop

IN = 0.0254
WIDE = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "36 in"\n'


def as_built(form: str, rows: str = "") -> Shop:
    return shop(wishes=f'form = "{form}"\n{WIDE}', more=rows)


@pytest.mark.parametrize(
    ("form", "panel", "side"),
    [
        ("tower", "side", "length"),
        ("tower", "side", "width"),
        ("tower", "rail", "length"),
        ("tower", "bottom", "width"),
        ("backframe", "post", "length"),
        ("backframe", "bottom", "width"),
        ("low", "upright", "length"),
        ("low", "bottom", "width"),
    ],
)
def test_a_panel_three_millimetres_short(form: str, panel: str, side: str) -> None:
    planned = cart_of(as_built(form))
    was = getattr(next(p for p in planned.panels if p.name == panel), f"{side}_m")
    s = as_built(form, f'[[built]]\nname = "{panel}"\n{side} = "{(was - 0.003) * 1000:.2f} mm"\n')
    cart = cart_of(s)
    now = getattr(next(p for p in cart.panels if p.name == panel), f"{side}_m")
    assert now == pytest.approx(was - 0.003, abs=1e-5)
    prove(cart)


@pytest.mark.parametrize("hold", ["rim", "standing"])
@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
@pytest.mark.parametrize("off", [-0.003, 0.003])
def test_every_panel_is_followed_as_it_was_cut(form: str, hold: str, off: float) -> None:
    """Or the file is refused; no size that was measured is passed over."""
    wishes = f'form = "{form}"\nhold_bucket = "{hold}"\n{WIDE}'
    bare = shop(wishes=wishes)
    planned = cart_of(bare)
    refused = []
    for panel in planned.panels:
        for side in ("length", "width"):
            size = getattr(panel, f"{side}_m") + off
            row = f'[[built]]\nname = "{panel.name}"\n{side} = "{size * 1000:.2f} mm"\n'
            s = shop(wishes=wishes, more=row)
            try:
                cart = cart_of(s)
            except CannotBuild:
                refused.append((panel.name, side))
                continue
            now = getattr(cart.panel(panel.key), f"{side}_m")
            assert now == pytest.approx(size, abs=1e-5), (panel.name, side)
            prove(cart)
            prove_ways(cart)
    # Blocks, arms, cleats and the tray are cut again sooner than measured; a lipping between two
    # others cannot be longer.
    names = {name for name, _ in refused if not name.startswith("tray ")}
    assert names <= {"caster block", "outrigger", "bucket cleat", "short lipping"}
    assert ("short lipping", "length") not in refused or off > 0


def cut(form: str, panel: str, off: float) -> str:
    """A row for a panel as long as planned and ``off`` more [m]."""
    planned = cart_of(as_built(form))
    length = next(p.length_m for p in planned.panels if p.name == panel)
    return f'[[built]]\nname = "{panel}"\nlength = "{(length + off) * 1000:.1f} mm"\n'


def places_refused(s: Shop) -> list[str]:
    """Wishes and rows against which no cart can be built."""
    with pytest.raises(CannotBuild) as raised:
        cart_of(s)
    return [u.place for u in raised.value.unmet]


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_a_shelf_too_short_for_its_uprights_is_refused(form: str) -> None:
    assert places_refused(as_built(form, cut(form, "shelf", -0.02))) == ["built[shelf]"]


def test_rails_and_bottom_of_two_widths_are_refused() -> None:
    rows = cut("backframe", "bottom", 0.0) + cut("backframe", "rail", -0.004)
    assert places_refused(as_built("backframe", rows)) == ["built[rail]"]


def test_uprights_cut_too_short_let_the_bucket_stand_on_the_bottom() -> None:
    s = as_built("low", cut("low", "upright", -0.025))
    level = {f.key: f.level for f in cart_of(s, Draw(50)).findings}
    assert level["cart.bucket.clear"] == "stop"


def test_a_side_cut_much_too_short_stops_the_build() -> None:
    planned = cart_of(as_built("tower"))
    short = planned.sizes.bay_height_m - 3 * IN
    s = as_built("tower", f'[[built]]\nname = "side"\nlength = "{short * 1000:.1f} mm"\n')
    cart = cart_of(s, Draw(50))
    lift = next(f for f in cart.findings if f.key == "cart.fit.lift")
    assert lift.level == "stop"


def test_brackets_cut_too_deep_stop_the_build() -> None:
    """Under brackets the vacuum no longer comes out; between them only where the bottom is wide."""
    deep = '[[built]]\nname = "bracket"\nwidth = "14 in"\n'
    narrow = as_laid_out(as_built("backframe"))
    bottom = next(p for p in narrow.panels if p.name == "bottom")
    row = f'[[built]]\nname = "bottom"\nlength = "{bottom.length_m * 1000:.1f} mm"\n'
    s = as_built("backframe", deep + row)
    level = {f.key: f.level for f in as_laid_out(s, Draw(50)).findings}
    assert "stop" in (level["cart.fit.lift"], level["cart.fit.width"])
    s = as_built("backframe", deep)
    cart = as_laid_out(s, Draw(50))
    prove_ways(cart)
    level = {f.key: f.level for f in cart.findings}
    assert (level["cart.fit.lift"], level["cart.fit.width"]) == ("good", "good")


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
@pytest.mark.parametrize(
    ("mm", "hold"), [(20, "rim"), (300, "standing"), (300, "rim"), (3000, "rim")]
)
def test_impossible_sizes_are_refused_by_their_row(form: str, mm: int, hold: str) -> None:
    """Whatever was mistyped: a cart that is sound, or one that is stopped, or the row is named."""
    joints = ("screwed butt", "pocket hole", "dado", "glue")
    wishes = f'form = "{form}"\nhold_bucket = "{hold}"\n{WIDE}'
    bare = shop(wishes=wishes)
    planned = cart_of(bare)
    count = 0
    for i, (panel, side) in enumerate(
        (p, side) for p in planned.panels for side in ("length", "width")
    ):
        rows = f'[[built]]\nname = "{panel.name}"\n{side} = "{mm} mm"\n'
        s = shop(wishes=f'joint = "{joints[i % 4]}"\n{wishes}', more=rows)
        try:
            cart = cart_of(s)
        except CannotBuild as error:
            count += 1
            assert error.unmet[0].place == f"built[{panel.name}]"
            assert all(all(vars(refused(u)).values()) for u in error.unmet)
            continue
        if not any(f.level == "stop" for f in cart.findings):
            prove(cart)
        assert max(b.high[2] for b in cart.bodies if b.kind == "panel") < cart.sizes.height_m
    assert count > (8 if mm in (20, 3000) else 2)


def test_posts_whose_grooves_would_run_out_of_the_shelf_are_refused() -> None:
    s = shop(
        wishes=f'form = "backframe"\njoint = "dado"\n{WIDE}',
        more='[[built]]\nname = "post"\nwidth = "700 mm"\n',
    )
    assert places_refused(s)[0] == "built[post]"


def test_rows_that_are_impossible_only_together_are_all_named() -> None:
    """Rails for one width on a bottom for another: neither is wrong by itself."""
    rows = (
        '[[built]]\nname = "rail"\nlength = "24 in"\n[[built]]\nname = "bottom"\nlength = "20 in"\n'
    )
    s = as_built("tower", rows)
    assert places_refused(s) == ["built[rail]", "built[bottom]"]


def test_other_casters_move_the_height() -> None:
    s = shop(wishes='caster_height = "5 in"\n')
    taller = cart_of(s).sizes.height_m
    s = shop(wishes='caster_height = "4 in"\n')
    assert taller - cart_of(s).sizes.height_m == pytest.approx(1 * IN)


def test_a_panel_of_another_form_is_named() -> None:
    s = as_built("tower", '[[built]]\nname = "post"\nlength = "40 in"\n')
    with pytest.raises(CannotBuild) as raised:
        cart_of(s)
    assert raised.value.unmet[0].place == "built[post]"
    assert "side" in refused(raised.value.unmet[0]).allowed
