"""The shop file as a form: each field with what was written, or with what is taken instead."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from types import NoneType
from typing import Any, Literal, get_args, get_origin

import htpy as h
from markupsafe import Markup
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from ..facts import Fact, Name, Term, slug
from ..kept import Kept
from ..shop.catalogue.hoods import HOODS, OPERATIONS
from ..shop.catalogue.sessions import READY
from ..shop.filler import each_row
from ..shop.filling import metric_file, usual_hoses, usual_sheets
from ..shop.kinds import Kind
from ..shop.model import Shop
from ..shop.positions import path_text
from ..shop.schema import model_in
from ..words import Voice
from .paths import Path, address, coded
from .understanding import example, metric_shop

#: Fields that choose among things that have names of their own.
_HOSES, _SHEETS, _TOOLS = "hoses", "sheets", "tools"
_NAMES = {
    ("tools", "hose"): _HOSES,
    ("home_test", "hose"): _HOSES,
    ("wishes", "sheet"): _SHEETS,
    ("wishes", "second_sheet"): _SHEETS,
    ("branches", "tool"): _TOOLS,
    ("operations", "tool"): _TOOLS,
}


@cache
def _offered_in(model: type[BaseModel], under: str) -> tuple[str, ...]:
    """The lists of the file among whose names the fields of a table choose."""
    found = dict.fromkeys(
        listed
        for (at, name), listed in _NAMES.items()
        if name in model.model_fields and at == under
    )
    for name, field in model.model_fields.items():
        if (inner := model_in(field.annotation)) is not None:
            found |= dict.fromkeys(_offered_in(inner, name))
    return tuple(found)


@dataclass(frozen=True)
class Assumed:
    """What is taken where nothing was written, and why."""

    text: str
    why: str


@dataclass(frozen=True)
class Trouble:
    """What is wrong with a field, in words."""

    found: str
    mend: str


@dataclass(frozen=True)
class _Entry:
    """A field of the file: what was written there, or is taken instead, and what is wrong."""

    name: str
    field: FieldInfo
    path: Path
    written: Any
    assumed: Assumed | None
    trouble: Trouble | None

    @property
    def key(self) -> str:
        """What the control goes by on the page."""
        return _id(self.path)

    @property
    def about(self) -> str:
        """What the text goes by that describes it."""
        return f"about-{self.key}"


@dataclass(frozen=True)
class Form:
    """Sets fields of the shop file on the page.

    Attributes
    ----------
    data
        What the person wrote.
    assumed, troubles
        By the path as the file's reader names it.
    kept
        Fields as they were made before.
    """

    voice: Voice
    data: Mapping[str, Any]
    assumed: Mapping[str, Assumed]
    troubles: Mapping[str, Trouble]
    kept: Kept[Markup]

    def fields(self, model: type[BaseModel], at: Path, *, leave: tuple[str, ...] = ()) -> h.Node:
        """All fields of a table."""
        return [
            self._field(name, field, (*at, name))
            for name, field in model.model_fields.items()
            if name not in leave
        ]

    def rests_on(self, model: type[BaseModel], at: Path) -> tuple[object, ...]:
        """All that the fields of a table show: what is written, assumed and wrong, and the names
        that are offered."""
        start = path_text(at, self.data)
        of = self._of_section.get(str(at[0]), ())
        return (
            "/".join(map(str, at)),
            start,
            _json(self._at(at)),
            self._metric,
            *(self._offered[listed] for listed in _offered_in(model, str(at[0]))),
            *(text for path, text in of if path.startswith(start)),
        )

    @cached_property
    def _metric(self) -> bool:
        """Whether examples are metric, as bare numbers are."""
        return metric_shop(self.data)

    @cached_property
    def _of_section(self) -> dict[str, list[tuple[str, str]]]:
        """By the table of the file, what is assumed and wrong there, with its path."""
        found: dict[str, list[tuple[str, str]]] = {}
        for rows in (self.assumed, self.troubles):
            for path, each in rows.items():
                text = f"{path}: {each!r}"
                found.setdefault(re.split(r"[.[]", path, maxsplit=1)[0], []).append((path, text))
        return found

    @cached_property
    def _offered(self) -> dict[str, str]:
        """The names of what is listed, to be chosen among."""
        found = {}
        for listed in (_HOSES, _SHEETS, _TOOLS):
            names = [row.get("name") for _, row in each_row(self.data, listed)]
            found[listed] = _json(names)
        return found

    def only(self, model: type[BaseModel], at: Path, *names: str) -> h.Node:
        """Some fields of a table, in this order."""
        return [self._field(n, model.model_fields[n], (*at, n)) for n in names]

    def _field(self, name: str, field: FieldInfo, path: Path) -> h.Node:
        inner = model_in(field.annotation)
        if inner is None:
            return self._one(name, field, path)
        if _many(field.annotation):
            return self._rows(name, inner, path)
        title = self.short(name)
        return h.details(".inner", id=f"inner-{_id(path)}", open=self._at(path) is not None)[
            h.summary[title], h.div(".fields")[self.fields(inner, path)]
        ]

    def _rows(self, name: str, model: type[BaseModel], path: Path) -> h.Node:
        rows = self._at(path)
        count = len(rows) if isinstance(rows, list) else 0
        return h.details(".inner", id=f"inner-{_id(path)}", open=count > 0)[
            h.summary[self.short(name)],
            (
                h.div(".row")[
                    h.div(".fields")[self.fields(model, (*path, n))], self.remove((*path, n))
                ]
                for n in range(count)
            ),
            self.add((*path, count), _new_row(model, self.voice, self._metric)),
        ]

    def short(self, name: str) -> str:
        """A field's short name."""
        return self.voice.say(f"field.{name}")

    def remove(self, path: Path) -> h.Node:
        """Takes a row away."""
        return h.button(
            ".quiet",
            type="button",
            data_do="remove",
            data_place=coded(address(path, self.data)),
            data_old=_json(self._at(path)),
        )[self.voice.word("app.remove")]

    def add(self, path: Path, row: Mapping[str, Any]) -> h.Node:
        """Adds a row."""
        return h.button(
            ".quiet",
            type="button",
            data_do="add",
            data_place=coded(address(path[:-1], self.data)),
            data_new=_json(dict(row)),
        )[self.voice.word("app.add")]

    def _at(self, path: Path) -> Any:
        here: Any = self.data
        for part in path:
            try:
                here = here[part]
            except (KeyError, IndexError, TypeError):
                return None
        return here

    def _one(self, name: str, field: FieldInfo, path: Path) -> h.Node:
        """A field, made again only when what it shows has changed."""
        text = path_text(path, self.data)
        entry = _Entry(
            name, field, path, self._at(path), self.assumed.get(text), self.troubles.get(text)
        )
        listed = _listed_at(path)
        offered = self._offered[listed] if listed is not None else ""
        shown = path, text, _json(entry.written), entry.assumed, entry.trouble, offered
        also = (*shown, self._metric, self.voice.language)
        return self.kept.of((), also, lambda: Markup(str(self._made(entry))))

    def _made(self, entry: _Entry) -> h.Node:
        assumed, trouble, written = entry.assumed, entry.trouble, entry.written
        state = (
            "wrong"
            if trouble
            else "written"
            if written is not None
            else "assumed"
            if assumed
            else "empty"
        )
        return h.div(".field", data_state=state, id=f"field-{entry.key}")[
            h.label(for_=entry.key)[self.short(entry.name)],
            self._control(entry),
            h.p(".about", id=entry.about)[
                h.strong[trouble.found, " ", trouble.mend, " "] if trouble else None,
                self._help(entry.path),
                h.span(".why")[" ", _sentence(assumed.why)]
                if assumed and written is None
                else None,
            ],
        ]

    def _help(self, path: Path) -> str:
        kind = ".".join(p for p in path if isinstance(p, str))
        if not self.voice.can_say(f"place.{kind}", "help"):
            return ""
        return self.voice.help(kind)

    def _control(self, entry: _Entry) -> h.Node:
        field, path, written, assumed = entry.field, entry.path, entry.written, entry.assumed
        common: dict[str, Any] = {
            "id": entry.key,
            "data_place": coded(address(path, self.data)),
            "data_old": _json(written),
            "aria_describedby": entry.about,
        }
        choices = list(self._choices(entry.name, field.annotation, path))
        if _many(field.annotation):
            chosen = written if isinstance(written, list) else []
            return h.div(".choices", role="group", id=entry.key)[
                (
                    h.label(".choice")[
                        h.input(
                            type="checkbox",
                            value=value,
                            checked=value in chosen,
                            data_group=coded(address(path, self.data)),
                            data_old=_json(written),
                        ),
                        self._chosen(value),
                    ]
                    for value, _ in choices
                )
            ]
        if choices:
            value = written if isinstance(written, str) else None
            empty = self.voice.word("app.assumed", text=Name(assumed.text)) if assumed else "–"
            known = {v for v, _ in choices}
            extra = [(value, value)] if value is not None and value not in known else []
            return h.select(**common)[
                h.option(value="", selected=value is None)[empty],
                (h.option(value=v, selected=v == value)[shown] for v, shown in (*choices, *extra)),
            ]
        if _plain(field.annotation) is bool:
            on = written if isinstance(written, bool) else _default(field)
            return h.input(type="checkbox", checked=bool(on), data_kind="bool", **common)
        kind = next((m for m in _marks(field) if isinstance(m, Kind)), None)
        number = _plain(field.annotation) in (int, float)
        shown = "" if written is None else str(written)
        blank = assumed.text if assumed else "" if _default(field) is None else str(_default(field))
        if entry.name == "notes":
            return h.textarea(rows="3", data_kind="text", **common)[shown]
        return h.input(
            type="text",
            value=shown,
            placeholder=blank or (example(kind, self._metric) if kind else ""),
            data_kind="quantity" if kind else "number" if number else "text",
            data_dimension=kind.dimension if kind else None,
            inputmode="decimal" if number else None,
            autocomplete="off",
            spellcheck="false",
            size="14",
            **common,
        )

    def _choices(self, name: str, annotation: Any, path: Path) -> Iterator[tuple[str, str]]:
        if name == "ready":
            for key in READY:
                yield key, self._chosen(key)
            return
        if name in ("hood", "operation"):
            known: Any = HOODS if name == "hood" else OPERATIONS
            for key in known:
                term: Fact = Term(name, key)
                yield key, _first_large(self.voice.text(term))
            return
        listed = _listed_at(path)
        if listed is not None:
            for _, row in each_row(self.data, listed):
                if isinstance(row.get("name"), str):
                    yield row["name"], row["name"]
            return
        for value in literals_of(annotation):
            yield value, self._chosen(value)

    def _chosen(self, value: str) -> str:
        """A choice in words; sizes and classes of standards go by their own names."""
        known = f"choice.{slug(value)}"
        return self.voice.say(known) if self.voice.can_say(known) else value


