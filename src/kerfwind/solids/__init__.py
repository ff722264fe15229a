"""Panels and bodies as solids: volume, mass, contact and interference."""

from .body import Body, Kind, Vector, joined
from .cutting import cut_out
from .meeting import Clash, boxes_apart, clashes, contact_area_m2, exact, shared_volume_m3
from .polygon import Loop, triangulate
from .shapes import (
    Corner,
    Face,
    Groove,
    Opening,
    Placement,
    Plate,
    band,
    box,
    box_like,
    circle,
    coarser,
    equal_area,
    frustum_centre_m,
    frustum_volume_m3,
    plate_body,
    prismoid_centre_m,
    revolved,
)

__all__ = [
    "Body",
    "Clash",
    "Corner",
    "Face",
    "Groove",
    "Kind",
    "Loop",
    "Opening",
    "Placement",
    "Plate",
    "Vector",
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
    "plate_body",
    "prismoid_centre_m",
    "revolved",
    "shared_volume_m3",
    "triangulate",
]
