"""What else a cart carries: its own things first, and each end of its ranges proved."""

import math

import pytest

from kerfwind.cart import with_entries
from kerfwind.checks import check_cart, make_steady
from kerfwind.checks.fit_range import (
    BucketSize,
    VacuumSize,
    bay_for_most,
    fit_range_of,
    opening_for_most,
    shop_for_most,
)
from kerfwind.shop import Sheet, Shop
from kerfwind.solids import shared_volume_m3
from kerfwind.sources import fact

from ..cart.proofs import prove
from ..cart.shops import NOMINAL, cart_of, shop

WIDE = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "36 in"\n'


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_a_cart_carries_what_it_was_built_for(form: str) -> None:
    s = shop(wishes=f'form = "{form}"\n{WIDE}')
    found = fit_range_of(s, cart_of(s))
    v, b = s.vacuum, s.separator.bucket
    assert found.vacuum(
        VacuumSize("own", v.length.best_si, v.width.best_si, v.height.best_si, v.weight.best_si)
    )
    assert found.bucket(
        BucketSize(
            "own",
            b.top_diameter.best_si,
            b.rim_diameter.best_si,
            b.height.best_si - b.rim_drop.best_si,
        )
    )
    assert found.vacuum_kg.low < found.vacuum_kg.high


def test_a_millimetre_more_than_its_range_does_not_fit() -> None:
    s = shop()
    found = fit_range_of(s, cart_of(s))
    wide = found.vacuum_width.high + 0.001
    assert not found.vacuum(VacuumSize("wide", 0.3, wide, 0.3, 8))
    assert not found.bucket(BucketSize("rimless", 0.2, found.across[0].rim.low - 0.001, 0.2))


@pytest.mark.parametrize("form", ["tower", "low"])
def test_a_standing_bucket_has_a_smallest_floor(form: str) -> None:
    """Shifted among its cleats as far as one of that floor can be, no strap meets the cyclone."""
    s = shop(wishes=f'form = "{form}"\nhold_bucket = "standing"\n{WIDE}')
    cart = cart_of(s)
    found, b = fit_range_of(s, cart), s.separator.bucket
    floor = found.across[0].floor
    side = b.height.best_si - b.rim_drop.best_si
    own = BucketSize(
        "own", b.top[0].best_si, b.rim[0].best_si, side, floor_diameter_m=b.bottom[0].best_si
    )
    assert found.bucket(own)
    assert not found.bucket(BucketSize("thin", 0.2, 0.25, side))
    assert cart.bucket is not None
    play = (cart.bucket.opening_m - floor.low) / 2
    assert 0.005 < play < 0.02
    cyclone = cart.body("cyclone")
    for name, way in (("front strap", -1.0), ("rear strap", 1.0)):
        shifted = cyclone.moved((0.0, way * (play - 1e-4), -0.02))
        assert shared_volume_m3(shifted, cart.body(name)) == 0.0


def test_the_heaviest_bucket_is_where_a_check_or_a_caster_gives_out() -> None:
    s = shop()
    cart = cart_of(s)
    most = fit_range_of(s, cart).full_bucket_kg.high
    full = sum(float(cart.parts[n].mass_kg[0]) for n in ("bucket", "cyclone", "dust"))
    assert most > full
    steady, layout = make_steady("tower", s, s.sheets[0], NOMINAL)
    found = fit_range_of(s, cart)
    more = s.separator.bucket.weight.best_si + most - full + 0.5
    slowest, heaviest = [], []
    for kg in (found.vacuum_kg.low, s.vacuum.weight.best_si, found.vacuum_kg.high):
        entries = {
            "separator.bucket.weight": f"{more:.2f} kg",
            "vacuum.height": f"{found.vacuum_height.high * 1000:.2f} mm",
            "vacuum.weight": f"{max(kg, 0.5):.3f} kg",
        }
        again = check_cart(*with_entries(steady, s.sheets[0], entries), NOMINAL, layout)
        walk = {f.key: f.value for f in again.findings}["cart.push.stumble"]
        assert walk is not None
        slowest.append(walk.best)
        heaviest.append(max(float(w.most_n.max()) for w in again.wheel_loads))
    rated = s.wishes.caster_load.low_si * fact("general.gravity").value
    assert min(slowest) < 1.0 + 0.9 * 0.6 or max(heaviest) > rated


