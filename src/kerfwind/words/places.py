"""Fields of the shop file, for words to name."""

from __future__ import annotations

import re

from ..facts import Name, Place, Statement, facts

#: The item of a list that a path goes through, by what a person called it: any text.
_ITEM = re.compile(r"\[(.*)\]")


def place_statement(place: Place) -> Statement:
    """The statement that names a field: ``place.tools.port.outside`` with the tool's name.

    >>> place_statement(Place("tools[planer].port.outside"))
    Statement(kind='place.tools.port.outside', facts=(('name', Name(text='planer')),), part='')
    >>> place_statement(Place("tools[planer]")).kind
    'place.tools.each'
    """
    item = _ITEM.search(place.path)
    if item is None:
        return Statement(f"place.{place.path}")
    rest = place.path[item.end() :] or ".each"
    return Statement(f"place.{place.path[: item.start()]}{rest}", facts(name=Name(item[1])))
