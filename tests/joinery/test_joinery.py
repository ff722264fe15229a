"""Pocket holes, grooves and screws by plain geometry and the standard."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.joinery.fasteners import INCH_LENGTHS, METRIC_LENGTHS, screw_size
from kerfwind.joinery.grooves import depth_m, groove, kind_of
from kerfwind.joinery.marks import MarkingRule
from kerfwind.joinery.pockets import free_places, pocket_size
from kerfwind.joinery.screws import lateral_n
from kerfwind.joinery.segments import segments_apart_m
from kerfwind.joinery.workbench import Workbench
from kerfwind.solids import Placement, X, Y, Z
from kerfwind.sources import fact

IN = 0.0254


LB = 4.4482216152605


@pytest.mark.parametrize(("inches", "screw"), [(0.75, 1.25), (1.0, 1.5)])
def test_pocket_screws_are_the_usual_ones(inches: float, screw: float) -> None:
    """Common practice, no source: 1-1/4 in screws for 3/4 in stock, 1-1/2 in for an inch."""
    t = inches * IN
    found = pocket_size(t, t, screw_size(t, False), False)
    assert found is not None
    assert found.length_m == pytest.approx(screw * IN)


@given(st.floats(0.009, 0.03), st.floats(0.009, 0.03), st.booleans())
def test_pocket_by_plain_trigonometry(t: float, into: float, metric: bool) -> None:
    wood = screw_size(t, metric)
    found = pocket_size(t, into, wood, metric)
    if found is None:
        # Too thin for any length on sale: the next one up or down breaks a rule.
        most_out = (into - fact("cart.screw.point").value) / math.cos(math.radians(15))
        seats = [x - most_out for x in (METRIC_LENGTHS if metric else INCH_LENGTHS)]
        most = t / 2 / math.sin(math.radians(15))
        assert not any(0.010 <= s <= most - 0.020 for s in seats)
        return
    assert found.angle_rad == pytest.approx(math.radians(15))
    assert found.seat_m + found.out_m == pytest.approx(found.length_m)
    assert found.depth_m == pytest.approx(into - 0.003)
    assert found.reach_m * math.tan(found.angle_rad) == pytest.approx(t / 2)
    assert found.seat_m >= 0.010 - 1e-9
    # The head is below the face.
    assert t / 2 - found.seat_m * math.sin(found.angle_rad) > 0.003


_SPOT = st.tuples(*[st.floats(-0.1, 0.1)] * 3)


@given(_SPOT, _SPOT, _SPOT, _SPOT)
def test_how_far_two_screws_are_apart(a: tuple, b: tuple, p: tuple, q: tuple) -> None:
    """Against points all along both."""
    start, end, other, to = (np.array(x) for x in (a, b, p, q))
    if min(np.linalg.norm(end - start), np.linalg.norm(to - other)) < 0.01:
        return
    share = np.linspace(0, 1, 101)[:, None]
    one, two = start + share * (end - start), other + share * (to - other)
    least = np.linalg.norm(one[:, None] - two[None], axis=2).min()
    found = segments_apart_m(start, end, other[None], to[None])[0]
    assert found <= least + 1e-9
    assert found >= least - 0.005


@given(
    st.floats(0.08, 1.2), st.lists(st.tuples(st.floats(0, 1.2), st.floats(0.01, 0.2)), max_size=4)
)
def test_pockets_keep_clear_of_what_is_blocked(
    length: float, at: list[tuple[float, float]]
) -> None:
    blocked = [(a, a + w) for a, w in at]
    places = free_places(0.0, length, 0.02, 2, blocked, 0.025)
    assert len(places) != 1
    for p in places:
        assert 0.02 - 1e-9 <= p <= length - 0.02 + 1e-9
        assert not any(a + 1e-9 < p < b - 1e-9 for a, b in blocked)
    gaps = np.diff(sorted(places))
    assert np.all(gaps >= 0.025 - 1e-9)
    if not blocked:
        assert np.all(gaps <= fact("cart.pocket.spacing").value + 1e-9)


def test_a_groove_is_a_third_deep_and_as_wide_as_the_sheet_and_its_play() -> None:
    """Common practice, no source."""
    assert depth_m(0.018, MarkingRule(0.001, "mm")) == pytest.approx(0.006)
    assert depth_m(23 / 32 * IN, MarkingRule(IN / 16, "in")) == pytest.approx(IN / 4)
    play = fact("cart.dado.play").value
    inside = groove((0.1, 0.3), (0.2, 0.218), 0.5, 0.5, 0.006, "upper")
    assert inside.width_m == pytest.approx(0.018 + play)
    assert inside.length_m == pytest.approx(0.2 + play)
    assert kind_of(inside, 0.5, 0.5) == "dado"
    edge = groove((0.0, 0.018), (0.2, 0.5), 0.5, 0.5, 0.006, "upper")
    assert (edge.x_m, edge.length_m) == (0.0, pytest.approx(0.018 + play))
    assert edge.y_m + edge.width_m == pytest.approx(0.5)
    assert kind_of(edge, 0.5, 0.5) == "rebate"


def test_lateral_load_by_the_standards_table() -> None:
    """National Design Specification, table 12L, from memory: No. 8 through 3/4 in, G 0.50: 87 lb."""
    found = lateral_n(0.50, 0.164 * IN, 0.75 * IN, 10 * 0.164 * IN) / LB
    assert found == pytest.approx(87, rel=0.03)
    shallow = lateral_n(0.50, 0.164 * IN, 0.75 * IN, 6 * 0.164 * IN) / LB
    assert shallow == pytest.approx(0.6 * 87, rel=0.05)


def test_screws_from_both_faces_of_a_panel_are_found_to_meet() -> None:
    """Into a rail from the left, into a bracket from the same face of the panel: head on head."""
    bench = Workbench(0.018, MarkingRule(0.001, "mm"))
    bench.panel("end", 0.3, 0.3, {"end": Placement((0, 0, 0), Y, Z, X)})
    bench.panel("rail", 0.2, 0.1, {"rail": Placement((0.018, 0.1, 0.1), X, Z, Y)})
    bench.panel("plate", 0.3, 0.3, {"plate": Placement((0, 0, 0), Z, Y, (-1, 0, 0))})
    bench.panel("bracket", 0.1, 0.1, {"bracket": Placement((-0.118, 0.1, 0.1), X, Z, Y)})
    bench.join("end", "rail", carries=True)
    same = bench.join("plate", "bracket", carries=True, at=[0.025, 0.075])
    assert bench.meets(same)
    other = bench.join("plate", "bracket", carries=True, at=[0.04, 0.06])
    bench.joints.remove(same)
    assert not bench.meets(other)
