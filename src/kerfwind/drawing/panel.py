"""One panel to be made: outline, holes with their centres, chamfers, edges."""

from __future__ import annotations

import math
from collections import Counter

from kerfwind.facts import Fact, Name
from kerfwind.joinery.model import CutPanel
from kerfwind.solids import Opening
from kerfwind.words import Voice

from .layout import cut_text, length_text
from .model import (
    Circle,
    Dimension,
    Drawing,
    GrainArrow,
    Item,
    Label,
    Ordinates,
    Point,
    Polygon,
    Polyline,
    RoundDimension,
)
from .recesses import face_fact, groove_items, groove_places, pocket_items
from .sheet import Write, centre_lines

#: Up to so many different distances along a side are drawn as single dimensions.
_FEW = 3


def panel_drawing(panel: CutPanel, voice: Voice) -> Drawing:
    """A panel lying on its back: length to the right, width up, marked from the near left corner.

    Overall sizes stand above and to the right; distances of holes from the left end and
    from the near edge stand below and to the left.
    """
    write = fine = cut_text(voice)
    # Drills are sold by the 64th.
    drill = length_text(voice, 64)
    length, width = panel.length_m, panel.width_m
    outline = panel.plate.outline()
    items: list[Item] = [Polygon(tuple(outline), "outline", 0.98)]
    items += _banded(panel, voice)
    centres: list[Point] = []
    rounds: list[Item] = []
    for opening in panel.openings:
        items += _opening(opening, rounds, write, fine, voice)
        centres.append((opening.x_m, opening.y_m))
    count = Counter((round(h.diameter_m, 5), h.says) for h in panel.holes)
    told: set[tuple[float, Fact]] = set()
    for hole in panel.holes:
        r = hole.diameter_m / 2
        items.append(Circle((hole.x_m, hole.y_m), r, "edge", 1.0))
        items += centre_lines((hole.x_m, hole.y_m), max(r, 0.006), 0.3)
        centres.append((hole.x_m, hole.y_m))
        key = (round(hole.diameter_m, 5), hole.says)
        if key not in told:
            told.add(key)
            many = f"{count[key]} × " if count[key] > 1 else ""
            text = f"{many}Ø {drill(hole.diameter_m)}"
            rounds.append(
                RoundDimension((hole.x_m, hole.y_m), r, text=text, note=voice.text(hole.says))
            )
    shapes, notes_on = groove_items(panel, write, voice)
    items += shapes
    rounds += notes_on
    items += _pockets(panel, rounds, centres, drill, voice)
    xs, ys = groove_places(panel)
    items += _distances([*centres, *xs], [*centres, *ys])
    items += [
        Dimension((0, width), (length, width), "x", "above"),
        Dimension((length, 0), (length, width), "y", "right"),
    ]
    for corner, leg in panel.chamfers:
        x = length - leg / 2 if "right" in corner else leg / 2
        y = width - leg / 2 if "far" in corner else leg / 2
        items.append(Label((x, y), f"{write(leg)} × {write(leg)}", "leader"))
    for corner, a, b in panel.notches:
        x = length - a if "right" in corner else a
        y = width - b if "far" in corner else b
        sizes = {"length": Name(write(a)), "width": Name(write(b))}
        items.append(Label((x, y), voice.word("drawing.panel.notch", **sizes), "leader"))
    items += rounds
    thickness = Name(fine(panel.thickness_m))
    holes = tuple(
        (
            (o.x_m - o.length_m / 2, o.y_m - o.width_m / 2),
            (o.x_m + o.length_m / 2, o.y_m + o.width_m / 2),
        )
        for o in panel.openings
    )
    name = voice.word(
        "drawing.panel.make", panel=panel.called, count=panel.quantity, thickness=thickness
    )
    middle = (length / 2, width / 2)
    room = (length * 0.9, width * 0.9)
    called = voice.text(panel.called)
    brief = (called,)
    items.append(Label(middle, name, room=room, weight="Semibold", shorter=brief, avoid=holes))
    if panel.grain != "free":
        turn = 0.0 if panel.grain == "along" else 1.5707963267948966
        items.append(GrainArrow(middle, turn, room, holes))
    notes = (voice.word("drawing.panel.grain"),) if panel.grain != "free" else ()
    return Drawing(called, tuple(items), notes=notes, to_cut=True)


