"""A hood box pulled apart a little, so that its five panels and its hole are seen."""

from __future__ import annotations

import numpy as np

from kerfwind.joinery.boards import Board
from kerfwind.words import Voice

from .model import Balloon, Drawing, Item
from .project import picture, picture_drawing
from .view import perspective

#: How far each panel is held off, as a part of the box's largest side.
_OFF = 0.22


def board_drawing(board: Board, voice: Voice) -> Drawing:
    """The box from in front of its open face; panels in balloons by their letter."""
    every = np.concatenate([b.vertices for b in board.bodies])
    middle = (every.min(axis=0) + every.max(axis=0)) / 2
    off = _OFF * float(np.ptp(every, axis=0).max())
    bodies = []
    for body in board.bodies:
        away = (body.low + body.high) / 2 - middle
        axis = int(np.argmin(body.high - body.low))
        step = np.zeros(3)
        step[axis] = np.sign(away[axis]) * off
        bodies.append(body.moved(step.tolist()))
    points = np.concatenate([b.vertices for b in bodies])
    seen = picture(bodies, perspective(points, elevation_deg=24.0), crease_deg=38.0)
    letters = {p.name: p.key for p in board.placed}
    items: list[Item] = []
    for body in bodies:
        spot = seen.seen_at(body.name)
        if spot is not None:
            items.append(Balloon(spot, letters[body.name]))
    title = voice.word("drawing.board", board=board.called)
    return picture_drawing(title, seen, items)
