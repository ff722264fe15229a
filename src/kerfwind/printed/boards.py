"""What is made of plywood for tools without a port, in words."""

from __future__ import annotations

from typing import Any

import numpy as np

from ..air import FaceAir
from ..facts import Amount, Band, Listing
from ..joinery import Board
from ..plan import Plan
from ..quantity import show
from ..view.findings import voice_of
from ..words import Voice
from .figure_files import Figures

#: Air that is drawn from less far before a face is of no use to anyone [m].
_FELT_M = 0.005


def board_rows(plan: Plan, figures: Figures) -> list[dict[str, Any]]:
    """Each plate and box: sizes, what goes into it, its air, and its steps."""
    faces = {f.tool: f for f in plan.faces}
    return [_row(plan, b, faces.get(b.wanted.tool), figures) for b in plan.boards]


def _row(plan: Plan, board: Board, face: FaceAir | None, figures: Figures) -> dict[str, Any]:
    want, voice = board.wanted, voice_of(plan)
    joint = plan.hookups.chain(want.tool).joints[0]
    takes = voice_of(plan).text(joint.downstream)
    hole = _size(plan, want.hole_m)
    a, b = (_size(plan, v) for v in want.face_m)
    if want.kind == "plate":
        text = f"{a} by {b}, with a hole of {hole} in its middle for the {takes}."
    else:
        text = (
            f"Open face {a} by {b}, {_size(plan, want.depth_m)} deep inside; a hole of {hole} in its "
            f"{want.bored} takes the {takes}."
        )
    if joint.downstream_end.outside.assumed:
        text += " Nobody has measured that end yet: measure it first, and bore to what it is."
    plate = plan.hookups.chain(want.tool).plate
    if (
        plate is not None
        and plate.opening_m is not None
        and want.kind == "hood box"
        and any(
            made > asked + 0.002 for made, asked in zip(plate.face_m, plate.opening_m, strict=True)
        )
    ):
        text += " The face is larger than asked for: the bore must keep clear of the edges."
    marks = ", ".join(
        f"{p.key} {p.name.removeprefix(want.name).strip()}".strip() for p in board.panels
    )
    return {
        "name": want.name[:1].upper() + want.name[1:],
        "file": figures.boards.get(want.name),
        "text": text,
        "panels": f"Panel{'s' if len(board.panels) > 1 else ''} {marks}: sizes, sheets and cuts are with the cart's.",
        "air": _air(face, voice) if face else "",
        "steps": [
            {"title": voice.text(s.title), "text": voice.text(Listing(s.says, "sentences"))}
            for s in board.steps
        ],
        "cautions": [
            {"title": "Mind", "text": voice.text(caution)}
            for caution in dict.fromkeys(c for s in board.steps for c in s.cautions)
        ],
    }


def _air(face: FaceAir, voice: Voice) -> str:
    low, high = face.wanted_m_s
    out = float(np.median(face.reach_m))
    return voice.word(
        "air.face",
        reach="beyond" if out > _FELT_M else "not",
        had=Band.of(face.speed_m_s, "speed"),
        wanted=Band((low + high) / 2, low, high, "speed"),
        least=Amount(low, "speed"),
        distance=Amount(out, "length"),
        side=Amount(face.largest_m2**0.5, "length"),
    )


def _size(plan: Plan, size_m: float) -> str:
    return show(size_m, "length", plan.units, denominator=32)
