"""What people call things, and what the shop file calls them: suggestions by meaning.

The words are held against what stands in a file and never shown. Where a word of the trade
can mean several things, all of them are candidates, and the person is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache

#: Other spellings of the same word: United States and United Kingdom, joined and apart.
_SAME = {
    "mitre": "miter",
    "disk": "disc",
    "fiber": "fibre",
    "bandsaw": "band saw",
    "tablesaw": "table saw",
    "tracksaw": "track saw",
    "jigsaw": "jig saw",
    "mitresaw": "miter saw",
    "mitersaw": "miter saw",
    "chopsaw": "chop saw",
    "scrollsaw": "scroll saw",
    "drillpress": "drill press",
    "orbit": "orbital",
    "ros": "orbital",
    "eccentric": "orbital",
    "thicknessing": "thickness",
    "thicknesser": "thickness",
    "planing": "planer",
    "plane": "planer",
    "sanding": "sander",
    "sand": "sander",
    "sawing": "saw",
    "routing": "router",
    "rout": "router",
    "drilling": "drill",
    "drilled": "drill",
    "jointing": "jointer",
    "jointed": "jointer",
    "turn": "turning",
    "sweeping": "sweep",
    "broom": "sweep",
    "vac": "vacuum",
    "worktable": "table",
    "mould": "mold",
    "adaptor": "adapter",
    "metre": "meter",
    "grey": "gray",
    "colour": "color",
    "centre": "center",
    "plough": "plow",
    "aluminium": "aluminum",
}

_SANDERS = ("pad holes", "belt shroud", "disc table")
_BY_HAND = ("bench nozzle", "floor nozzle")

#: Words that together name a tool or a hood, and the hoods that can be meant.
_HOODS: dict[str, tuple[str, ...]] = {
    "sander": _SANDERS,
    "random": ("pad holes",),
    "random sander": ("pad holes",),
    "orbital": ("pad holes",),
    "orbital sander": ("pad holes",),
    "palm": ("pad holes",),
    "palm sander": ("pad holes",),
    "pad": ("pad holes",),
    "pad sander": ("pad holes",),
    "finishing sander": ("pad holes",),
    "detail": ("pad holes",),
    "detail sander": ("pad holes",),
    "delta": ("pad holes",),
    "delta sander": ("pad holes",),
    "drywall": ("pad holes",),
    "drywall sander": ("pad holes",),
    "belt sander": ("belt shroud", "disc table"),
    "belt": ("belt shroud", "disc table"),
    "edge sander": ("disc table",),
    "disc": ("disc table",),
    "disc sander": ("disc table",),
    "belt disc": ("disc table",),
    "spindle sander": ("disc table",),
    "drum sander": ("disc table", "planer hood"),
    "saw": ("saw cabinet", "blade guard", "mitre boot", "saw shroud", "band saw port"),
    "table saw": ("saw cabinet", "blade guard"),
    "cabinet": ("saw cabinet", "disc table"),
    "cabinet saw": ("saw cabinet", "blade guard"),
    "contractor saw": ("saw cabinet", "blade guard"),
    "bench saw": ("saw cabinet", "blade guard"),
    "guard": ("blade guard",),
    "riving": ("blade guard",),
    "miter": ("mitre boot",),
    "miter saw": ("mitre boot",),
    "chop": ("mitre boot",),
    "chop saw": ("mitre boot",),
    "sliding saw": ("mitre boot", "saw cabinet"),
    "radial": ("mitre boot", "hood box"),
    "band": ("band saw port",),
    "band saw": ("band saw port",),
    "track": ("saw shroud",),
    "track saw": ("saw shroud",),
    "plunge": ("saw shroud", "router base"),
    "plunge saw": ("saw shroud",),
    "plunge router": ("router base",),
    "circular": ("saw shroud",),
    "circular saw": ("saw shroud",),
    "hand saw": ("saw shroud",),
    "jig saw": ("saw shroud",),
    "biscuit": ("saw shroud",),
    "plate joiner": ("saw shroud",),
    "scroll saw": ("bench nozzle", "hood box"),
    "router": ("router base", "router fence"),
    "router table": ("router fence",),
    "trim router": ("router base",),
    "hand router": ("router base",),
    "trimmer": ("router base",),
    "shaper": ("router fence", "hood box"),
    "fence": ("router fence", "drill fence"),
    "planer": ("planer hood", "jointer chute"),
    "thickness": ("planer hood",),
    "thickness planer": ("planer hood",),
    "jointer": ("jointer chute",),
    "surface planer": ("jointer chute", "planer hood"),
    "drill": ("drill fence",),
    "drill press": ("drill fence",),
    "pillar": ("drill fence",),
    "lathe": ("lathe hood", "hood box", "bench nozzle"),
    "turning": ("lathe hood", "hood box", "bench nozzle"),
    "floor": ("floor nozzle",),
    "floor sweep": ("floor nozzle",),
    "sweep": ("floor nozzle",),
    "vacuum": _BY_HAND,
    "hose": _BY_HAND,
    "vacuum hose": _BY_HAND,
    "nozzle": (*_BY_HAND, "drill fence"),
    "wand": _BY_HAND,
    "bench": ("bench nozzle",),
    "carving": ("bench nozzle", "hood box"),
    "oscillating tool": ("bench nozzle",),
    "grinder": ("hood box", "bench nozzle"),
    "box": ("hood box",),
    "open": ("hood box", "lathe hood"),
    "shroud": ("saw shroud", "belt shroud", "pad holes"),
    "chute": ("jointer chute",),
    "boot": ("mitre boot",),
}

_OPERATIONS: dict[str, tuple[str, ...]] = {
    "sander": ("sanding",),
    "saw": ("sawing",),
    "cut": ("sawing",),
    "cutting": ("sawing",),
    "rip": ("sawing",),
    "ripping": ("sawing",),
    "crosscut": ("sawing",),
    "router": ("routing",),
    "molding": ("routing",),
    "profile": ("routing",),
    "groove": ("routing",),
    "planer": ("planing",),
    "thickness": ("planing",),
    "jointer": ("planing",),
    "surfacing": ("planing",),
    "drill": ("drilling",),
    "boring": ("drilling",),
    "turning": ("turning",),
    "lathe": ("turning",),
    "sweep": ("sweeping",),
    "cleaning": ("sweeping",),
    "floor": ("sweeping",),
    "vacuuming": ("sweeping",),
}

#: Values of a choice by the last words of its path.
_CHOICES: dict[str, dict[str, tuple[str, ...]]] = {
    "form": {
        "upright": ("tower",),
        "tall": ("tower",),
        "stacked": ("tower",),
        "vertical": ("tower",),
        "open": ("backframe",),
        "frame": ("backframe",),
        "back": ("backframe",),
        "side": ("low",),
        "flat": ("low",),
        "wide": ("low",),
    },
    "hold_bucket": {
        "hang": ("rim", "taper"),
        "hung": ("rim", "taper"),
        "hanging": ("rim", "taper"),
        "lip": ("rim",),
        "wedge": ("taper",),
        "wedged": ("taper",),
        "cone": ("taper",),
        "stand": ("standing",),
        "floor": ("standing",),
        "base": ("standing",),
    },
    "joint": {
        "butt": ("screwed butt",),
        "screw": ("screwed butt",),
        "screws": ("screwed butt",),
        "screwed": ("screwed butt",),
        "pocket": ("pocket hole",),
        "pocket screws": ("pocket hole",),
        "housing": ("dado",),
        "groove": ("dado",),
        "rabbet": ("dado",),
        "rebate": ("dado",),
        "glued": ("glue",),
        "thread": ("thread",),
        "threaded": ("thread",),
        "screwed on": ("thread",),
        "bayonet": ("twist",),
        "lock": ("twist",),
        "push": ("plain",),
        "friction": ("plain",),
    },
    "kind": {
        "adapter": ("reducer",),
        "cone": ("reducer",),
        "step": ("reducer",),
        "stepped": ("reducer",),
        "sleeve": ("coupling",),
        "connector": ("coupling",),
        "coupler": ("coupling",),
        "bend": ("elbow",),
        "knee": ("elbow",),
        "angle": ("elbow",),
        "blast": ("gate",),
        "valve": ("gate",),
        "slide": ("gate",),
        "y": ("wye",),
        "tee": ("wye",),
        "branch": ("wye",),
        "circular": ("circular saw",),
        "hand": ("circular saw", "track saw"),
        "plunge": ("track saw",),
        "rail": ("track saw",),
        "cabinet": ("table saw",),
        "bench": ("table saw",),
    },
    "shape": {
        "bucket": ("tapered", "straight"),
        "pail": ("tapered", "straight"),
        "cone": ("tapered",),
        "conical": ("tapered",),
        "cylinder": ("straight", "drum"),
        "barrel": ("drum",),
        "keg": ("drum",),
        "square": ("box", "oblong"),
        "tote": ("box",),
        "rectangular": ("box", "oblong"),
        "circular": ("round",),
        "long": ("oblong",),
    },
    "made_of": {
        "metal": ("steel",),
        "tin": ("steel",),
        "cardboard": ("fibre",),
        "paper": ("fibre",),
    },
    "material": {
        "soft": ("rubber",),
        "plastic": ("rigid",),
        "hard": ("rigid",),
        "metal": ("rigid",),
    },
    "wall": {"corrugated": ("ribbed",), "spiral": ("ribbed",), "plain": ("smooth",)},
    "filter": {
        "new": ("clean",),
        "dirty": ("clogged", "used"),
        "full": ("clogged",),
        "old": ("used",),
    },
    "use": {"short": ("link",), "connecting": ("link",), "machine": ("tool",)},
    "made": {"board": ("plate",), "box": ("hood box",), "hood": ("hood box",)},
    "page": {"us": ("letter",), "din": ("a4",)},
    "units": {
        "inch": ("in",),
        "inches": ("in",),
        "imperial": ("in",),
        "us": ("in",),
        "metric": ("mm",),
        "millimeter": ("mm",),
        "cm": ("mm",),
        "all": ("both",),
    },
    "measures": {
        "imperial": ("inch",),
        "in": ("inch",),
        "us": ("inch",),
        "mm": ("metric",),
        "cm": ("metric",),
    },
    "options": {
        "grip": ("handle",),
        "push": ("handle",),
        "hook": ("hose holder", "cord wrap"),
        "hose": ("hose holder",),
        "fittings": ("fitting rack",),
        "adapters": ("fitting rack",),
        "rack": ("fitting rack",),
        "box": ("drawer",),
        "tray": ("shelf", "drawer"),
        "outlet": ("switch",),
        "power": ("switch",),
        "cable": ("cord wrap",),
        "cord": ("cord wrap",),
    },
}

#: Keys of the file by what people call what stands there; only those that the table has are told.
_KEYS: dict[str, tuple[str, ...]] = {
    "vac": ("vacuum",),
    "shopvac": ("vacuum",),
    "extractor": ("vacuum",),
    "hose": ("hoses", "hose"),
    "pipe": ("branches",),
    "duct": ("branches",),
    "ducts": ("branches",),
    "adapters": ("fittings",),
    "connectors": ("fittings",),
    "plywood": ("sheets",),
    "boards": ("sheets",),
    "machines": ("tools",),
    "blade": ("saw",),
    "shop": ("about", "room"),
    "workshop": ("about", "room"),
    "garage": ("room",),
    "power": ("circuit", "amps"),
    "electricity": ("circuit",),
    "cart": ("wishes",),
    "goals": ("wishes",),
    "cfm": ("open_airflow", "airflow", "needs_airflow"),
    "airflow": ("open_airflow", "airflow"),
    "flow": ("open_airflow", "airflow"),
    "lift": ("sealed",),
    "pressure": ("sealed", "suction"),
    "vacuum": ("sealed", "suction"),
    "capacity": ("tank", "volume"),
    "gallons": ("tank", "volume"),
    "litres": ("tank", "volume"),
    "liters": ("tank", "volume"),
    "size": ("tank", "volume", "length", "bore"),
    "depth": ("length", "height"),
    "diameter": ("bore", "top_diameter", "body_diameter", "outside", "length"),
    "dia": ("bore", "outside"),
    "od": ("outside",),
    "id": ("inside",),
    "outer": ("outside",),
    "inner": ("inside",),
    "inlet": ("inlet", "inside"),
    "current": ("amps",),
    "watts": ("amps",),
    "voltage": ("volts",),
    "fuse": ("breaker",),
    "cost": ("price",),
    "quantity": ("count",),
    "qty": ("count",),
    "type": ("kind", "hood", "shape"),
    "title": ("name",),
    "label": ("name",),
    "panel": ("name",),
    "mark": ("name",),
    "paper": ("page",),
    "money": ("currency",),
    "thick": ("thickness",),
    "door": ("narrowest_door",),
    "doorway": ("narrowest_door",),
    "wheels": ("caster_diameter",),
    "castors": ("caster_diameter",),
    "casters": ("caster_diameter",),
    "height": ("greatest_height", "height"),
    "bench": ("under_bench",),
    "workbench": ("under_bench",),
    "bench height": ("under_bench",),
    "headroom": ("under_bench", "greatest_height"),
    "width": ("largest_width", "width"),
    "length": ("largest_length", "length"),
    "hoses length": ("length",),
    "weight": ("ballast", "weight"),
    "anchor": ("hose_anchor",),
    "feet": ("outriggers",),
    "legs": ("outriggers",),
    "handle": ("options",),
    "drawer": ("options",),
    "shelf": ("options",),
    "joinery": ("joint",),
    "joints": ("joint",),
    "layout": ("form",),
    "style": ("form",),
    "position": ("place",),
    "location": ("place",),
    "outlet": ("port", "outlets"),
    "connection": ("port",),
    "elevation": ("altitude",),
    "temp": ("temperature",),
    "holder": ("hold_bucket",),
    "bin": ("bucket",),
    "drum": ("bucket",),
    "pail": ("bucket",),
    "separator": ("cyclone", "separator"),
    "extension": ("cord",),
    "cable": ("cord",),
}

_WORD = re.compile(r"[^\W\d_]+")
#: Values that may be spelled in two ways, by the names of their fields; the file's own is the second.
_SPELLINGS = {
    "hood": {"miter boot": "mitre boot", "disk table": "disc table"},
    "made_of": {"fiber": "fibre"},
}


def as_spelled_here(key: str, value: str) -> str:
    """A value in the file's own spelling, where it is another spelling of it and no other word.

    >>> as_spelled_here("hood", "Miter boot"), as_spelled_here("hood", "miter saw")
    ('mitre boot', 'miter saw')
    """
    plain = " ".join(value.lower().replace("-", " ").replace("_", " ").split())
    return _SPELLINGS.get(key, {}).get(plain, value)


@cache
def _folded(text: str) -> frozenset[str]:
    """The words of a text in one spelling, without the endings of the plural and the genitive."""
    found: set[str] = set()
    for word in _WORD.findall(text.lower().replace("'s", "").replace("’s", "")):
        for each in (word, word.removesuffix("s")):
            found.update(_SAME.get(each, each).split())
    return frozenset(found)


def _meant(text: str, table: dict[str, tuple[str, ...]]) -> tuple[str, ...]:
    """What a text can mean by a table: what the longest entries that it holds stand for."""
    words = _folded(text)
    found: dict[str, None] = {}
    most = 0
    for entry, values in table.items():
        wanted = frozenset(part for word in entry.split() for part in _SAME.get(word, word).split())
        if not wanted <= words or len(wanted) < most:
            continue
        if len(wanted) > most:
            most, found = len(wanted), {}
        found.update(dict.fromkeys(values))
    return tuple(found)


def hoods_meant(text: str) -> tuple[str, ...]:
    """Hoods that a person's own words can mean; empty where none is known.

    >>> hoods_meant("table saw"), hoods_meant("Miter saw"), hoods_meant("shop vac hose")
    (('saw cabinet', 'blade guard'), ('mitre boot',), ('bench nozzle', 'floor nozzle'))
    """
    return _meant(text, _HOODS)


def operations_meant(text: str) -> tuple[str, ...]:
    """Operations that a person's own words can mean."""
    return _meant(text, _OPERATIONS)


def choices_meant(key: str, text: str, allowed: Sequence[str]) -> tuple[str, ...]:
    """Values of a choice that a person's own words can mean."""
    return _allowed(_meant(text, _CHOICES.get(key, {})), allowed)


def keys_meant(text: str, allowed: Sequence[str]) -> tuple[str, ...]:
    """Keys of a table that a person's own word can mean."""
    return _allowed(_meant(text.replace("_", " "), _KEYS), allowed)


def _allowed(found: Iterable[str], allowed: Sequence[str]) -> tuple[str, ...]:
    return tuple(each for each in found if each in allowed)
