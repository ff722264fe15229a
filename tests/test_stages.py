"""Stages run only when their own inputs change."""

import numpy as np
import pytest

from kerfwind.air import Connection
from kerfwind.quantity import parse
from kerfwind.stages import Stages, digest
from tests.air.shops import PLAIN, shop


def test_a_stage_runs_again_only_for_other_inputs():
    stages = Stages()
    for value in (1, 1, 2, 1):
        assert stages.run("double", lambda x: 2 * x, value) == 2 * value
    assert stages.ran == ["double", "double"]


def test_only_the_latest_results_are_kept():
    stages = Stages(keep=2)
    for value in range(5):
        stages.run("s", lambda x: x, value)
    stages.run("s", lambda x: x, 0)
    assert len(stages.ran) == 6


def test_digests_tell_content_not_identity():
    a = parse("50 mm", "length", path="x")
    b = parse("50 mm", "length", path="x")
    assert digest(a, np.arange(3)) == digest(b, np.arange(3))
    assert digest(a) != digest(parse("51 mm", "length", path="x"))
    assert digest((1, 2), 3) != digest(1, (2, 3))
    assert digest("1") != digest(1)
    with pytest.raises(TypeError):
        digest(object())


def test_a_model_inside_a_dataclass_is_told_by_its_content():
    plain = shop(PLAIN)
    other = plain.model_copy(update={"tools": plain.tools[:1]})
    same = plain.model_copy()
    stages = Stages()
    for each in (plain, same, other):
        stages.run("air", lambda connection: None, Connection(each, plain.tools[0], plain.hoses[0]))
    assert len(stages.ran) == 2
