"""What is drawn beside the fields is the thing that was measured, and examples are in its units."""

from __future__ import annotations

import re
import tomllib

import pytest

from kerfwind.app.understanding import example
from tests.app.conftest import Server
from tests.app.test_untaken import quantities

#: Units that no one with a metric tape reads.
INCHES = re.compile(r"\d (in|ft|US gal|cfm|inH2O|lb|°F)\b")


def feet(visit) -> tuple[float, float, float]:
    """How wide the bucket is drawn: under its rim, at the floor, over the rim."""
    box = "e => { const b = e.getBBox(); return [b.x, b.y, b.width, b.height] }"
    visit.field("separator-bucket-height")
    drawn = visit.page.locator("#shop-separator .outline")
    wall = re.findall(r"[\d.]+", drawn.locator(".wall").get_attribute("d"))
    left, _, floor_left, _, floor_right, right, _ = map(float, wall)
    rim = drawn.locator(".shape:not(.wall)").first.evaluate(box)[2]
    return right - left, floor_right - floor_left, rim


def measured(visit, *, rim: str, top: str, bottom: str) -> None:
    """Enter three diameters, one after the other, and wait for what they make."""
    for level, size in (("rim", rim), ("top", top), ("bottom", bottom)):
        visit.write(f"separator-bucket-{level}_diameter", size)
        visit.saved()
    said = f"#shop-separator [data-focus$=bottom_diameter] text:has-text('{bottom}')"
    visit.page.wait_for_selector(said, state="attached")
    visit.page.wait_for_selector("#frame-answer[data-state=checked]")


def test_a_bucket_is_drawn_as_it_tapers_and_a_drum_straight(visit):
    visit.field("separator-bucket-shape").select_option("drum")
    measured(visit, rim="392 mm", top="392 mm", bottom="392 mm")
    top, bottom, rim = feet(visit)
    assert top == bottom == pytest.approx(rim)
    visit.field("separator-bucket-shape").select_option("tapered")
    measured(visit, rim="330 mm", top="300 mm", bottom="240 mm")
    top, bottom, rim = feet(visit)
    assert bottom / top == pytest.approx(240 / 300, abs=0.01)
    assert rim / top == pytest.approx(330 / 300, abs=0.01)


def test_a_box_is_measured_by_its_lengths_and_widths(visit):
    visit.page.wait_for_selector("#separator-bucket-shape", state="attached")
    visit.field("separator-bucket-shape").select_option("box")
    visit.page.wait_for_selector("#shop-separator [data-focus$=top_width]", state="attached")
    visit.field("separator-bucket-height")
    for size in ("rim_length", "top_length", "bottom_length", "top_width", "height"):
        visit.page.locator(f"#shop-separator [data-focus$={size}] text").click()
        visit.page.wait_for_selector(f"#separator-bucket-{size}:focus")
    visit.go("start")
    assert visit.page.locator("#start-bucket #separator-bucket-top_width").count() == 1
    assert visit.page.locator("#start-bucket #separator-bucket-top_diameter").count() == 0


def test_every_example_is_taken_by_its_field():
    metric = {(kind, example(kind, True)) for _, kind in quantities()}
    assert len(metric) > 20
    for kind, text in metric:
        assert not INCHES.search(text)
        kind.read(text)
        assert example(kind, False) == kind.example


def test_examples_are_in_the_units_of_the_shop(visiting, tmp_path):
    server = Server(tmp_path / "new.toml")
    try:
        visit = visiting(server)
        visit.go("shop")
        shown = "all => all.map((e) => `${e.placeholder}`).join('; ')"
        inputs = visit.page.locator("main [data-state=empty] input")
        visit.page.wait_for_selector("#field-separator-bucket-top_length", state="attached")
        assert INCHES.search(inputs.evaluate_all(shown))
        visit.page.select_option("#switch-units", "mm")
        visit.wait_file(lambda text: 'units = "mm"' in text)
        visit.page.wait_for_selector("#vacuum-height[placeholder$=mm]", state="attached")
        visit.settled("shop")
        assert not INCHES.search(inputs.evaluate_all(shown))
        visit.page.locator("#shop-hoses button").click()
        text = visit.wait_file(lambda text: "hoses" in tomllib.loads(text))
        (hose,) = tomllib.loads(text)["hoses"]
        assert hose["length"] == "3.7 m"
        assert not INCHES.search(str(hose))
    finally:
        server.end()
