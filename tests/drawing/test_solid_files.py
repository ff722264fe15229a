"""Panels and carts as files for machines, read back by other libraries."""

from __future__ import annotations

import io
import math

import ezdxf
import numpy as np
import pytest
import trimesh
from ezdxf import bbox

from kerfwind.cart import Cart
from kerfwind.cart.model import CartPanel, Hole
from kerfwind.drawing.panel_dxf import LAYERS, panel_dxf
from kerfwind.drawing.solid_files import cart_glb, panel_stl
from kerfwind.solids import Opening

from .samples import FORMS, whole_cart

PANEL = CartPanel(
    "A", "side", 0.75, 0.52, 0.018, 2, "along",
    openings=(Opening(0.6, 0.26, 0.12, 0.05, 0.02), Opening(0.3, 0.26, 0.1, 0.1, 0.05),
              Opening(0.1, 0.1, 0.04, 0.03, 0.0)),
    chamfers=(("far right", 0.08), ("near left", 0.03)),
    holes=(Hole(0.05, 0.4, 0.0045, "J1", ""), Hole(0.7, 0.1, 0.005, "J2", "")),
)  # fmt: skip


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


def test_a_panel_as_stl_is_closed_and_has_its_volume():
    mesh = trimesh.load(io.BytesIO(panel_stl(PANEL)), file_type="stl")
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume == pytest.approx(PANEL.plate.volume_m3 * 1e9, rel=1e-3)
    assert mesh.bounds.tolist() == [[0, 0, 0], pytest.approx([750, 520, 18])]


@pytest.fixture(scope="module", params=FORMS)
def cart(request) -> Cart:
    return whole_cart(request.param)


def test_the_cart_as_glb_has_every_body_by_name(cart):
    data = cart_glb(cart)
    assert data[:4] == b"glTF"
    assert int.from_bytes(data[8:12], "little") == len(data)
    scene = trimesh.load(io.BytesIO(data), file_type="glb")
    assert set(scene.graph.nodes_geometry) == {b.name for b in cart.bodies}
    for body in cart.bodies:
        transform, geometry = scene.graph[body.name]
        mesh = scene.geometry[geometry].copy()
        mesh.apply_transform(transform)
        mesh.merge_vertices()
        assert mesh.is_watertight, body.name
        assert mesh.volume == pytest.approx(body.volume_m3, rel=1e-3)
        # y up, z towards the viewer: ours are z up and y away.
        low, high = mesh.bounds
        expected = [[body.low[0], body.low[2], -body.high[1]],
                    [body.high[0], body.high[2], -body.low[1]]]  # fmt: skip
        assert np.allclose([low, high], expected, atol=1e-5)
        colour = mesh.visual.material.baseColorFactor
        assert len(set(colour[:3].tolist())) == 1


def test_every_panel_of_a_cart_can_be_read_back(cart):
    for panel in cart.panels:
        box = bbox.extents(read(panel_dxf(panel)).modelspace().query('*[layer=="OUTLINE"]'))
        assert tuple(box.size)[:2] == pytest.approx((panel.length_m * 1000, panel.width_m * 1000))
        mesh = trimesh.load(io.BytesIO(panel_stl(panel)), file_type="stl")
        assert mesh.is_watertight, panel.name
        assert mesh.volume == pytest.approx(panel.plate.volume_m3 * 1e9, rel=1e-3)
