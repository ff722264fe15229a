"""Which pieces join each port to its hose: drawn, listed, with what to buy, make and print."""

from __future__ import annotations

import htpy as h

from ...facts import Listing, Ref
from ...hookup.findings import SURE
from ...view.figures import chain_figures, reducer_figures, room_figures
from ...view.hookups import chain_rows, gain_rows, next_best, reducer_texts, wall_rows
from ...view.shopping import shopping_rows
from ...view.summary import bill_text
from ..asking import Parts
from ..looking import WIDTH_MM, Looking, part, table
from .about import asked


def parts(look: Looking) -> Parts:
    """The answer, each chain, the next best, the wall chart, the reducers."""
    plan, voice = look.plan, look.voice
    if plan is None:
        return [part("hookups-answer", h.p(".answer-line")[look.label("nothing_yet")])]
    reached = [c for c in plan.hookups.tools if c.reached]
    doubtful = [Ref("tool", c.tool) for c in reached if c.likelihood < SURE]
    found = [
        part(
            "hookups-answer",
            h.p(".answer-line")[
                look.label("hookups.answer", reached=len(reached), tools=len(plan.hookups.tools))
            ],
            h.p(".caution")[
                look.label("hookups.doubtful", tools=Listing(tuple(doubtful), "commas"))
            ]
            if doubtful
            else None,
        )
    ]
    figures = chain_figures(plan, voice, WIDTH_MM, 0.3)
    for number, row in enumerate(chain_rows(plan, voice)):
        figure = figures.get(row.tool)
        line = plan.lines.get(row.tool)
        found.append(
            part(
                f"hookups-chain-{number}",
                h.h3[row.name],
                h.p[row.line],
                look.drawn(f"chain {number}", figure, line) if figure is not None else None,
                h.p(".quiet")[row.joints] if row.joints else None,
                kind="row",
            )
        )
    best = next_best(plan, voice)
    if best is not None:
        found.append(
            part(
                "hookups-next",
                h.h2[voice.word("page.next")],
                h.p[best.text],
                h.ul[(h.li[d] for d in best.differs)],
                h.p[best.air],
                table(
                    [
                        voice.word(f"page.column.{c}")
                        for c in ("tool", "as_planned", "by_next_best")
                    ],
                    [(r.tool, r.taken, r.other) for r in best.rows],
                    numbers=(1, 2),
                )
                if best.rows
                else None,
            )
        )
    wall = wall_rows(plan, voice)
    found.append(
        part(
            "hookups-wall",
            h.h2[voice.word("page.wall")],
            h.ul(".wall")[
                (
                    h.li[
                        h.strong[r.tool],
                        (h.span(".tag")[p.tag, " ", h.small[p.name]] for p in r.pieces),
                        h.span(".tag")[r.hose],
                    ]
                    for r in wall
                )
            ],
        )
    )
    for number, (figure, (title, text)) in enumerate(
        zip(reducer_figures(plan, voice), reducer_texts(plan, voice), strict=False)
    ):
        found.append(
            part(
                f"hookups-reducer-{number}",
                h.h3[title],
                look.drawn(f"reducer {number}", figure, plan.hookups.printed),
                h.p[text],
            )
        )
    gains = gain_rows(plan, voice)
    if gains:
        heads = [voice.word(f"page.column.{c}") for c in ("fitting", "airflow_at", "price")]
        found.append(
            part(
                "hookups-gains",
                h.h2[voice.word("page.gains")],
                table(heads, [(g.name, g.tools, g.price) for g in gains], numbers=(2,)),
            )
        )
    heads = [voice.word(f"page.column.{c}") for c in ("number", "what", "each", "together")]
    found.append(
        part(
            "hookups-buy",
            h.h2[voice.word("page.to_buy")],
            h.p[bill_text(plan, voice)],
            table(
                heads,
                [
                    (r["count"], r["what"], r["each"], r["total"])
                    for r in shopping_rows(plan.shopping, voice)
                ],
                numbers=(0, 2, 3),
            ),
        )
    )
    for number, figure in enumerate(room_figures(plan, voice)):
        found.append(
            part(
                f"hookups-room-{number}",
                h.h2[figure.title],
                look.drawn(f"room {number}", figure, plan.floor),
                h.p(".quiet")[figure.caption],
            )
        )
    found.append(asked(look, "hookups", ("hookup",)))
    return found
