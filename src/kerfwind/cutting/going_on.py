"""Going on with a half-done build as a person tells of it: cuts made, sheets done, a short panel."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from ..facts import Amount, Listing, Name
from ..faults import Faults, refusal, unread
from ..quantity import QuantityError, parse
from ..sources import fact
from .half_done import (
    CutTooEarlyError,
    Frozen,
    ShortAnswer,
    cut_short,
    freeze,
    nest_rest,
    short_panel,
    then,
)
from .model import Nest, Piece, Placed, Watch
from .nesting import nest
from .order import CutStep, SawCut, cut_order
from .reading import CutList

DONE, SHORT = "--done", "--short"


@dataclass(frozen=True)
class Rest:
    """What stays of a half-done build and what is still to cut.

    ``answers`` are the ways to go on with each panel that came out short; ``nest`` is None
    where every panel is made.
    """

    stays: Frozen
    done: int
    answers: tuple[tuple[str, tuple[ShortAnswer, ...]], ...]
    nest: Nest | None
    steps: tuple[CutStep, ...]


def go_on(
    listed: CutList,
    file: str,
    rounds: Sequence[str],
    shorts: Sequence[str],
    *,
    budget: int,
    seed: int,
    watch: Watch | None = None,
) -> Rest:
    """Lay out the list, take the cuts that were made as made, and lay out the rest.

    Parameters
    ----------
    file
        The list's name, for faults.
    rounds
        Cuts made, such as ``1-7, 9, sheet 2``: of the list's own nest first, then of each
        nest that came of the one before.
    shorts
        Panels that came out short, such as ``A1 = 780 mm x 498 mm``.
    budget, seed
        As they were for the list's own nest: cuts are known by its numbers.

    Raises
    ------
    Faults
        A cut, sheet or panel that there is not, or a cut that needs one before it.
    """
    panels, sheets, saw = list(listed.panels), list(listed.sheets), listed.saw
    now = nest(panels, sheets, saw, budget=budget, seed=seed, watch=watch)
    stays: Frozen | None = None
    done = 0
    for text in rounds or [""]:
        steps = cut_order(now, saw)
        ticked = _ticked(text, now, steps, file)
        done += len(ticked)
        try:
            made = freeze(now, steps, saw, ticked)
        except CutTooEarlyError as error:
            early = refusal(
                "cutting.done.too_early", DONE, file=file, given=Name(text), cut=error.cut
            )
            raise Faults([early]) from None
        stays = made if stays is None else then(stays, now, made)
        if not _missing(listed, stays):
            break
        now = nest_rest(panels, sheets, saw, stays, budget=budget, seed=seed, watch=watch)
    assert stays is not None
    answers = []
    for text in shorts:
        piece, length_m, width_m = _short(text, stays, file)
        found = short_panel(piece, length_m, width_m, panels, sheets, saw, stays)
        answers.append((piece.pencil, tuple(found)))
        if found[0].kind == "recut":
            panel = next(p for p in panels if p.name == piece.panel)
            stays = cut_short(stays, piece, length_m, width_m, panel)
    if not _missing(listed, stays):
        return Rest(stays, done, tuple(answers), None, ())
    if shorts:
        now = nest_rest(panels, sheets, saw, stays, budget=budget, seed=seed, watch=watch)
    return Rest(stays, done, tuple(answers), now, tuple(cut_order(now, saw)))


def _missing(listed: CutList, stays: Frozen) -> int:
    return sum(p.quantity for p in listed.panels) - len(stays.made)


def _ticked(text: str, now: Nest, steps: Sequence[CutStep], file: str) -> set[int]:
    """Numbers of cuts: `1-7, 9`, all cuts of `sheet 2`, or what freed a piece: `1b`, `A2`."""
    cuts = [c for step in steps for c in step.cuts]
    most, numbers = len(cuts), {s.number for s in now.sheets}
    found: set[int] = set()
    freed = _freeing(cuts)
    for word in filter(None, (w.strip() for w in re.split(r"[,;]", text))):
        if word.lower() in freed:
            found |= freed[word.lower()]
            continue
        match = re.fullmatch(r"(sheets?\s+)?(\d{1,5})(?:\s*(?:-|\.\.|to)\s*(\d{1,5}))?", word, re.I)
        span = range(int(match[2]), int(match[3] or match[2]) + 1) if match else range(0)
        last = max(numbers, default=0) if match and match[1] else most
        if match is None or not span or span[0] < 1 or span[-1] > last:
            no_cuts = refusal(
                "cutting.done.no_cuts",
                DONE,
                file=file,
                given=Name(word),
                cuts=most,
                sheets=len(numbers),
            )
            raise Faults([no_cuts])
        found |= {c.number for c in cuts if c.sheet in span} if match[1] else set(span)
    return found


def _freeing(cuts: Sequence[SawCut]) -> dict[str, set[int]]:
    """For every pencilled name the cuts that had to be made until that piece was there."""
    made: dict[Piece, set[int]] = {}
    for cut in cuts:
        so_far = made.get(cut.piece, set()) | {cut.number}
        for piece in (cut.gives, cut.rest):
            if piece is not None:
                made[piece] = so_far
    return {piece.name.lower(): numbers for piece, numbers in made.items() if piece.name}


def _short(text: str, stays: Frozen, file: str) -> tuple[Placed, float, float]:
    """`A1 = 780 mm x 498 mm`: a panel by its pencil name, and its length and width."""
    name, equals, size = text.partition("=")
    sides = re.split(r"\s*(?:x|×|\bby\b)\s*", size.strip())
    piece = next((p for p in stays.made if p.pencil.lower() == name.strip().lower()), None)
    if piece is None or not equals or len(sides) != 2:
        not_made = refusal(
            "cutting.short.not_made",
            SHORT,
            file=file,
            given=Name(text),
            count=len(stays.made),
            made=Listing(tuple(Name(p.pencil) for p in stays.made), "commas"),
        )
        raise Faults([not_made])
    measured = []
    for side in sides:
        try:
            quantity = parse(side, "length")
        except QuantityError as error:
            raise Faults([unread(error, SHORT, file=file)]) from None
        if quantity.best_si <= 0:
            raise Faults([refusal("cutting.short.zero", SHORT, file=file, given=Name(side))])
        measured.append(quantity.best_si)
    planned = own_sides(piece)
    close = fact("cutting.close_enough").value
    if any(m > p + close for m, p in zip(measured, planned, strict=True)):
        swapped = measured[0] <= planned[1] + close and measured[1] <= planned[0] + close
        larger = refusal(
            "cutting.short.larger",
            SHORT,
            file=file,
            given=Name(text),
            panel=Name(piece.pencil),
            length=Amount(planned[0], "length"),
            width=Amount(planned[1], "length"),
            sides="swapped" if swapped else "kept",
        )
        raise Faults([larger])
    return piece, measured[0], measured[1]


def own_sides(piece: Placed) -> tuple[float, float]:
    """A placed panel's own length and width [m], however it lies."""
    if piece.turned:
        return piece.width_m, piece.length_m
    return piece.length_m, piece.width_m