def test_a_cart_that_fails_a_check_claims_no_other_weights() -> None:
    s = shop(
        wishes='ballast = "0 kg"\noutriggers = "0 in"\nlargest_width = "21 in"\n'
        'largest_length = "21 in"\n'
    )
    cart = cart_of(s)
    assert {f.key: f.level for f in cart.findings}["cart.push.stumble"] != "good"
    found = fit_range_of(s, cart)
    assert found.vacuum_kg.high == pytest.approx(s.vacuum.weight.best_si, rel=0.01)


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_the_heaviest_bucket_stands_in_every_state(form: str) -> None:
    """With the vacuum lifted out, too: then nothing heavy is left below."""
    s = shop(wishes=f'form = "{form}"\noptions = ["handle"]\n{WIDE}')
    steady, layout = make_steady(form, s, s.sheets[0], NOMINAL)
    cart = check_cart(steady, s.sheets[0], NOMINAL, layout)
    full = sum(float(cart.parts[n].mass_kg[0]) for n in ("bucket", "cyclone", "dust"))
    more = fit_range_of(s, cart).full_bucket_kg.high - full - 0.02
    assert more > 0
    dust = cart.parts["dust"]
    litres = s.separator.bucket.volume.best_si * 1000 * (1 + more / float(dust.mass_kg[0]))
    again = check_cart(*_fuller(steady, litres), NOMINAL, layout)
    tilt = min(float(t.min()) for st in again.stands for t in st.tilt_rad.values())
    assert tilt >= fact("cart.tilt.angle").value - math.radians(0.3)


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_the_ranges_hold_together(form: str) -> None:
    """The tallest vacuum, at either end of its weight, beside the heaviest bucket."""
    s = shop(wishes=f'form = "{form}"\n{WIDE}')
    steady, layout = make_steady(form, s, s.sheets[0], NOMINAL)
    cart = check_cart(steady, s.sheets[0], NOMINAL, layout)
    found = fit_range_of(s, cart)
    full = sum(float(cart.parts[n].mass_kg[0]) for n in ("bucket", "cyclone", "dust"))
    bucket = s.separator.bucket.weight.best_si + found.full_bucket_kg.high - full
    assert found.vacuum_height.high <= 1.25 * s.vacuum.height.best_si + 1e-9
    rated = steady.wishes.caster_load.low_si * fact("general.gravity").value
    for kg in (max(found.vacuum_kg.low, 0.5), found.vacuum_kg.high):
        other, sheet = with_entries(
            steady,
            s.sheets[0],
            {
                "vacuum.height": f"{found.vacuum_height.high * 1000:.2f} mm",
                "vacuum.weight": f"{kg:.3f} kg",
                "separator.bucket.weight": f"{bucket:.3f} kg",
            },
        )
        again = check_cart(other, sheet, NOMINAL, layout)
        tilt = min(float(t.min()) for st in again.stands for t in st.tilt_rad.values())
        assert tilt >= fact("cart.tilt.angle").value - math.radians(0.5), (form, kg)
        assert max(float(w.most_n.max()) for w in again.wheel_loads) <= 1.03 * rated


def _fuller(s: Shop, litres: float) -> tuple[Shop, Sheet]:
    return with_entries(s, s.sheets[0], {"separator.bucket.volume": f"{litres:.2f} L"})


def test_one_bay_for_the_most_of_a_table() -> None:
    table = [
        VacuumSize("small", 0.30, 0.30, 0.40, 6),
        VacuumSize("middle", 0.45, 0.44, 0.55, 9),
        VacuumSize("huge", 0.80, 0.60, 0.80, 20),
    ]
    bay = bay_for_most(table, 0.5, 0.5, 0.7)
    assert bay.carried == ("small", "middle")
    assert (bay.length_m, bay.width_m, bay.height_m) == (0.45, 0.44, 0.55)
    assert bay_for_most(table, 0.1, 0.1, 0.1).carried == ()


def test_one_opening_for_the_most_buckets() -> None:
    """By hand: spans 286.6 to 299, 288.6 to 303, 296.6 to 309, 320.6 to 334 mm."""
    table = [
        BucketSize("a", 0.285, 0.305, 0.3),
        BucketSize("b", 0.287, 0.309, 0.3),
        BucketSize("c", 0.295, 0.315, 0.3),
        BucketSize("drum", 0.319, 0.340, 0.4),
    ]
    found = opening_for_most(table)
    assert found.carried == ("a", "b", "c")
    assert found.diameter_m == pytest.approx(0.295 + fact("cart.opening.play").value / 2)


def test_the_cart_for_a_table_carries_what_it_says() -> None:
    vacuums = [VacuumSize("one", 0.40, 0.38, 0.5, 8), VacuumSize("two", 0.45, 0.45, 0.48, 10)]
    buckets = [BucketSize("a", 0.285, 0.305, 0.30), BucketSize("b", 0.287, 0.309, 0.33)]
    s, held, hung = shop_for_most(shop(), vacuums, buckets)
    assert held == ("one", "two")
    assert hung == ("a", "b")
    cart = cart_of(s)
    prove(cart)
    found = fit_range_of(s, cart)
    assert all(found.vacuum(v) for v in vacuums)
    assert all(found.bucket(b) for b in buckets)
    # Slope and casters are judged by what the largest holds: here a third more than was owned.
    litres = math.pi / 4 * 0.287**2 * 0.33 * 1000
    assert s.separator.bucket.volume.best_si * 1000 == pytest.approx(litres, rel=2e-3)
    assert s.separator.bucket.weight.best_si == pytest.approx(
        shop().separator.bucket.weight.best_si, rel=0.1
    )


def test_a_box_for_a_round_bucket_weighs_by_its_own_walls() -> None:
    """Round to box of the same sizes: four sides for a circumference, 4/pi of the wall."""
    s = shop()
    own = s.separator.bucket
    wide, deep = own.top[0].best_si, own.height.best_si
    box = BucketSize("box", wide, wide + 0.04, deep, wide, wide + 0.04)
    boxed, _, hung = shop_for_most(s, [], [box])
    assert hung == ("box",)
    weight = boxed.separator.bucket.weight.best_si
    assert weight == pytest.approx(own.weight.best_si * 4 / math.pi, rel=0.06)


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_the_deepest_bucket_ends_above_what_is_under_it(form: str) -> None:
    s = shop(wishes=f'form = "{form}"\nhold_bucket = "rim"\n{WIDE}')
    cart = cart_of(s)
    deepest = fit_range_of(s, cart).bucket_side.high
    under = "bottom" if form == "low" else "vacuum"
    floor = cart.sizes.shelf_top_m - deepest
    assert floor >= float(cart.body(under).high[2]) - 1e-6
    own = s.separator.bucket
    assert deepest >= own.height.best_si - own.rim_drop.best_si
