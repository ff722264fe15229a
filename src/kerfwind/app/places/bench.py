"""In the shop: one cut or one step of assembly a screen, to be ticked with a thumb."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import replace

import htpy as h

from ...cutting import CutStep, Placed, SawCut
from ...cutting.going_on import own_sides
from ...cutting.stating import gives_fact, step_statement
from ...facts import Amount, Name
from ...faults import Faults
from ...joinery import Step
from ...search.sheet_choice import saw_of
from ...sources import fact
from ...view.cart import step_rows
from ...view.cuts import sheet_title
from ...view.first import before_cutting
from ..asking import Parts
from ..document import Conflict, Document
from ..half_cut import HalfCut, half_cut
from ..looking import Looking, on_paper, part
from ..ticks import as_built, told_by
from .cart import step_pictures, step_text
from .nest_picture import nest_picture

#: A mark of a rule in inches [m], and how far from one a size may be to be told by it, in marks.
_INCH_64_M, _MARK_AT_MOST = 0.0254 / 64, 0.15


def parts(look: Looking) -> Parts:
    """How far the work is, then a screen for each cut and each step."""
    plan = look.plan
    buildable = plan is not None and plan.build is not None and plan.cart is not None
    if not buildable and not look.work.rounds:
        return [part("bench-answer", h.p(".answer-line")[look.label("cart.none")], _before(look))]
    now = look.stages.run(
        "half cut",
        lambda *_: half_cut(look.work, plan, look.plan_of),
        repr(look.work),
        look.text if not look.work.rounds else "",
        plan.build if plan is not None else None,
    )
    if now is None:
        return [part("bench-answer", _stuck(look))]
    cuts = list(_cuts(look, now))
    steps = list(_steps(look, now))
    done = len(now.done) + len(_steps_done(look, now))
    return [
        part(
            "bench-answer",
            h.p(
                ".answer-line",
                data_done=str(done),
                data_all=str(len(cuts) + len(steps)),
                data_of=look.work.layout(look.text),
            )[look.label("bench.answer", done=done, whole=len(cuts) + len(steps))],
            (h.p(".caution")[line] for line in before_cutting(now.plan)),
            _notes(look, now),
            _before(look),
        ),
        *cuts,
        *steps,
        part("bench-go", _about(look)),
    ]


def _steps_done(look: Looking, now: HalfCut) -> set[str]:
    """Ticked steps that hold: none in which a panel that is to be cut again has its place."""
    again = set()
    if look.work.number and now.nest is not None:
        again = {p.panel for sheet in now.nest.sheets for p in sheet.pieces}
    done: set[str] = set()
    for step in now.plan.steps:
        if again and (not step.new or again & _panels_in(step, now)):
            return done
        if (key := _step_key(step, now)) in look.work.steps:
            done.add(key)
    return done


def _stuck(look: Looking) -> h.Node:
    return [
        h.p(".answer-line")[look.label("bench.stuck")],
        _back(look) if look.work.number else _anew(look),
        _before(look),
    ]


def _back(look: Looking) -> h.Node:
    return h.button(type="button", data_work="back", data_sure=look.label("bench.sure_back"))[
        look.label("bench.back")
    ]


def _before(look: Looking) -> h.Node:
    """Ticks that were thrown away, to be had again until work goes on."""
    if look.work.before is None or not (look.work.before.rounds or look.work.before.steps):
        return None
    return h.button(type="button", data_work="before")[look.label("bench.before")]


def _notes(look: Looking, now: HalfCut) -> h.Node:
    label = look.label
    return [
        h.p(".caution")[label("bench.early", cut=now.early[0])] if now.early else None,
        h.p(".quiet")[label("bench.pinned"), " ", _back(look) if look.work.number else None]
        if look.work.rounds and look.work.rounds[-1].text != look.text
        else h.p(".quiet")[label("bench.again"), " ", _back(look)]
        if look.work.number
        else None,
        _question(look, now),
    ]


def _question(look: Looking, now: HalfCut) -> h.Node:
    """What can be done about a panel that came out short."""
    if look.work.asked is None:
        return None
    pencil, length_m, width_m = look.work.asked
    label = look.label
    if not now.answers:
        return h.div(".question")[
            h.p[label("bench.not_made", panel=Name(pencil))],
            h.button(type="button", data_work="never")[label("bench.never")],
        ]
    piece = next(p for p in now.made if p.pencil == pencil)
    close = fact("cutting.close_enough").value
    if any(m > p + close for m, p in zip((length_m, width_m), own_sides(piece), strict=True)):
        return h.div(".question")[
            h.p[label("bench.large", panel=Name(pencil))],
            h.button(type="button", data_work="never")[label("bench.never")],
        ]
    sides = _short_sides(look, piece, (length_m, width_m))
    offered = [a for a in now.answers if a.kind != "follow" or _can_follow(look, piece, sides)]
    return h.div(".question", role="group", aria_label=label("bench.short"))[
        h.h2[label("bench.short_of", panel=Name(pencil))],
        h.p[label("bench.no_way")] if not offered else None,
        (
            h.button(
                type="button",
                data_work="way",
                data_way=answer.kind,
                data_panel=piece.panel,
                data_sides=json.dumps(sides),
            )[
                look.voice.text(answer.said),
                " ",
                h.small[
                    label("bench.costs", price=Amount(round(answer.extra_cost, 2), "money"))
                    if answer.extra_cost >= 0.005
                    else ""
                ],
            ]
            for answer in offered
        ),
        h.button(".quiet", type="button", data_work="never")[label("bench.never")],
    ]


def _can_follow(look: Looking, piece: Placed, sides: Sequence[str | None]) -> bool:
    """Whether a cart can be built with a panel as it came out."""
    document = Document(look.work.rounds[-1].text)
    try:
        document.apply(as_built(document, piece.panel, sides))
    except (Faults, Conflict):
        return False
    plan = look.plan_of(document.text)
    return plan is not None and plan.cart is not None and plan.nest is not None


def _short_sides(look: Looking, piece: Placed, measured: tuple[float, float]) -> list[str | None]:
    """Length and width as they were measured; None for a side that is as planned."""
    close = fact("cutting.close_enough").value
    return [
        None if abs(now - planned) <= close else _written(look, now)
        for now, planned in zip(measured, own_sides(piece), strict=True)
    ]


def _written(look: Looking, size_m: float) -> str:
    """A size as it may be written into the shop file: in inches where it is a mark of a rule."""
    metric = look.file is not None and look.file.shop.wishes.measures == "metric"
    marks = size_m / _INCH_64_M
    if metric or abs(marks - round(marks)) > _MARK_AT_MOST:
        return look.voice.text(Amount(round(size_m, 4), "length", "metric"))
    return look.voice.text(Amount(round(marks) * _INCH_64_M, "length", "inch"))


def _cuts(look: Looking, now: HalfCut) -> Iterator[tuple[str, str]]:
    if now.nest is None:
        return
    voice, saw = look.voice, saw_of(now.plan.shop.saw)
    cuts = now.cuts
    every = [c for _, c in cuts]
    before: CutStep | None = None
    for step, cut in cuts:
        sheet = next(s for s in now.nest.sheets if s.number == cut.sheet)
        alone = replace(step, cuts=(cut,))
        same = step is before
        before = step
        yield part(
            f"bench-cut-{look.work.number}-{cut.number}",
            nest_picture(
                sheet,
                every,
                look.label("bench.picture", cut=cut.number),
                now=cut.number,
                done=now.done,
            ),
            h.p(".quiet")[sheet_title(sheet, voice, going_on=look.work.number > 0)],
            h.h2[
                look.label("bench.cut", cut=cut.number),
                " ",
                h.span(".setting")[voice.text(Amount(step.setting_m, "length", "cut"))],
            ],
            # Before all else that is to be read: the tick hides none of it on a small screen.
            (h.p(".caution")[voice.text(c)] for c in step.cautions),
            h.p(".how")[voice.text(step_statement(alone, saw))],
            h.p(".how")[look.label("bench.gives", what=gives_fact(cut))]
            if cut.kind != "trim"
            else None,
            h.p(".stays")[look.label("bench.stays")] if same else None,
            _thumb(
                look,
                f"cut:{cut.number}",
                cut.number in now.done,
                [p for p in sheet.pieces if p.pencil in _panels_of(cut)],
            ),
            kind="screen",
        )


def _panels_of(cut: SawCut) -> list[str]:
    return [p.name for p in (cut.gives, cut.rest) if p is not None and p.kind == "panel"]


def _panels_in(step: Step, now: HalfCut) -> set[str]:
    """Names of the panels that a step adds; of all where it works on them loose."""
    return {
        p.name for p in now.plan.panels if not step.new or p.key in step.new or p.name in step.new
    }


def _step_key(step: Step, now: HalfCut) -> str:
    """What a step is told by: one of another cart, or of panels of other sizes, is another."""
    added = _panels_in(step, now)
    sizes = [
        f"{p.name}:{p.length_m:.4f}:{p.width_m:.4f}" for p in now.plan.panels if p.name in added
    ]
    return told_by("|".join((*step.new, *step.joints, str(step.title), *sizes)))


def _steps(look: Looking, now: HalfCut) -> Iterator[tuple[str, str]]:
    cart = now.plan.cart
    assert cart is not None
    pictures = step_pictures(look, now.plan) if look.settled else {}
    done = _steps_done(look, now)
    for step, row in zip(now.plan.steps, step_rows(cart, now.plan.steps, look.voice), strict=True):
        key = _step_key(step, now)
        yield part(
            f"bench-step-{row.number}",
            on_paper(pictures.get(row.number, "")),
            h.h2[look.label("bench.step", step=row.number), " ", row.title],
            step_text(row),
            _thumb(look, f"step:{key}", key in done, now.made),
            kind="screen",
        )


def _thumb(look: Looking, key: str, on: bool, panels: Sequence[Placed]) -> h.Node:
    label = look.label

    def size(size_m: float) -> str:
        return _written(look, size_m)

    return h.div(".thumb")[
        h.button(".tick", type="button", data_tick=key, aria_pressed=str(on).lower())[
            h.span(".box", aria_hidden="true"), label("bench.done")
        ],
        h.details(".came-short")[
            h.summary[label("bench.short")],
            h.form(data_short="")[
                h.label[
                    label("bench.which"),
                    h.select(name="panel")[
                        (
                            h.option(
                                value=p.pencil,
                                data_length=size(own_sides(p)[0]),
                                data_width=size(own_sides(p)[1]),
                            )[p.pencil]
                            for p in panels
                        )
                    ],
                ],
                h.label[
                    label("bench.length"),
                    h.input(name="length", value=size(own_sides(panels[0])[0]), autocomplete="off"),
                ],
                h.label[
                    label("bench.width"),
                    h.input(name="width", value=size(own_sides(panels[0])[1]), autocomplete="off"),
                ],
                h.button(type="submit")[label("bench.what_now")],
            ],
        ]
        if panels
        else None,
        h.div(".turn")[
            h.button(type="button", data_turn="-1")[label("bench.back_one")],
            h.button(type="button", data_turn="1")[label("bench.next")],
        ],
    ]


def _about(look: Looking) -> h.Node:
    return [h.p("#awake.quiet", hidden=True)[look.label("bench.awake")], _anew(look)]


def _anew(look: Looking) -> h.Node:
    return h.button(".quiet", type="button", data_work="anew", data_sure=look.label("bench.sure"))[
        look.label("bench.anew")
    ]
