"""A panel as STL and 3MF, the whole cart as GLB."""

from __future__ import annotations

from kerfwind.cart.model import Cart
from kerfwind.joinery.drilled import drilled, placed
from kerfwind.joinery.model import CutPanel
from kerfwind.mesh_files import glb, stl, three_mf
from kerfwind.solids import Body


def panel_stl(panel: CutPanel) -> bytes:
    """A panel lying flat from its near left corner, as binary STL in millimetres.

    Openings, chamfers, grooves, screw holes and pockets are cut; countersinks are not.
    """
    return stl(drilled(panel))


def panel_3mf(panel: CutPanel) -> bytes:
    """A panel lying flat as `panel_stl` has it, as a 3MF package in millimetres."""
    return three_mf(drilled(panel))


def cart_glb(cart: Cart) -> bytes:
    """All bodies of the cart as GLB: metres, y up, one named node each, plain greys.

    Panels have their screw holes and pockets.
    """
    return glb(drilled_bodies(cart), "cart")


def drilled_bodies(cart: Cart) -> list[Body]:
    """The cart's bodies, panels drilled."""
    flat = {p.key: drilled(p) for p in cart.panels}
    copies = {p.name: placed(flat[p.key], p.at, p.name) for p in cart.placed}
    return [copies.get(b.name, b) for b in cart.bodies]
