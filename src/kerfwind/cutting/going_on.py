"""Going on with a half-done build as a person tells of it: cuts made, sheets done, a short panel."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from ..faults import Fault, Faults, shortened
from ..quantity import QuantityError, UnitChoice, parse, show
from ..sources import fact
from .half_done import Frozen, ShortAnswer, cut_short, freeze, nest_rest, short_panel, then
from .model import Nest, Placed, Watch
from .nesting import nest
from .order import CutStep, cut_order
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
    units: UnitChoice = "mm",
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
        except ValueError as error:
            raise _fault(
                file,
                DONE,
                f"`{text}`",
                "cuts whose pieces were cut free before",
                str(error).replace("Tick", "Add").replace("untick it", "take it out"),
            ) from None
        stays = made if stays is None else then(stays, now, made)
        if not _missing(listed, stays):
            break
        now = nest_rest(panels, sheets, saw, stays, budget=budget, seed=seed, watch=watch)
    assert stays is not None
    answers = []
    for text in shorts:
        piece, length_m, width_m = _short(text, stays, file, units)
        found = short_panel(piece, length_m, width_m, panels, sheets, saw, stays, units=units)
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


def _fault(file: str, option: str, found: str, allowed: str, mend: str) -> Faults:
    return Faults([Fault(file, 0, option, found, allowed, mend)])


def _ticked(text: str, now: Nest, steps: Sequence[CutStep], file: str) -> set[int]:
    """Numbers of cuts: `1-7, 9`, and all cuts of `sheet 2`."""
    cuts = [c for step in steps for c in step.cuts]
    most, numbers = len(cuts), {s.number for s in now.sheets}
    found: set[int] = set()
    allowed = f"cuts from 1 to {most}, or sheets from 1 to {len(numbers)}: `1-7, 9, sheet 2`"
    for word in filter(None, (w.strip() for w in re.split(r"[,;]", text))):
        match = re.fullmatch(r"(sheets?\s+)?(\d{1,5})(?:\s*(?:-|\.\.|to)\s*(\d{1,5}))?", word, re.I)
        if match is None:
            raise _fault(file, DONE, f"`{word}`", allowed, "Write the numbers on the cuts' page.")
        first = int(match[2])
        last = int(match[3] or first)
        span = range(first, last + 1)
        if not span or first < 1 or last > (max(numbers, default=0) if match[1] else most):
            raise _fault(file, DONE, f"`{word}`", allowed, "Write the numbers on the cuts' page.")
        found |= {c.number for c in cuts if c.sheet in span} if match[1] else set(span)
    return found


def _short(text: str, stays: Frozen, file: str, units: UnitChoice) -> tuple[Placed, float, float]:
    """`A1 = 780 mm x 498 mm`: a panel by its pencil name, and its length and width."""
    pencils = shortened(", ".join(p.pencil for p in stays.made), 300) or "none is made yet"
    allowed = f"a panel that is made ({pencils}) and its size, `A1 = 780 mm x 498 mm`"
    name, equals, size = text.partition("=")
    sides = re.split(r"\s*(?:x|×|\bby\b)\s*", size.strip())
    piece = next((p for p in stays.made if p.pencil.lower() == name.strip().lower()), None)
    if piece is None or not equals or len(sides) != 2:
        raise _fault(
            file,
            SHORT,
            f"`{text}`",
            allowed,
            f"Say with {DONE} that its cuts are made, and measure it.",
        )
    measured = []
    for side in sides:
        try:
            quantity = parse(side, "length")
        except QuantityError as error:
            raise _fault(file, SHORT, error.found, error.allowed, error.mend) from None
        if quantity.best_si <= 0:
            raise _fault(file, SHORT, f"`{side}`", "a length over zero", "Measure it again.")
        measured.append(quantity.best_si)
    planned = own_sides(piece)
    close = fact("cutting.close_enough").value
    over = [m - p for m, p in zip(measured, planned, strict=True)]
    if max(over) > close:
        swapped = measured[0] <= planned[1] + close and measured[1] <= planned[0] + close
        mend = (
            "Its length comes first: swap the two."
            if swapped
            else "A panel that came out too large is cut down to its size; check the unit."
        )
        sides = [show(p, "length", units) for p in planned]
        raise _fault(
            file,
            SHORT,
            f"`{text}`, larger than {piece.pencil} was planned",
            f"up to its planned size, {sides[0]} x {sides[1]}",
            mend,
        )
    return piece, measured[0], measured[1]


def own_sides(piece: Placed) -> tuple[float, float]:
    """A placed panel's own length and width [m], however it lies."""
    if piece.turned:
        return piece.width_m, piece.length_m
    return piece.length_m, piece.width_m
