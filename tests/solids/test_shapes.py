"""Volumes and centres in closed form against the mesh's own integral, and exact booleans."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kerfwind.solids import (
    FlatPanel,
    Opening,
    Placement,
    box,
    box_like,
    clashes,
    contact_area_m2,
    exact,
    frustum_centre_m,
    frustum_volume_m3,
    joined,
    panel_body,
    prismoid_centre_m,
    revolved,
    shared_volume_m3,
    triangulate,
)

FLAT = Placement((0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1))
UPRIGHT = Placement((0.1, 0.2, 0.3), (0, 0, 1), (0, 1, 0), (-1, 0, 0))


@st.composite
def plates(draw: st.DrawFn) -> FlatPanel:
    length = draw(st.floats(0.3, 1.2))
    width = draw(st.floats(0.3, 0.6))
    t = draw(st.floats(0.009, 0.03))
    r = draw(st.floats(0.05, 0.12))
    openings = [Opening(0.15, width / 2, 2 * r, 2 * r, r)]
    if length > 0.6:
        long, corner = draw(st.floats(0.05, 0.15)), draw(st.floats(0.005, 0.02))
        openings.append(Opening(length - 0.12, width / 2, long, 0.09, corner))
    chamfers = draw(st.sampled_from([(), (("near left", 0.025), ("far right", 0.02))]))
    return FlatPanel(length, width, t, tuple(openings), chamfers)


@settings(max_examples=40, deadline=None)
@given(plates(), st.sampled_from([FLAT, UPRIGHT]))
def test_plate_in_closed_form_is_its_mesh(plate: FlatPanel, at: Placement) -> None:
    body = panel_body("p", plate, at)
    assert body.volume_m3 == pytest.approx(plate.volume_m3, rel=1e-3)
    centre = at.point(*plate.centre_m, plate.thickness_m / 2)
    assert np.allclose(body.centroid_m, centre, atol=1e-3 * plate.length_m)
    # An independent geometry library finds the same solid, closed and right side out.
    assert exact(body).volume() == pytest.approx(body.volume_m3, rel=1e-6)
    assert exact(body).genus() == len(plate.openings)


@pytest.mark.parametrize(
    ("bottom", "top", "high"), [(0.13, 0.145, 0.37), (0.2, 0.2, 0.5), (0.1, 0.3, 1)]
)
def test_round_body_is_a_frustum(bottom: float, top: float, high: float) -> None:
    body = revolved("b", (1, 2, 3), [(0, bottom), (high, top)])
    assert body.volume_m3 == pytest.approx(frustum_volume_m3(bottom, top, high), rel=1e-9)
    assert body.centroid_m == pytest.approx([1, 2, 3 + frustum_centre_m(bottom, top, high)])
    assert exact(body).volume() == pytest.approx(body.volume_m3, rel=1e-6)


def test_frustum_against_cone_and_cylinder() -> None:
    """Elementary geometry: a cone holds a third of its cylinder, its centre a quarter up."""
    assert frustum_volume_m3(1, 1, 1) == pytest.approx(math.pi)
    assert frustum_volume_m3(1, 0, 3) == pytest.approx(math.pi)
    assert frustum_centre_m(1, 0, 1) == pytest.approx(0.25)
    assert frustum_centre_m(1, 1, 1) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("low", "high"),
    [((0.3, 0.4), (0.33, 0.42)), ((0.2, 0.2), (0.2, 0.2)), ((0.3, 0.3), (0.3, 0.5))],
)
def test_tapered_box_against_its_mesh(low: tuple[float, float], high: tuple[float, float]) -> None:
    """A sharp-cornered box in closed form against the volume integral over its surface."""
    body = box_like("b", (1, 2, 3), [(0, *low, 0.0), (0.5, *high, 0.0)])
    middle = ((low[0] + high[0]) / 2) * ((low[1] + high[1]) / 2)
    by_simpson = 0.5 / 6 * (low[0] * low[1] + 4 * middle + high[0] * high[1])
    assert body.volume_m3 == pytest.approx(by_simpson, rel=1e-4)
    assert body.centroid_m == pytest.approx([1, 2, 3 + prismoid_centre_m(low, high, 0.5)], abs=1e-5)
    assert exact(body).volume() == pytest.approx(body.volume_m3, rel=1e-6)


def test_a_pyramids_centre_is_a_quarter_up() -> None:
    """Elementary geometry; and a frustum of a cone has the centre of that of a pyramid."""
    assert prismoid_centre_m((1, 1), (0, 0), 1) == pytest.approx(0.25)
    assert prismoid_centre_m((0.2, 0.2), (0.3, 0.3), 0.4) == pytest.approx(
        frustum_centre_m(0.1, 0.15, 0.4)
    )


def test_lying_round_body_points_outward() -> None:
    body = revolved("b", (0, 0, 0), [(0, 0.1), (0.3, 0.1)], (1, 0, 0))
    assert body.volume_m3 == pytest.approx(math.pi * 0.01 * 0.3)
    assert body.low[0] == pytest.approx(0)
    assert body.high[0] == pytest.approx(0.3)


def test_mass_of_a_known_block() -> None:
    assert box("b", (0, 0, 0), (1, 2, 0.5)).mass_kg(600) == pytest.approx(600)


def test_two_boxes_share_their_overlap_and_touching_ones_nothing() -> None:
    a = box("a", (0, 0, 0), (1, 1, 1))
    assert shared_volume_m3(a, box("b", (0.5, 0.5, 0.5), (2, 2, 2))) == pytest.approx(0.125)
    assert shared_volume_m3(a, box("c", (1, 0, 0), (2, 1, 1))) == 0
    found = clashes([a, box("b", (0.9, 0, 0), (2, 1, 1)), box("c", (3, 0, 0), (4, 1, 1))])
    assert [(c.first, c.second) for c in found] == [("a", "b")]


def test_a_bucket_in_its_opening_shares_nothing_until_it_is_too_wide() -> None:
    plate = FlatPanel(0.6, 0.4, 0.018, (Opening(0.3, 0.2, 0.3, 0.3, 0.15),))
    shelf = panel_body("shelf", plate, FLAT)
    slim = revolved("bucket", (0.3, 0.2, -0.3), [(0, 0.13), (0.4, 0.148)])
    wide = revolved("bucket", (0.3, 0.2, -0.3), [(0, 0.14), (0.4, 0.16)])
    assert clashes([shelf, slim]) == ()
    assert len(clashes([shelf, wide])) == 1


def test_contact_of_a_shelf_on_a_side() -> None:
    side = FlatPanel(1.0, 0.3, 0.018)
    shelf = FlatPanel(0.6, 0.4, 0.018)
    side_at = Placement((0, 0, 0), (0, 0, 1), (0, 1, 0), (1, 0, 0))
    on_top = Placement((0, -0.1, 1.0), (1, 0, 0), (0, 1, 0), (0, 0, 1))
    assert contact_area_m2(shelf, on_top, side, side_at) == pytest.approx(0.3 * 0.018)
    above = Placement((0, -0.1, 1.001), (1, 0, 0), (0, 1, 0), (0, 0, 1))
    assert contact_area_m2(shelf, above, side, side_at) == 0
    into = Placement((0, -0.1, 0.99), (1, 0, 0), (0, 1, 0), (0, 0, 1))
    assert contact_area_m2(shelf, into, side, side_at) == 0


def test_feature_edges_of_a_box_are_its_twelve() -> None:
    assert len(box("b", (0, 0, 0), (1, 2, 3)).feature_edges()) == 12
    assert (
        len(
            joined(
                "j", [box("a", (0, 0, 0), (1, 1, 1)), box("b", (2, 0, 0), (3, 1, 1))]
            ).feature_edges()
        )
        == 24
    )


def test_hole_outside_its_outline_is_refused() -> None:
    square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    plain = triangulate(square)
    assert len(plain) == 2
    with pytest.raises(ValueError, match="high corner"):
        box("b", (0, 0, 0), (1, 0, 1))