def _listed_at(path: Path) -> str | None:
    """The list among whose names a field chooses."""
    keys = tuple(p for p in path if isinstance(p, str))[-2:]
    return _NAMES.get((keys[0] if len(keys) > 1 else "", keys[-1]))


def _sentence(text: str) -> str:
    return _first_large(text) + ("" if text.endswith((".", "?", "!")) else ".")


def _first_large(text: str) -> str:
    return text[:1].upper() + text[1:]


def _id(path: Path) -> str:
    return "-".join(str(p) for p in path)


def _json(value: Any) -> str:
    import json

    return json.dumps(value, ensure_ascii=False, default=str)


def _marks(field: FieldInfo) -> list[Any]:
    inner = [m for a in get_args(field.annotation) for m in getattr(a, "__metadata__", ())]
    return [*field.metadata, *inner]


def _default(field: FieldInfo) -> Any:
    return None if field.is_required() else field.default


def _plain(annotation: Any) -> Any:
    """The type of a field that may be None."""
    inner = [a for a in get_args(annotation) if a is not NoneType]
    return inner[0] if get_origin(annotation) is not Literal and len(inner) == 1 else annotation


def _many(annotation: Any) -> bool:
    return get_origin(annotation) is tuple


def literals_of(annotation: Any) -> Iterator[str]:
    """The texts that a field can be."""
    if get_origin(annotation) is Literal:
        yield from (v for v in get_args(annotation) if isinstance(v, str))
    else:
        for inner in get_args(annotation):
            yield from literals_of(inner)


