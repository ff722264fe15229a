"""Panels and bodies as solids: volume, mass, contact and interference."""

from .body import BACK_X, DOWN, Body, Kind, Vector, X, Y, Z, joined
from .contact import Clash, boxes_apart, clashes, contact_area_m2, shared_volume_m3
from .cutting import cut_out
from .exact import exact
from .flat_panel import Corner, Face, FlatPanel, Groove, Opening, Placement
from .loops import Loop, circle, equal_area, triangulate
from .panel_bodies import panel_body
from .shapes import (
    band,
    box,
    box_like,
    coarser,
    frustum_centre_m,
    frustum_volume_m3,
    prismoid_centre_m,
    revolved,
    swept,
)

__all__ = [
    "BACK_X",
    "DOWN",
    "Body",
    "Clash",
    "Corner",
    "Face",
    "FlatPanel",
    "Groove",
    "Kind",
    "Loop",
    "Opening",
    "Placement",
    "Vector",
    "X",
    "Y",
    "Z",
    "band",
    "box",
    "box_like",
    "boxes_apart",
    "circle",
    "clashes",
    "coarser",
    "contact_area_m2",
    "cut_out",
    "equal_area",
    "exact",
    "frustum_centre_m",
    "frustum_volume_m3",
    "joined",
    "panel_body",
    "prismoid_centre_m",
    "revolved",
    "shared_volume_m3",
    "swept",
    "triangulate",
]
