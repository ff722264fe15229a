"""What there is to do, at hand in every place: what stops, what is wrong, what to measure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import htpy as h
from markupsafe import Markup

from ..facts import Amount, Band, Fix, Listing, Name, Place, Ref, Term, slug
from ..finding import PREVENTING, Finding
from ..quantity import Quantity
from ..shop.filler import each_row
from ..view.findings import Group, price_text
from ..view.summary import level_text
from .paths import LISTS, address_of, coded

if TYPE_CHECKING:
    from .looking import Looking

_MOST, _MOST_MEASURED, _MOST_FIXES = 5, 5, 3
#: Where a thing stands in the shop file that a finding is about.
_LISTS = {"tool": "tools", "hose": "hoses", "sheet": "sheets", "fitting": "fittings"}
_LISTS |= {"branch": "branches", "panel": "built", "session": "sessions"}
_PARTS = {"vacuum": "vacuum", "bucket": "separator.bucket", "cyclone": "separator.cyclone"}
_PARTS |= {"casters": "wishes.caster_diameter", "circuit": "circuit", "cord": "circuit.cord"}
_PARTS |= {each: each for each in ("separator", "hoses", "tools", "fittings")}
#: Where it is done what a check tells of, in the row or part that it is about.
_FIELDS = {"breathing.noise": "hearing", "breathing.mask": "mask", "breathing.mask_on": "mask"}


def todo(look: Looking) -> h.Node:
    """The list; faults of the file stand before everything else."""
    if look.faults is not None:
        rows: list[h.Node] = [_fault(look, n) for n in range(len(look.faults.faults))][:_MOST]
    else:
        rows = _rows(look)
    count = len(rows)
    measure = [] if look.faults is not None else _measure(look)
    return h.div("#frame-todo.todo", data_count=str(count))[
        h.h2[look.label("todo")],
        h.ol[rows[:_MOST]] if rows else h.p(".quiet")[look.label("todo.nothing")],
        h.details[h.summary[look.label("todo.more", count=count - _MOST)], h.ol[rows[_MOST:]]]
        if count > _MOST
        else None,
        [h.h2[look.label("todo.measure")], h.ul(".measure")[measure]] if measure else None,
    ]


def _rows(look: Looking) -> list[h.Node]:
    """A row for each thing that is wrong, made again only where it says another thing."""
    if look.plan is None:
        return []
    also = (*look.spoken, look.checking, *_rests_on(look))
    return [
        look.fragments.rows.of(
            (group,),
            also,
            lambda group=group: Markup(str(_row(look, group))),  # type: ignore[misc]
        )
        for group in look.findings
        if group.level in ("stop", "problem")
    ]


def _rests_on(look: Looking) -> tuple[str, ...]:
    """What of the shop file the rows show, beside what they say of the findings."""
    names = [[row.get("name") for _, row in each_row(look.given, key)] for key in sorted(LISTS)]
    findings = look.plan.findings if look.plan is not None and not look.checking else ()
    now = [_now(look, each) for f in findings for fix in f.fixes for each in fix.every]
    return _json(names), _json(now)


def _fault(look: Looking, number: int) -> h.Node:
    assert look.faults is not None
    fault = look.faults.faults[number]
    said = look.voice.refusal(fault)
    own = f"fault.{fault.kind}"
    return h.li(".stop")[
        h.strong[field_link(look, fault.place, place_name(look, fault.place))],
        h.p[said.found],
        h.p(".quiet")[said.allowed],
        h.p[look.label(f"{own}.mend") if look.voice.can_say(f"app.{own}.mend") else said.mend],
        h.div(".fixes")[_take_away(look, fault.fixes)] if fault.fixes else None,
    ]


def _take_away(look: Looking, fixes: Sequence[Fix]) -> h.Node:
    """Leaves fields empty that stand against another, all at once."""
    places = [address_of(fix.place, look.given) for fix in fixes]
    edits = [{"place": at, "old": _at(look.given, at), "new": None} for at in places]
    fields = Listing(tuple(Name(look.voice.say(f"field.{at[-1]}")) for at in places), "and")
    return h.button(type="button", data_do="edit", data_edits=_json(edits))[
        look.label("fault.take_away", fields=fields)
    ]


def _row(look: Looking, group: Group) -> h.Node:
    return h.li(class_=group.level)[
        h.span(".level")[level_text(group.level, look.voice)],
        _told(group),
        h.p(".do")[with_way(look, group.do)] if group.do else None,
        _fixes(look, group),
        _way_there(look, group),
    ]


def _told(group: Group) -> h.Node:
    """What was found, of each thing by its own figures."""
    if group.check:
        each = [f"{s.said.about} {s.brief}".strip() for s in group.spoken]
        return [h.strong[group.check], h.p["; ".join(each), "."]]
    first, *more = group.spoken
    return [
        h.strong[first.said.about] if first.said.about else None,
        h.p[first.said.answer],
        ([h.strong[s.said.about] if s.said.about else None, h.p[s.said.answer]] for s in more),
    ]


def _fixes(look: Looking, group: Group) -> h.Node:
    """Changes that the engine tried, each to be made by one touch."""
    if look.plan is None or look.checking:
        return None
    same: dict[tuple[str, str], list[Fix]] = {}
    for finding in group.findings:
        for fix in finding.fixes:
            written = [(plain(each.to), _now(look, each)) for each in fix.every]
            if all(new is not None and new != now for new, now in written):
                key_of = " ".join(each.place for each in fix.every), _json(written)
                same.setdefault(key_of, []).append(fix)
    # What lets one tool pass and helps another is no more than a help to both.
    offered = [replace(f[0], passes=all(each.passes for each in f)) for f in same.values()]
    offered.sort(key=lambda f: not f.passes)
    if not offered:
        return None
    return h.div(".fixes")[
        (fix_button(look, f, group.spoken[0].key) for f in offered[:_MOST_FIXES])
    ]


def _way_there(look: Looking, group: Group) -> h.Node:
    """Leads to the field that a finding is about: what is to be measured, or the thing itself."""
    paths = list(group.measure)
    for finding in group.findings:
        paths += _about(finding)
        paths += [each.place for fix in finding.fixes for each in fix.every]
    if not paths:
        paths = ["wishes"]
    return h.p(".way")[field_link(look, paths[0], look.label("todo.show", what=Place(paths[0])))]


def _about(finding: Finding) -> list[str]:
    """The row or table of the shop file that a finding is about; where it says, a field of it."""
    about, field = finding.about, _FIELDS.get(finding.key)
    if isinstance(about, Ref) and about.kind in _LISTS:
        at = f"{_LISTS[about.kind]}[{about.name}]"
    elif isinstance(about, Ref) and about.kind in _PARTS:
        at = _PARTS[about.kind]
    elif isinstance(about, Term) and about.key in _PARTS:
        at = _PARTS[about.key]
    else:
        return []
    return [f"{at}.{field}" if field else at]


def fix_button(look: Looking, fix: Fix, key: str) -> h.Node:
    """Makes the change when touched; those that mend only together, all at once.

    What was tried for a cart that cannot be built is only that it then can: not its checks.
    """
    edits = [
        {
            "place": address_of(each.place, look.given),
            "old": _now(look, each),
            "new": plain(each.to),
        }
        for each in fix.every
    ]
    rows = [
        Name(look.label("fix.change", field=Place(each.place), to=Name(to_text(look, each.to))))
        for each in fix.every
    ]
    passes = "fix.builds" if key in PREVENTING else "fix.passes"
    kind = passes if fix.passes else "fix.helps"
    said = look.label(kind, changes=Listing(tuple(rows), "and"))
    cost = (
        look.label("fix.cost", price=Amount(round(fix.costs), "money"))
        if fix.costs is not None and fix.costs >= 0.5 and price_text(fix.costs, look.voice)
        else ""
    )
    return h.button(type="button", data_do="edit", data_edits=_json(edits))[
        said, " ", h.small[cost] if cost else None
    ]


def _now(look: Looking, fix: Fix) -> Any:
    """What stands in the file where a change is to be made."""
    return _at(look.given, address_of(fix.place, look.given))


def to_text(look: Looking, value: Any) -> str:
    """A value as a person says it: no true and false, no keys."""
    if isinstance(value, bool):
        return look.label("yes" if value else "no")
    if isinstance(value, str):
        known = look.voice.can_say(f"choice.{slug(value)}")
        return look.voice.say(f"choice.{slug(value)}") if known else value
    return look.voice.text(value)


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
    if isinstance(value, Listing):
        return [plain(each) for each in value.items]
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
        h.li[field_link(look, path, place_name(look, path))] for path in list(seen)[:_MOST_MEASURED]
    ]


def place_name(look: Looking, path: str) -> str:
    """A field by its name, as a heading begins."""
    name = look.voice.place(path) if path else look.label("file")
    return name[:1].upper() + name[1:]


def with_way(look: Looking, text: str) -> h.Node:
    """What is to be done; where it speaks of what would help, that is led to."""
    heading = look.voice.word("page.help")
    before, found, after = text.partition(heading)
    return [before, h.a(href="#air", data_part="air-help")[found] if found else None, after]


def field_link(look: Looking, path: str, text: str) -> h.Node:
    """Leads to a field of the shop."""
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
