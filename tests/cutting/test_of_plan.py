"""A plan's own panels go on by the numbers of its own pages."""

import csv
import io
import shutil

import pytest
from tests.shops import shop_path

from kerfwind.cutting import cut_order, nest
from kerfwind.cutting.going_on import go_on
from kerfwind.cutting.half_done import freeze
from kerfwind.cutting.of_plan import read_plan_list
from kerfwind.faults import Faults
from kerfwind.plan import make_plan
from kerfwind.printed.writing import write_all
from kerfwind.search.sheet_choice import saw_of
from kerfwind.shop import read_shop


@pytest.fixture(scope="module", params=["one_car", "cellar", "boathouse"])
def planned(request, tmp_path_factory):
    plan = make_plan(read_shop(shop_path(request.param)), samples=64)
    folder = tmp_path_factory.mktemp(request.param)
    write_all(plan, folder)
    return plan, folder


def _told(steps):
    """Every cut by its number: what it gives, and where it runs."""
    return [
        (c.number, c.sheet, c.piece, c.gives, c.rest, c.line_m) for step in steps for c in step.cuts
    ]


@pytest.mark.parametrize("name", ["plan.json", "panels.csv"])
def test_it_is_cut_as_the_plan_says_number_by_number(planned, name):
    plan, folder = planned
    found = read_plan_list(folder / name)
    listed = found.listed
    again = nest(
        list(listed.panels), list(listed.sheets), listed.saw, budget=found.budget, seed=found.seed
    )
    assert found.lays_out(again)
    ours, theirs = _told(cut_order(again, listed.saw)), _told(plan.cuts)
    assert [row[:-1] for row in ours] == [row[:-1] for row in theirs]
    assert [row[-1] for row in ours] == [pytest.approx(row[-1], abs=1e-6) for row in theirs]
    numbers = [c.number for step in plan.cuts for c in step.cuts]
    half = numbers[: len(numbers) // 2]
    rest = go_on(listed, name, [f"1-{half[-1]}"], [], budget=found.budget, seed=found.seed)
    want = freeze(plan.nest, plan.cuts, saw_of(plan.shop.saw), half)
    assert sorted(p.pencil for p in rest.stays.made) == sorted(p.pencil for p in want.made)


def test_a_list_that_was_changed_is_read_as_it_is_now(planned, tmp_path):
    _, folder = planned
    shutil.copy(folder / "plan.json", tmp_path / "plan.json")
    text = (folder / "panels.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(io.StringIO(text)))
    lines = text.splitlines(keepends=True)
    (tmp_path / "panels.csv").write_text("".join(lines[:-1]), encoding="utf-8")
    assert len(rows) > 1
    assert read_plan_list(tmp_path / "panels.csv") is None
    # Alone, without the plan beside it, it is a list as any other.
    (tmp_path / "plan.json").unlink()
    (tmp_path / "panels.csv").write_text(text, encoding="utf-8")
    assert read_plan_list(tmp_path / "panels.csv") is None


@pytest.mark.parametrize("text", ["", "{}", "[1]", '{"build": null, "shop": {"about": {}}}'])
def test_a_record_without_panels_is_answered(tmp_path, text):
    file = tmp_path / "plan.json"
    file.write_text(text)
    with pytest.raises(Faults):
        read_plan_list(file)


def test_the_shop_file_says_the_order_at_the_saw_and_what_guides_it(tmp_path):
    text = shop_path("cellar").read_text(encoding="utf-8")
    own = 'order = "settings"\ncrosscut = "700 mm"\nsled_stop = "900 mm"\ntrack = "1.4 m"\n'
    path = tmp_path / "shop.toml"
    path.write_text(text.replace("[saw]\n", f"[saw]\n{own}"), encoding="utf-8")
    plain, told = (saw_of(read_shop(p).shop.saw) for p in (shop_path("cellar"), path))
    assert (plain.order, told.order) == ("sheets", "settings")
    guides = (told.crosscut_limit_m, told.stop_limit_m, told.track_m)
    assert guides == pytest.approx((0.7, 0.9, 1.4))
