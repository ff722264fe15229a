"""A plan kept aside beside the plan as it is now."""

from __future__ import annotations

from itertools import groupby

import htpy as h

from ..asking import Parts
from ..looking import Looking, part
from ..telling import Changed, Told, changed, told


def parts(look: Looking) -> Parts:
    """What differs, then everything."""
    label = look.label
    if look.plan is None:
        return [part("compare-answer", h.p(".answer-line")[label("nothing_yet")])]
    if not look.aside:
        return [
            part(
                "compare-answer",
                h.p(".answer-line")[label("compare.none")],
                _button("keep", label("compare.keep")),
            )
        ]
    other = look.plan_of(look.aside)
    if other is None:
        return [
            part(
                "compare-answer",
                h.p(".answer-line")[label("compare.gone")],
                _button("forget", label("compare.forget")),
            )
        ]
    rows = changed(told(other, look.voice), told(look.plan, look.voice))
    if not look.settled:
        # The first answer has not all checks yet.
        rows = [r for r in rows if r.group != "checks"]
    differing = [r for r in rows if not r.same]
    return [
        part(
            "compare-answer",
            h.p(".answer-line")[label("compare.answer", count=len(differing))],
            h.p(".buttons")[
                _button("restore", label("compare.go_back")),
                _button("keep", label("compare.keep_instead")),
                _button("forget", label("compare.forget")),
            ],
        ),
        part("compare-differing", _table(look, differing) if differing else None),
        part(
            "compare-all",
            h.details("#fold-compare-all")[h.summary[label("compare.all")], _table(look, rows)],
        ),
    ]


def _button(what: str, text: str) -> h.Node:
    return h.button(type="button", data_aside=what)[text]


def _answer(one: Told | None) -> str:
    return one.answer if one is not None and one.answer else "–"


def _table(look: Looking, rows: list[Changed]) -> h.Node:
    label = look.label
    heads = ["", label("compare.aside"), label("compare.now")]
    return h.table(".beside")[
        h.thead[h.tr[(h.th(scope="col")[t] if t else h.td for t in heads)]],
        (
            h.tbody[
                h.tr[h.th(".group", scope="rowgroup", colspan="3")[label(f"group.{group}")]],
                (
                    h.tr(data_same=str(r.same).lower())[
                        h.th(scope="row")[r.what],
                        h.td(data_column=heads[1])[_answer(r.before)],
                        h.td(data_column=heads[2])[
                            _answer(r.after) if r.same else h.strong[_answer(r.after)]
                        ],
                    ]
                    for r in members
                ),
            ]
            for group, members in groupby(rows, key=lambda r: r.group)
        ),
    ]
