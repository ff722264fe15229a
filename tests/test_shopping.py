"""What is bought, and at whose price."""

from types import SimpleNamespace

import pytest

from kerfwind.facts import Name
from kerfwind.joinery import HardwareItem
from kerfwind.plan import make_plan
from kerfwind.shop import parse_shop, read_shop
from kerfwind.shopping import rounded, shopping
from kerfwind.view.shopping import shopping_rows, shopping_table
from kerfwind.words import Voice
from tests.say import text
from tests.shops import shop_path


def lines_of(*items: HardwareItem):
    nothing = SimpleNamespace(purchases=(), printed=())
    return shopping(nothing, items, None)


def test_screws_are_bought_by_the_box():
    [line] = lines_of(
        HardwareItem("screw-4", Name("4 mm screw"), 130, (Name("edges"),), kind="screw")
    )
    assert (line.count, line.price, line.standing) == (2, 9.0, "about")
    assert text(line.note) == "a box of 100; 130 needed"


def test_a_price_is_found_by_kind_and_never_by_a_word_in_a_name():
    name = "fastener that suits the strap sander with the screw clamp"
    [line] = lines_of(
        HardwareItem("plate-fastener", Name(name), 4, (Name("plate"),), kind="fastener")
    )
    assert (line.price, line.standing) == (0.5, "about")
    assert text(line.what) == name
    assert text(line.note) == "plate"


def test_a_link_hose_that_is_long_enough_is_not_bought():
    hose = HardwareItem("link-hose", Name("hose"), 1, (Name("link"),), 1.2, kind="hose")
    nothing = SimpleNamespace(purchases=(), printed=())
    assert shopping(nothing, [hose], None, link_m=1.5) == ()
    assert len(shopping(nothing, [hose], None, link_m=1.0)) == 1


def test_a_row_says_whose_price_it_is_and_what_it_is_for():
    box = HardwareItem("screw-4", Name("4 mm screw"), 130, (Name("edges"),), kind="screw")
    foam = HardwareItem("foam", Name("foam strip"), 1, (Name("plate"),), kind="foam")
    with_foam = SimpleNamespace(purchases=(), printed=())
    priced, foamed = shopping_rows(lines_of(box, foam), Voice(currency="$"))
    _, unpriced = shopping_rows(
        shopping(with_foam, [box, foam], None, currency="€"), Voice(currency="€")
    )
    assert foamed["total"] == "about $5"
    assert priced == {
        "count": "2",
        "what": "4 mm screw (a box of 100; 130 needed)",
        "each": "about $9",
        "total": "about $18",
    }
    assert unpriced == {"count": "1", "what": "foam strip (plate)", "each": "", "total": ""}
    heading, *rows = shopping_table(lines_of(box, foam), Voice(currency="$"))
    assert heading[3:5] == ["each $", "together $"]
    assert [row[5] for row in rows] == ["about", "about"]


@pytest.mark.parametrize(
    ("price", "told"),
    [(0.2, 0.5), (3.7, 4), (9.4, 9), (17, 15), (43, 45), (178, 180), (1234, 1250)],
)
def test_a_guess_is_told_no_finer_than_it_is(price, told):
    assert rounded(price) == told


def test_more_is_never_told_as_less():
    told = [rounded(price / 100) for price in range(1, 120_000)]
    assert told == sorted(told)


def test_more_paint_costs_no_less():
    """Of two plans side by side, the one with more to paint."""
    nothing = SimpleNamespace(purchases=(), printed=())
    less, more = (shopping(nothing, [], None, paint_l=litres)[0].price for litres in (0.65, 0.7))
    assert less <= more


def test_a_hose_is_priced_by_its_length():
    def price(length_m):
        nothing = SimpleNamespace(purchases=(), printed=())
        hose = HardwareItem("link-hose", Name("hose"), 1, (Name("link"),), length_m, kind="hose")
        [line] = shopping(nothing, [hose], None)
        return line.price

    assert price(1.0) == 10
    assert price(3.0) == 30


def test_what_a_cart_wants_besides_wood_and_screws_is_on_the_list():
    plan = make_plan(read_shop(shop_path("one_car")), samples=64)
    told = [text(line.what) for line in plan.shopping]
    for word in ("paint", "edging", "glue", "screw", "caster"):
        assert any(word in each for each in told), word
    taped = [
        c
        for c in (*plan.hookups.tools, *plan.hookups.unit)
        if any(j.fit.kind == "needs tape" for j in c.joints)
    ]
    assert any("tape" in each for each in told) == bool(taped)
    assert all(
        line.standing != "about" or line.price == rounded(line.price) for line in plan.shopping
    )


def test_only_prices_of_the_file_are_told_in_money_that_the_program_does_not_know():
    words = shop_path("one_car").read_text(encoding="utf-8")
    plan = make_plan(parse_shop(words.replace('currency = "$"', 'currency = "€"')), samples=64)
    assert {line.standing for line in plan.shopping} == {"given", "none"}
    assert sum(line.cost for line in plan.shopping) == plan.nest.cost


def test_screws_alike_come_out_of_one_box():
    """Straps and the hose's anchor take the same screw: 8 and 2 of it are one box of a hundred."""
    plan = make_plan(read_shop("examples/boathouse.toml"), samples=64)
    lines = [line.what for line in plan.shopping if line.kind == "hardware"]
    assert len(lines) == len(set(lines))
    pan = [h for h in plan.cart.hardware if h.key in ("strap-screw", "anchor-screw")]
    assert [h.quantity for h in pan] == [8, 2]
    assert pan[0].what == pan[1].what
    [row] = [line for line in plan.shopping if line.what == pan[0].what]
    assert row.count == 1
    assert dict(row.note.facts)["needed"] == 10
