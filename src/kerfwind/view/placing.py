"""Where each part of a step goes, told from its alignments and from nothing else."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..cart import Cart
from ..facts import Amount, Fact, Listing, Name, Statement, Term, state
from ..joinery import Alignment, CutPanel, Lying, PlacedPanel, Step
from ..joinery.aligned import HAIR_M, SIDES, opposite
from ..joinery.model import Side
from ..solids import Face
from ..words import Voice

_HIGH = {high for _, high in SIDES.values()}
#: A panel so many times longer than wide has ends.
_ENDS = 1.3


def placings(cart: Cart, step: Step, voice: Voice) -> list[str]:
    """A line for each part that a step adds; parts that lie alike but mirrored share one."""
    rows: dict[str, list[Alignment]] = {}
    for row in step.aligned:
        rows.setdefault(row.part, []).append(row)
    lines: list[Fact] = []
    told: set[str] = set()
    for part, mine in rows.items():
        if part in told:
            continue
        likewise = [
            other
            for other, theirs in rows.items()
            if other != part and other not in told and _mirrored(part, mine, other, theirs)
        ]
        told |= {part, *likewise}
        clauses = Listing((*_clauses(cart, mine),), "semicolons")
        if likewise:
            others = Listing(tuple(_called(cart, name) for name in likewise))
            lines.append(
                state(
                    "view.place.alike",
                    part=_called(cart, part),
                    clauses=clauses,
                    others=others,
                    count=len(likewise),
                )
            )
        else:
            lines.append(state("view.place", part=_called(cart, part), clauses=clauses))
    panels = {p.name for p in cart.placed}
    if any(
        r.how == "marked" and r.part in panels and abs(r.offset_m) >= HAIR_M for r in step.aligned
    ):
        lines.append(state("view.place.mark_first"))
    return [voice.text(line) for line in lines]


def side_term(cart: Cart, part: str, side: Side) -> Term:
    """What a side of a part is called: a face, an edge, an end, or a side of a thing."""
    placed = next((p for p in cart.placed if p.name == part), None)
    if placed is None:
        return Term("place-side", side)
    panel = cart.panel(placed.key)
    lying = lying_of_part(cart, part)
    if side in (lying.lower, opposite(lying.lower)):
        return Term("place-face", side)
    ends = panel.length_m > _ENDS * panel.width_m and lying.lower not in ("lower", "upper")
    if ends and side in (lying.left, opposite(lying.left)):
        return Term("place-end", side)
    return Term("place-edge", side)


def lying_of_part(cart: Cart, part: str) -> Lying:
    """Which way round a panel goes on; KeyError where no step adds it."""
    for step in cart.steps:
        for each in step.lying:
            if each.part == part:
                return each
    raise KeyError(part)


def _called(cart: Cart, part: str) -> Fact:
    """A part by its name, and a panel by its letter too."""
    letter = next((p.key for p in cart.placed if p.name == part), None)
    if letter is not None:
        return state("view.place.panel", part=Term("panel", part), letter=Name(letter))
    hardware = cart.body(part).kind == "hardware"
    return Term("body", part) if hardware else cart.what(part)


def _of(cart: Cart, part: str, side: Side) -> Statement:
    """The side of a part that is there already."""
    what = cart.what(part)
    return state("view.place.side_of", side=side_term(cart, part, side), part=what)


def _clauses(cart: Cart, rows: Sequence[Alignment]) -> list[Statement]:
    """What is said of one part: what it lies against, what it is level with, what is measured."""
    made: list[Statement] = []
    if (long := _long_side(cart, rows[0].part)) is not None:
        made.append(long)
    for kind in ("against", "groove"):
        mine = [r for r in rows if r.how == kind]
        for side in dict.fromkeys(r.side for r in mine):
            those = [r for r in mine if r.side == side]
            to = Listing(tuple(_of(cart, r.to, r.to_side) for r in those))
            own = side_term(cart, those[0].part, side)
            if kind == "against":
                made.append(state("view.place.against", side=own, to=to))
            elif those[0].carrier == those[0].part:
                made.append(state("view.place.over", to=to))
            else:
                made.append(state("view.place.groove", side=own, to=to))
    made += _flush(cart, [r for r in rows if r.how == "flush"])
    made += _middles(cart, rows)
    between = [r for r in rows if r.how == "between"]
    for one, two in zip(between[::2], between[1::2], strict=True):
        made.append(state("view.place.between", one=cart.what(one.to), two=cart.what(two.to)))
    made += [marked(cart, r) for r in rows if r.how == "marked"]
    return made


def _middles(cart: Cart, rows: Sequence[Alignment]) -> list[Statement]:
    """What lies in the middle of another part, or of the opening in it."""
    made = []
    for to in dict.fromkeys(r.to for r in rows if r.how == "opening"):
        made.append(state("view.place.opening", to=cart.what(to)))
    centred = [r for r in rows if r.how == "centred"]
    for to in dict.fromkeys(r.to for r in centred):
        axes = {r.axis for r in centred if r.to == to}
        way = {"x": "across", "y": "deep", "z": "up"}[axes.pop()] if len(axes) == 1 else "both"
        made.append(state("view.place.centred", to=cart.what(to), way=way))
    return made


def _long_side(cart: Cart, part: str) -> Statement | None:
    """Which way a small level panel lies, of which there are several."""
    placed = next((p for p in cart.placed if p.name == part), None)
    if placed is None:
        return None
    panel, lying = cart.panel(placed.key), lying_of_part(cart, part)
    level = lying.lower in ("lower", "upper")
    if not level or panel.quantity < 2 or panel.length_m == panel.width_m:
        return None
    side = lying.left if panel.length_m > panel.width_m else lying.near
    return state("view.place.long", way="across" if side in ("left", "right") else "deep")


def _flush(cart: Cart, rows: Sequence[Alignment]) -> list[Statement]:
    made = []
    for to in dict.fromkeys(r.to for r in rows):
        those = [r for r in rows if r.to == to]
        own = [side_term(cart, r.part, r.side) for r in those]
        theirs = [side_term(cart, to, r.side) for r in those]
        if own == theirs:
            sides = Listing(tuple(own))
            made.append(state("view.place.flush_alike", sides=sides, to=cart.what(to)))
        else:
            made += [
                state("view.place.flush", side=one, to=_of(cart, to, row.to_side))
                for one, row in zip(own, those, strict=True)
            ]
    return made


def marked(cart: Cart, row: Alignment) -> Statement:
    """A distance, with the edge from which it is measured."""
    on_part = row.carrier == row.part
    moved, side, base, edge = (
        (row.to, row.to_side, row.part, row.side)
        if on_part
        else (row.part, row.side, row.to, row.to_side)
    )
    # How far what is moved lies on the high side of the edge it is measured from.
    beyond = -row.offset_m if on_part else row.offset_m
    way = ("out" if (beyond > 0) == (edge in _HIGH) else "in") if side == edge else "off"
    if way != "off" and abs(row.offset_m) < HAIR_M:
        way = "hair-" + way
    return state(
        "view.place.marked",
        what=_of(cart, moved, side) if on_part else side_term(cart, moved, side),
        distance=Amount(abs(row.offset_m), "length", "cut"),
        way=way,
        edge=_of(cart, base, edge),
    )


def lies_text(cart: Cart, panel: CutPanel, voice: Voice) -> str:
    """Which edges a panel's drawing shows below and to the left, and which face towards you.

    One sentence for each way in which copies of it lie; empty for what is no part of the cart.
    """
    copies = [p for p in cart.placed if p.key == panel.key]
    if not copies:
        return ""
    seen: Face = "lower" if any(_left_handed(p) for p in copies) else "upper"
    ways: dict[tuple[Term, Term, Fact], list[str]] = {}
    for copy in copies:
        lying = lying_of_part(cart, copy.name)
        key = (
            side_term(cart, copy.name, lying.near),
            side_term(cart, copy.name, lying.left),
            _face_term(cart, copies, copy.name, seen),
        )
        ways.setdefault(key, []).append(copy.name)
    lines = []
    for (below, left, told), names in ways.items():
        said = {"below": below, "left": left, "face": told}
        if len(ways) == 1:
            lines.append(state("view.shape.lies", **said))
        else:
            parts = Listing(tuple(Term("panel", n) for n in names))
            lines.append(state("view.shape.lies_so", parts=parts, **said))
    return voice.text(Listing((*lines, *_countersunk(cart, panel, copies)), "sentences"))


def _face_term(cart: Cart, copies: Sequence[PlacedPanel], part: str, face: Face) -> Term:
    """What a face of a panel is called: of a mirrored pair the outer or the inner one."""
    lying = lying_of_part(cart, part)
    side = lying.lower if face == "lower" else opposite(lying.lower)
    if part in _AWAY:
        away = side == ("left" if part == "partition" else "right")
        return Term("panel-face", "face away from the bucket" if away else "face to the bucket")
    if len(copies) > 1 and _sideways(cart, copies, lying.lower):
        return Term("panel-face", "outer face" if side in part.split() else "inner face")
    return Term("place-face", side)


def _countersunk(cart: Cart, panel: CutPanel, copies: Sequence[PlacedPanel]) -> list[Statement]:
    """On which face the holes are countersunk, and for which parts where it is not one for all."""
    second = {j.key: cart.what(j.second) for j in cart.joints}
    faces: dict[Face, dict[Fact, None]] = {}
    for hole in panel.holes:
        if hole.joint in second:
            faces.setdefault(hole.face, {})[second[hole.joint]] = None
    if len(faces) == 1:
        face = _face_term(cart, copies, copies[0].name, next(iter(faces)))
        return [state("view.shape.countersunk", face=face)]
    return [
        state(
            "view.shape.countersunk_for",
            face=_face_term(cart, copies, copies[0].name, face),
            parts=Listing(tuple(parts)),
        )
        for face, parts in faces.items()
    ]


#: Both stand beside the bucket, so that neither name tells which way is out.
_AWAY = ("partition", "end")


def _left_handed(placed: PlacedPanel) -> bool:
    at = placed.at
    return float(np.dot(np.cross(at.along, at.across), at.through)) < 0


def _sideways(cart: Cart, copies: Sequence[PlacedPanel], lower: Side) -> bool:
    """Whether copies of a panel face opposite ways, as the two sides of a cart do."""
    faces = {lying_of_part(cart, p.name).lower for p in copies}
    return len(faces) > 1 and opposite(lower) in faces


_SWAPS: tuple[dict[str, str], ...] = (
    {"left": "right", "right": "left"},
    {"front": "rear", "rear": "front"},
    {"left": "right", "right": "left", "front": "rear", "rear": "front"},
)


def _mirrored(one: str, rows: Sequence[Alignment], other: str, theirs: Sequence[Alignment]) -> bool:
    """Whether two parts lie to the same things as each other's images in a mirror."""
    if len(rows) != len(theirs):
        return False
    wanted = {_key(r, {}) for r in theirs}
    for swap in _SWAPS:
        if _swapped(one, swap) == other and {_key(r, swap) for r in rows} == wanted:
            return True
    return False


def _key(row: Alignment, swap: dict[str, str]) -> tuple[object, ...]:
    turned = (
        row.side in swap
        or (row.axis == "x" and "left" in swap)
        or (row.axis == "y" and "front" in swap)
    )
    offset = -row.offset_m if turned else row.offset_m
    return (
        swap.get(row.side, row.side),
        _swapped(row.to, swap),
        swap.get(row.to_side, row.to_side),
        row.axis,
        round(offset, 5) + 0.0,
        row.how,
    )


def _swapped(name: str, swap: dict[str, str]) -> str:
    return " ".join(swap.get(word, word) for word in name.split())
