"""The places of the page and what is done in each, with real clicks."""

from __future__ import annotations

import ast
import io
import re
import zipfile
from pathlib import Path

import pytest

from kerfwind.app.form import literals_of
from kerfwind.app.server import PLACES
from kerfwind.facts import slug
from kerfwind.shop.model import Shop
from kerfwind.shop.schema import model_in
from kerfwind.words import Voice
from kerfwind.words.messages import messages
from tests.app.conftest import PATIENCE_MS, ROOT, SHOP, Server

_LABELS = {"look.label", "self.label"}
APP = ROOT / "src" / "kerfwind" / "app"


def test_every_text_of_the_page_is_there():
    names = set(messages("en").names())
    asked = [
        (file.name, node.args[0].value)
        for file in APP.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and (
            (isinstance(node.func, ast.Attribute) and ast.unparse(node.func) in _LABELS)
            or (isinstance(node.func, ast.Name) and node.func.id == "label")
        )
        and node.args
        and isinstance(node.args[0], ast.Constant)
    ]
    assert len(asked) > 60
    assert [a for a in asked if slug(f"app.{a[1]}") not in names] == []


def test_every_field_has_a_short_name_and_every_choice_a_word():
    voice = Voice()
    fields, values = set(), set()
    waiting: list[type] = [Shop]
    for model in waiting:
        for name, field in model.model_fields.items():
            fields.add(name)
            inner = model_in(field.annotation)
            if inner is not None and inner not in waiting:
                waiting.append(inner)
            values.update(literals_of(field.annotation))
    assert [f for f in sorted(fields) if not voice.can_say(f"field.{f}")] == []
    # Sizes and classes of standards go by their own names.
    own = re.compile(r"[A-Z]|FFP\d|\d+ AWG|[\d.]+ mm²")
    unsaid = [v for v in sorted(values) if not voice.can_say(f"choice.{slug(v)}")]
    assert [v for v in unsaid if not own.fullmatch(v)] == []


def test_a_tool_is_added_by_its_name_in_the_trade(visit):
    page = visit.page
    visit.go("start")
    page.fill("#new-tool", "Thicknesser")
    page.press("#new-tool", "Enter")
    visit.wait_file(lambda text: 'name = "Thicknesser"' in text and "planer hood" in text)
    page.fill("#new-tool", "xyzzy")
    page.press("#new-tool", "Enter")
    page.wait_for_selector("#notice:has-text('xyzzy')")
    assert "xyzzy" not in visit.server.file.read_text()


def test_a_day_of_work_is_told_of(visit):
    visit.go("breathing")
    visit.page.locator("#breathing-answer button").first.click()
    visit.wait_file(lambda text: "[[sessions]]" in text)
    visit.page.wait_for_selector("#breathing-0-limits table")
    assert visit.page.locator("#breathing-0-says svg").count() == 1


def test_a_remedy_is_applied_by_one_touch_and_taken_back(visit):
    page = visit.page
    page.wait_for_selector(".fixes button")
    before = visit.server.file.read_text()
    page.locator(".fixes button").first.click()
    visit.wait_file(lambda text: text != before)
    page.wait_for_selector("#frame-changed:not([hidden])")
    assert "→" in visit.text("#frame-changed") or "None" in visit.text("#frame-changed")
    assert page.locator("#undo .does").inner_text()
    page.click("#undo")
    visit.wait_file(lambda text: text == before)


def test_a_finding_leads_to_its_field_with_its_drawing_lit(visit):
    page = visit.page
    page.locator("#frame-todo .measure a").first.click()
    page.wait_for_selector(".lit :focus")
    visit.field("vacuum-height").focus()
    page.wait_for_selector("[data-focus=vacuum-height].drawn-lit")
    for size in ("length", "width"):
        page.locator(f"[data-focus=vacuum-{size}] text").first.click()
        page.wait_for_selector(f"#vacuum-{size}:focus")
        page.wait_for_selector(f"[data-focus=vacuum-{size}].drawn-lit")
        tape = page.locator(f"[data-focus=vacuum-{size}] .tape")
        assert tape.evaluate("e => getComputedStyle(e).visibility") == "visible"


