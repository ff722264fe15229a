"""Someone who has the printed steps alone: reads their English back into distances."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from kerfwind.joinery import CutPanel
from kerfwind.joinery.model import Alignment, Axis, Side

_WORDS: dict[str, Side] = {"underside": "lower", "upper face": "upper"}
_WORDS |= {
    f"{side} {part}": side
    for side in ("left", "right", "front", "rear", "lower", "upper")
    for part in ("edge", "end", "face")
}
#: The face that lies against a side.
_FACING: dict[Side, str] = {
    "lower": "upper face",
    "upper": "underside",
    "left": "right face",
    "right": "left face",
    "front": "rear face",
    "rear": "front face",
}
_SIDE = "|".join(sorted(_WORDS, key=len, reverse=True))
_OF = re.compile(rf"({_SIDE}) of the ([a-z0-9 ]+)")
_AXES: dict[Side, Axis] = {"left": "x", "right": "x", "front": "y", "rear": "y"}
_OUT = {"left": -1.0, "front": -1.0, "lower": -1.0, "right": 1.0, "rear": 1.0, "upper": 1.0}
_SWAPS: tuple[dict[str, str], ...] = (
    {"left": "right", "right": "left"},
    {"front": "rear", "rear": "front"},
    {"left": "right", "right": "left", "front": "rear", "rear": "front"},
)


def rows_of(line: str, panels: Mapping[str, CutPanel]) -> list[Alignment]:
    """All that a line says of panels; ``panels`` are those of the drawings, by name."""
    found = re.fullmatch(
        r"([a-z0-9 ]+) \([A-Z]+\): (.*?)\.(?: The (.*) likewise, mirrored\.)?", line
    )
    if found is None:
        return []
    part, clauses, likewise = found.groups()
    rows = [row for clause in clauses.split("; ") for row in _clause(part, clause, panels)]
    others = re.findall(r"([a-z0-9 ]+?) \([A-Z]+\)", likewise or "")
    for other in (o.removeprefix(" and ").strip() for o in others):
        name = other.removeprefix("and ")
        swap = next(s for s in _SWAPS if _turned(part, s) == name)
        rows += [_mirrored(row, swap) for row in rows if row.part == part]
    return rows


def _clause(part: str, clause: str, panels: Mapping[str, CutPanel]) -> list[Alignment]:
    if match := re.fullmatch(rf"({_SIDE}) against the (.*)", clause):
        return [_row(part, match[1], to, side, 0.0, "against") for side, to in _listed(match[2])]
    if match := re.fullmatch(rf"({_SIDE}) home in the groove of the (.*)", clause):
        return [
            _row(part, match[1], to, side, -_OUT[_WORDS[side]] * _deep(panels[to]), "groove")
            for side, to in _listed(match[2])
        ]
    if match := re.fullmatch(r"its grooves home over the (.*)", clause):
        rows = []
        for side, to in _listed(match[1]):
            mine = _FACING[_WORDS[side]]
            rows.append(
                _row(part, mine, to, side, -_OUT[_WORDS[side]] * _deep(panels[part]), "groove")
            )
        return rows
    if match := re.fullmatch(r"(.*) flush with the ([a-z0-9 ]+)’s", clause):
        return [_row(part, s, match[2], s, 0.0, "flush") for s in re.findall(_SIDE, match[1])]
    if match := re.fullmatch(rf"({_SIDE}) flush with the (.*)", clause):
        return [_row(part, match[1], to, side, 0.0, "flush") for side, to in _listed(match[2])]
    if match := re.fullmatch(
        r"(.*) nearly flush with the (.*), (\d[\d/.-]*) in (inside|beyond) it", clause
    ):
        return [_measured(part, match[1], match[3], match[4], match[2])]
    if match := re.fullmatch(r"(.*?) (\d[\d/.-]*) in (inside|beyond|from) the (.*)", clause):
        return [_measured(part, *match.groups())]
    assert clause.startswith("long side "), clause
    return []


def _measured(part: str, what: str, distance: str, way: str, edge: str) -> Alignment:
    side, to = _listed(edge)[0]
    away = _inches(distance) * (1.0 if way == "beyond" else -1.0) * _OUT[_WORDS[side]]
    if (moved := _OF.fullmatch(what)) is not None:
        assert to == part
        return _row(part, side, moved[2], moved[1], -away, "marked")
    if way == "from":
        # From the facing side: beyond the edge that it is measured from.
        away = -away
    return _row(part, what, to, side, away, "marked")


def _inches(text: str) -> float:
    whole, _, part = text.partition("-") if "-" in text else ("0", "", text)
    # A part of an inch, or a thousandth where no mark is so fine.
    value = Fraction(whole) + Fraction(part)
    return float(value) * 0.0254


def _listed(text: str) -> list[tuple[str, str]]:
    parts = re.split(rf", (?={_SIDE})| and (?={_SIDE})", text)
    return [(m[1], m[2]) for m in map(_OF.fullmatch, parts) if m is not None]


def _row(part: str, own: str, to: str, side: str, offset_m: float, how: str) -> Alignment:
    mine, theirs = _WORDS[own], _WORDS[side]
    return Alignment(part, mine, to, theirs, _AXES.get(mine, "z"), offset_m, how)  # type: ignore[arg-type]


def _deep(panel: CutPanel) -> float:
    depths = {round(g.depth_m, 6) for g in panel.grooves}
    assert len(depths) == 1
    return depths.pop()


def _mirrored(row: Alignment, swap: Mapping[str, str]) -> Alignment:
    turned = (row.axis == "x" and "left" in swap) or (row.axis == "y" and "front" in swap)
    return Alignment(
        _turned(row.part, swap),
        swap.get(row.side, row.side),  # type: ignore[arg-type]
        _turned(row.to, swap),
        swap.get(row.to_side, row.to_side),  # type: ignore[arg-type]
        row.axis,
        -row.offset_m if turned else row.offset_m,
        row.how,
    )


def _turned(name: str, swap: Mapping[str, str]) -> str:
    return " ".join(swap.get(word, word) for word in name.split())
