"""Grooves and pockets on the drawing of a panel."""

from __future__ import annotations

import math

from kerfwind.facts import Name, Statement, Term, state
from kerfwind.joinery.grooves import kind_of
from kerfwind.joinery.model import CutPanel, Pocket
from kerfwind.solids import Face, Groove
from kerfwind.words import Voice

from .model import Item, Label, LineMeaning, Point, Polygon, Polyline
from .sheet import Write

#: What the two faces of a panel are called, lower then upper.
_FACES = {
    "side": ("outer face", "inner face"),
    "post": ("outer face", "inner face"),
    "upright": ("face away from the bucket", "face to the bucket"),
    "rail": ("front face", "rear face"),
    "bracket": ("inner face", "outer face"),
}
_LEVEL = ("underside", "upper face")


def face_fact(panel: str, face: Face) -> Term | Statement:
    """What a panel's face is called when the cart stands, and whether the drawing hides it."""
    lower, upper = _FACES.get(panel, _LEVEL)
    term = Term("panel-face", lower if face == "lower" else upper)
    return term if _seen(panel, face) else state("panel-face.behind", face=term)


def _seen(panel: str, face: Face) -> bool:
    """Level panels are drawn as seen from above, the others from their lower face."""
    return (face == "upper") == (panel not in _FACES)


def groove_items(panel: CutPanel, write: Write, voice: Voice) -> tuple[list[Item], list[Item]]:
    """Outlines of a panel's grooves, dashed in the face behind, and a note for each kind of them."""
    shapes: list[Item] = []
    tips: dict[str, list[Point]] = {}
    for groove in panel.grooves:
        (x0, x1), (y0, y1) = _sides(groove)
        line: LineMeaning = "edge" if _seen(panel.name, groove.face) else "hidden"
        shapes.append(Polygon(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), line))
        along = groove.length_m >= groove.width_m
        wide = groove.width_m if along else groove.length_m
        what = kind_of(groove, panel.length_m, panel.width_m)
        text = voice.word(
            "drawing.panel.groove",
            cut=what,
            width=Name(write(wide)),
            depth=Name(write(groove.depth_m)),
            face=face_fact(panel.name, groove.face),
        )
        tip = (
            (x0 + 0.35 * (x1 - x0), (y0 + y1) / 2)
            if along
            else ((x0 + x1) / 2, y0 + 0.35 * (y1 - y0))
        )
        tips.setdefault(text, []).append(tip)
    notes: list[Item] = []
    for text, spots in tips.items():
        many = f"{len(spots)} × " if len(spots) > 1 else ""
        # Distances stand at the left: the rightmost leaves its leader the freer way out.
        notes.append(Label(max(spots), many + text, "leader", size="small"))
    return shapes, notes


def groove_places(panel: CutPanel) -> tuple[list[Point], list[Point]]:
    """Points whose x, and points whose y, are to be measured to mark the grooves out.

    The nearer side of one that lies within the panel, and the ends that stop; the sides of a
    rebate follow from its width.
    """
    xs: list[Point] = []
    ys: list[Point] = []
    for groove in panel.grooves:
        (x0, x1), (y0, y1) = _sides(groove)
        inside = kind_of(groove, panel.length_m, panel.width_m) == "dado"
        if groove.length_m >= groove.width_m:
            xs += [(x, y0) for x in (x0, x1) if _ends(panel, groove, x, (y0 + y1) / 2)]
            ys += [(x0, y0)] if inside else []
        else:
            ys += [(x0, y) for y in (y0, y1) if _ends(panel, groove, (x0 + x1) / 2, y)]
            xs += [(x0, y0)] if inside else []
    return xs, ys


def _ends(panel: CutPanel, groove: Groove, x: float, y: float) -> bool:
    """Whether a groove's end is to be measured: not at an edge, nor within another groove."""
    if not (1e-9 < x < panel.length_m - 1e-9 and 1e-9 < y < panel.width_m - 1e-9):
        return False
    return not any(
        0 <= x - g.x_m <= g.length_m and 0 <= y - g.y_m <= g.width_m
        for g in panel.grooves
        if g is not groove
    )


def _sides(groove: Groove) -> tuple[Point, Point]:
    return ((groove.x_m, groove.x_m + groove.length_m), (groove.y_m, groove.y_m + groove.width_m))


def pocket_items(panel: CutPanel, pocket: Pocket) -> list[Item]:
    """A pocket: mouth in the face, grey where that is behind, shank to the edge, its axis' mark."""
    near, far = pocket.mouth_m
    (dx, dy), r = pocket.way, pocket.bore_m / 2

    def at(from_edge: float, aside: float) -> Point:
        back = pocket.reach_m - from_edge
        return pocket.x_m + dx * back - dy * aside, pocket.y_m + dy * back + dx * aside

    # The bore meets the face in an ellipse, cut off square at the shoulder.
    middle, half = pocket.reach_m, far - pocket.reach_m
    mouth = []
    for k in range(33):
        turn = 2 * math.pi * k / 32
        place = middle - half * math.cos(turn)
        if place >= near - 1e-9:
            mouth.append(at(place, r * math.sin(turn)))
    shank = pocket.shank_m / 2
    ways: list[Item] = [
        Polyline((at(near, side), at(0.0, side)), "hidden") for side in (-shank, shank)
    ]
    axis = Polyline((at(0.0, 0.0), at(far + r, 0.0)), "centre")
    cross = Polyline((at(middle, -1.6 * r), at(middle, 1.6 * r)), "centre")
    # Too small to be dashed at a printed scale: grey says that it is behind.
    grey = 1.0 if _seen(panel.name, pocket.face) else 0.75
    return [Polygon(tuple(mouth), "edge", grey), *ways, axis, cross]