def _new_row(model: type[BaseModel], voice: Voice, metric: bool) -> dict[str, Any]:
    """What a new row begins with: examples of what it must have."""
    row: dict[str, Any] = {}
    for name, field in model.model_fields.items():
        kind = next((m for m in _marks(field) if isinstance(m, Kind)), None)
        if field.is_required():
            inner = model_in(field.annotation)
            if kind is not None:
                row[name] = example(kind, metric)
            elif inner is not None:
                row[name] = _new_row(inner, voice, metric)
            elif name == "hood":
                row[name] = next(iter(HOODS))
            elif name == "name":
                row[name] = voice.word("app.new_row")
    return row


def new_row(section: str, data: Mapping[str, Any], voice: Voice) -> dict[str, Any]:
    """A new row of a list of the shop file, with a name that no other has."""
    model = model_in(Shop.model_fields[section].annotation)
    assert model is not None
    row = _new_row(model, voice, metric_shop(data))
    # What is bought by its usual sizes begins with those, and not with any example.
    if section == "hoses":
        row = usual_hoses()[0] | {"name": row["name"]}
    elif section == "sheets":
        row = {k: v for k, v in usual_sheets(metric_file(dict(data)))[-1].items() if k != "price"}
    taken = {other.get("name") for _, other in each_row(data, section)}
    first = str(row.get("name", ""))
    number, name = 1, first
    while name in taken:
        number += 1
        name = f"{first} {number}"
    if "name" in model.model_fields:
        row["name"] = name
    return row