def _pockets(
    panel: CutPanel, rounds: list[Item], centres: list[Point], write: Write, voice: Voice
) -> list[Item]:
    items: list[Item] = []
    for pocket in panel.pockets:
        items += pocket_items(panel, pocket)
        centres.append((pocket.x_m, pocket.y_m))
    if panel.pockets:
        first = panel.pockets[0]
        angle = Name(voice.count(math.degrees(first.angle_rad)))
        face = face_fact(panel.name, first.face)
        rounds.append(
            RoundDimension(
                (first.x_m, first.y_m),
                first.bore_m / 2,
                text=f"{len(panel.pockets)} × Ø {write(first.bore_m)}",
                note=voice.word("drawing.panel.pocket", angle=angle, face=face),
            )
        )
    return items


def _distances(from_left: list[Point], from_near: list[Point]) -> list[Item]:
    """Distances of points from the left end, and of points from the near edge."""
    made: list[Item] = []
    xs = {round(x, 5): (x, y) for x, y in sorted(from_left, key=lambda p: -p[1])}
    ys = {round(y, 5): (x, y) for x, y in sorted(from_near, key=lambda p: -p[0])}
    if len(xs) <= _FEW:
        made += [Dimension((0, 0), p, "x", "below") for p in xs.values()]
    else:
        made.append(Ordinates(tuple(from_left), 0.0, "x", "below"))
    if len(ys) <= _FEW:
        made += [Dimension((0, 0), p, "y", "left") for p in ys.values()]
    else:
        made.append(Ordinates(tuple(from_near), 0.0, "y", "left"))
    return made


def _opening(
    opening: Opening, rounds: list[Item], write: Write, fine: Write, voice: Voice
) -> list[Item]:
    centre = (opening.x_m, opening.y_m)
    if opening.round:
        text = f"Ø {fine(opening.length_m)}"
        through = voice.word("drawing.panel.through")
        rounds.append(RoundDimension(centre, opening.radius_m, text=text, note=through))
        return [
            Circle(centre, opening.radius_m, "outline", 1.0),
            *centre_lines(centre, opening.radius_m),
        ]
    text = voice.word(
        "drawing.panel.opening_round" if opening.radius_m > 0 else "drawing.panel.opening",
        length=Name(write(opening.length_m)),
        width=Name(write(opening.width_m)),
        radius=Name(write(opening.radius_m)),
    )
    rim = (opening.x_m + opening.length_m / 2 - opening.radius_m, opening.y_m + opening.width_m / 2)
    rounds.append(Label(rim, text, "leader"))
    r = min(opening.length_m, opening.width_m) / 2
    return [Polygon(tuple(opening.loop()), "outline", 1.0), *centre_lines(centre, r)]


def _banded(panel: CutPanel, voice: Voice) -> list[Item]:
    """A heavy line upon each edge that hands pass, and a word for it."""
    length, width = panel.length_m, panel.width_m
    legs = dict(panel.chamfers)
    sides = legs | {corner: b for corner, _, b in panel.notches}
    legs |= {corner: a for corner, a, _ in panel.notches}
    ends: dict[str, tuple[Point, Point]] = {
        "near": ((legs.get("near left", 0.0), 0.0), (length - legs.get("near right", 0.0), 0.0)),
        "far": ((legs.get("far left", 0.0), width), (length - legs.get("far right", 0.0), width)),
        "left": ((0.0, sides.get("near left", 0.0)), (0.0, width - sides.get("far left", 0.0))),
        "right": (
            (length, sides.get("near right", 0.0)),
            (length, width - sides.get("far right", 0.0)),
        ),
    }
    items: list[Item] = [Polyline(ends[edge], "new") for edge in panel.edges]
    if panel.edges:
        # Distances of holes stand below and to the left.
        clear = [e for e in ("far", "right", "near", "left") if e in panel.edges]
        (x0, y0), (x1, y1) = ends[clear[0]]
        # Pockets stand near the ends.
        part = 0.5 if panel.pockets else 0.3
        spot = (x0 + part * (x1 - x0), y0 + part * (y1 - y0))
        text = voice.word("drawing.panel.edges", count=len(panel.edges))
        items.append(Label(spot, text, "leader", size="small"))
    return items
