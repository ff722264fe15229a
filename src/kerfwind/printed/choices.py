"""The choices behind the hookups, in words: the second-best answer, and moves against hose."""

from __future__ import annotations

from typing import Any

from ..hookup.reach import ReachChoice
from ..plan import Plan
from ..quantity import show
from ..view.findings import voice_of
from ..wording import money


def second_best(plan: Plan) -> dict[str, Any] | None:
    """The runner-up, what it does differently, and both airflows where they differ."""
    hookups = plan.hookups
    other = hookups.runner_up
    if other is None:
        return None
    solved = hookups.in_air
    proven = (
        "no answer weighs less"
        if hookups.proven
        else (f"no answer can weigh less than {_about(plan, hookups.bound)}")
    )
    text = (
        f"The chains above cost {_about(plan, hookups.cost)}, the work of making pieces included; "
        f"with air, bother and doubt counted as money they weigh {_about(plan, hookups.weight)}"
    )
    if solved is not None and solved.turned:
        text += ". By rough losses they came second; with the air solved in full they come first."
        more = solved.other_weight - solved.weight
    else:
        text += f"; {proven}."
        more = (solved.other_weight - solved.weight) if solved else other.weight - hookups.weight
    text += (
        f" The next best costs {_about(plan, other.cost)} and weighs {_about(plan, max(more, 0.0))} "
        "more. It differs in this:"
    )
    return {
        "text": text,
        "differs": [voice_of(plan).text(each) for each in other.differs],
        "air": _air(plan),
        "rows": _rows(plan),
    }


def _about(plan: Plan, amount: float) -> str:
    return money(plan, round(amount, 1))


def _rows(plan: Plan) -> list[dict[str, str]]:
    solved = plan.hookups.in_air
    if solved is None:
        return []
    return [
        {
            "tool": t.tool,
            "taken": show(t.taken_m3_s, "airflow", plan.units),
            "other": show(t.other_m3_s, "airflow", plan.units),
        }
        for t in solved.told
    ]


def _air(plan: Plan) -> str:
    solved = plan.hookups.in_air
    if solved is None or not solved.told:
        return "Solved in full, the air is the same by both as near as can be told."
    if solved.other_better:
        return (
            "In the air alone the next best is better; what it weighs more in money, bother and "
            "doubt is more than that air is counted for."
        )
    return "Solved in full, for the best values:"


def parking_rows(plan: Plan) -> list[dict[str, str]]:
    """Fewest moves against the shortest hose: one row a choice."""
    if plan.floor is None:
        return []
    return [_parking(plan, choice) for choice in plan.floor.choices]


def _parking(plan: Plan, choice: ReachChoice) -> dict[str, str]:
    units = plan.units
    new = choice.hose(choice.changed) if choice.changed else None
    used = ", ".join(
        f"{h.name} {show(h.length_m, 'length', units)}" for h in ((new,) if new else choice.hoses)
    )
    lost = ", ".join(show(h.loss_pa, "pressure", units) for h in ((new,) if new else choice.hoses))
    return {
        "hose": f"{used}, new" if new else f"{used}, as owned",
        "moves": str(choice.moves),
        "lost": lost,
        "price": f"about {money(plan, round(choice.price))}" if new else "",
        "left": ", ".join(choice.unserved) or "none",
    }
