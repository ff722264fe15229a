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
    "name": "bench sander",
    "hood": "disc table",
    "amps": "5 A",
    "port": {"inside": "36.0 mm", "outside": "40.2 mm", "length": "30 mm"},
}
_SHEET = "18 mm birch plywood, 5 x 2-1/2 ft"

KINDS = (
    Kind("port of a tool", ("tools", "spindle sander", "port", "inside"), "37.5 mm ± 0.4"),
    Kind("length of the thin hose", ("hoses", "slim hose", "length"), "12 ft"),
    Kind("length of the big hose", ("hoses", "wide hose", "length"), "9 ft"),
    Kind("length of the link hose", ("hoses", "joining hose", "length"), "7 ft"),
    Kind("vacuum's height", ("vacuum", "height"), "25 in"),
    Kind("bucket's diameter", ("separator", "bucket", "top_diameter"), "11-3/8 in ± 1/16"),
    Kind("price of a sheet", ("sheets", _SHEET, "price"), 55.5),
    Kind("width of the door", ("wishes", "narrowest_door"), "32 in"),
    Kind("label of the vacuum", ("vacuum", "suction", "sealed"), "85 inH2O"),
    Kind("a tool more", ("tools", "bench sander"), _TOOL),
    Kind("a tool renamed", ("tools", "drill press", "name"), "pillar drill"),
    Kind("a tool dragged", ("tools", "drill press", "place", "x"), "16 ft 6 in"),
    Kind("a fitting less", ("fittings", "wide cone"), None),
    Kind("altitude", ("room", "altitude"), "900..1100 ft"),
    Kind("title", ("about", "name"), "Another title"),
    Kind("units", ("about", "units"), "mm"),
    Kind("other loads", ("circuit", "other_loads"), "0.9 A"),
    Kind("breaker", ("circuit", "breaker"), "15 A"),
    Kind("a remark only", ()),
    Kind("thickness of a sheet", ("sheets", _SHEET, "thickness"), "18.3 mm ± 0.3"),
    Kind("kerf", ("saw", "kerf"), "3/32 in"),
    Kind("load of a caster", ("wishes", "caster_load"), "130 lb"),
)
