"""What a person does on the page, with real clicks in a real browser."""

from __future__ import annotations

import os
import re
import signal
from contextlib import suppress
from pathlib import Path

import pytest

from kerfwind.app.server import PLACES
from tests.app.conftest import PATIENCE_MS, Server


def test_a_port_is_changed_and_the_verdict_changes(visit):
    visit.go("air")
    before = visit.text("#air-tools")
    visit.go("shop")
    visit.write("tools-0-port-inside", "1/2")
    visit.saved()
    visit.wait_file(lambda text: 'inside = "1/2 in"' in text)
    visit.go("air")
    after = visit.text("#air-tools")
    assert after != before
    assert "starved" in after or "weak" in after
    assert visit.server.file.read_text().startswith("# My own remark.")


def test_what_cannot_be_understood_stays_and_is_not_saved(visit):
    before = visit.server.file.read_text()
    visit.write("vacuum-height", "tall")
    visit.page.wait_for_selector("#field-vacuum-height .refused")
    assert visit.page.input_value("#vacuum-height") == "tall"
    assert visit.server.file.read_text() == before
    visit.write("vacuum-height", "21")
    visit.wait_file(lambda text: 'height = "21 in"' in text)
    assert visit.page.locator("#field-vacuum-height .refused").count() == 0


def test_undo_and_redo_outlive_the_server(own_visit):
    own_visit.write("vacuum-height", "21 in")
    own_visit.wait_file(lambda text: "21 in" in text)
    own_visit.server.end()
    own_visit.server.start()
    own_visit.go("shop")
    own_visit.page.click("#undo")
    own_visit.wait_file(lambda text: "21 in" not in text)
    own_visit.page.click("#redo")
    own_visit.wait_file(lambda text: "21 in" in text)


def test_the_link_is_cut_in_an_edit(visiting, server, cable):
    visit = visiting(server, proxy={"server": cable.address})
    visit.go("shop")
    cable.cut()
    visit.page.wait_for_selector("#connection[data-state=lost]")
    visit.write("vacuum-height", "23 in")
    visit.page.wait_for_timeout(4_000)
    assert "23 in" not in server.file.read_text()
    cable.mend()
    visit.saved()
    visit.wait_file(lambda text: 'height = "23 in"' in text)
    assert visit.page.input_value("#vacuum-height") == "23 in"


def test_the_server_is_killed_in_an_edit(own_visit):
    field = own_visit.field("vacuum-height")
    field.fill("19 in")
    own_visit.server.kill()
    field.press("Tab")
    own_visit.page.wait_for_selector("#connection[data-state=lost]")
    own_visit.server.start()
    own_visit.saved()
    own_visit.wait_file(lambda text: 'height = "19 in"' in text)


def begun_by(parent: int) -> int | None:
    """The process that plans, or the one that helps it; None while there is none."""
    for each in Path("/proc").iterdir():
        if not each.name.isdigit():
            continue
        with suppress(OSError):
            its_parent = int((each / "stat").read_text().rpartition(")")[2].split()[1])
            if its_parent == parent and b"spawn_main" in (each / "cmdline").read_bytes():
                return int(each.name)
    return None


def engine_of(server: Server) -> int | None:
    """The process that plans; None while there is none."""
    return begun_by(server.process.pid)


PROCESSES = pytest.mark.skipif(
    not Path("/proc/self/stat").exists(), reason="processes are found in /proc"
)


