"""The work at the saw and the bench: ticks, a panel that came out short, a phone."""

from __future__ import annotations

import io
import re

import pytest
import zxingcpp
from PIL import Image

from kerfwind.app.half_cut import half_cut
from kerfwind.app.ticks import Round, Ticks, Work
from kerfwind.plan import make_plan
from kerfwind.shop import parse_shop
from tests.app.conftest import SHOP

HERE = ".screen:not([hidden])"


@pytest.fixture(scope="module")
def plan():
    """The plan of a small shop."""
    return make_plan(parse_shop(SHOP, "shop.toml"), first=True)


def cuts_of(plan):
    return [c.number for step in plan.cuts for c in step.cuts]


def test_ticks_are_kept(tmp_path):
    ticks = Ticks(tmp_path)
    assert ticks.cut(0, 3, True, "text")
    ticks.step("a|b", True)
    again = Ticks(tmp_path)
    assert again.work == ticks.work
    assert again.work.rounds == [Round("text", [3])]
    again.cut(0, 3, False, "text")
    assert Ticks(tmp_path).work.rounds == []


def test_a_tick_of_a_layout_that_was_left_is_refused(tmp_path):
    ticks = Ticks(tmp_path)
    ticks.cut(0, 1, True, "text")
    ticks.ask(("A1", 0.4, 0.3))
    assert ticks.go_on("text")
    assert not ticks.cut(0, 2, True, "text")
    assert ticks.cut(1, 1, True, "text")
    ticks.back()
    assert ticks.work.rounds == [Round("text", [1])]


def test_a_torn_file_of_ticks_begins_anew(tmp_path):
    (tmp_path / "ticks.json").write_text('{"rounds": [')
    assert Ticks(tmp_path).work == Work()


def test_a_cut_ticked_before_one_that_it_needs_counts_as_not_made(plan):
    work = Work([Round(SHOP, [cuts_of(plan)[-1]])])
    now = half_cut(work, plan, lambda text: plan)
    assert now.early == (cuts_of(plan)[-1],)
    assert now.done == frozenset()


def test_a_short_panel_is_cut_again_from_what_is_left(plan):
    every = cuts_of(plan)
    work = Work([Round(SHOP, every)])
    made = half_cut(work, plan, lambda text: plan).made
    assert len(made) == sum(p.quantity for p in plan.panels)
    piece = max(made, key=lambda p: p.length_m * p.width_m)
    long, wide = (
        (piece.width_m, piece.length_m) if piece.turned else (piece.length_m, piece.width_m)
    )
    work.asked = (piece.pencil, long - 0.02, wide)
    now = half_cut(work, plan, lambda text: plan)
    assert "recut" in {a.kind for a in now.answers}
    short = Work([Round(SHOP, every, [work.asked]), Round(SHOP)])
    rest = half_cut(short, plan, lambda text: plan)
    assert {p.pencil for s in rest.nest.sheets for p in s.pieces} == {piece.pencil}
    assert len(rest.made) == len(made) - 1


def test_ticks_stay_on_the_phone_through_a_lost_link(visiting, own_server, cable):
    visit = visiting(
        own_server,
        width=390,
        height=844,
        has_touch=True,
        is_mobile=True,
        proxy={"server": cable.address},
    )
    page = visit.page
    visit.go("bench")
    page.tap(f"{HERE} .tick")
    visit.saved()
    first = page.locator(HERE).get_attribute("id")
    page.tap(f"{HERE} [data-turn='1']")
    cable.cut()
    page.wait_for_selector("#connection[data-state=lost]")
    page.tap(f"{HERE} .tick")
    assert "(1)" in visit.text("#connection")
    assert page.locator(f"{HERE} .tick[aria-pressed=true]").count() == 1
    cable.mend()
    visit.saved()
    page.wait_for_selector(".answer-line[data-done='2']")
    own_server.kill()
    own_server.start()
    other = visiting(own_server)
    other.go("bench")
    other.page.wait_for_selector(".answer-line[data-done='2']")
    assert other.page.locator(f"#{first} .tick[aria-pressed=true]").count() == 1


def test_came_out_short_lays_out_the_rest_and_is_taken_back(visiting, server):
    visit = visiting(server, width=390, height=844, has_touch=True, is_mobile=True)
    page = visit.page
    visit.go("bench")
    whole = page.locator(".answer-line").get_attribute("data-all")
    for _ in range(60):
        page.tap(f"{HERE} .tick")
        if page.locator(f"{HERE} .came-short").count():
            break
        page.tap(f"{HERE} [data-turn='1']")
    visit.saved()
    page.tap(f"{HERE} .came-short summary")
    field = page.locator(f"{HERE} form [name=width]")
    assert field.input_value()
    field.fill("1 in")
    page.tap(f"{HERE} form button")
    page.tap(".question [data-way=recut]")
    page.wait_for_selector(".question", state="detached")
    page.wait_for_selector("[data-work=back]")
    page.tap("[data-work=back]")
    page.wait_for_selector("[data-work=back]", state="detached")
    assert page.locator(".answer-line").get_attribute("data-all") == whole
    page.tap(f"{HERE} .came-short summary")
    page.locator(f"{HERE} form [name=width]").fill("1 in")
    page.tap(f"{HERE} form button")
    page.tap(".question [data-way=follow]")
    visit.wait_file(lambda text: "[[built]]" in text)


def test_a_phone_is_let_in_by_a_touch_and_works_at_the_bench(visiting, own_server):
    """Nobody needs a terminal for it: the code on the page is what the phone scans."""
    desk = visiting(own_server, width=1280, height=900)
    desk.go("bench")
    desk.page.get_by_role("button", name="Let a phone in").click()
    code = desk.page.locator("#phone svg")
    code.wait_for()
    (read,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(code.screenshot())))
    phone = visiting(own_server, width=390, height=844, has_touch=True, is_mobile=True)
    phone.page.goto(f"{read.text}#bench")
    phone.settled("bench")
    assert phone.page.locator("#phone").count() == 0
    phone.page.tap(f"{HERE} .tick")
    phone.saved()
    desk.page.wait_for_selector(".answer-line[data-done='1']")
    desk.page.get_by_role("button", name="Let none in").click()
    desk.page.get_by_role("button", name="Let a phone in").wait_for()
    phone.page.wait_for_selector("#connection[data-state=lost]")


def test_a_phone_is_let_in_anew_after_the_computer_came_back(visiting, own_server):
    computer = visiting(own_server)
    computer.go("bench")
    box = computer.page.locator("#phone")
    box.locator("[data-phone=in]").click()
    box.locator("svg").wait_for()
    code = re.compile(r"http://\S+")
    first = code.search(box.inner_text())[0]
    phone = visiting(own_server, width=390, height=844, has_touch=True, is_mobile=True)
    phone.page.goto(f"{first}#bench")
    phone.settled("bench")
    own_server.kill()
    phone.page.wait_for_selector("#connection:has-text('let in anew')")
    assert "let in anew" not in computer.text("#connection")
    own_server.start()
    # The page on the computer was not loaded again.
    box.locator("[data-phone=in]").click()
    box.locator("svg").wait_for()
    second = code.search(box.inner_text())[0]
    assert second != first
    late = visiting(own_server, width=390, height=844)
    late.foresee("403")
    late.page.goto(first)
    assert "“Let a phone in”" in late.text("body")
    scanned = phone.page.context.new_page()
    scanned.goto(second)
    phone.saved()
    phone.settled("bench")
