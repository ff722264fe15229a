"""An independent look at a nest: replay the cuts and compare what comes off.

Nothing here knows how nests are found. A sheet starts as one rectangle; each cut must
run from edge to edge of one piece and takes a kerf; in the end each panel of the list
must lie there as a piece of its own, of the right size, with the grain as asked.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from ..facts import Name, Statement, state
from .model import Nest, Panel, Piece, Saw, SheetKind
from .order import CutStep, SawCut

_CLOSE_M = 1e-6
#: No fence is set finer than this.
_SAME_SETTING_M = 2e-5

Box = tuple[float, float, float, float]


def _near(a: float, b: float) -> bool:
    return abs(a - b) <= _CLOSE_M


def _apart(
    at: Box, line: tuple[float, float, float, float], side: int, kerf: float
) -> list[Box] | None:
    """What a cut leaves of a box, or None where the line does not cross it edge to edge."""
    x0, y0, x1, y1 = at
    a, b, c, d = line
    if _near(a, c):
        if not (x0 - _CLOSE_M <= a <= x1 + _CLOSE_M and _near(b, y0) and _near(d, y1)):
            return None
        low, high = (a, a + kerf) if side > 0 else (a - kerf, a)
        made = [(x0, y0, low, y1), (high, y0, x1, y1)]
    elif _near(b, d):
        if not (y0 - _CLOSE_M <= b <= y1 + _CLOSE_M and _near(a, x0) and _near(c, x1)):
            return None
        low, high = (b, b + kerf) if side > 0 else (b - kerf, b)
        made = [(x0, y0, x1, low), (x0, high, x1, y1)]
    else:
        return None
    return [m for m in made if m[2] - m[0] > _CLOSE_M and m[3] - m[1] > _CLOSE_M]


def _holds(outer: Box, inner: Box) -> bool:
    """Whether an offcut lies whole in a piece; its factory edges may still be on."""
    return (
        outer[0] <= inner[0] + _CLOSE_M
        and outer[1] <= inner[1] + _CLOSE_M
        and outer[2] >= inner[2] - _CLOSE_M
        and outer[3] >= inner[3] - _CLOSE_M
    )


def replay(
    nest: Nest, steps: Sequence[CutStep], saw: Saw
) -> tuple[dict[int, list[Box]], list[Statement]]:
    """Pieces of each sheet after all cuts (x0, y0, x1, y1) [m], and what went wrong."""
    lying: dict[int, list[Box]] = {
        s.number: [(0.0, 0.0, s.kind.length_m, s.kind.width_m)] for s in nest.sheets
    }
    wrong: list[Statement] = []
    cuts = sorted((c for step in steps for c in step.cuts), key=lambda c: c.number)
    if [c.number for c in cuts] != list(range(1, len(cuts) + 1)):
        wrong.append(state("cutting.wrong.numbers"))
    for cut in cuts:
        boxes = lying.get(cut.sheet, [])
        for at, box in enumerate(boxes):
            made = _apart(box, cut.line_m, cut.waste_side, saw.kerf_m)
            if made is not None:
                boxes[at : at + 1] = made
                break
        else:
            wrong.append(state("cutting.wrong.not_edge_to_edge", cut=cut.number))
    return lying, wrong


def named_pieces(
    nest: Nest, steps: Sequence[CutStep], saw: Saw, *, every: bool = False
) -> dict[int, list[tuple[str, Box]]]:
    """Pieces with a name pencilled on them by sheet, as they lie there (x0, y0, x1, y1) [m].

    With ``every`` those that were cut further too, as they were.
    """
    lying: dict[Piece, Box] = {
        Piece("sheet", s.number): (0.0, 0.0, s.kind.length_m, s.kind.width_m) for s in nest.sheets
    }
    gone: list[tuple[Piece, Box]] = []
    for cut in sorted((c for step in steps for c in step.cuts), key=lambda c: c.number):
        box = lying.pop(cut.piece, None)
        made = _apart(box, cut.line_m, cut.waste_side, saw.kerf_m) if box else None
        if box is None or not made:
            continue
        gone.append((cut.piece, box))
        ordered = made if cut.waste_side > 0 else made[::-1]
        for piece, part in zip((cut.gives, cut.rest), ordered, strict=False):
            if piece is not None:
                lying[piece] = part
    found: dict[int, list[tuple[str, Box]]] = {s.number: [] for s in nest.sheets}
    for piece, box in (*(gone if every else ()), *lying.items()):
        if piece.kind == "part" and piece.name:
            found[piece.sheet].append((piece.name, box))
    return found


def _set(step: CutStep, cut: SawCut, saw: Saw) -> float:
    """What a cut's step has to be set to [m]: its size, or what a trim by a line takes off."""
    if cut.kind == "trim" and step.how in ("line", "store"):
        return cut.rest_m + saw.kerf_m if cut.rest else step.setting_m
    return cut.size_m