def test_what_would_help_most_is_led_to(visit):
    page = visit.page
    page.locator("#frame-todo .do a", has_text="What would help most").first.click()
    page.wait_for_selector("main[data-shown=air] #air-help.lit")
    page.wait_for_selector("body[data-checking=no]")
    top = page.locator("#air-help").evaluate("e => e.getBoundingClientRect().top")
    assert 0 <= top < page.viewport_size["height"]
    # From within the place too.
    page.evaluate("scrollTo(0, 0)")
    page.locator("#frame-todo .do a").first.click()
    page.wait_for_selector("#air-help.lit")


def test_two_plans_side_by_side(visit):
    page = visit.page
    visit.go("compare")
    page.click("[data-aside=keep]")
    page.wait_for_selector("[data-aside=restore]")
    visit.go("shop")
    visit.write("hoses-0-length", "25 ft")
    visit.wait_file(lambda text: "25 ft" in text)
    visit.go("compare")
    page.wait_for_selector("#compare-differing tbody tr")
    told = visit.text("#compare-differing")
    assert re.search("Air|Dust", told)
    page.click("[data-aside=restore]")
    visit.wait_file(lambda text: "8 ft" in text)
    page.wait_for_selector("#compare-differing tbody", state="detached")


def test_units_are_switched_and_either_is_understood(visit):
    page = visit.page
    visit.go("cart")
    size = page.locator("#cart-answer dd").first
    assert re.search(r"\d in\b", size.inner_text())
    page.select_option("#switch-units", "mm")
    visit.wait_file(lambda text: 'units = "mm"' in text)
    page.wait_for_selector("#cart-answer dd:has-text('mm')")
    assert not re.search(r"\d in\b", size.inner_text())
    visit.go("shop")
    visit.write("vacuum-height", "540")
    visit.write("vacuum-length", "19 1/2 in")
    text = visit.wait_file(lambda text: "540 mm" in text and "19 1/2 in" in text)
    assert 'height = "540 mm"' in text


def test_a_panel_is_lit_from_the_list_and_from_the_model(visit):
    page = visit.page
    visit.go("cart")
    page.wait_for_selector("#model.turning canvas")
    first = page.locator("[data-marks]").first
    first.click()
    page.wait_for_selector("[data-marks][aria-pressed=true]")
    assert first.get_attribute("aria-pressed") == "true"
    marks = page.locator("[data-marks]").evaluate_all("all => all.map(e => e.dataset.marks)")
    scene = page.request.get(visit.server.address + "scene").json()
    assert set(marks) <= {b["mark"] for b in scene["bodies"]}
    canvas = page.locator("#model canvas")
    canvas.scroll_into_view_if_needed()
    box = canvas.bounding_box()
    # Beside the cart nothing is chosen, and nothing stays so.
    page.mouse.click(box["x"] + 3, box["y"] + 3)
    page.wait_for_selector("[data-marks][aria-pressed=true]", state="detached")
    spots = [(x / 100, y / 100) for y in range(30, 96, 6) for x in range(34, 67, 4)]
    for across, down in spots:
        page.mouse.click(box["x"] + box["width"] * across, box["y"] + box["height"] * down)
        if page.locator("[data-marks][aria-pressed=true]").count():
            return
    raise AssertionError("no panel of the model could be chosen")


def test_without_a_model_the_drawn_views_stand_in(visiting, server):
    visit = visiting(server)
    visit.foresee("WebGL")
    visit.page.add_init_script("HTMLCanvasElement.prototype.getContext = () => null")
    visit.go("cart")
    visit.page.wait_for_selector("#model .model-flat svg")
    visit.page.wait_for_selector("#model .model-flat svg >> nth=1")
    assert visit.page.locator("#model canvas").count() == 0
    assert not visit.page.locator("#apart").is_visible()


def test_the_cuts_are_played_in_order(visit):
    page = visit.page
    visit.go("cutting")
    page.click("[data-play='1']")
    page.click("[data-play='1']")
    now = page.locator(".play-sheet:not([hidden]) [data-state=now]")
    assert now.count() == 1
    assert page.locator(".play-said li:not([hidden])").count() == 1
    page.click("#play")
    page.wait_for_selector(".play-said li[data-at='4']:not([hidden])")
    made = page.locator("[data-state=done]").count()
    assert made >= 3
    page.click("#play")


