"""Solids as files: a panel as STL and 3MF, the whole cart as GLB (binary glTF 2.0)."""

from __future__ import annotations

from typing import Any

import numpy as np

from kerfwind.cart.model import Cart
from kerfwind.hookup.mesh import three_mf
from kerfwind.joinery.drilled import drilled, placed
from kerfwind.joinery.model import CutPanel
from kerfwind.solids import Body

#: glTF has y up and z towards the viewer; ours is z up and y away (glTF 2.0, section 3.4).
_TO_GLTF = np.array([[1.0, 0, 0], [0, 0, 1.0], [0, -1.0, 0]])


def panel_stl(panel: CutPanel) -> bytes:
    """A panel lying flat from its near left corner, as binary STL in millimetres.

    Openings, chamfers, grooves, screw holes and pockets are cut; countersinks are not.
    """
    return bytes(_mesh(drilled(panel), np.eye(3) * 1000).export(file_type="stl"))


def panel_3mf(panel: CutPanel) -> bytes:
    """The same as `panel_stl`, as a 3MF package."""
    return three_mf(drilled(panel))


def cart_glb(cart: Cart) -> bytes:
    """All bodies of the cart as GLB: metres, y up, one named node each, plain greys.

    Panels have their screw holes and pockets.
    """
    import trimesh

    scene = trimesh.Scene(base_frame="cart")
    for body in drilled_bodies(cart):
        scene.add_geometry(_mesh(body, _TO_GLTF), node_name=body.name, geom_name=body.name)
    return bytes(scene.export(file_type="glb"))


def drilled_bodies(cart: Cart) -> list[Body]:
    """The cart's bodies, panels drilled."""
    flat = {p.key: drilled(p) for p in cart.panels}
    copies = {p.name: placed(flat[p.key], p.at, p.name) for p in cart.placed}
    return [copies.get(b.name, b) for b in cart.bodies]


def _mesh(body: Body, turn: np.ndarray[Any, np.dtype[np.float64]]) -> Any:
    import trimesh
    from trimesh.visual import TextureVisuals
    from trimesh.visual.material import PBRMaterial

    grey = round(255 * body.tone)
    material = PBRMaterial(
        name=f"grey {grey}",
        baseColorFactor=(grey, grey, grey, 255),
        metallicFactor=0.0,
        roughnessFactor=0.9,
    )
    return trimesh.Trimesh(
        body.vertices @ turn.T,
        body.triangles,
        process=False,
        visual=TextureVisuals(material=material),
    )
