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
from kerfwind.quantity import parse
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
    assert ticks.cut(Work().layout("text"), 3, True, "text")
    ticks.step("a|b", True)
    again = Ticks(tmp_path)
    assert again.work == ticks.work
    assert again.work.rounds == [Round("text", [3])]
    again.cut(again.work.layout("text"), 3, False, "text")
    assert Ticks(tmp_path).work.rounds == []


def test_a_tick_of_a_layout_that_was_left_is_refused(tmp_path):
    ticks = Ticks(tmp_path)
    first = ticks.work.layout("text")
    assert not ticks.cut(first, 1, True, "another text")
    ticks.cut(first, 1, True, "text")
    # The file has changed since; the cuts are those of the text they were begun by.
    assert ticks.cut(first, 2, True, "another text")
    ticks.ask(("A1", 0.4, 0.3))
    assert ticks.go_on("text")
    assert not ticks.cut(first, 3, True, "text")
    assert ticks.cut(ticks.work.layout("text"), 1, True, "text")
    ticks.back()
    assert ticks.work.rounds == [Round("text", [1, 2])]
    ticks.anew()
    assert not ticks.cut(first, 3, True, "text")
    assert ticks.work.rounds == []


def test_what_was_thrown_away_is_had_again_until_work_goes_on(tmp_path):
    ticks = Ticks(tmp_path)
    ticks.cut(ticks.work.layout("text"), 4, True, "text")
    ticks.step("a", True)
    ticks.anew()
    assert Ticks(tmp_path).work.before.rounds == [Round("text", [4])]
    ticks.as_before()
    assert ticks.work.rounds == [Round("text", [4])]
    assert ticks.work.steps == ["a"]
    ticks.anew()
    ticks.cut(ticks.work.layout("text"), 1, True, "text")
    assert ticks.work.before is None


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
    page.wait_for_selector("[data-work=back]:has-text('Touch again')")
    page.tap("[data-work=back]")
    page.wait_for_selector("[data-work=back]", state="detached")
    assert page.locator(".answer-line").get_attribute("data-all") == whole
    while not page.locator(f"{HERE} .came-short").count():
        page.tap(f"{HERE} [data-turn='-1']")
    # No cart can be built with a panel of an inch: that is not offered.
    page.tap(f"{HERE} .came-short summary")
    page.locator(f"{HERE} form [name=width]").fill("1 in")
    page.tap(f"{HERE} form button")
    page.wait_for_selector(".question [data-way=recut]")
    assert page.locator(".question [data-way=follow]").count() == 0
    page.tap(".question [data-work=never]")
    page.wait_for_selector(".question", state="detached")
    page.tap(f"{HERE} .came-short summary")
    width_m = parse(field.input_value(), "length").best_si
    page.locator(f"{HERE} form [name=width]").fill("not a size")
    page.tap(f"{HERE} form button")
    page.wait_for_selector("#notice:not([hidden])")
    # What is not understood stays to be mended.
    page.locator(f"{HERE} form [name=width]").fill(f"{width_m * 1e3 - 1.5:.1f} mm")
    page.tap(f"{HERE} form button")
    page.tap(".question [data-way=follow]")
    visit.wait_file(lambda text: "[[built]]" in text)
    page.wait_for_selector(".screen:not([hidden]) .tick")


def test_a_cut_ticked_too_early_is_shown_as_not_made(visiting, server):
    visit = visiting(server, width=390, height=844, has_touch=True, is_mobile=True)
    page = visit.page
    visit.go("bench")
    for _ in range(5):
        page.tap(f"{HERE} [data-turn='1']")
    page.tap(f"{HERE} .tick")
    page.wait_for_selector("#bench-answer .caution:has-text('counts as not made')")
    page.wait_for_selector(f"{HERE} .tick[aria-pressed=false]")
    assert page.locator(".tick[aria-pressed=true]").count() == 0


def test_ticks_are_thrown_away_by_two_touches_and_had_again(visiting, server):
    visit = visiting(server, width=390, height=844, has_touch=True, is_mobile=True)
    page = visit.page
    visit.go("bench")
    page.tap(f"{HERE} .tick")
    page.wait_for_selector(".answer-line[data-done='1']")
    anew = "#bench-go [data-work=anew]"
    page.tap(anew)
    page.wait_for_selector(f"{anew}:has-text('Touch again')")
    # Something else between the touches: the first counts no more.
    page.tap(f"{HERE} [data-turn='1']")
    page.wait_for_selector(f"{anew}:not(:has-text('Touch again'))")
    page.tap(anew)
    page.wait_for_selector(f"{anew}:has-text('Touch again')")
    page.tap(anew)
    page.wait_for_selector(".answer-line[data-done='0']")
    assert page.locator(".tick[aria-pressed=true]").count() == 0
    page.wait_for_selector(f"{anew}:not(:has-text('Touch again'))")
    page.tap("[data-work=before]")
    page.wait_for_selector(".answer-line[data-done='1']")


def test_cuts_stay_as_they_were_begun_whatever_becomes_of_the_file(visiting, server):
    visit = visiting(server, width=390, height=844, has_touch=True, is_mobile=True)
    page = visit.page
    visit.go("bench")
    whole = page.locator(".answer-line").get_attribute("data-all")
    page.tap(f"{HERE} .tick")
    page.wait_for_selector(".answer-line[data-done='1']")
    text = server.file.read_text()
    for wish in ('largest_length = "6 in"', 'caster_load = "2 lb"'):
        server.file.write_text(text + f"\n[wishes]\n{wish}\n")
        page.wait_for_selector("#bench-answer:has-text('what was changed since')")
        visit.settled("bench")
        assert page.locator(".answer-line").get_attribute("data-all") == whole
        assert page.locator(".answer-line").get_attribute("data-done") == "1"


def test_what_speaks_against_cutting_stands_above_the_cuts(visiting, server):
    server.file.write_text(server.file.read_text() + '\n[wishes]\ncaster_load = "15 lb"\n')
    visit = visiting(server, width=390, height=844)
    visit.go("bench")
    visit.page.wait_for_selector("#bench-answer .caution:has-text('fails')")
    visit.page.wait_for_selector("#bench-answer .caution:has-text('caster')")


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
