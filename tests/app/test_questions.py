"""Fields that two people have changed: each is asked about once, and no question is lost."""

from __future__ import annotations

import pytest


@pytest.fixture
def asked(visiting, visit, server, cable):
    """A page that changed two fields without a connection, one twice; another changed both."""
    away = visiting(server, proxy={"server": cable.address})
    away.go("shop")
    cable.cut()
    away.page.wait_for_selector("#connection[data-state=lost]")
    away.write("vacuum-height", "31 in")
    away.write("vacuum-height", "32 in")
    away.write("vacuum-width", "17 in")
    visit.write("vacuum-height", "30 in")
    visit.write("vacuum-width", "18 in")
    visit.wait_file(lambda text: "30 in" in text and "18 in" in text)
    cable.mend()
    away.page.wait_for_selector("#clash[open]:has-text('32 in')")
    return away


def test_each_field_is_asked_about_once_and_nothing_waits_then(asked, cable):
    mine, other = asked.page.locator("#clash button").all()
    assert "30 in" in other.inner_text()
    other.click()
    asked.page.wait_for_selector("#clash[open]:has-text('17 in')")
    assert asked.page.input_value("#vacuum-height") == "30 in"
    mine.click()
    asked.saved()
    text = asked.wait_file(lambda text: "17 in" in text)
    assert 'height = "30 in"' in text
    assert asked.page.input_value("#vacuum-width") == "17 in"
    assert not asked.page.locator("#clash").is_visible()
    # Nothing of it comes again with a new connection.
    cable.cut()
    asked.page.wait_for_selector("#connection[data-state=lost]")
    cable.mend()
    asked.saved()
    asked.settled("shop")
    assert not asked.page.locator("#clash").is_visible()
    assert asked.page.input_value("#vacuum-height") == "30 in"
    asked.write("vacuum-height", "29 in")
    asked.wait_file(lambda text: "29 in" in text)


def test_a_question_that_is_left_open_is_found_again(asked):
    asked.page.keyboard.press("Escape")
    sign = asked.page.locator("#connection[data-state=asked] button")
    sign.wait_for()
    assert "(2)" in sign.inner_text()
    assert not asked.page.locator("#clash").is_visible()
    assert asked.page.input_value("#vacuum-height") == "32 in"
    sign.click()
    asked.page.wait_for_selector("#clash[open]:has-text('32 in')")
    asked.page.locator("#clash button").first.click()
    asked.page.wait_for_selector("#clash[open]:has-text('17 in')")
    asked.page.locator("#clash button").last.click()
    asked.saved()
    asked.wait_file(lambda text: "32 in" in text and 'width = "18 in"' in text)
    assert asked.page.input_value("#vacuum-width") == "18 in"
