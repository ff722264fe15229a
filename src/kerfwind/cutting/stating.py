"""What the cuts and pieces of a build are, as statements that words make sentences of."""

from __future__ import annotations

from ..facts import Amount, Fact, Listing, Name, Statement, state
from .model import Piece, Saw
from .order import CutStep, SawCut


def piece_fact(piece: Piece) -> Fact:
    """How a piece is called."""
    if piece.kind == "sheet":
        return state("cutting.piece.sheet", number=piece.sheet)
    if piece.kind == "offcut":
        return state("cutting.piece.offcut", sheet=piece.sheet)
    if piece.kind == "waste":
        return state("cutting.piece.waste")
    return Name(piece.name)


def gives_fact(cut: SawCut) -> Fact:
    """What a cut gives, and what is left of the piece where that has a name."""
    gives = piece_fact(cut.gives)
    if cut.rest is None or cut.rest.kind in ("waste", "offcut") or cut.kind == "trim":
        return gives
    return state("cutting.cut.gives", piece=gives, rest=piece_fact(cut.rest))


def step_statement(step: CutStep, saw: Saw) -> Statement:
    """A step: what is set to what, and which pieces are cut."""
    setting = Amount(step.setting_m, "length", "cut")
    cuts = Listing(tuple(_cut(step, cut) for cut in step.cuts), "commas")
    if step.how == "sled":
        # Whatever the grain says, a saw's sled crosscuts.
        return state("cutting.step.sled", setting=setting, cuts=cuts)
    if step.how == "store":
        return state("cutting.step.store", cut=step.kind, setting=setting, cuts=cuts)
    if step.how == "fence":
        return state("cutting.step.fence", cut=step.kind, setting=setting, cuts=cuts)
    if step.how == "stop":
        return state("cutting.step.stop", setting=setting, cuts=cuts)
    if not saw.guide_offset_m:
        return state("cutting.step.line", cut=step.kind, setting=setting, cuts=cuts)
    guide = Amount(step.setting_m - saw.guide_offset_m, "length", "cut")
    return state("cutting.step.guided", cut=step.kind, setting=setting, guide=guide, cuts=cuts)


def _cut(step: CutStep, cut: SawCut) -> Fact:
    piece = piece_fact(cut.piece)
    if step.kind == "trim":
        return piece
    return state("cutting.cut.from", gives=piece_fact(cut.gives), piece=piece)
