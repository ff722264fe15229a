"""What there is to do, at hand in every place: what stops, what is wrong, what to measure."""

from __future__ import annotations

from typing import Any

import htpy as h

from ..facts import Amount, Band, Fix, Name, Place, Ref
from ..quantity import Quantity
from ..view.findings import Group
from ..view.summary import level_text
from .looking import Looking
from .paths import address_of, coded

_MOST, _MOST_MEASURED = 5, 5


def todo(look: Looking) -> h.Node:
    """The list; faults of the file stand before everything else."""
    if look.faults is not None:
        rows: list[h.Node] = [_fault(look, n) for n in range(len(look.faults.faults))][:_MOST]
    else:
        rows = [_row(look, g) for g in look.findings if g.level in ("stop", "problem")]
    count = len(rows)
    measure = [] if look.faults is not None else _measure(look)
    return h.div("#frame-todo.todo", data_count=str(count))[
        h.h2[look.word("todo")],
        h.ol[rows[:_MOST]] if rows else h.p(".quiet")[look.word("todo.nothing")],
        h.details[h.summary[look.word("todo.more", count=count - _MOST)], h.ol[rows[_MOST:]]]
        if count > _MOST
        else None,
        [h.h2[look.word("todo.measure")], h.ul(".measure")[measure]] if measure else None,
    ]


def _fault(look: Looking, number: int) -> h.Node:
    assert look.faults is not None
    fault = look.faults.faults[number]
    said = look.voice.refusal(fault)
    return h.li(".stop")[
        h.strong[_field_link(look, fault.place, _name(look, fault.place))],
        h.p[said.found],
        h.p(".quiet")[said.allowed],
        h.p[said.mend],
    ]


def _row(look: Looking, group: Group) -> h.Node:
    first = group.spoken[0]
    about = ", ".join(dict.fromkeys(s.said.about for s in group.spoken if s.said.about))
    return h.li(class_=group.level)[
        h.span(".level")[level_text(group.level, look.voice)],
        h.strong[about] if about else None,
        h.p[first.said.answer],
        h.p(".quiet")[first.said.numbers] if first.said.numbers else None,
        h.p(".do")[group.do] if group.do else None,
        _fixes(look, first.key, group),
    ]


def _fixes(look: Looking, key: str, group: Group) -> h.Node:
    """Changes that the engine tried, each to be made by one touch."""
    if look.plan is None or look.checking:
        return None
    said = {(s.said.about, s.said.answer) for s in group.spoken}
    fixes: list[Fix] = []
    for finding in look.plan.findings:
        if finding.key == key and finding.level == group.level and finding.fixes:
            spoken = look.voice.finding(finding)
            if (spoken.about, spoken.answer) in said or len(said) == 1:
                fixes += [f for f in finding.fixes if f not in fixes]
    offered = [f for f in fixes if plain(f.to) is not None][:3]
    if not offered:
        return None
    return h.div(".fixes")[(fix_button(look, f) for f in offered)]


def fix_button(look: Looking, fix: Fix) -> h.Node:
    """Makes the change when touched."""
    path = address_of(fix.place, look.given)
    said = look.word(
        "fix.passes" if fix.passes else "fix.helps",
        field=Place(fix.place),
        to=fix.to if not isinstance(fix.to, str) else Name(fix.to),
    )
    cost = (
        look.word("fix.cost", price=Amount(round(fix.costs), "money"))
        if fix.costs is not None and fix.costs >= 0.5
        else ""
    )
    return h.button(
        type="button",
        data_do="set",
        data_place=coded(path),
        data_new=_json(plain(fix.to)),
        data_old=_json(_at(look.given, path)),
    )[said, " ", h.small[cost] if cost else None]


def plain(value: Any) -> Any:
    """A value as it is written in a shop file; None where it cannot be."""
    if isinstance(value, bool | int | float | str):
        return value
    if isinstance(value, Quantity):
        return value.text
    if isinstance(value, Name):
        return value.text
    if isinstance(value, Ref):
        return value.name
    if isinstance(value, Amount | Band):
        return _written(value)
    key = getattr(value, "key", None)
    return key if isinstance(key, str) else None


def _written(value: Amount | Band) -> str | None:
    from ..words import Voice

    amount = value if isinstance(value, Amount) else Amount(value.best, value.dimension)
    style = amount.style if amount.style in ("inch", "metric") else "metric"
    try:
        return Voice().text(Amount(amount.si, amount.dimension, style))
    except (LookupError, ValueError):
        return None


def _measure(look: Looking) -> list[h.Node]:
    seen: dict[str, None] = {}
    for group in look.findings:
        for path in group.measure:
            seen.setdefault(path)
    return [
        h.li[_field_link(look, path, _name(look, path))] for path in list(seen)[:_MOST_MEASURED]
    ]


def _name(look: Looking, path: str) -> str:
    name = look.voice.place(path) if path else look.word("file")
    return name[:1].upper() + name[1:]


def _field_link(look: Looking, path: str, text: str) -> h.Node:
    return h.a(href="#shop", data_field=coded(address_of(path, look.given)))[text]


def _at(data: Any, path: tuple[str | int, ...]) -> Any:
    here = data
    for part in path:
        if isinstance(here, list) and isinstance(part, str):
            here = next((r for r in here if isinstance(r, dict) and r.get("name") == part), None)
        else:
            try:
                here = here[part]
            except (KeyError, IndexError, TypeError):
                return None
    return here


def _json(value: Any) -> str:
    import json

    return json.dumps(value, ensure_ascii=False, default=str)
