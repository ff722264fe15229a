"""Printed reducers: true sizes, sound meshes, volume against cone frustums."""

from __future__ import annotations

import io
import math
import xml.etree.ElementTree as ET
import zipfile

import numpy as np
import pytest
import trimesh
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from kerfwind.facts import Ref, state
from kerfwind.hookup import fit
from kerfwind.hookup.mesh import solid
from kerfwind.hookup.reducer import Reducer, as_fitting, design
from kerfwind.hookup.rings import test_rings as rings_of
from kerfwind.mesh_files import stl, three_mf
from kerfwind.quantity import Draw
from kerfwind.solids import exact
from kerfwind.sources import fact

from .shops import end

PORT_AND_HOSE = (
    state("hookup.port", tool=Ref("tool", "sander")),
    state("hookup.end.tool", hose=Ref("hose", "grey hose")),
)
ENDS = st.tuples(
    st.floats(28, 110),
    st.floats(3, 7),
    st.sampled_from(["in", "over", "either"]),
    st.sampled_from(["rigid", "rubber"]),
)


def made_of(one: tuple[float, float, str, str], other: tuple[float, float, str, str]) -> Reducer:
    ends = [
        end(outside - wall, outside, goes=goes, material=material)
        for outside, wall, goes, material in (one, other)
    ]
    reducer = design(ends[0], ends[1], PORT_AND_HOSE)
    # A rubber end that may only go in, or a throat too narrow, cannot be printed for.
    assume(reducer is not None)
    assert reducer is not None
    return reducer


def radii(reducer: Reducer, line: str, at: np.ndarray) -> np.ndarray:
    points = np.array(getattr(reducer, line))
    return np.interp(at, points[:, 0], points[:, 1])


@given(one=ENDS, other=ENDS)
@settings(max_examples=60)
def test_any_reducer_has_wall_everywhere_is_gentle_and_prints_without_support(
    one: tuple[float, float, str, str], other: tuple[float, float, str, str]
) -> None:
    reducer = made_of(one, other)
    x = np.linspace(0, reducer.length, 2001)
    wall = radii(reducer, "outer", x) - radii(reducer, "inner", x)
    assert wall.min() >= 0.0015
    inner = np.array(reducer.inner)
    across = np.abs(np.diff(inner[:, 1]))
    along = np.diff(inner[:, 0])
    assert np.all(across <= along * math.tan(fact("hookup.print_overhang").value) + 1e-12)
    long = along > 0.003
    gentle = math.tan(fact("hookup.cone_half_angle").value)
    assert np.all(across[long] <= along[long] * gentle + 1e-9)
    outer = np.array(reducer.outer)
    steep = np.abs(np.diff(outer[:, 1])) <= np.diff(outer[:, 0]) + 1e-12
    assert steep.all()
    assert reducer.bore == pytest.approx(2 * inner[:, 1].min())


@given(one=ENDS, other=ENDS)
@settings(max_examples=25)
def test_meshes_are_sound_and_as_large_as_frustums_say(
    one: tuple[float, float, str, str], other: tuple[float, float, str, str]
) -> None:
    reducer = made_of(one, other)
    body = solid(reducer, "reducer")
    assert exact(body).volume() > 0
    read = trimesh.load(io.BytesIO(stl(body)), file_type="stl")
    assert read.is_watertight
    assert read.is_winding_consistent
    assert read.euler_number == 0
    assert read.volume * 1e-9 == pytest.approx(reducer.volume_m3, rel=1e-3)
    assert body.volume_m3 == pytest.approx(reducer.volume_m3, rel=1e-3)


def test_volume_against_the_closed_form_of_a_frustum() -> None:
    """π h (R² + R r + r²) / 3 for each straight piece, summed by hand."""
    reducer = design(end(30, 35, goes="over"), end(50, 56, goes="over"), PORT_AND_HOSE)
    assert reducer is not None
    wall, play = fact("hookup.print_wall").value, fact("hookup.print_allowance").value
    r1, r2 = (0.030 - play) / 2, (0.050 - play) / 2
    s1, s2 = r1 - wall, r2 - wall
    grip, chamfer = 0.030, 0.0008
    cone = (r2 - r1) / math.tan(math.radians(15))

    def frustum(h: float, a: float, b: float) -> float:
        return math.pi * h * (a * a + a * b + b * b) / 3

    outer = (
        frustum(chamfer, r1 - chamfer, r1)
        + frustum(grip - chamfer, r1, r1)
        + frustum(cone, r1, r2)
        + frustum(grip - chamfer, r2, r2)
        + frustum(chamfer, r2, r2 - chamfer)
    )
    inner = frustum(grip, s1, s1) + frustum(cone, s1, s2) + frustum(grip, s2, s2)
    assert reducer.volume_m3 == pytest.approx(outer - inner, rel=1e-9)
    density = fact("hookup.filament_density").value
    assert reducer.mass_kg == pytest.approx((outer - inner) * density, rel=1e-9)


