"""Every part of the unit is put on in one step, and every distance is told with its edge."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from kerfwind.facts import Statement
from kerfwind.plan import Plan, make_plan
from kerfwind.shop import parse_shop, read_shop
from tests.cart.test_building import prove_built, prove_readable

EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*.toml"))
_PLANS: dict[str, Plan] = {}


def plan_of(path: Path) -> Plan:
    """The plan of an example, made once."""
    if path.name not in _PLANS:
        _PLANS[path.name] = make_plan(read_shop(path), samples=32)
    return _PLANS[path.name]


def prove_each_part_is_used(plan: Plan) -> None:
    """What is bought, printed or owned of the unit is in just so many steps as there are of it."""
    cart = plan.cart
    assert cart is not None
    taken: Counter[str] = Counter()
    steps: Counter[str] = Counter()
    for step in plan.steps:
        for row in step.takes:
            taken[row.key] += row.count
            steps[row.key] += 1
    screws = {s.hardware for j in cart.joints for s in j.screws}
    for item in cart.hardware:
        assert taken[item.key] == item.quantity, item.key
        assert steps[item.key] == 1 or item.key in screws or item.kind == "dowel", item.key
    for board in plan.boards:
        used = Counter({t.key: 0 for s in board.steps for t in s.takes})
        for row in (t for s in board.steps for t in s.takes):
            used[row.key] += row.count
        assert used == Counter({h.key: h.quantity for h in board.hardware}), board.wanted.name
    assert [s.number for s in plan.steps] == list(range(1, len(plan.steps) + 1))
    # Bodies: all that stands on the cart or is part of it.
    shown = Counter(name for step in plan.steps for name in step.new)
    assert shown == Counter(b.name for b in cart.bodies)
    # Fittings that are bought, printed or cut, by what they are called.
    named: Counter[object] = Counter()
    for row in (t for s in plan.steps for t in s.takes if t.what is not None):
        called = dict(getattr(row.what, "facts", ())).get("piece", row.what)
        if not row.key.startswith("owned:"):
            named[called] += row.count
    for purchase in plan.hookups.purchases:
        assert named[purchase.what] == purchase.count, purchase.what
    for reducer in plan.hookups.printed:
        assert named[reducer.called] >= 1, reducer.called
    assert sum(named[r] for r in {r.called for r in plan.hookups.printed}) == len(
        plan.hookups.printed
    )
    for hose in plan.shop.hoses:
        if hose.use == "tool":
            assert steps[f"hose:{hose.name}"] == 1, hose.name
    owned = {
        p.fitting.name
        for c in (*plan.hookups.tools, *plan.hookups.unit)
        for p in c.pieces
        if p.origin == "owned"
    }
    for name in owned:
        assert steps[f"owned:{name}"] >= 1, name


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_part_of_an_example_is_in_its_step(path: Path) -> None:
    prove_each_part_is_used(plan_of(path))


def test_rings_a_backed_lid_and_a_valve_are_in_their_steps() -> None:
    text = next(p for p in EXAMPLES if p.stem == "garage").read_text(encoding="utf-8")
    chosen = '[separator]\nrings = 2\nbacked_lid = true\nvalve = "20 inH2O"\n'
    text = text.replace("[separator.bucket]", f"{chosen}[separator.bucket]", 1)
    plan = make_plan(parse_shop(text), samples=32)
    assert {b.wanted.kind for b in plan.boards} >= {"ring", "lid", "valve"}
    prove_each_part_is_used(plan)
    lid = next(s for s in plan.steps if "cyclone" in s.new)
    assert isinstance(lid.says[0], Statement)
    assert lid.says[0].kind == "unit.say.bucket_boards"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_an_example_is_built_from_its_steps(path: Path) -> None:
    """From the steps as data, and from their sentences: ballast tray, outriggers and all."""
    cart = plan_of(path).cart
    assert cart is not None
    prove_built(cart)
    prove_readable(cart)


def test_a_part_that_no_step_takes_is_found_out() -> None:
    """The check can fail: without the step of the lid its bolts are missing."""
    plan = plan_of(EXAMPLES[0])
    without = tuple(s for s in plan.steps if all(t.key != "lid-seal" for t in s.takes))
    assert len(without) < len(plan.steps)
    with pytest.raises(AssertionError):
        prove_each_part_is_used(replace(plan, steps=without))
