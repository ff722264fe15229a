"""What is bought, and at whose price."""

from types import SimpleNamespace

from kerfwind.facts import Name
from kerfwind.joinery import HardwareItem
from kerfwind.shopping import shopping
from kerfwind.view.shopping import shopping_rows, shopping_table
from kerfwind.words import Voice
from tests.say import text


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
    assert (line.price, line.standing) == (None, "none")
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
    priced, unpriced = shopping_rows(lines_of(box, foam), Voice(currency="$"))
    assert priced == {
        "count": "2",
        "what": "4 mm screw (a box of 100; 130 needed)",
        "each": "about $9",
        "total": "about $18",
    }
    assert unpriced == {"count": "1", "what": "foam strip (plate)", "each": "", "total": ""}
    heading, *rows = shopping_table(lines_of(box, foam), Voice(currency="$"))
    assert heading[3:5] == ["each $", "together $"]
    assert [row[5] for row in rows] == ["about", "none"]
