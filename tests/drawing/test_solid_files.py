"""Panels and carts as files for machines, read back by other libraries."""

from __future__ import annotations

import io
import math
import zipfile
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
import trimesh
from ezdxf import bbox

from kerfwind.cart import Cart
from kerfwind.drawing.panel_dxf import LAYERS, layers_of, panel_dxf
from kerfwind.drawing.solid_files import cart_glb, drilled_bodies, panel_3mf, panel_stl
from kerfwind.facts import state
from kerfwind.joinery.drilled import drilled, drilled_m3
from kerfwind.joinery.model import CutPanel, Hole, Pocket
from kerfwind.solids import Groove, Opening

from .samples import FORMS, whole_cart

PANEL = CutPanel(
    "A",
    "side",
    0.75,
    0.52,
    0.018,
    2,
    "along",
    openings=(
        Opening(0.6, 0.26, 0.12, 0.05, 0.02),
        Opening(0.3, 0.26, 0.1, 0.1, 0.05),
        Opening(0.1, 0.1, 0.04, 0.03, 0.0),
    ),
    chamfers=(("far right", 0.08), ("near left", 0.03)),
    holes=(
        Hole(0.05, 0.4, 0.0045, "J1", state("joinery.hole.countersunk")),
        Hole(0.7, 0.1, 0.005, "J2", state("joinery.hole.countersunk")),
    ),
)


def read(text: str):
    document = ezdxf.read(io.StringIO(text))
    assert not document.audit().has_errors
    return document


def area_of(polyline) -> float:
    """Area inside a closed polyline with bulges, by its arcs' exact circular segments."""
    points = [(x, y, b) for x, y, b in polyline.get_points("xyb")]
    total = 0.0
    for (x0, y0, b), (x1, y1, _) in zip(points, [*points[1:], points[0]], strict=True):
        total += (x0 * y1 - x1 * y0) / 2
        if b:
            turn = 4 * math.atan(b)
            r = math.dist((x0, y0), (x1, y1)) / 2 / math.sin(turn / 2)
            total += r * r * (turn - math.sin(turn)) / 2
    return total


def test_a_panel_as_dxf_is_true_to_size():
    document = read(panel_dxf(PANEL))
    space = document.modelspace()
    assert document.units == ezdxf.units.MM
    (outline,) = space.query('LWPOLYLINE[layer=="OUTLINE"]')
    box = bbox.extents([outline])
    assert tuple(box.extmin)[:2] == pytest.approx((0, 0))
    assert tuple(box.extmax)[:2] == pytest.approx((750, 520))
    assert outline.closed
    assert area_of(outline) == pytest.approx(750 * 520 - 80**2 / 2 - 30**2 / 2)
    window, plain = sorted(space.query('LWPOLYLINE[layer=="OPENING"]'), key=area_of, reverse=True)
    assert area_of(window) == pytest.approx(120 * 50 - (4 - math.pi) * 20**2)
    assert area_of(plain) == pytest.approx(40 * 30)
    box = bbox.extents([window])
    assert tuple(box.extmin)[:2] == pytest.approx((540, 235), abs=1e-6)
    assert tuple(box.extmax)[:2] == pytest.approx((660, 285), abs=1e-6)
    (opening,) = space.query('CIRCLE[layer=="OPENING"]')
    assert tuple(opening.dxf.center)[:2] == pytest.approx((300, 260))
    assert opening.dxf.radius == pytest.approx(50)
    holes = {
        (round(c.dxf.center.x, 6), round(c.dxf.center.y, 6), round(c.dxf.radius, 6))
        for c in space.query('CIRCLE[layer=="SCREW_HOLE"]')
    }
    assert holes == {(50, 400, 2.25), (700, 100, 2.5)}
    assert {e.dxf.layer for e in space} == set(LAYERS)
    assert panel_dxf(PANEL) == panel_dxf(PANEL)


_REACH = 0.009 / math.tan(math.radians(15))
RECESSED = CutPanel(
    "B",
    "rail",
    0.5,
    0.1,
    0.018,
    1,
    "along",
    holes=(
        Hole(0.25, 0.05, 0.0044, "J1", state("joinery.hole.countersunk")),
        Hole(0.4, 0.091, 0.0044, "J2", state("joinery.hole.countersunk")),
    ),
    notches=(("near right", 0.03, 0.02),),
    grooves=(
        Groove(0.2, 0.0817, 0.3, 0.0183, 0.006, "upper"),
        Groove(0.3, 0.0, 0.0183, 0.1, 0.006, "upper"),
    ),
    pockets=(
        Pocket(
            _REACH, 0.05, "left", "lower", math.radians(15), _REACH, 0.0155, 0.0095, 0.0044, "J3"
        ),
    ),
)


