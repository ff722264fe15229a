"""The kinds of edit that a person makes in the worked example, as a fixed list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from kerfwind.app.document import Document, Edit, Place

REMARK = "# A remark of mine.\n"


@dataclass(frozen=True)
class Kind:
    """One kind of edit: what a place becomes, or with no place a remark in the file alone."""

    name: str
    place: Place
    new: Any = None

    def of(self, text: str) -> str:
        """The text after the edit."""
        if not self.place:
            return REMARK + text
        document = Document(text)
        document.apply(Edit(self.place, document.value(self.place), self.new))
        return document.text


_TOOL = {
    "name": "spindle sander",
    "hood": "belt shroud",
    "amps": "5 A",
    "port": {"inside": "36.0 mm", "outside": "40.2 mm", "length": "30 mm"},
}

KINDS = (
    Kind("port of a tool", ("tools", "router table", "port", "inside"), "57.5 mm ± 0.4"),
    Kind("length of the thin hose", ("hoses", "thin hose", "length"), "11 ft"),
    Kind("length of the big hose", ("hoses", "big hose", "length"), "9 ft"),
    Kind("length of the link hose", ("hoses", "link hose", "length"), "8 ft"),
    Kind("vacuum's height", ("vacuum", "height"), "21-1/4 in"),
    Kind("bucket's diameter", ("separator", "bucket", "top_diameter"), "11-1/2 in ± 1/16"),
    Kind("price of a sheet", ("sheets", "3/4 in birch plywood, 2 x 4 ft", "price"), 33.5),
    Kind("width of the door", ("wishes", "narrowest_door"), "30 in"),
    Kind("label of the vacuum", ("vacuum", "suction", "sealed"), "72..80 inH2O"),
    Kind("a tool more", ("tools", "spindle sander"), _TOOL),
    Kind("a tool renamed", ("tools", "band saw", "name"), "big band saw"),
    Kind("a tool dragged", ("tools", "drill press", "place", "x"), "17 ft 6 in"),
    Kind("a fitting less", ("fittings", "black elbow"), None),
    Kind("altitude", ("room", "altitude"), "900..1100 ft"),
    Kind("title", ("about", "name"), "Another title"),
    Kind("units", ("about", "units"), "mm"),
    Kind("other loads", ("circuit", "other_loads"), "0.9 A"),
    Kind("breaker", ("circuit", "breaker"), "15 A"),
    Kind("a remark only", ()),
    Kind("thickness of a sheet", ("sheets", "3/4 in birch plywood, 2 x 4 ft", "thickness"), "18 mm"),
    Kind("kerf", ("saw", "kerf"), "3/32 in"),
    Kind("load of a caster", ("wishes", "caster_load"), "130 lb"),
)
