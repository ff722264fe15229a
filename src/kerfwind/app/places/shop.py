"""What is owned and measured: the whole shop file as fields, and the floor with its tools."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import htpy as h

from ...facts import slug
from ...shop import Assumption
from ...shop.model import Shop
from ...shop.schema import model_in
from ..asking import Parts
from ..form import Assumed, Form, Trouble, new_row
from ..looking import Looking, part
from .floor import floor
from .measuring import bucket_drawing, vacuum_drawing

#: Tables of the file in the order in which a person comes to them; lists have a row each.
_SECTIONS: tuple[str, ...] = (
    "vacuum",
    "separator",
    "hoses",
    "tools",
    "fittings",
    "sheets",
    "saw",
    "room",
    "sessions",
    "circuit",
    "wishes",
    "branches",
    "built",
    "weights",
    "about",
)

#: What is drawn beside its fields, to show where the tape goes.
_DRAWN = {"vacuum": vacuum_drawing, "separator": bucket_drawing}


def parts(look: Looking) -> Parts:
    """A part for every table and row."""
    rows = sum(len(each) for each in look.given.values() if isinstance(each, list))
    look.fragments.hold(rows + len(Shop.model_fields))
    form = the_form(look)
    found = [part("shop-answer", h.p(".answer-line")[_answer(look)]), ("shop-floor", _floor(look))]
    for section in [*_SECTIONS, *(s for s in Shop.model_fields if s not in _SECTIONS)]:
        found += list(_section(look, form, section))
    return found


def _floor(look: Looking) -> str:
    """The floor, made again only when what stands on it has changed."""

    def made() -> str:
        return part("shop-floor", floor(look))[1]

    if look.file is None:
        return made()
    tools = look.file.shop.tools
    stand = [each for tool in tools for each in (tool.place, tool.size)]
    names = tuple(tool.name for tool in tools)
    return look.fragments.floor.of((look.file.shop.room, *stand), (*look.spoken, *names), made)


def the_form(look: Looking) -> Form:
    """The form with what was written, taken and refused."""
    voice = look.voice

    def taken(each: Assumption) -> Assumed:
        def said() -> Assumed:
            return Assumed(voice.text(each.value), voice.text(each.why))

        return look.fragments.assumed.of((each,), look.spoken, said)

    assumed = {a.path: taken(a) for a in (look.file.assumptions if look.file else ())}
    troubles = {}
    for fault in look.faults.faults if look.faults else ():
        said = voice.refusal(fault)
        troubles[fault.place] = Trouble(said.found, said.mend)
    return Form(voice, look.given, assumed, troubles, look.fragments.fields)


def _answer(look: Looking) -> str:
    if look.file is None:
        return look.label("shop.unread")
    return look.label("shop.answer", assumed=len(look.file.assumptions))


def _section(look: Looking, form: Form, section: str) -> Iterator[tuple[str, str]]:
    field = Shop.model_fields[section]
    model = model_in(field.annotation)
    if model is None:
        return
    title = form.short(section)
    if not str(field.annotation).startswith("tuple"):

        def table() -> str:
            drawn = _DRAWN[section](look) if section in _DRAWN else None
            fields = h.div(".fields")[form.fields(model, (section,))]
            return part(
                f"shop-{section}",
                h.details(open=section in ("vacuum",), id=f"fold-{section}")[
                    h.summary[h.h2[title]],
                    h.div(".measuring")[drawn, fields] if drawn is not None else fields,
                ],
            )[1]

        yield f"shop-{section}", look.table(table, form.rests_on(model, (section,)))
        return
    rows = look.given.get(section)
    named = list(enumerate(rows)) if isinstance(rows, list) else []

    fresh = _json(new_row(section, look.given, look.voice))

    def heading() -> str:
        return part(
            f"shop-{section}",
            h.h2[title],
            h.button(
                ".quiet", type="button", data_do="add", data_place=f'["{section}"]', data_new=fresh
            )[look.label("add")],
            h.p(".quiet")[look.label("shop.none")] if not named else None,
        )[1]

    yield f"shop-{section}", look.table(heading, section, fresh, bool(named))
    for number, row in named:
        name = row.get("name") if isinstance(row, dict) else None
        called = f"shop-{section}-{slug(str(name or number))}-{number}"
        brief = _brief(look, section, row)

        def one(
            called: str = called, number: int = number, name: Any = name, brief: str = brief
        ) -> str:
            return part(
                called,
                h.details(id=f"fold-{section}-{number}")[
                    h.summary[h.strong[str(name or number + 1)], " ", h.span(".quiet")[brief]],
                    h.div(".fields")[form.fields(model, (section, number))],
                    form.remove((section, number)),
                ],
                kind="row",
            )[1]

        yield called, look.table(one, form.rests_on(model, (section, number)), called, brief)


def _brief(look: Looking, section: str, row: Any) -> str:
    """A row in a few words: its verdict where it is a tool, else its sizes."""
    if not isinstance(row, dict):
        return ""
    if section == "tools" and look.plan is not None:
        air = next((a for a in look.plan.air if a.tool == row.get("name")), None)
        if air is not None:
            return look.voice.text(air.caught.named)
    keys = [k for k in ("bore", "length", "width", "thickness", "count") if k in row]
    return " · ".join(str(row[k]) for k in keys)


def _json(value: Any) -> str:
    import json

    return json.dumps(value, ensure_ascii=False)