def check_nest(
    nest: Nest,
    panels: Sequence[Panel],
    sheets: Sequence[SheetKind],
    saw: Saw,
    steps: Sequence[CutStep],
    made_before: Mapping[str, Collection[int]] | None = None,
) -> list[Statement]:
    """Everything wrong with a nest and its order of cuts; empty where it is right.

    ``made_before`` holds the copies that existed before, by panel name.
    """
    lying, wrong = replay(nest, steps, saw)
    wrong += [
        state("cutting.wrong.setting", cut=c.number)
        for step in steps
        for c in step.cuts
        if abs(_set(step, c, saw) - step.setting_m) > _SAME_SETTING_M
    ]
    wanted = {p.name: p for p in panels}
    made: Counter[str] = Counter()
    pencils: Counter[str] = Counter()
    used: Counter[str] = Counter()
    kinds = {k.key: k for k in sheets}
    for sheet in nest.sheets:
        used[sheet.kind.key] += 1
        if kinds.get(sheet.kind.key) != sheet.kind:
            wrong.append(state("cutting.wrong.sheet", sheet=sheet.number))
        margin = saw.trim_m if sheet.kind.trim else 0.0
        boxes = list(lying[sheet.number])
        for piece in sheet.pieces:
            made[piece.panel] += 1
            pencils[piece.pencil] += 1
            name = Name(piece.pencil)
            panel = wanted.get(piece.panel)
            if panel is None:
                wrong.append(state("cutting.wrong.not_listed", panel=name))
                continue
            box = (piece.x_m, piece.y_m, piece.x_m + piece.length_m, piece.y_m + piece.width_m)
            match = [b for b in boxes if all(_near(p, q) for p, q in zip(b, box, strict=True))]
            if match:
                boxes.remove(match[0])
            else:
                wrong.append(state("cutting.wrong.not_off", panel=name, sheet=sheet.number))
            if box[0] < margin - _CLOSE_M or box[1] < margin - _CLOSE_M:
                wrong.append(state("cutting.wrong.trimmed", panel=name))
            if (
                box[2] > sheet.kind.length_m - margin + _CLOSE_M
                or box[3] > sheet.kind.width_m - margin + _CLOSE_M
            ):
                wrong.append(state("cutting.wrong.beyond", panel=name))
            sides = (
                (piece.width_m, piece.length_m) if piece.turned else (piece.length_m, piece.width_m)
            )
            if not (_near(sides[0], panel.length_m) and _near(sides[1], panel.width_m)):
                wrong.append(state("cutting.wrong.size", panel=name, row=Name(panel.name)))
            along_grain = not piece.turned
            grained = sheet.kind.grain == "length"
            if grained and panel.grain == "along" and not along_grain:
                wrong.append(state("cutting.wrong.across_grain", panel=name))
            if grained and panel.grain == "across" and along_grain:
                wrong.append(state("cutting.wrong.along_grain", panel=name))
            if sheet.kind.material != panel.material or not _near(
                sheet.kind.thickness_m, panel.thickness_m
            ):
                wrong.append(state("cutting.wrong.material", panel=name))
        for rect in sheet.offcuts:
            box = (rect.x_m, rect.y_m, rect.x_m + rect.length_m, rect.y_m + rect.width_m)
            if not any(_holds(b, box) for b in boxes):
                wrong.append(state("cutting.wrong.offcut", sheet=sheet.number))
    for row, panel in wanted.items():
        needed = panel.quantity - len((made_before or {}).get(row, ()))
        if made[row] != needed:
            wrong.append(
                state("cutting.wrong.count", made=made[row], panel=Name(row), wanted=needed)
            )
    wrong += [state("cutting.wrong.same_name", panel=Name(p)) for p, n in pencils.items() if n > 1]
    for key, count in used.items():
        kind = kinds.get(key)
        if kind is not None and kind.limit is not None and count > kind.limit:
            wrong.append(
                state("cutting.wrong.limit", used=count, sheet=kind.name, there=kind.limit)
            )
    wrong += _overlaps(lying)
    return wrong


def _overlaps(lying: dict[int, list[Box]]) -> list[Statement]:
    wrong: list[Statement] = []
    for sheet, boxes in lying.items():
        ordered = sorted(boxes)
        for at, a in enumerate(ordered):
            for b in ordered[at + 1 :]:
                if b[0] > a[2] - _CLOSE_M:
                    break
                if b[1] < a[3] - _CLOSE_M and a[1] < b[3] - _CLOSE_M:
                    wrong.append(state("cutting.wrong.overlap", sheet=sheet))
    return wrong