def test_a_shop_file_is_opened_and_undone(visit, tmp_path):
    page = visit.page
    visit.go("start")
    other = tmp_path / "other.toml"
    other.write_text(SHOP.replace("A small shop", "The other shop"))
    page.set_input_files("#bring", other)
    visit.wait_file(lambda text: "The other shop" in text)
    page.wait_for_selector("#frame-title:has-text('The other shop')")
    page.click("#undo")
    visit.wait_file(lambda text: "A small shop" in text)
    visit.foresee("422")
    other.write_text("no shop at all [")
    page.set_input_files("#bring", [])
    page.set_input_files("#bring", other)
    page.wait_for_selector("#notice:has-text('Nothing was changed: '):has-text('line 1: ')")
    assert "A small shop" in visit.server.file.read_text()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_a_copy_of_what_is_here_already_changes_nothing(visit, tmp_path, encoding):
    visit.go("start")
    before = visit.text("#undo")
    copy = tmp_path / "copy.toml"
    copy.write_bytes(SHOP.replace("\n", "\r\n").encode(encoding))
    visit.page.set_input_files("#bring", copy)
    visit.page.wait_for_selector("#notice:has-text('nothing was changed')")
    assert "Undo" not in visit.text("#notice")
    assert visit.text("#undo") == before
    assert "\r" not in visit.server.file.read_bytes().decode()


def test_a_shop_file_that_no_one_takes_is_told_of(own_visit, tmp_path):
    other = tmp_path / "other.toml"
    other.write_text(SHOP)
    own_visit.go("start")
    own_visit.server.kill()
    own_visit.page.set_input_files("#bring", other)
    own_visit.page.wait_for_selector("#notice:has-text('could not be brought')")


def test_a_shop_file_is_dropped_on_the_page(visit):
    page = visit.page
    dropped = page.evaluate_handle(
        """text => {
          const held = new DataTransfer();
          held.items.add(new File([text], "other.toml", { type: "application/toml" }));
          return held;
        }""",
        SHOP.replace("A small shop", "The dropped shop"),
    )
    # A browser that is not told to take it would leave the page for the file.
    refused = page.locator("main").evaluate(
        "(e, held) => !e.dispatchEvent(new DragEvent('dragover', "
        "{ dataTransfer: held, bubbles: true, cancelable: true }))",
        dropped,
    )
    assert refused
    page.dispatch_event("main", "drop", {"dataTransfer": dropped})
    visit.wait_file(lambda text: "The dropped shop" in text)
    page.wait_for_selector("#frame-title:has-text('The dropped shop')")
    page.wait_for_selector("#notice:has-text('Undo brings back')")
    page.click("#undo")
    visit.wait_file(lambda text: "A small shop" in text)


def test_what_cannot_be_a_shop_file_is_refused_when_dropped(visit):
    page = visit.page
    before = visit.server.file.read_text()
    visit.foresee("413", "422")
    for content, times, why in (
        ("\xff\xfe", 1, "nothing that a shop has"),
        ("\0\x01\xff", 1, "a binary file"),
        ("[tool]\n", 1, "nothing that a shop has"),
        ("[tools\n", 1, "line 1: "),
        ("#", 3_000_000, "too large"),
    ):
        page.locator("main").evaluate(
            """(main, [content, times]) => {
              const bytes = Uint8Array.from(content.repeat(times), (letter) => letter.charCodeAt(0));
              const held = new DataTransfer();
              held.items.add(new File([bytes], "picture.png"));
              const options = { dataTransfer: held, bubbles: true, cancelable: true };
              main.dispatchEvent(new DragEvent("drop", options));
            }""",
            [content, times],
        )
        page.wait_for_selector(f"#notice:not([hidden]):has-text('{why}')")
        page.locator("#notice").evaluate("e => { e.hidden = true }")
    assert visit.server.file.read_text() == before


