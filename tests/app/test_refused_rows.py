"""Rows of which the page knows an old name, and messages that cannot be taken: told, never sent for ever."""

from __future__ import annotations

import json
import secrets
import tomllib

import pytest
from websockets.sync.client import connect

from tests.app.conftest import PATIENCE_MS


@pytest.fixture
def away(visiting, server, cable):
    """A page whose connection is cut."""
    visit = visiting(server, proxy={"server": cable.address})
    visit.go("shop")
    cable.cut()
    visit.page.wait_for_selector("#connection[data-state=lost]")
    return visit


def tools(text):
    """The tools of a shop file, by name."""
    return {row["name"]: row for row in tomllib.loads(text)["tools"]}


def test_a_name_that_another_tool_has_is_refused_at_its_field(visit):
    visit.write("tools-0-name", "mitre saw")
    said = visit.page.locator("#field-tools-0-name .refused")
    said.wait_for()
    assert "mitre saw" in said.inner_text()
    assert "mitre saw 2" in said.inner_text()
    assert not visit.page.locator("#clash").is_visible()
    visit.page.wait_for_selector("#connection[data-state=untaken]")
    visit.write("vacuum-height", "33 in")
    text = visit.wait_file(lambda text: "33 in" in text)
    assert sorted(tools(text)) == ["mitre saw", "sander"]
    visit.write("tools-0-name", "mitre saw 2")
    visit.wait_file(lambda text: "mitre saw 2" in text)


def asked_after_a_renaming(away, visit, cable) -> str:
    """What the one whose link was cut is asked, the sander having been renamed meanwhile."""
    visit.write("tools-0-name", "palm sander")
    visit.wait_file(lambda text: "palm sander" in text)
    cable.mend()
    away.page.wait_for_selector("#clash[open]")
    said = away.text("#clash")
    assert "sander is called palm sander now" in said
    return said


def test_what_was_entered_for_a_tool_goes_to_it_under_its_new_name(away, visit, cable):
    away.write("tools-0-amps", "7 A")
    assert "7 A" in asked_after_a_renaming(away, visit, cable)
    away.page.locator("#clash button").first.click()
    away.saved()
    text = away.wait_file(lambda text: "7 A" in text)
    assert tools(text)["palm sander"]["amps"] == "7 A"


def test_two_who_give_a_tool_the_same_name_are_not_asked(away, visit, cable):
    away.write("tools-0-name", "palm sander")
    away.write("vacuum-height", "33 in")
    visit.write("tools-0-name", "palm sander")
    visit.wait_file(lambda text: "palm sander" in text)
    cable.mend()
    away.wait_file(lambda text: "33 in" in text)
    away.saved()
    assert not away.page.locator("#clash").is_visible()


def test_two_rename_a_tool_and_one_of_the_names_is_chosen(away, visit, cable):
    away.write("tools-0-name", "my sander")
    asked_after_a_renaming(away, visit, cable)
    away.page.locator("#clash button").first.click()
    text = away.wait_file(lambda text: "my sander" in text)
    away.saved()
    assert sorted(tools(text)) == ["mitre saw", "my sander"]


def test_what_was_entered_for_a_tool_that_was_taken_away_is_told_of(away, visit, cable):
    away.write("tools-0-amps", "7 A")
    away.write("vacuum-height", "33 in")
    visit.field("tools-0-amps")
    visit.page.locator('[data-do=remove][data-place=\'["tools","sander"]\']').click()
    visit.wait_file(lambda text: "sander" not in text)
    cable.mend()
    away.page.wait_for_selector("#clash[open]")
    said = away.text("#clash")
    assert "sander was taken away" in said
    assert "7 A" in said
    mine, other = away.page.locator("#clash button").all()
    assert not mine.is_visible()
    other.click()
    away.saved()
    text = away.wait_file(lambda text: "33 in" in text)
    assert "7 A" not in text


def test_who_renames_a_tool_goes_on_at_once(away, cable):
    away.write("tools-0-name", "palm sander")
    away.write("tools-0-amps", "7 A")
    cable.mend()
    text = away.wait_file(lambda text: "7 A" in text)
    assert tools(text)["palm sander"]["amps"] == "7 A"
    away.saved()
    assert not away.page.locator("#clash").is_visible()


@pytest.mark.parametrize(
    "edits",
    [
        [{"place": ["tools", "sander"], "old": None, "new": "7 A"}],
        [{"place": ["tools", "gone", "amps"], "old": None, "new": "7 A"}],
        [{"place": 5, "old": None, "new": "7 A"}],
        [{"place": [["tools"]], "old": None, "new": "7 A"}],
        [{"place": ["vacuum", "height"], "old": None, "new": {"a": None}}],
        ["tools"],
    ],
)
def test_what_cannot_be_applied_is_answered_and_the_page_goes_on(server, edits):
    near = f"127.0.0.1:{server.port}"
    before = server.file.read_text()
    client = secrets.token_hex(8)
    with connect(f"ws://{near}/live", origin=f"http://{near}", open_timeout=None) as socket:

        def answer(seq, edits):
            socket.send(json.dumps({"t": "edit", "client": client, "seq": seq, "edits": edits}))
            while (heard := json.loads(socket.recv(PATIENCE_MS / 1000))).get("seq") != seq:
                pass
            return heard

        heard = answer(1, edits)
        assert heard["t"] in ("refused", "clash")
        assert "{" not in heard["text"]
        assert heard.get("edits", []) == []
        assert server.file.read_text() == before
        good = answer(2, [{"place": ["vacuum", "height"], "old": None, "new": "33 in"}])
        assert good["t"] == "ack"
