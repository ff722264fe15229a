"""What airflow there is at a tool is one band, wherever it is told."""

import pytest
from tests.shops import shop_path

from kerfwind.plan import Plan, make_plan, plan_record
from kerfwind.shop import read_shop
from kerfwind.view.air import branch_rows, tool_rows
from kerfwind.view.summary import summary_rows
from kerfwind.words import Voice


@pytest.fixture(scope="module", params=["cellar", "boathouse"])
def plan(request: pytest.FixtureRequest) -> Plan:
    return make_plan(read_shop(shop_path(request.param)), samples=300)


def test_table_and_summary_say_what_the_finding_says(plan: Plan) -> None:
    voice = Voice(units="mm")
    said = {}
    tools = [*plan.air, *(plan.branches.air.tools if plan.branches else ())]
    rows = [*tool_rows(plan, voice), *branch_rows(plan, voice)]
    for tool, row in zip(tools, rows, strict=True):
        had = dict(tool.caught.finding.facts)["had"]
        assert row.airflow == voice.text(had)
        said[tool.tool] = row.airflow
    best = max(plan.air, key=lambda a: float(a.airflow_m3_s.mean())).tool
    assert any(said[best] in text for _, text in summary_rows(plan, voice))


def test_a_reading_program_is_given_the_same(plan: Plan) -> None:
    record = plan_record(plan)
    for row, tool in zip(record["air"], plan.air, strict=True):
        had = tool.caught.finding.value
        told = row["airflow_m3_s"]
        assert had is not None
        assert (told["low"], told["high"]) == pytest.approx((had.low, had.high), rel=1e-6)
