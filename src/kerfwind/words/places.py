"""Fields of the shop file, for words to name."""

from __future__ import annotations

import re

from ..facts import Name, Place, Statement, facts

_ITEM = re.compile(r"\[([^\]]*)\]")


def place_statement(place: Place) -> Statement:
    """The statement that names a field: ``place.tools.port.outside`` with the tool's name.

    >>> place_statement(Place("tools[planer].port.outside"))
    Statement(kind='place.tools.port.outside', facts=(('name', Name(text='planer')),))
    """
    names = _ITEM.findall(place.path)
    kind = f"place.{_ITEM.sub('', place.path)}"
    return Statement(kind, facts(name=Name(names[0])) if names else ())
