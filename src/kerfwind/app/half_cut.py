"""What is to be cut at the moment: the layout, or what is left to lay out after a short panel."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from ..cutting import CutStep, Nest, Saw
from ..cutting.going_on import own_sides
from ..cutting.half_done import (
    CutTooEarlyError,
    Frozen,
    ShortAnswer,
    cut_short,
    freeze,
    nest_rest,
    short_panel,
    then,
)
from ..cutting.model import Panel, Placed, SheetKind
from ..cutting.order import SawCut, cut_order
from ..plan import Plan
from ..search.sheet_choice import NEST_BUDGET, saw_of, second_group, sheet_groups, to_nest
from ..sources import fact
from .ticks import Work


@dataclass(frozen=True)
class HalfCut:
    """Where the work stands.

    Attributes
    ----------
    plan
        Of the shop file as it was when this layout was begun.
    nest, steps
        None where every panel is made.
    done
        Cuts of it that are made.
    early
        Cuts that are ticked and cannot be made yet.
    made
        Panels that have come off in their size, and how long and wide each was planned [m].
    answers
        What can be done about the panel in question.
    """

    plan: Plan
    nest: Nest | None
    steps: tuple[CutStep, ...]
    done: frozenset[int]
    early: tuple[int, ...] = ()
    made: tuple[Placed, ...] = ()
    answers: tuple[ShortAnswer, ...] = ()

    @property
    def cuts(self) -> list[tuple[CutStep, SawCut]]:
        """Every cut in its order, with the setting that it is made at."""
        return [(step, cut) for step in self.steps for cut in step.cuts]


def half_cut(
    work: Work, current: Plan | None, plan_of: Callable[[str], Plan | None]
) -> HalfCut | None:
    """Follow all rounds; None where no cart can be built, or one of before cannot any more."""
    texts = [r.text for r in work.rounds]
    plan = current if not texts else plan_of(texts[0])
    if plan is None or plan.nest is None:
        return None
    now: Nest | None = plan.nest
    steps, stays = plan.cuts, None
    for number, each in enumerate(work.rounds):
        assert plan is not None
        assert now is not None
        panels, sheets, saw = _stock(plan)
        made, done, early = _frozen(now, steps, saw, each.done)
        stays = made if stays is None else then(stays, now, made)
        if number == len(work.rounds) - 1:
            answers = _answers(work, stays, panels, sheets, saw)
            return HalfCut(plan, now, steps, done, early, stays.made, answers)
        plan = plan_of(texts[number + 1])
        if plan is None or plan.nest is None:
            return None
        panels, sheets, saw = _stock(plan)
        stays = _fitting(stays, panels, {p: (a, b) for p, a, b in each.short})
        if sum(p.quantity for p in panels) <= len(stays.made):
            return HalfCut(plan, None, (), frozenset(), (), stays.made)
        now = nest_rest(panels, sheets, saw, stays, budget=NEST_BUDGET, seed=1)
        steps = tuple(cut_order(now, saw))
    return HalfCut(plan, now, steps, frozenset())


def _frozen(
    now: Nest, steps: tuple[CutStep, ...], saw: Saw, ticked: list[int]
) -> tuple[Frozen, frozenset[int], tuple[int, ...]]:
    """What lies there; a cut that is ticked before one that it needs counts as not made."""
    known = {c.number for s in steps for c in s.cuts}
    done = {n for n in ticked if n in known}
    early: list[int] = []
    while True:
        try:
            return freeze(now, steps, saw, done), frozenset(done), tuple(sorted(early))
        except CutTooEarlyError as error:
            cut = error.cut if error.cut in done else max(done)
            early.append(cut)
            done.discard(cut)


def _stock(plan: Plan) -> tuple[list[Panel], list[SheetKind], Saw]:
    assert plan.build is not None
    used = {sheet.kind.key for sheet in plan.build.nest.sheets}
    groups = sheet_groups(plan.shop)
    group = next((g for g in groups if used & {s.name for s in g}), groups[0])
    panels, kinds = to_nest(plan.panels, group, second_group(plan.shop))
    return panels, kinds, saw_of(plan.shop.saw)


def _fitting(
    stays: Frozen, panels: list[Panel], measured: dict[str, tuple[float, float]]
) -> Frozen:
    """What stays of the panels that are made: those of the size that is wanted now."""
    wanted = {p.name: p for p in panels}
    close = fact("cutting.close_enough").value
    for piece in stays.made:
        length_m, width_m = measured.get(piece.pencil, own_sides(piece))
        panel = wanted.get(piece.panel)
        fits = panel is not None and (
            abs(panel.length_m - length_m) <= close and abs(panel.width_m - width_m) <= close
        )
        if not fits and panel is not None:
            stays = cut_short(stays, piece, length_m, width_m, panel)
        elif panel is None:
            stays = replace(stays, made=tuple(p for p in stays.made if p is not piece))
    return stays


def _answers(
    work: Work, stays: Frozen, panels: list[Panel], sheets: list[SheetKind], saw: Saw
) -> tuple[ShortAnswer, ...]:
    if work.asked is None:
        return ()
    pencil, length_m, width_m = work.asked
    piece = next((p for p in stays.made if p.pencil == pencil), None)
    if piece is None or not any(p.name == piece.panel for p in panels):
        return ()
    return tuple(short_panel(piece, length_m, width_m, panels, sheets, saw, stays))
