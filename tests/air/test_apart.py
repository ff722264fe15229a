"""Which tools a chart sets beside each other."""

from types import SimpleNamespace
from typing import cast

from kerfwind.air import ToolAir, tools_apart


def air(tool: str, airflow_m3_s: float) -> ToolAir:
    return cast(ToolAir, SimpleNamespace(tool=tool, usual_m3_s=airflow_m3_s))


def test_tools_whose_airflows_lie_on_each_other_are_shown_once() -> None:
    every = [air("saw", 0.03), air("sander", 0.010), air("planer", 0.0301), air("lathe", 0.02)]
    assert tools_apart(every) == ("planer", "lathe", "sander")
    assert tools_apart(every, most=2) == ("planer", "lathe")
    assert tools_apart([]) == ()
