"""Panels as they leave the drill: screw holes and pockets taken out of their solids.

Only files for machines need this; a plan on paper does not wait for it.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ..solids import Body, Placement, cut_out, panel_body, revolved
from .model import CutPanel, Hole, Pocket

FLAT = Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
#: Sides of the polygon that stands for a hole; its area equals the circle's.
_SIDES = 24
#: Tools reach this far out of the wood [m].
_BEYOND_M = 0.001


def drilled(panel: CutPanel) -> Body:
    """A panel lying flat from its near left corner, with grooves, screw holes and pockets.

    Countersinks are left out: how deep they go follows from the screw's head.
    """
    whole = panel_body(panel.name, panel.plate, FLAT)
    tools = [_hole(panel, h) for h in panel.holes]
    for pocket in panel.pockets:
        tools += _pocket(panel, pocket)
    return cut_out(whole, tools)


def placed(body: Body, at: Placement, name: str) -> Body:
    """A flat panel's body where a copy of it is in the cart."""
    axes = np.array([at.along, at.across, at.through], dtype=float)
    triangles = body.triangles if np.linalg.det(axes) > 0 else body.triangles[:, ::-1]
    vertices = np.asarray(at.origin) + body.vertices @ axes
    return replace(body, name=name, vertices=vertices, triangles=triangles)


def drilled_m3(panel: CutPanel) -> float:
    """Wood that holes and pockets take, in closed form [m³].

    A hole takes its circle by the wood there is; a pocket its bore by the axis from shoulder to
    face, and its tip by the axis from shoulder to edge.
    """
    total = 0.0
    for hole in panel.holes:
        deep = {
            g.face: g.depth_m
            for g in panel.grooves
            if 0 < hole.x_m - g.x_m < g.length_m and 0 < hole.y_m - g.y_m < g.width_m
        }
        total += math.pi * hole.diameter_m**2 / 4 * (panel.thickness_m - sum(deep.values()))
    for pocket in panel.pockets:
        axis = _seat_depth_m(panel, pocket) / math.sin(pocket.angle_rad)
        total += math.pi * pocket.bore_m**2 / 4 * axis
        total += math.pi * pocket.shank_m**2 / 4 * pocket.seat_m
    return total


def _seat_depth_m(panel: CutPanel, pocket: Pocket) -> float:
    """Depth below the face at which the axis meets the shoulder."""
    return panel.thickness_m / 2 - pocket.seat_m * math.sin(pocket.angle_rad)


def _hole(panel: CutPanel, hole: Hole) -> Body:
    through = ((0.0, hole.diameter_m / 2), (panel.thickness_m + 2 * _BEYOND_M, hole.diameter_m / 2))
    return revolved("hole", (hole.x_m, hole.y_m, -_BEYOND_M), through, segments=_SIDES)


def _pocket(panel: CutPanel, pocket: Pocket) -> list[Body]:
    """Bore from the shoulder out through the face, tip from the shoulder out through the edge."""
    t, angle = panel.thickness_m, pocket.angle_rad
    dx, dy = pocket.way
    out_of_face = 1.0 if pocket.face == "upper" else -1.0
    # Along the axis, from the edge back to the face.
    axis = np.array([-dx * math.cos(angle), -dy * math.cos(angle), out_of_face * math.sin(angle)])
    leaves = np.array([pocket.x_m + dx * pocket.reach_m, pocket.y_m + dy * pocket.reach_m, t / 2])
    seat = leaves + axis * pocket.seat_m
    # Far enough that the whole slanted end of the bore is out of the wood.
    past = _seat_depth_m(panel, pocket) / math.sin(angle)
    past += pocket.bore_m / math.tan(angle) + _BEYOND_M
    out = pocket.shank_m * math.tan(angle) + _BEYOND_M
    bore = revolved(
        "bore",
        seat.tolist(),
        ((0.0, pocket.bore_m / 2), (past, pocket.bore_m / 2)),
        axis.tolist(),
        segments=_SIDES,
    )
    # Into the bore a little, so that no skin is left at the shoulder.
    tip = revolved(
        "tip",
        (leaves - axis * out).tolist(),
        ((0.0, pocket.shank_m / 2), (out + pocket.seat_m + _BEYOND_M / 10, pocket.shank_m / 2)),
        axis.tolist(),
        segments=_SIDES,
    )
    return [bore, tip]
