"""What is made of plywood beside the cart: for tools without a port, and for the bucket."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..air import FaceAir
from ..facts import Amount, Band, Listing, Name, state
from ..hookup import Plate
from ..joinery import Board, BoardWanted
from ..plan import Plan
from ..words import Voice
from .cautions import Caution

#: Air that is drawn from less far before a face is of no use to anyone [m].
_FELT_M = 0.005
#: A face that is larger than asked for by less is as asked for [m].
_ALIKE_M = 0.002


@dataclass(frozen=True)
class BoardStep:
    """One step of making it."""

    title: str
    text: str


@dataclass(frozen=True)
class BoardRow:
    """A plate or box: sizes, what goes into it, its panels, its air, and its steps."""

    name: str
    key: str
    text: str
    panels: str
    air: str
    steps: tuple[BoardStep, ...]
    cautions: tuple[Caution, ...]


def board_rows(plan: Plan, voice: Voice) -> list[BoardRow]:
    """Each plate and box."""
    faces = {f.tool: f for f in plan.faces}
    return [_row(plan, b, faces.get(b.wanted.tool), voice) for b in plan.boards]


def _row(plan: Plan, board: Board, face: FaceAir | None, voice: Voice) -> BoardRow:
    want = board.wanted
    said = _of_bucket(want, voice) if not want.tool else _of_tool(plan, want, voice)
    marks = tuple(
        state("view.board.panel", mark=Name(p.key), panel=part)
        if (part := dict(p.own.facts).get("part") if p.own else None)
        else Name(p.key)
        for p in board.panels
    )
    mind, name = voice.word("view.mind"), voice.text(board.called)
    return BoardRow(
        name[:1].upper() + name[1:],
        want.name,
        voice.text(Listing(tuple(map(Name, said)), "sentences")),
        voice.word("view.board.panels", count=len(board.panels), marks=Listing(marks, "commas"))
        if marks
        else "",
        _air(face, voice) if face else "",
        tuple(
            BoardStep(voice.text(s.title), voice.text(Listing(s.says, "sentences")))
            for s in board.steps
        ),
        tuple(
            Caution(mind, voice.text(each))
            for each in dict.fromkeys(c for s in board.steps for c in s.cautions)
        ),
    )


def _of_bucket(want: BoardWanted, voice: Voice) -> list[str]:
    """What belongs to the bucket."""
    if want.kind == "valve":
        opens, passes = Amount(want.opens_pa, "pressure"), Amount(want.passes_m3_s, "airflow")
        return [voice.word("view.board.valve", opens=opens, passes=passes)]
    across, along = (_size(side, voice) for side in want.face_m)
    if want.kind == "lid":
        shape = "round" if want.round else "box"
        return [voice.word("view.board.lid", shape=shape, across=across, along=along)]
    return [
        voice.word(
            "view.board.ring",
            shape="round" if want.round else "box",
            across=across,
            along=along,
            width=_size(want.hole_m, voice),
            height=_size(want.depth_m, voice),
        )
    ]


def _of_tool(plan: Plan, want: BoardWanted, voice: Voice) -> list[str]:
    """A plate or box for a tool without a port."""
    chain = plan.hookups.chain(want.tool)
    joint = chain.joints[0]
    said = [
        voice.word(
            "view.board.plate" if want.kind == "plate" else "view.board.box",
            length=_size(want.face_m[0], voice),
            width=_size(want.face_m[1], voice),
            depth=_size(want.depth_m, voice),
            hole=_size(want.hole_m, voice),
            bored=want.bored,
            end=joint.downstream,
        )
    ]
    if joint.downstream_end.outside.assumed:
        said.append(voice.word("view.board.unmeasured"))
    if want.kind == "hood box" and _larger(chain.plate):
        said.append(voice.word("view.board.larger"))
    return said


def _larger(plate: Plate | None) -> bool:
    """Whether a box's face was made larger than it was asked for."""
    return (
        plate is not None
        and plate.opening_m is not None
        and any(
            made > asked + _ALIKE_M
            for made, asked in zip(plate.face_m, plate.opening_m, strict=True)
        )
    )


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


def _size(size_m: float, voice: Voice) -> Name:
    return Name(voice.length(size_m))
