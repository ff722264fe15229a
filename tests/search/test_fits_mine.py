"""A reader of a published plan asks whether it fits what stands in the reader's own shop."""

import subprocess
import sys
from pathlib import Path

import pytest

from kerfwind.checks import build
from kerfwind.faults import Faults
from kerfwind.one_cart import cart_view
from kerfwind.plaintext import json_text
from kerfwind.plan import make_plan, plan_record
from kerfwind.printed.writing import write_all
from kerfwind.quantity import Draw
from kerfwind.search.fits_mine import (
    own_sizes,
    panel_changes,
    read_published,
    shop_with,
    what_keeps_out,
)
from kerfwind.shop import parse_shop, read_shop
from tests.shops import shop_path

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def record(tmp_path_factory):
    folder = tmp_path_factory.mktemp("published")
    write_all(make_plan(read_shop(shop_path("one_car")), samples=64), folder)
    return folder / "plan.json"


def _run(*words):
    return subprocess.run(
        [sys.executable, "-m", "kerfwind", "fits", *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_plans_own_vacuum_and_bucket_fit(record):
    published = read_published(record)
    assert what_keeps_out(shop_with(published, {}, {}, "in"), published.ranges) == ()
    told = _run(record, "--vacuum", "height 20 in")
    assert told.returncode == 0, told.stderr
    assert told.stdout.startswith("Yes")


@pytest.mark.parametrize("name", ["boathouse", "cellar", "garage", "labels"])
def test_changes_are_told_from_the_panels_that_were_published(tmp_path, name):
    plan = make_plan(read_shop(EXAMPLES / f"{name}.toml"), samples=64)
    record = tmp_path / "plan.json"
    record.write_text(json_text(plan_record(plan)), encoding="utf-8")
    published = read_published(record)
    shop = shop_with(published, {}, {}, "in")
    sheet = next(each for each in shop.sheets if each.name == published.sheet)
    again = build(cart_view(shop), sheet, Draw(1))
    assert panel_changes(plan.cart, again) == ()


def test_a_taller_vacuum_is_kept_out_and_the_uprights_grow_by_as_much(record):
    told = _run(record, "--vacuum", "height 22-3/4 in")
    assert told.returncode == 1, told.stderr
    assert "height" in told.stdout
    [line] = [row for row in told.stdout.splitlines() if row.strip().startswith("side, length")]
    # Two inches taller: whatever the cart's own margin was, the sides follow to the mark.
    assert "2 in more" in line
    # And a plan made of the reader's file has just that panel.
    text = shop_path("one_car").read_text(encoding="utf-8")
    own = make_plan(
        parse_shop(text.replace('height = "20-3/4 in"', 'height = "22-3/4 in"')), samples=64
    )
    was = make_plan(parse_shop(text), samples=64)
    longer = own.cart.panel("A").length_m - was.cart.panel("A").length_m
    assert longer == pytest.approx(2 * 0.0254, abs=1e-4)


def test_the_answer_is_in_the_readers_units(record):
    told = _run(record, "--vacuum", "height 578 mm")
    assert told.returncode == 1
    assert " mm" in told.stdout
    assert " in " not in told.stdout.replace("in place of", "")


def test_a_bucket_that_falls_through_is_told(record):
    told = _run(
        record, "--bucket", "top diameter 10 in, bottom diameter 9 in, rim diameter 10-1/2 in"
    )
    assert told.returncode == 1
    assert "bucket" in told.stdout


@pytest.mark.parametrize("text", ["21 in", "girth 3 in", "height"])
def test_a_size_without_its_name_is_answered(text):
    with pytest.raises(Faults):
        own_sizes("vacuum", text)
