"""How much air each tool gets, whether it is enough, and what would help."""

from __future__ import annotations

import htpy as h

from ...facts import Listing, Ref
from ...view.air import Tag, afterwards, branch_rows, help_rows, tool_rows, worth_measuring
from ...view.figures import path_figure, suction_figure
from ..asking import Parts
from ..looking import WIDTH_MM, Looking, part, table
from .about import asked

#: Beside a chart's axes: room for what stands on the right, and for names of parts [mm].
_BESIDE_MM, _NAMED_MM = 30.0, 70.0


def parts(look: Looking) -> Parts:
    """The answer, the curves, the tools, what helps."""
    plan, voice = look.plan, look.voice
    if plan is None or not plan.air:
        return [part("air-answer", h.p(".answer-line")[look.label("nothing_yet")])]
    rows = tool_rows(plan, voice)
    columns = [voice.word(f"page.column.{c}") for c in ("tool", "airflow", "wanted")]
    columns += [voice.word(f"page.column.{c}") for c in ("chips_carried", "dust_caught", "hose")]
    caught = sum(r.caught.key in ("enough", "strong") for r in rows)
    best = [a.tool for a in plan.air if a.caught.word in ("enough", "strong")]
    found = [
        part(
            "air-answer",
            h.p(".answer-line")[
                look.label(
                    "air.answer",
                    caught=caught,
                    tools=len(rows),
                    which=Listing(tuple(Ref("tool", t) for t in best[:4]), "commas"),
                )
            ],
        ),
        part(
            "air-tools",
            table(
                columns,
                [
                    (
                        h.strong[r.name],
                        r.airflow,
                        r.wanted,
                        verdict(r.chips),
                        verdict(r.caught),
                        [r.hose, h.small(".chain")[r.chain]],
                    )
                    for r in rows
                ],
                numbers=(1, 2),
            ),
        ),
    ]
    drawings = (
        ("suction", suction_figure(plan, voice, WIDTH_MM - _BESIDE_MM)),
        ("path", path_figure(plan, voice, WIDTH_MM - _NAMED_MM)),
    )
    for name, figure in drawings:
        found.append(
            part(
                f"air-{name}",
                h.h2[figure.title],
                look.drawn(name, figure, plan.air, plan.apart),
                h.p(".quiet")[figure.caption],
            )
        )
    helps = help_rows(plan, voice)
    heads = [
        voice.word(f"page.column.{c}")
        for c in ("change", "airflow_gained", "then_caught", "costs_about")
    ]
    found.append(
        part(
            "air-help",
            h.h2[voice.word("page.help")],
            look.unchecked()
            if look.checking
            else table(heads, [(r.what, r.gain, r.turns, r.cost) for r in helps], numbers=(1, 3))
            if helps
            else h.p[voice.word("page.help.nothing")],
            [h.h2[voice.word("page.worth_measuring")], h.ul[(h.li[t] for t in worth)]]
            if (worth := worth_measuring(plan, voice))
            else None,
        )
    )
    branches = branch_rows(plan, voice)
    if branches:
        heads = [
            voice.word(f"page.column.{c}")
            for c in ("tool", "airflow", "chips_carried", "dust_caught", "best_gate")
        ]
        found.append(
            part(
                "air-branches",
                h.h2[voice.word("page.branches")],
                table(
                    heads,
                    [
                        (b.tool, b.airflow, verdict(b.chips), verdict(b.caught), b.gate)
                        for b in branches
                    ],
                    numbers=(1,),
                ),
            )
        )
    after = afterwards(plan, voice)
    if after is not None:
        heads = [
            voice.word(f"page.column.{c}")
            for c in ("tool", "what", "predicted", "measured", "recalibrated")
        ]
        found.append(
            part(
                "air-measured",
                h.h2[voice.word("page.measured")],
                h.p[after.text],
                table(
                    heads,
                    [(r.tool, r.what, r.predicted, r.measured, r.recalibrated) for r in after.rows],
                    numbers=(2, 3, 4),
                ),
            )
        )
    found.append(asked(look, "air", ("air",)))
    return found


def verdict(tag: Tag) -> h.Node:
    """A verdict as a word in a box whose line says the same without colour."""
    return h.span(".verdict", data_verdict=tag.key)[tag.text]
