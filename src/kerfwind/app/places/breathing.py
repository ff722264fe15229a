"""What a day's work does to lungs and ears, to the bucket and the filter."""

from __future__ import annotations

import json

import htpy as h

from ...facts import slug
from ...shop.catalogue.sessions import READY
from ...view.breathing import SessionPage, session_figures, session_pages
from ...view.figure import Figure
from ..asking import Parts
from ..looking import WIDTH_MM, Looking, part, table
from ..paths import coded
from .about import asked
from .air import verdict

#: Which sentence of a session says what it comes to; it stands above all.
_ANSWER = 1
#: Columns of the tables, as the printed plan has them.
_TASKS = ("operation", "time", "dust_made", "caught_part", "air_mean")
_LIMITS = ("limit", "most", "day", "verdict")
_EFFECTS = ("change", "left_peak", "left_mean", "left_day")


def parts(look: Looking) -> Parts:
    """Each session: what it comes to, its course, the limits, what helps."""
    plan, voice = look.plan, look.voice
    if plan is None:
        return [part("breathing-answer", h.p(".answer-line")[look.label("nothing_yet")])]
    pages = session_pages(plan, voice.plain())
    if not pages:
        return [
            part(
                "breathing-answer",
                h.p(".answer-line")[look.label("breathing.none")],
                h.p[look.label("breathing.ready")],
                h.p(".buttons")[
                    (
                        h.button(
                            type="button",
                            data_do="add",
                            data_place=coded(("sessions",)),
                            data_new=json.dumps({"name": ready, "ready": ready}),
                        )[voice.say(f"choice.{slug(ready)}")]
                        for ready in READY
                    )
                ],
            ),
            asked(look, "breathing", ("breathing", "power")),
        ]
    found = [part("breathing-answer", (h.p(".answer-line")[page.says[_ANSWER]] for page in pages))]
    for number, page in enumerate(pages):
        result = plan.breathing.results[number]
        figures = session_figures(plan, number, voice.plain(), WIDTH_MM)
        found += _session(look, number, page, figures, result)
    found.append(asked(look, "breathing", ("breathing", "power")))
    return found


def _session(
    look: Looking, number: int, page: SessionPage, figures: dict[str, Figure], result: object
) -> Parts:
    voice = look.voice

    def heads(columns: tuple[str, ...]) -> list[str]:
        return [voice.word(f"page.column.{c}") for c in columns]

    def figure(name: str) -> h.Node:
        if name not in figures:
            return None
        return [
            look.drawn(f"session {number} {name}", figures[name], result),
            h.p(".quiet")[voice.word(f"page.session.{name}")],
        ]

    key = f"breathing-{number}"
    tasks = [(h.strong[t.what], t.time, t.made, t.caught, t.air) for t in page.tasks]
    limits = [(each.name, each.most, each.day, verdict(each.verdict)) for each in page.limits]
    effects = [(e.what, e.peak, e.mean, e.day) for e in page.effects]
    return [
        part(
            f"{key}-says",
            h.h2[page.title],
            h.ul[(h.li[s] for n, s in enumerate(page.says) if n != _ANSWER)],
            figure("air"),
        ),
        part(f"{key}-tasks", table(heads(_TASKS), tasks, numbers=(1, 2, 3, 4)), figure("flow")),
        part(f"{key}-limits", table(heads(_LIMITS), limits, numbers=(1, 2))),
        part(
            f"{key}-effects",
            table(heads(_EFFECTS), effects, numbers=(1, 2, 3)) if effects else None,
        ),
        part(f"{key}-more", figure("dose"), figure("bucket")),
    ]
