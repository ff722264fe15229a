"""How levels are decided, above all what an assumption may not do."""

from dataclasses import replace

import numpy as np
import pytest

from kerfwind.facts import Band, Term, facts
from kerfwind.finding import judge, ordered
from kerfwind.quantity import Draw, parse
from tests.say import answer, to_do

DRAW = Draw(2048)


def check(value, limit, *, rests_on=(), must="at least", key="power.vacuum_alone", **more):
    return judge(
        key=key,
        about=None,
        outcome="over" if key == "power.vacuum_alone" else "short",
        value=value,
        limit=limit,
        must=must,
        dimension="length",
        draw=DRAW,
        rests_on=rests_on,
        **more,
    )


def quantity(text, standing="measured", path="vacuum.width"):
    return parse(text, "length", path=path, standing=standing)


def test_settled_answers():
    assert check(2.0, 1.0).level == "good"
    assert check(0.5, 1.0).level == "problem"
    assert check(0.5, 1.0, fail="stop").level == "stop"
    assert check(2.0, 1.0).likelihood is None
    assert to_do(check(2.0, 1.0)) == ""
    assert to_do(check(0.5, 1.0)).startswith("Use a circuit of a higher rating.")


def test_a_measured_doubt_is_advice_not_unknown():
    q = quantity("1.05 m ± 0.1")
    assert check(DRAW.of(q), 1.0, rests_on=(q,)).level == "advice"


@pytest.mark.parametrize(
    ("text", "says"),
    [("0.95..1.08 m", "as likely as not."), ("0.95..1.2 m", "likely, but with little to spare.")],
)
def test_little_more_than_even_is_not_called_likely(text, says):
    # From two in three on: the guidance note named beside the fact `general.likely`.
    q = quantity(text)
    said = answer(check(DRAW.of(q), 1.0, rests_on=(q,)))
    assert (
        said == f"The vacuum alone is within what its circuit allows one plug-in appliance: {says}"
    )


def test_doubt_comes_before_a_long_answer():
    q = quantity("0.95..1.2 m")
    few = Band.of(DRAW.of(q), "airflow")
    long = check(
        DRAW.of(q),
        1.0,
        rests_on=(q,),
        key="air.dust_caught",
        facts=facts(
            had=few,
            needed=few,
            hood=Term("hood", "pad holes"),
            operation=Term("operation", "sanding"),
        ),
    )
    assert answer(long).startswith(
        "Likely, but with little to spare: enough air to catch the dust: "
    )


@pytest.mark.parametrize("text", ["0.5..2 m", "0.95..2 m", "0.2..1.1 m", "0.98..2 m"])
def test_an_assumption_that_could_turn_the_answer_makes_it_unknown(text):
    q = quantity(text, "assumed")
    found = check(DRAW.of(q), 1.0, rests_on=(q,))
    assert found.level == "unknown"
    assert found.measure == ("vacuum.width",)


def test_an_assumption_that_cannot_turn_it_leaves_it_settled():
    q = quantity("1.2..2 m", "assumed")
    assert check(DRAW.of(q), 1.0, rests_on=(q,)).level == "good"


def test_the_most_telling_measurement_is_named_first():
    small = quantity("0.9..1.1 m", "assumed", "small")
    large = quantity("0.5..1.5 m", "assumed", "large")
    value = DRAW.of(small) + DRAW.of(large)
    assert check(value, 2.0, rests_on=(small, large)).measure[0] == "large"


@pytest.mark.parametrize(
    "path", ["catalogue[sleeve].end_a.inside", "cut[ring].length", "printed[x].bore"]
)
def test_what_is_yet_to_be_bought_or_made_is_not_to_be_measured(path):
    small = quantity("0.9..1.1 m", "assumed", "small")
    bought = quantity("0.5..1.5 m", "assumed", path)
    found = check(DRAW.of(small) + DRAW.of(bought), 2.0, rests_on=(small, bought))
    assert found.level == "unknown"
    assert found.measure in ((), ("small",))


def test_the_nominal_case_never_calls_an_assumption_good():
    q = quantity("1.2..2 m", "assumed")
    found = judge(
        key="power.vacuum_alone",
        about=None,
        outcome="over",
        value=Draw(1).of(q),
        limit=1.0,
        must="at least",
        dimension="length",
        draw=Draw(1),
        rests_on=(q,),
    )
    assert found.level == "unknown"


def test_an_assumed_choice_is_unknown():
    assert check(2.0, 1.0, unresolved=("vacuum.inlet_on",)).level == "unknown"


def test_no_number_is_no_pass():
    assert check(np.full(DRAW.count, np.nan), 1.0).level == "problem"


def test_worst_first():
    levels = [f.level for f in ordered([check(2.0, 1.0), check(0.5, 1.0, fail="stop")])]
    assert levels == ["stop", "good"]


def test_what_prevents_building_comes_before_other_problems():
    weak = check(0.5, 1.0)
    refused = replace(weak, key="cart.cannot_build")
    danger = check(0.5, 1.0, fail="stop")
    assert ordered([weak, refused, danger]) == [danger, refused, weak]


def test_many_small_assumptions_can_turn_an_answer_together():
    parts = [quantity("0.95..1.05 m", "assumed", f"part {i}") for i in range(12)]
    total = sum(DRAW.of(q) for q in parts)
    found = check(total, 11.85, rests_on=parts)
    assert 0.9 < found.likelihood < 0.995
    assert found.level == "unknown"
    assert len(found.measure) == 3
    # The same doubt from measurements is a doubt, not a gap in what is known.
    measured = [quantity("0.95..1.05 m", "measured", f"part {i}") for i in range(12)]
    assert check(total, 11.85, rests_on=measured).level == "good"


@pytest.mark.parametrize(
    ("standing", "says"),
    [("assumed", ": likely, but not settled by what is known."), ("measured", "needed.")],
)
def test_a_bad_answer_that_an_assumption_can_turn_says_that_it_is_not_settled(standing, says):
    airflow = quantity("0.020..0.032 m", standing)
    had = DRAW.of(airflow)
    found = judge(
        key="air.dust_caught",
        about=None,
        outcome="short",
        value=had,
        limit=0.030,
        must="at least",
        dimension="airflow",
        draw=DRAW,
        rests_on=(airflow,),
        facts=facts(
            hood=Term("hood", "saw shroud"),
            operation=Term("operation", "sawing"),
            had=Band.of(had, "airflow"),
            needed=Band.of(had, "airflow"),
        ),
    )
    assert found.level == ("unknown" if standing == "assumed" else "problem")
    assert answer(found).startswith("Too little air to catch")
    assert answer(found).endswith(says)
