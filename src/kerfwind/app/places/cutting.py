"""Sheets laid out, and the cuts in their order."""

from __future__ import annotations

import htpy as h

from ...search.sheet_choice import saw_of
from ...view.cart import nest_intro
from ...view.cart_figures import sheet_figures
from ...view.cuts import cut_cautions, cut_rows, cut_words
from ..engine import Parts
from ..looking import Looking, part, table
from .about import asked


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
                look.drawn(
                    f"sheet {sheet.number}", lambda figure=figure: figure, sheet, build.cuts
                ),
                h.p(".quiet")[figure.caption],
            )
        )
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