def test_true_sizes_are_measured_back_from_the_mesh() -> None:
    port, hose = end(30, 35, length=28), end(57, 62.6, goes="over", length=40)
    reducer = design(port, hose, PORT_AND_HOSE)
    assert reducer is not None
    body = solid(reducer, "reducer")
    radius = np.hypot(body.vertices[:, 0], body.vertices[:, 1])
    height = body.vertices[:, 2]
    assert height.min() == 0.0
    assert height.max() == pytest.approx(reducer.length, abs=1e-12)
    # It goes over the 35 mm port and into the 57 mm hose, each with the fit allowance.
    play = fact("hookup.print_allowance").value
    hose_mouth = np.isclose(height, 0.0008)
    assert 2 * radius[hose_mouth].max() == pytest.approx(0.057 - play, abs=1e-9)
    port_mouth = np.isclose(height, reducer.length - 0.0008)
    assert 2 * radius[port_mouth].min() == pytest.approx(0.035 + play, abs=1e-9)


def test_a_reducer_fits_what_it_was_made_for() -> None:
    port, hose = end(30, 35), end(57, 62.6, goes="over")
    reducer = design(port, hose, PORT_AND_HOSE)
    assert reducer is not None
    fitting = as_fitting(reducer)
    for joint in (fit(port, fitting.end_a, Draw(1)), fit(fitting.end_b, hose, Draw(1))):
        assert joint.kind in ("press", "slip")


def test_what_cannot_be_printed_is_not() -> None:
    plain = end(30, 35)
    assert design(end(30, 35, joint="thread"), plain, PORT_AND_HOSE) is None
    assert design(end(190, 200), plain, PORT_AND_HOSE) is None
    assert design(end(10, 14, goes="over"), plain, PORT_AND_HOSE) is None


def test_a_3mf_package_holds_the_same_solid_in_millimetres() -> None:
    reducer = design(end(30, 35), end(57, 63), PORT_AND_HOSE)
    assert reducer is not None
    body = solid(reducer, "cone & <port>")
    with zipfile.ZipFile(io.BytesIO(three_mf(body))) as package:
        assert package.testzip() is None
        assert set(package.namelist()) == {"[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"}
        root = ET.fromstring(package.read("3D/3dmodel.model"))
    space = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
    assert root.get("unit") == "millimeter"
    points = np.array(
        [[float(v.get(a, "nan")) for a in "xyz"] for v in root.iter(f"{space}vertex")]
    )
    faces = np.array(
        [[int(t.get(a, "-1")) for a in ("v1", "v2", "v3")] for t in root.iter(f"{space}triangle")]
    )
    mesh = trimesh.Trimesh(points, faces, process=False)
    assert mesh.is_watertight
    assert mesh.volume * 1e-9 == pytest.approx(reducer.volume_m3, rel=1e-3)
    assert three_mf(body) == three_mf(body)


def test_rings_step_about_the_designed_size() -> None:
    reducer = design(end(30, 35), end(57, 63), PORT_AND_HOSE)
    assert reducer is not None
    rings = rings_of(reducer)
    assert len(rings) == 10
    sizes = [r.inside for r in rings if r.mates == PORT_AND_HOSE[0]]
    assert sizes[2] == pytest.approx(reducer.first.inside)
    assert np.diff(sizes) == pytest.approx([0.0002] * 4)
    for ring in rings:
        body = solid(ring, "ring")
        assert exact(body).volume() > 0
        assert body.volume_m3 == pytest.approx(ring.volume_m3, rel=1e-3)
        wall = (ring.outside - ring.inside) / 2
        around = math.pi * (ring.outside + ring.inside) / 2
        assert ring.volume_m3 == pytest.approx(around * wall * 0.006, rel=1e-9)
