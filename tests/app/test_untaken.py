"""What is entered and cannot be taken stays in its field, and every place says so."""

from __future__ import annotations

import pytest

from kerfwind.app.server import PLACES
from kerfwind.app.understanding import NotUnderstood, bounds, keys_of, kind_of, understood
from kerfwind.shop.kinds import Kind
from kerfwind.shop.model import Shop
from kerfwind.shop.schema import model_in

MASS = "#field-vacuum-weight"


def quantities(model: type = Shop, at: tuple[str | int, ...] = ()):
    """Every field of the shop file that holds a quantity."""
    for name, field in model.model_fields.items():
        inner = model_in(field.annotation)
        path = (*at, name)
        if inner is not None:
            row = str(field.annotation).startswith("tuple")
            yield from quantities(inner, (*path, 0) if row else path)
        elif (kind := kind_of(path)) is not None:
            yield path, kind


@pytest.mark.parametrize("metric", [False, True])
def test_the_bounds_that_are_told_are_both_taken(metric):
    data = {"about": {"units": "mm" if metric else "in"}}
    told = 0
    for path, kind in quantities():
        for text in bounds(kind, ".".join(keys_of(path)), metric):
            assert understood(path, text, data) == text
            told += 1
    assert told > 100


def test_bounds_are_told_as_a_person_measures():
    mass = Kind("mass", "1 kg", "100 kg", "21 lb")
    assert bounds(mass, "vacuum.weight", False) == ("2.21 lb", "220 lb")
    assert bounds(mass, "vacuum.weight", True) == ("1 kg", "100 kg")
    cold = Kind("temperature", "-30 °C", "60 °C", "50..80 °F")
    assert bounds(cold, "room.temperature", False) == ("-22 °F", "140 °F")


def test_a_decimal_comma_is_a_point_where_it_can_be_nothing_else():
    place, data = ("vacuum", "weight"), {}
    assert understood(place, "5,2 kg", data) == "5.2 kg"
    assert understood(place, "5,2..6,25 kg", data) == "5.2..6.25 kg"
    assert understood(("vacuum", "height"), "20,5", data) == "20.5 in"
    for unclear in ("1,234 g", "1,234,5 g", "5, 2 kg"):
        with pytest.raises(NotUnderstood):
            understood(place, unclear, data)


def refused(visit, text: str) -> None:
    """Enter a weight that no vacuum has."""
    visit.write("vacuum-weight", text)
    visit.page.wait_for_selector(f"{MASS} .refused")


def test_what_is_not_taken_is_told_of_everywhere_and_stays(visit):
    page = visit.page
    before = visit.server.file.read_text()
    refused(visit, "200 kg")
    said = visit.text(f"{MASS} .refused")
    assert "“200 kg” is not taken" in said
    assert "2.21 lb to 220 lb" in said
    assert "Check the number" in said
    assert "except what is not taken" in visit.text("#connection")
    for place in PLACES:
        page.evaluate("place => { location.hash = place }", place)
        visit.settled(place)
        told = page.locator("#untaken")
        assert told.is_visible(), place
        assert "Entries that are not taken: 1." in told.inner_text()
        assert "200 kg" in told.inner_text()
        assert page.locator("#frame-changed").is_hidden()
    page.click("#untaken [data-field]")
    page.wait_for_selector("main[data-shown=shop] .lit #vacuum-weight:focus")
    assert page.input_value("#vacuum-weight") == "200 kg"
    assert page.get_attribute("#vacuum-weight", "aria-invalid") == "true"
    assert visit.text(f"{MASS} .refused") == said
    # Another answer changes; what is not taken is still there, after a look away too.
    visit.write("vacuum-amps", "8 A")
    visit.wait_file(lambda text: '"8 A"' in text)
    visit.settled("shop")
    assert page.input_value("#vacuum-weight") == "200 kg"
    page.reload()
    visit.settled("shop")
    assert page.input_value("#vacuum-weight") == "200 kg"
    assert page.locator("#untaken").is_visible()
    assert "200 kg" not in visit.server.file.read_text()
    # It is mended.
    visit.write("vacuum-weight", "20 kg")
    visit.wait_file(lambda text: '"20 kg"' in text)
    page.locator("#untaken").wait_for(state="hidden")
    visit.saved()
    assert page.locator(".refused").count() == 0
    assert before != visit.server.file.read_text()


def test_what_is_not_taken_is_taken_back(visit):
    page = visit.page
    visit.write("vacuum-weight", "20 lb")
    visit.wait_file(lambda text: '"20 lb"' in text)
    visit.settled("shop")
    refused(visit, "tall")
    page.locator("#vacuum-weight").press("Escape")
    assert page.input_value("#vacuum-weight") == "20 lb"
    assert page.locator("#untaken").is_hidden()
    visit.saved()
    # By hand, without a keyboard, from where its field is not.
    refused(visit, "heavy")
    page.click("nav a[href='#cart']")
    visit.settled("cart")
    page.click("#untaken [data-back]")
    assert page.locator("#untaken").is_hidden()
    visit.saved()
    page.click("nav a[href='#shop']")
    visit.settled("shop")
    assert page.input_value("#vacuum-weight") == "20 lb"
    assert page.locator(".refused").count() == 0
    # Back by typing what stood there.
    refused(visit, "heavy")
    visit.write("vacuum-weight", "20 lb")
    page.locator("#untaken").wait_for(state="hidden")
    assert page.locator(".refused").count() == 0


def test_what_is_not_taken_goes_with_its_row(visit):
    page = visit.page
    visit.write("tools-0-port-inside", "wide")
    page.wait_for_selector("#untaken:not([hidden])")
    visit.write("tools-0-name", "my sander")
    page.wait_for_selector("#tools-0-port-inside[data-place*='my sander']", state="attached")
    visit.settled("shop")
    page.wait_for_selector("#field-tools-0-port-inside .refused", state="attached")
    assert page.input_value("#tools-0-port-inside") == "wide"
    visit.field("tools-0-name")
    page.locator("#fold-tools-0 > button[data-do=remove]").click()
    visit.wait_file(lambda text: "my sander" not in text)
    page.locator("#untaken").wait_for(state="hidden")
    visit.saved()
