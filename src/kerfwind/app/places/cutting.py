"""Sheets laid out, and the cuts in their order."""

from __future__ import annotations

from dataclasses import replace

import htpy as h

from ...cutting.stating import gives_fact, step_statement
from ...search.sheet_choice import saw_of
from ...view.cart import nest_intro
from ...view.cart_figures import sheet_figures
from ...view.cuts import cut_cautions, cut_rows, cut_words, sheet_title
from ..asking import Parts
from ..looking import Looking, part, table
from .about import asked
from .nest_picture import nest_picture


def parts(look: Looking) -> Parts:
    """The answer, each sheet, the cuts."""
    plan, voice = look.plan, look.voice
    if plan is None or plan.build is None:
        return [
            part("cutting-answer", h.p(".answer-line")[look.label("cart.none")]),
            asked(look, "cutting", ("cutting",)),
        ]
    build = plan.build
    found = [part("cutting-answer", h.p(".answer-line")[nest_intro(plan, voice)])]
    for sheet, figure in sheet_figures(plan.shop, build, voice):
        found.append(
            part(
                f"cutting-sheet-{sheet.number}",
                h.h2[figure.title],
                look.drawn(f"sheet {sheet.number}", figure, sheet, build.cuts),
                h.p(".quiet")[figure.caption],
            )
        )
    found.append(_played(look))
    words = cut_words(voice)
    rows = cut_rows(plan.cuts, saw_of(plan.shop.saw), voice)
    found.append(
        part(
            "cutting-cuts",
            h.h2[voice.word("page.cuts")],
            (
                h.p(".caution")[h.strong[c.title], " ", c.text]
                for c in cut_cautions(plan.cuts, voice)
            ),
            table(
                words["columns"],
                [
                    (
                        h.strong[r["number"]],
                        r["sheet"],
                        r["what"],
                        r["setting"],
                        [r["gives"], (h.small(".caution")[c] for c in r["cautions"])],
                    )
                    for r in rows
                ],
                numbers=(3,),
            ),
        )
    )
    found.append(asked(look, "cutting", ("cutting",)))
    return found


def _played(look: Looking) -> tuple[str, str]:
    """The sheets with their cuts made one after another."""
    plan, voice, label = look.plan, look.voice, look.label
    assert plan is not None
    assert plan.build is not None
    saw = saw_of(plan.shop.saw)
    cuts = [(step, cut) for step in plan.cuts for cut in step.cuts]
    every = [cut for _, cut in cuts]
    return part(
        "cutting-play",
        h.h2[label("play")],
        h.div(".play-tools")[
            h.button(type="button", data_play="-1")[label("play.back")],
            h.input(
                "#cut-played",
                type="range",
                min="0",
                max=str(len(cuts)),
                value="0",
                aria_label=label("play.at"),
            ),
            h.button(type="button", data_play="1")[label("play.next")],
            h.button("#play", type="button", data_stop=label("play.stop"))[label("play.go")],
        ],
        h.ol(".play-said", aria_live="polite")[
            h.li(data_at="0")[label("play.none")],
            (
                h.li(data_at=str(number), data_cut=str(cut.number), hidden=True)[
                    h.strong[label("bench.cut", cut=cut.number)],
                    " · ",
                    voice.text(step_statement(replace(step, cuts=(cut,)), saw)),
                    " ",
                    label("bench.gives", what=gives_fact(cut)) if cut.kind != "trim" else None,
                ]
                for number, (step, cut) in enumerate(cuts, start=1)
            ),
        ],
        (
            h.div(".play-sheet")[
                h.p(".quiet")[figure_title], nest_picture(sheet, every, figure_title)
            ]
            for sheet in plan.build.nest.sheets
            for figure_title in (sheet_title(sheet, voice),)
        ),
    )
