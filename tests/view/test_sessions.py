"""What the page of a session shows: nothing on top of something, and sums that are sums."""

from pathlib import Path

import pytest

from kerfwind.drawing import Paper, layout, overlaps
from kerfwind.drawing.breathing import Flow, flow_chart
from kerfwind.plan import make_plan, plan_record
from kerfwind.shop import parse_shop, read_shop
from kerfwind.view.breathing import session_figures, session_pages, session_rows
from kerfwind.view.findings import voice_of
from kerfwind.words import Voice

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def plan():
    text = (EXAMPLES / "garage.toml").read_text(encoding="utf-8")
    text += '[[sessions]]\nname = "sanding"\nready = "sanding"\n'
    return make_plan(parse_shop(text), samples=256)


def test_no_picture_has_a_word_on_another(plan):
    voice = voice_of(plan).plain()
    for number in range(2):
        figures = session_figures(plan, number, voice, 179.0)
        assert set(figures) == {"air", "flow", "bucket", "dose"}
        for key, figure in figures.items():
            placed = layout(figure.drawing, Paper(179.0, 110.0), voice, footer=False)
            assert not overlaps(placed), key
            assert placed.width <= 179.0


def test_a_row_for_each_session_and_each_operation(plan):
    voice = voice_of(plan).plain()
    assert [r.name for r in session_rows(plan, voice)] == ["stool day", "sanding"]
    first, second = session_pages(plan, voice)
    assert len(first.tasks) == 4
    assert len(second.tasks) == 3
    assert {row.verdict.text for page in (first, second) for row in page.limits} <= {
        "over",
        "not settled",
        "under, not safe",
    }


def test_the_page_speaks_of_others_in_the_house(plan):
    said = " ".join(session_pages(plan, voice_of(plan).plain())[0].says)
    for word in ("mask", "Children", "ear protectors", "Empty the bucket", "no measurement"):
        assert word in said


def test_flows_are_as_wide_as_their_mass():
    flows = [Flow("bucket", "", 0.5, 0.0), Flow("floor", "", 0.0, 0.3), Flow("air", "", 0.0, 0.2)]
    drawing = flow_chart("1 kg", flows, voice=Voice(), whole_mm=20.0)
    bars = [i for i in drawing.items if getattr(i, "grey", None) == 0.35]
    high = [max(y for _, y in b.points) - min(y for _, y in b.points) for b in bars]
    # All that is made, then both ways, then where it ends.
    assert high == pytest.approx([20.0, 10.0, 10.0, 10.0, 6.0, 4.0])


def test_the_whole_is_in_the_plans_record(plan):
    record = plan_record(plan)
    sessions = record["breathing"]
    assert [s["air"]["name"] for s in sessions] == ["stool day", "sanding"]
    went = {k: v["median"] for k, v in sessions[0]["air"]["went_kg"].items()}
    assert set(went) == {
        "bucket",
        "vacuum",
        "floor",
        "swept",
        "vented",
        "cleaned",
        "breathed",
        "airborne",
    }
    assert record["loadings"]


def test_a_shop_without_sessions_has_no_page():
    plan = make_plan(read_shop(EXAMPLES / "labels.toml"), samples=64)
    assert session_pages(plan, voice_of(plan)) == []
    assert plan.loadings == ()
    assert any(f.key == "breathing.sessions" for f in plan.findings)
