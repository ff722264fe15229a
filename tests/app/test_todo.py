"""What there is to do leads to the thing that it is about, and mends that."""

from __future__ import annotations

import html
import json
import re

import pytest

from kerfwind.app.asking import Ask
from kerfwind.app.looking import Looking
from kerfwind.app.paths import address_of
from kerfwind.app.planner import Planner
from kerfwind.app.todo import todo
from kerfwind.facts import Ref
from tests.app.conftest import ROOT, Server

_LISTS = {"tool": "tools", "hose": "hoses", "session": "sessions"}


def looked(name: str) -> Looking:
    """An example as the page has it, everything checked."""
    planner = Planner()
    text = (ROOT / "examples" / f"{name}.toml").read_text(encoding="utf-8")
    ask = Ask(1, 1, ("shop",), text, f"{name}.toml")
    for _ in planner.show(ask, lambda: None):
        pass
    return planner._look(ask, checking=False)


def rows_of(look: Looking) -> list[str]:
    """The rows of what there is to do, in the order of their findings."""
    return re.findall(r"<li class=.*?</li>", str(todo(look)), re.DOTALL)


def stated(row: str, kind: str) -> list:
    """What a row's links or buttons would lead to or do."""
    return [json.loads(html.unescape(each)) for each in re.findall(f'data-{kind}="(.*?)"', row)]


@pytest.mark.parametrize("name", ["cellar", "garage"])
def test_each_row_leads_to_what_it_tells_of_and_offers_what_mends_that(name):
    look = looked(name)
    told = [g for g in look.findings if g.level in ("stop", "problem")]
    rows = rows_of(look)
    assert len(rows) == len(told) > 2
    for row, group in zip(rows, told, strict=True):
        (led,) = stated(row, "field")
        abouts = [f.about for f in group.findings if isinstance(f.about, Ref)]
        things = [[_LISTS[a.kind], a.name] for a in abouts if a.kind in _LISTS]
        if things and not group.measure:
            assert led[:2] in things, row
            assert led[1] in row.partition("data-")[0]
        tried = [
            [list(address_of(each.place, look.given)) for each in fix.every]
            for finding in group.findings
            for fix in finding.fixes
        ]
        for edits in stated(row, "edits"):
            assert [edit["place"] for edit in edits] in tried


def test_a_row_is_followed_to_its_own_field(visiting, tmp_path):
    file = tmp_path / "cellar.toml"
    file.write_text((ROOT / "examples" / "cellar.toml").read_text(encoding="utf-8"))
    server = Server(file)
    try:
        visit = visiting(server)
        visit.go("shop")
        visit.page.locator("#frame-todo details summary").click()
        rows = visit.page.locator("#frame-todo li")
        for words, key in (
            ("Out of this vacuum's reach", "small lathe"),
            ("session's level over a day", None),
        ):
            row = rows.filter(has_text=words)
            row.locator(".way a").click()
            visit.page.wait_for_selector(".lit :focus")
            focused = visit.page.locator(":focus")
            if key is None:
                assert focused.get_attribute("id") == "sessions-0-hearing"
            else:
                assert focused.input_value() == key
                assert key in row.locator(".way").inner_text()
    finally:
        server.end()


def test_a_shape_against_its_sizes_is_one_thing_mended_by_one_touch(visit):
    page = visit.page
    for level in ("rim", "top", "bottom"):
        visit.write(f"separator-bucket-{level}_diameter", "392 mm")
    visit.wait_file(lambda text: text.count("392 mm") == 3)
    page.wait_for_selector("#frame-answer[data-state=checked]")
    visit.settled("shop")
    visit.field("separator-bucket-shape").select_option("box")
    page.wait_for_selector("#frame-answer[data-state=faulty]")
    assert "contradicts" in visit.text("#frame-answer")
    assert "cannot be understood" not in page.locator("body").inner_text()
    rows = page.locator("#frame-todo li")
    assert rows.count() == 1
    said = rows.inner_text()
    assert "a box has no diameter" in said
    assert "Take away" in said
    page.locator("details").evaluate_all("all => all.forEach(d => { d.open = true })")
    assert not re.search(r"\w+_\w+", page.locator("body").inner_text())
    rows.locator("a").click()
    page.wait_for_selector("#separator-bucket-shape:focus")
    rows.locator("button").click()
    visit.wait_file(lambda text: "392 mm" not in text and '"box"' in text)
    page.wait_for_selector("#frame-answer[data-state=checked]")
    page.click("#undo")
    visit.wait_file(lambda text: text.count("392 mm") == 3 and '"box"' in text)
