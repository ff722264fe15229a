"""The plan as it will print, and everything that can be taken along."""

from __future__ import annotations

import htpy as h

from ...view.summary import intro_text, summary_rows
from ..asking import Parts
from ..looking import Looking, part, table
from ..todo import field_link, place_name

#: So many assumptions alike are named at once.
_MOST_ALIKE = 4
_FILES = ("plan.pdf", "everything.zip", "test-sheet.pdf", "measure-sheet.pdf", "shop.toml")


def parts(look: Looking) -> Parts:
    """What there is to download, then what the plan says first."""
    plan, voice = look.plan, look.voice
    if plan is None:
        return [part("paper-answer", h.p(".answer-line")[look.label("nothing_yet")])]
    heads = [look.label("paper.what")]
    heads += [voice.word(f"page.column.{c}") for c in ("taken_as", "why")]
    return [
        part(
            "paper-answer",
            h.p(".answer-line")[intro_text(plan, voice)],
            h.dl(".summary")[((h.dt[a], h.dd[b]) for a, b in summary_rows(plan, voice))],
        ),
        part(
            "paper-files",
            h.h2[look.label("paper.files")],
            h.ul(".files")[
                (
                    h.li[
                        h.a(href=f"/take/{name}", download=name)[look.label(f"paper.{_key(name)}")],
                        h.small(".quiet")[look.label(f"paper.{_key(name)}.about")],
                    ]
                    for name in _FILES
                )
            ],
        ),
        part(
            "paper-pages",
            h.h2[look.label("paper.pages")],
            h.p(".quiet")[look.label("paper.pages.how")],
            h.button("#show-pages", type="button", hidden=True)[look.label("paper.pages.anew")],
            h.div("#printed.printed", data_plan="" if look.checking else _told(look))[
                look.unchecked() if look.stopped else h.p(".quiet")[look.label("paper.pages.wait")]
            ],
        ),
        part("paper-assumed", h.h2[voice.word("page.assumed")], table(heads, _assumed(look))),
    ]


def _assumed(look: Looking) -> list[tuple[h.Node, str, str]]:
    """What nobody measured, fields taken alike in one row; each name leads to its field."""
    assert look.plan is not None
    alike: dict[tuple[str, str], list[str]] = {}
    for each in look.plan.file.assumptions:
        said = (look.voice.text(each.value), look.voice.text(each.why))
        alike.setdefault(said, []).append(each.path)

    def links(paths: list[str]) -> h.Node:
        return h.ul(".plain")[(h.li[field_link(look, p, place_name(look, p))] for p in paths)]

    def several(paths: list[str], number: int) -> h.Node:
        if len(paths) <= _MOST_ALIKE:
            return links(paths)
        rest = look.label("todo.more", count=len(paths) - 1)
        return [
            links(paths[:1]),
            h.details(id=f"fold-assumed-{number}")[h.summary[rest], links(paths[1:])],
        ]

    return [(several(paths, n), *said) for n, (said, paths) in enumerate(alike.items())]


def _told(look: Looking) -> str:
    """Differs where the pages may."""
    return look.stages.digest_of(look.text)


def _key(name: str) -> str:
    return name.replace(".", "_").replace("-", "_")