def test_the_rest_is_stopped_and_checked_after_all(visit):
    page = visit.page
    # A hand that is as quick as can be: it stops as soon as there is something to be stopped.
    page.evaluate(
        """() => {
          const seen = new MutationObserver(() => {
            if (document.body.dataset.checking !== "yes") return;
            document.querySelector("#enough").click();
          });
          seen.observe(document.body, { attributes: true, attributeFilter: ["data-checking"] });
          document.addEventListener("pointerdown", () => seen.disconnect(), { once: true });
        }"""
    )
    ends = "body[data-old=no] #frame-answer[data-state=stopped]"
    checked = "body[data-old=no][data-checking=no] #frame-answer[data-state=checked]"
    for sixteenth in range(1, 16, 2):
        visit.write("vacuum-height", f"21 {sixteenth}/16 in")
        visit.saved()
        page.wait_for_selector(f"{ends}, {checked}")
        if page.locator(ends).count():
            break
        # Everything was checked before the hand was there.
    assert "not checked" in visit.text("#frame-answer")
    page.locator("#working").wait_for(state="hidden")
    visit.go("air")
    assert "not checked" in visit.text("#air-help")
    page.click("#frame-answer [data-rest]")
    page.wait_for_selector("#frame-answer[data-state=checked]")
    assert "not checked" not in visit.text("#air-help")


def test_the_pages_are_seen_as_they_print_and_made_anew_when_asked(visit):
    page = visit.page
    visit.go("paper")
    first = page.locator("#printed img").first
    first.wait_for()
    assert re.fullmatch(r"Page 1 of \d+", first.get_attribute("alt"))
    drawn = "e => e.decode().then(() => e.naturalWidth / e.naturalHeight)"
    assert abs(first.evaluate(drawn) - 8.5 / 11) < 0.01
    before = first.get_attribute("src")
    # A change does not set them anew by itself.
    page.select_option("#switch-units", "mm")
    page.wait_for_selector("#show-pages:not([hidden])")
    assert first.get_attribute("src") == before
    page.click("#show-pages")
    page.wait_for_selector(f"#printed img:not([src='{before}'])")
    assert page.locator("#show-pages").is_hidden()
    # One of them by itself, as a touch opens it.
    answer = page.request.get(visit.server.address + first.get_attribute("src").lstrip("/"))
    assert answer.ok
    assert answer.body().startswith(b"<svg")


def test_from_nothing_and_from_the_example(visit):
    page = visit.page
    visit.go("start")
    page.click("[data-begin=nothing]")
    assert "tools" in visit.server.file.read_text()
    page.click("[data-begin=nothing]")
    visit.wait_file(lambda text: "tools" not in text)
    page.wait_for_selector("#frame-todo .stop")
    page.locator("#start-tools .kinds button").nth(2).click()
    visit.wait_file(lambda text: "tools" in text)
    page.wait_for_selector("#frame-answer[data-state=checked]")
    page.reload()
    visit.settled("start")
    page.click("[data-begin=example]")
    page.click("[data-begin=example]")
    visit.wait_file(lambda text: "Stools and chairs" in text)
    page.click("#undo")
    visit.wait_file(lambda text: "Stools and chairs" not in text)


def test_all_of_it_as_a_zip(visit):
    visit.go("paper")
    with visit.page.expect_download() as loading:
        visit.page.click("a[href='/take/everything.zip']")
    with zipfile.ZipFile(io.BytesIO(Path(loading.value.path()).read_bytes())) as held:
        names = held.namelist()
    assert {"plan.pdf", "shop.toml", "cuts.csv"} <= set(names)


def test_no_key_or_syntax_of_the_file_is_shown(visit):
    for place in PLACES:
        visit.go(place)
        visit.page.locator("details").evaluate_all("all => all.forEach(d => { d.open = true })")
        text = visit.page.locator("body").inner_text()
        found = re.findall(r"\[\[?\w+\]\]?|`[^`]*`|\b\w+_\w+\b|\w+\[[^\]]+\]\.?\w*|\w+ = \"", text)
        assert not found, f"{place}: {found[:5]}"


def test_the_same_file_twice_leads_to_the_page_that_is_open(visit):
    again = Server(visit.server.file, "--no-browser")
    again.process.wait(PATIENCE_MS / 1000)
    assert visit.server.address.rstrip("/") in again.address
    again.process.stdout.close()