def test_a_panel_as_stl_is_closed_and_has_its_volume():
    mesh = trimesh.load(io.BytesIO(panel_stl(PANEL)), file_type="stl")
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume == pytest.approx((PANEL.plate.volume_m3 - drilled_m3(PANEL)) * 1e9, rel=1e-5)
    assert mesh.bounds.tolist() == [[0, 0, 0], pytest.approx([750, 520, 18])]


def _packed(data: bytes) -> trimesh.Trimesh:
    """The one mesh of a 3MF package (3MF Core Specification, section 4)."""
    space = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
    root = ElementTree.fromstring(zipfile.ZipFile(io.BytesIO(data)).read("3D/3dmodel.model"))
    points = [[float(v.get(k)) for k in "xyz"] for v in root.iter(f"{space}vertex")]
    faces = [[int(t.get(k)) for k in ("v1", "v2", "v3")] for t in root.iter(f"{space}triangle")]
    return trimesh.Trimesh(points, faces, process=False)


def test_holes_pockets_grooves_and_notches_are_cut_by_their_closed_forms():
    """By hand: rectangles for grooves and notch, circles for holes; a pocket is its bore by the axis
    from shoulder to face and its tip by that from shoulder to edge."""
    grooves = (300 * 18.3 + 18.3 * 100 - 18.3**2) * 6
    holes = math.pi * 2.2**2 * (18 + 12)
    seat = (9 - 15.5 * math.sin(math.radians(15))) / math.sin(math.radians(15))
    pocket = math.pi * (4.75**2 * seat + 2.2**2 * 15.5)
    hand = (500 * 100 - 30 * 20) * 18 - grooves - holes - pocket
    assert drilled(RECESSED).volume_m3 * 1e9 == pytest.approx(hand, rel=1e-9)
    mesh = trimesh.load(io.BytesIO(panel_stl(RECESSED)), file_type="stl")
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(hand, rel=1e-5)
    assert _packed(panel_3mf(RECESSED)).volume == pytest.approx(hand, rel=1e-5)
    centre = RECESSED.plate.centroid_m
    assert mesh.center_mass / 1000 == pytest.approx(centre, abs=5e-4)


def test_a_recessed_panel_as_dxf_has_layers_by_face_and_depth():
    document = read(panel_dxf(RECESSED))
    space = document.modelspace()
    assert {e.dxf.layer for e in space} == set(layers_of(RECESSED)) - {"OPENING"}
    first, _ = space.query('LWPOLYLINE[layer=="GROOVE_UPPER_6_0MM"]')
    assert area_of(first) == pytest.approx(300 * 18.3)
    (line,) = space.query('LINE[layer=="POCKET_LOWER"]')
    assert line.dxf.start.x == pytest.approx(9 / math.tan(math.radians(15)))
    assert line.dxf.end.x == pytest.approx(0, abs=1e-9)
    (outline,) = space.query('LWPOLYLINE[layer=="OUTLINE"]')
    assert area_of(outline) == pytest.approx(500 * 100 - 30 * 20)


@pytest.fixture(scope="module", params=[*FORMS, "tower, pocket hole", "low, dado"])
def cart(request) -> Cart:
    form, _, joint = request.param.partition(", ")
    return whole_cart(form, joint or "screwed butt")


def test_the_cart_as_glb_has_every_body_by_name(cart):
    data = cart_glb(cart)
    assert data[:4] == b"glTF"
    assert int.from_bytes(data[8:12], "little") == len(data)
    scene = trimesh.load(io.BytesIO(data), file_type="glb")
    assert set(scene.graph.nodes_geometry) == {b.name for b in cart.bodies}
    for body in drilled_bodies(cart):
        transform, geometry = scene.graph[body.name]
        mesh = scene.geometry[geometry].copy()
        mesh.apply_transform(transform)
        mesh.merge_vertices()
        assert mesh.is_watertight, body.name
        assert mesh.volume == pytest.approx(body.volume_m3, rel=1e-3)
        # y up, z towards the viewer: ours are z up and y away.
        low, high = mesh.bounds
        expected = [
            [body.low[0], body.low[2], -body.high[1]],
            [body.high[0], body.high[2], -body.low[1]],
        ]
        assert np.allclose([low, high], expected, atol=1e-5)
        colour = mesh.visual.material.baseColorFactor
        assert len(set(colour[:3].tolist())) == 1


def test_every_panel_of_a_cart_can_be_read_back(cart):
    for panel in cart.panels:
        box = bbox.extents(read(panel_dxf(panel)).modelspace().query('*[layer=="OUTLINE"]'))
        assert tuple(box.size)[:2] == pytest.approx((panel.length_m * 1000, panel.width_m * 1000))
        mesh = trimesh.load(io.BytesIO(panel_stl(panel)), file_type="stl")
        assert mesh.is_watertight, panel.name
        wood = panel.plate.volume_m3 - drilled_m3(panel)
        assert mesh.volume == pytest.approx(wood * 1e9, rel=1e-5)
