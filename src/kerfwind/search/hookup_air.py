"""The hookups with the air solved in full where the program's two best answers differ."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ..air import Connection, Link, Piece, room_air, suction_curve
from ..air.path import way
from ..air.series import Series
from ..hookup import Chain, Hookups, choose
from ..hookup.choosing import Solve
from ..hookup.compare_in_air import AirOf, SolvedChain
from ..quantity import Draw
from ..shop import Hose, Rectangle, Shop, Tool
from ..sources import fact


def hookups_in_air(
    shop: Shop,
    draw: Draw,
    footprint_m: tuple[float, float] | None = None,
    solve: Solve | None = None,
) -> Hookups:
    """`choose`, its two best answers weighed by their true air; solved for the best values."""
    return choose(shop, draw, air=air_of(shop), footprint_m=footprint_m, solve=solve)


def air_of(shop: Shop) -> AirOf:
    """Solves chains of a shop nominally."""

    def solved(ways: Sequence[tuple[Tool, Hose, Chain]]) -> list[SolvedChain]:
        one = Draw(1)
        room = room_air(shop.room.altitude, shop.room.temperature, one)
        curve = suction_curve(shop, one, room)
        link = Link(shop.link) if shop.link else None
        wanted = fact("hookup.reference_airflow").value * room.density_kg_m3
        answers = []
        for tool, hose, chain in ways:
            connection = Connection(shop, as_made(tool, chain), hose, pieces_of(chain), link)
            series = Series(way(connection, one).elements, room)
            airflow = series.meet(curve) / room.density_kg_m3
            square = np.asarray(room.pressure_pa) ** 2
            # A way that no shop vacuum could pull this much through still counts as bad.
            left = np.maximum(square - series.end(np.broadcast_to(wanted, (1,)))[0], 0.0)
            lost = np.asarray(room.pressure_pa) - np.sqrt(left)
            answers.append(SolvedChain(float(airflow.item()), float(lost.item())))
        return answers

    return solved


def pieces_of(chain: Chain) -> tuple[Piece, ...]:
    """A chain's fittings as the air room wants them."""
    return tuple(Piece(p.fitting, p.turned) for p in chain.pieces)


def as_made(tool: Tool, chain: Chain) -> Tool:
    """The tool with the mouth that its plate or box gives it, for the air room.

    The hose's end goes through the hole, so the air meets the end's own bore.
    """
    if chain.plate is None:
        return tool
    joint, face = chain.joints[0], chain.plate.face_m
    mouth = joint.upstream_end.model_copy(update={"inside": joint.downstream_end.inside})
    opening = tool.opening
    if opening is not None and chain.plate.kind == "hood box":
        length = replace(opening.length, best_si=face[0], low_si=face[0], high_si=face[0])
        width = replace(opening.width, best_si=face[1], low_si=face[1], high_si=face[1])
        opening = Rectangle(length=length, width=width)
    return tool.model_copy(update={"port": mouth, "opening": opening})
