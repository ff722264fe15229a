"""Lipping, cleats and edge banding: what comes out of long offcuts, and how much to buy."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..sources import fact
from .first import RULES, Ranked, fill
from .model import Edge, Nest, Panel, Rect, Saw
from .problem import TICK_M, Part, part_ticks, sheet_ticks


@dataclass(frozen=True)
class Strip:
    """A long narrow piece wanted from what is left: a lipping or a cleat."""

    name: str
    length_m: float
    width_m: float
    quantity: int = 1
    material: str = "plywood"
    thickness_m: float = 0.018


@dataclass(frozen=True)
class StripPlaced:
    """A strip in an offcut of a sheet, in that sheet's coordinates."""

    strip: str
    copy: int
    sheet: int
    offcut: Rect
    rect: Rect


@dataclass(frozen=True)
class StripPlan:
    """Where the strips come from, and which find no offcut."""

    placed: tuple[StripPlaced, ...]
    missing: tuple[Strip, ...]


def strips_from_offcuts(nest: Nest, strips: Sequence[Strip], saw: Saw) -> StripPlan:
    """Strips laid along the grain of the offcuts of a nest, longest first.

    An offcut is used only for strips of its own material and thickness. Each offcut is
    cut edge to edge, a kerf between neighbours; the smallest that serve are taken first.
    """
    kerf = part_ticks(saw.kerf_m)
    placed: list[StripPlaced] = []
    missing: list[Strip] = []
    kinds = {s.number: s.kind for s in nest.sheets}
    for key in dict.fromkeys((s.material, round(s.thickness_m, 5)) for s in strips):
        mine = [s for s in strips if (s.material, round(s.thickness_m, 5)) == key]
        grained = True
        parts: list[Part] = []
        for strip in mine:
            sides = (part_ticks(strip.length_m) + kerf, part_ticks(strip.width_m) + kerf)
            parts.append(Part(*sides, False, strip.quantity))
        left = [s.quantity for s in mine]
        copies = [0] * len(mine)
        weights = [float(p.w) for p in parts]
        for number, rect in reversed(nest.offcuts):
            kind = kinds[number]
            if (kind.material, round(kind.thickness_m, 5)) != key or not any(left):
                continue
            grained = kind.grain == "length"
            here = tuple(Part(p.w, p.h, not grained, p.demand) for p in parts)
            w, h = sheet_ticks(rect.length_m) + kerf, sheet_ticks(rect.width_m) + kerf
            for spot in fill(w, h, left, Ranked(here, weights), RULES[0]):
                strip = mine[spot.part]
                copies[spot.part] += 1
                length, width = strip.length_m, strip.width_m
                if spot.turned:
                    length, width = width, length
                where = Rect(rect.x_m + spot.x * TICK_M, rect.y_m + spot.y * TICK_M, length, width)
                placed.append(StripPlaced(strip.name, copies[spot.part], number, rect, where))
        for strip, count in zip(mine, left, strict=True):
            if count:
                missing.append(
                    Strip(
                        strip.name,
                        strip.length_m,
                        strip.width_m,
                        count,
                        strip.material,
                        strip.thickness_m,
                    )
                )
    return StripPlan(tuple(placed), tuple(missing))


@dataclass(frozen=True)
class Banding:
    """Edge banding for one material and thickness.

    ``length_m`` is the sum of the edges; ``buy_m`` adds what is trimmed at each end.
    """

    material: str
    thickness_m: float
    edges: int
    length_m: float
    buy_m: float


def edge_length_m(panel: Panel, edge: Edge) -> float:
    """Length of one edge [m], the banding of its neighbours with it: near and far run along."""
    return panel.finished_m[0 if edge in ("near", "far") else 1]


def banding(panels: Sequence[Panel]) -> tuple[Banding, ...]:
    """Edge banding to buy, by material and thickness."""
    spare = fact("cutting.banding_overhang").value
    found: dict[tuple[str, float], tuple[int, float]] = {}
    for panel in panels:
        for edge in panel.banded:
            key = (panel.material, panel.thickness_m)
            edges, length = found.get(key, (0, 0.0))
            found[key] = (
                edges + panel.quantity,
                length + panel.quantity * edge_length_m(panel, edge),
            )
    return tuple(
        Banding(material, thickness, edges, length, length + 2 * spare * edges)
        for (material, thickness), (edges, length) in found.items()
    )