@PROCESSES
@pytest.mark.parametrize("end", ["end", "kill"])
def test_nothing_is_left_running_when_the_server_is_gone(own_visit, end):
    left = [engine := engine_of(own_visit.server)]
    if (os.cpu_count() or 1) > 1:
        left.append(begun_by(engine))
    assert None not in left
    getattr(own_visit.server, end)()
    for _ in range(PATIENCE_MS // 100):
        left = [each for each in left if running(each)]
        if not left:
            return
        own_visit.page.wait_for_timeout(100)
    raise AssertionError(left)


def running(process: int) -> bool:
    """Whether it is there and has not ended: what nobody asks for its end stays listed."""
    try:
        state = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


@PROCESSES
def test_a_planner_that_ends_again_and_again_is_told_of_and_begun_by_hand(own_visit):
    page, server = own_visit.page, own_visit.server
    os.kill(engine_of(server), signal.SIGKILL)
    page.wait_for_selector("#notice:not([hidden])")
    own_visit.write("vacuum-height", "21 in")
    own_visit.wait_file(lambda text: "21 in" in text)
    page.wait_for_selector("#frame-answer[data-state=checked]")
    for _ in range(PATIENCE_MS // 50):
        if page.locator("#given-up").is_visible():
            break
        if engine := engine_of(server):
            with suppress(ProcessLookupError):
                os.kill(engine, signal.SIGKILL)
        page.wait_for_timeout(50)
    assert "times in a row" in own_visit.text("#given-up")
    page.wait_for_timeout(500)
    assert engine_of(server) is None
    # What is entered meanwhile is kept.
    page.click("#given-up button")
    own_visit.settled("shop")
    assert page.locator("#given-up").is_hidden()
    own_visit.write("vacuum-height", "22 in")
    page.wait_for_selector("#frame-changed:not([hidden])")


def test_two_tabs_see_the_same(visiting, visit):
    other = visiting(visit.server)
    other.go("shop")
    visit.write("vacuum-height", "22 in")
    other.page.wait_for_selector("#vacuum-height:is(input)[data-old*='22 in']")
    assert other.page.input_value("#vacuum-height") == "22 in"
    other.write("vacuum-width", "18 in")
    visit.page.wait_for_selector("#vacuum-width[data-old*='18 in']")
    text = visit.wait_file(lambda text: "22 in" in text and "18 in" in text)
    assert text.count("height") == 1


def test_an_outside_edit_is_merged_and_said(visit):
    text = visit.server.file.read_text()
    visit.server.file.write_text(text.replace("8 ft", "12 ft"))
    visit.page.wait_for_selector("#notice:not([hidden])")
    visit.page.wait_for_selector("#hoses-0-length[data-old*='12 ft']", state="attached")
    visit.write("vacuum-height", "21 in")
    visit.wait_file(lambda text: "12 ft" in text and "21 in" in text)


def test_two_edits_of_one_field_are_asked_about(visiting, server, cable):
    visit = visiting(server, proxy={"server": cable.address})
    visit.go("shop")
    cable.cut()
    visit.page.wait_for_selector("#connection[data-state=lost]")
    visit.write("hoses-0-length", "9 ft")
    server.file.write_text(server.file.read_text().replace("8 ft", "12 ft"))
    visit.page.wait_for_timeout(2_500)
    cable.mend()
    visit.page.wait_for_selector("#clash[open]")
    said = visit.text("#clash")
    assert "9 ft" in said
    assert "12 ft" in said
    visit.page.locator("#clash button").first.click()
    visit.wait_file(lambda text: "9 ft" in text and "12 ft" not in text)


def test_a_file_that_cannot_be_read_leaves_the_last_plan(visit):
    text = visit.server.file.read_text()
    visit.server.file.write_text(text + "\n[[tools\n")
    visit.page.wait_for_selector("#notice:not([hidden]):has-text('line')")
    assert visit.page.locator("#frame-answer p").count()
    visit.server.file.write_text(text)
    visit.write("vacuum-height", "21 in")
    visit.wait_file(lambda text: "21 in" in text)


def test_a_phone_shows_it_without_scrolling_sideways(visiting, server):
    visit = visiting(server, width=390, height=844, has_touch=True, is_mobile=True)
    visit.go("shop")
    # With what a change did above all places.
    visit.write("hoses-0-length", "25 ft")
    visit.page.wait_for_selector("#frame-changed:not([hidden]) li")
    wide = {}
    for place in PLACES:
        visit.go(place)
        wide[place] = visit.page.locator("html").evaluate("e => e.scrollWidth")
    assert {place: width for place, width in wide.items() if width > 390} == {}


def test_a_tool_is_moved_with_the_keyboard_alone(visit):
    page = visit.page
    page.locator("nav a[href='#shop']").focus()
    for _ in range(200):
        page.keyboard.press("Tab")
        if page.locator("#floor .tool:focus").count():
            break
    page.keyboard.press("ArrowRight")
    visit.saved()
    visit.wait_file(lambda text: 'x = "9 ft"' not in text)


def test_a_tool_is_dragged(visit):
    box = visit.page.locator("#floor .tool[data-tool=sander] rect").first.bounding_box()
    mouse = visit.page.mouse
    mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    mouse.down()
    mouse.move(box["x"] - 60, box["y"] + 20, steps=5)
    mouse.up()
    text = visit.wait_file(lambda text: 'x = "9 ft"' not in text)
    assert re.search(r'x = "\d+ in"', text)
    visit.page.click("#undo")
    visit.wait_file(lambda text: 'x = "9 ft"' in text and 'y = "6 ft"' in text)


def test_from_nothing_to_a_printed_plan_without_a_unit(visiting, tmp_path):
    server = Server(tmp_path / "new.toml")
    try:
        visit = visiting(server)
        visit.go()
        assert visit.page.locator("main[data-shown=start]").count()
        visit.write("vacuum-height", "20 3/4")
        visit.write("vacuum-suction-sealed", "80")
        visit.write("separator-bucket-height", "14.5")
        visit.page.locator("#start-tools .kinds button").nth(2).click()
        visit.saved()
        text = visit.wait_file(lambda t: "80 inH2O" in t and "14.5 in" in t)
        assert "20 3/4 in" in text
        visit.page.locator("#start-done a").click()
        visit.settled("air")
        visit.go("paper")
        with visit.page.expect_download() as loading:
            visit.page.click("a[href='/take/plan.pdf']")
        assert loading.value.path().read_bytes().startswith(b"%PDF")
    finally:
        server.end()


def test_a_mixed_number_stays_on_one_line_and_can_be_taken_to_a_field(visiting, server):
    visit = visiting(server, width=390, height=844)
    visit.go("cart")
    rows = visit.page.evaluate(
        """() => {
          const found = [], walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
          while (walk.nextNode()) {
            for (const at of walk.currentNode.data.matchAll(/[0-9]+[^0-9a-z ]+[0-9]+[/][0-9]+/g)) {
              const range = document.createRange();
              range.setStart(walk.currentNode, at.index);
              range.setEnd(walk.currentNode, at.index + at[0].length);
              found.push([at[0], new Set([...range.getClientRects()].map((r) => r.top)).size]);
            }
          }
          return found;
        }"""
    )
    assert len(rows) > 5
    assert {lines for _, lines in rows} <= {0, 1}
    copied = next(text for text, lines in rows if lines == 1)
    visit.go("shop")
    visit.write("vacuum-height", copied + " in")
    plain = copied.replace("\u2060", "")
    assert plain != copied
    visit.wait_file(lambda text: f'height = "{plain} in"' in text)


def test_a_tool_is_renamed_and_the_days_work_goes_on_with_it(visit):
    visit.server.file.write_text(
        visit.server.file.read_text()
        + '\n[[sessions]]\nname = "a day"\noperations = [{ tool = "sander", time = "30 min" }]\n'
    )
    visit.page.wait_for_selector("#notice:has-text('taken over')")
    visit.settled("shop")
    visit.write("tools-0-name", "my sander")
    text = visit.wait_file(lambda text: text.count("my sander") == 2)
    assert '"sander"' not in text
    visit.page.wait_for_selector("#frame-answer[data-state=checked]")
    visit.saved()
    visit.page.click("#undo")
    visit.wait_file(lambda text: "my sander" not in text)
