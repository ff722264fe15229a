"""What a place's numbers rest on: every check with its likelihood, sources, what to measure."""

from __future__ import annotations

import htpy as h

from ...view.assumed import sources_of
from ...view.findings import measure_text, spoken
from ...view.summary import level_text
from ..looking import Looking, part
from ..todo import with_way


def asked(look: Looking, place: str, rooms: tuple[str, ...]) -> tuple[str, str]:
    """The checks of some rooms, each opening to where it comes from."""
    plan, voice = look.plan, look.voice
    if plan is None:
        return part(f"{place}-checks")
    cited = sources_of(plan, voice)
    rows = spoken([f for f in plan.findings if f.room in rooms], voice)
    return part(
        f"{place}-checks",
        h.h2[look.label("checks")],
        h.p(".quiet")[look.label("checks.how")],
        (
            h.details(".check", id=f"check-{place}-{n}", class_=row.level)[
                h.summary[
                    h.span(".level")[level_text(row.level, voice)],
                    h.span[
                        h.strong[row.said.about] if row.said.about else None, " ", row.said.answer
                    ],
                ],
                h.p[row.said.numbers] if row.said.numbers else None,
                h.p(".do")[with_way(look, row.said.do)] if row.said.do else None,
                h.p[look.label("checks.measure"), " ", measure_text(row.measure, voice)]
                if row.measure
                else None,
                h.ul(".sources")[(h.li[cited[key]] for key in row.sources if key in cited)],
            ]
            for n, row in enumerate(rows)
        ),
    )
