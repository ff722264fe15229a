"""Solids as files: a panel as STL, the whole cart as GLB (binary glTF 2.0)."""

from __future__ import annotations

from typing import Any

import numpy as np

from kerfwind.cart.model import Cart, CartPanel
from kerfwind.solids import Body, Placement, plate_body

#: glTF has y up and z towards the viewer; ours is z up and y away (glTF 2.0, section 3.4).
_TO_GLTF = np.array([[1.0, 0, 0], [0, 0, 1.0], [0, -1.0, 0]])
_FLAT = Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def panel_stl(panel: CartPanel) -> bytes:
    """A panel lying flat from its near left corner, as binary STL in millimetres.

    Openings and chamfers are cut; screw holes are not.
    """
    body = plate_body(panel.name, panel.plate, _FLAT)
    return bytes(_mesh(body, np.eye(3) * 1000).export(file_type="stl"))


def cart_glb(cart: Cart) -> bytes:
    """All bodies of the cart as GLB: metres, y up, one named node each, plain greys."""
    import trimesh

    scene = trimesh.Scene(base_frame="cart")
    for body in cart.bodies:
        scene.add_geometry(_mesh(body, _TO_GLTF), node_name=body.name, geom_name=body.name)
    return bytes(scene.export(file_type="glb"))


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
