"""A person at the saw: cuts by what each step says alone, and measures what comes off.

Knows nothing of nests or trees. Pieces are known by the names pencilled on them. A step
says what is set to how much, a cut which piece is taken, which of its edges lies against
fence, stop or rule, and what to call the two that come of it. What was set is a panel's
size; what merely fell off is not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from kerfwind.cutting import CutStep, Nest, Piece, Saw

_CLOSE_M = 2e-5


@dataclass
class Lying:
    """A piece on the floor: sides along the sheet's x and y [m], and whether each was set."""

    x_m: float
    y_m: float
    set_x: bool = True
    set_y: bool = True


@dataclass
class Sawn:
    """What a whole order of cuts came to."""

    panels: int = 0
    left_over: int = 0
    wrong: list[str] = field(default_factory=list)
    cuts: int = 0
    settings: int = 0
    shaves: int = 0
    thin: int = 0
    slivers: int = 0
    most_open: int = 0


def saw_up(nest: Nest, steps: Sequence[CutStep], saw: Saw) -> Sawn:
    """Cut every sheet up as told."""
    found = Sawn(settings=len(steps))
    floor: dict[Piece, Lying] = {
        Piece("sheet", s.number): Lying(s.kind.length_m, s.kind.width_m) for s in nest.sheets
    }
    to_cut = {c.piece for step in steps for c in step.cuts}
    cut_times: dict[Piece, int] = {}
    for step in steps:
        for cut in step.cuts:
            cut_times[cut.piece] = cut_times.get(cut.piece, 0) + 1
    for step in steps:
        for cut in step.cuts:
            found.cuts += 1
            lying = floor.pop(cut.piece, None)
            if lying is None:
                found.wrong.append(f"cut {cut.number}: no {cut.piece} lies there")
                continue
            whole = lying.x_m if cut.axis == "x" else lying.y_m
            off_is_set = cut.kind == "trim" and step.how in ("line", "store")
            if off_is_set:
                kept, strip = whole - step.setting_m, step.setting_m - saw.kerf_m
            else:
                kept, strip = step.setting_m, whole - step.setting_m - saw.kerf_m
            edge = {"x": ("left", "right"), "y": ("near", "far")}[cut.axis]
            if cut.side not in edge:
                found.wrong.append(f"cut {cut.number}: {cut.side} edge on axis {cut.axis}")
            # The kept piece of a trim has lost its near edge: what runs the fence is the far one.
            if cut.kind == "trim" and (cut.side == edge[0]) != off_is_set:
                found.wrong.append(f"cut {cut.number}: trims the edge that it refers to")
            if strip < -saw.kerf_m - _CLOSE_M or kept <= 0:
                found.wrong.append(f"cut {cut.number}: misses {cut.piece}")
            cut_times[cut.piece] -= 1
            again = cut.gives in to_cut and cut_times.get(cut.gives, 0) > 0
            waste = cut.rest is None or cut.rest.kind == "waste"
            if cut.kind != "trim":
                found.thin += strip < -_CLOSE_M
                found.slivers += waste and _CLOSE_M < strip < 0.01
            given = Lying(lying.x_m, lying.y_m, lying.set_x, lying.set_y)
            rest = Lying(lying.x_m, lying.y_m, lying.set_x, lying.set_y)
            if cut.axis == "x":
                given.x_m, given.set_x = kept, not off_is_set
                rest.x_m, rest.set_x = strip, False
            else:
                given.y_m, given.set_y = kept, not off_is_set
                rest.y_m, rest.set_y = strip, False
            floor[cut.gives] = given
            if cut.rest is not None and cut.rest.kind in ("part", "panel"):
                floor[cut.rest] = rest
            if cut.kind != "trim" and waste and again:
                found.shaves += not _sets_a_panel(nest, cut.sheet, cut.axis, kept)
            part_cut = sum(p.kind == "part" and cut_times.get(p, 0) > 0 for p in floor)
            found.most_open = max(found.most_open, part_cut)
    for sheet in nest.sheets:
        for panel in sheet.pieces:
            piece = Piece("panel", sheet.number, panel.pencil)
            # A sheet that is a panel as it comes is not sawn at all.
            alone = Piece("sheet", sheet.number) if len(sheet.pieces) == 1 else piece
            lying = floor.get(piece) or floor.get(alone)
            found.panels += 1
            if lying is None:
                found.wrong.append(f"{panel.pencil} does not come off")
                continue
            if (
                abs(lying.x_m - panel.length_m) > _CLOSE_M
                or abs(lying.y_m - panel.width_m) > _CLOSE_M
            ):
                found.wrong.append(
                    f"{panel.pencil}: {lying.x_m:.5f} x {lying.y_m:.5f}, not "
                    f"{panel.length_m:.5f} x {panel.width_m:.5f}"
                )
            found.left_over += not (lying.set_x and lying.set_y)
    return found


def _sets_a_panel(nest: Nest, sheet: int, axis: str, size: float) -> bool:
    pieces = nest.sheets[sheet - 1].pieces
    return any(abs((p.length_m if axis == "x" else p.width_m) - size) < _CLOSE_M for p in pieces)
