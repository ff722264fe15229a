"""Round bodies with fewer sides for small pictures."""

from __future__ import annotations

import numpy as np
import pytest

from kerfwind.solids import box, clashes, coarser, exact, joined, revolved

TANK = revolved("tank", (0.1, 0.2, 0), ((0.0, 0.2), (0.3, 0.2), (0.3, 0.25), (0.4, 0.1)))


def test_a_tube_keeps_half_its_corners_and_nearly_its_volume():
    fewer = coarser(TANK)
    assert len(fewer.vertices) == len(TANK.vertices) / 2
    assert {tuple(v) for v in fewer.vertices} <= {tuple(v) for v in TANK.vertices}
    assert exact(fewer).volume() == pytest.approx(TANK.volume_m3, rel=0.01)
    assert np.allclose(fewer.low, TANK.low, atol=0.003)


def test_what_is_no_tube_or_has_few_sides_stays():
    block = box("block", (0, 0, 0), (1, 2, 3))
    thin = revolved("thin", (0, 0, 0), ((0.0, 0.1), (1.0, 0.1)), segments=20)
    for body in (block, thin):
        assert np.array_equal(coarser(body).vertices, body.vertices)
        assert np.array_equal(coarser(body).triangles, body.triangles)


def test_parts_of_a_joined_body_are_treated_one_by_one():
    wheel = revolved("wheel", (0, 0, 5), ((0.0, 0.1), (0.1, 0.1)), segments=32)
    both = joined("caster", [box("plate", (0, 0, 0), (1, 1, 1)), wheel, TANK])
    fewer = coarser(both)
    assert len(fewer.vertices) == 8 + 32 + len(TANK.vertices) // 2
    assert exact(fewer).num_vert() == len(fewer.vertices)
    assert clashes([fewer]) == ()
