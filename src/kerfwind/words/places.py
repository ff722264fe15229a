"""Fields of the shop file, for words to name."""

from __future__ import annotations

import re

from ..facts import Name, Place, Statement, facts

#: The item of a list that a path goes through, by what a person called it: any text.
_ITEM = re.compile(r"\[(.*)\]")
#: An operation of a session, by its number.
_OPERATION = re.compile(r"sessions\[(.*)\]\.operations\[(\d+)\]((?:\.\w+)*)")


def place_statement(place: Place) -> Statement:
    """The statement that names a field: ``place.tools.port.outside`` with the tool's name.

    >>> said = place_statement(Place("tools[planer].port.outside"))
    >>> said.kind, said.facts
    ('place.tools.port.outside', (('name', Name(text='planer')),))
    >>> place_statement(Place("tools[planer]")).kind
    'place.tools.each'
    """
    nested = _OPERATION.fullmatch(place.path)
    if nested is not None:
        session, row, field = nested.groups()
        about = facts(name=Name(session), row=Name(row))
        return Statement(f"place.sessions.operations{field or '.each'}", about)
    item = _ITEM.search(place.path)
    if item is None:
        return Statement(f"place.{place.path}")
    rest = place.path[item.end() :] or ".each"
    return Statement(f"place.{place.path[: item.start()]}{rest}", facts(name=Name(item[1])))
