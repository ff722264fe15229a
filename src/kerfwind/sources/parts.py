"""What vacuums, buckets and cyclones of a size usually measure: taken where nothing is measured.

All of it is common practice without a published source: ranges wide enough to hold what is found
in shops, so that a verdict that hangs on one of them says so.
"""

from __future__ import annotations

from .kinds import Fact, Source

SOURCES: tuple[Source, ...] = ()

Size = tuple[float, float, str]

#: By kind, and by what one of them holds: least, most and unit of each size.
PARTS: dict[str, tuple[tuple[str, dict[str, Size]], ...]] = {
    "vacuum": (
        (
            "4 US gal",
            {
                "length": (12, 16, "in"),
                "width": (12, 16, "in"),
                "height": (16, 22, "in"),
                "weight": (9, 16, "lb"),
                "headroom": (8, 12, "in"),
                "inlet_height": (9, 14, "in"),
                "amps": (6, 10, "A"),
            },
        ),
        (
            "9 US gal",
            {
                "length": (17, 21, "in"),
                "width": (17, 21, "in"),
                "height": (20, 26, "in"),
                "weight": (15, 25, "lb"),
                "headroom": (10, 14, "in"),
                "inlet_height": (11, 17, "in"),
                "amps": (8, 12, "A"),
            },
        ),
        (
            "16 US gal",
            {
                "length": (20, 25, "in"),
                "width": (19, 24, "in"),
                "height": (26, 34, "in"),
                "weight": (20, 35, "lb"),
                "headroom": (12, 18, "in"),
                "inlet_height": (15, 24, "in"),
                "amps": (10, 12, "A"),
            },
        ),
    ),
    "bucket": (
        (
            "3 US gal",
            {
                "top_diameter": (10.0, 10.6, "in"),
                "bottom_diameter": (8.8, 9.6, "in"),
                "height": (9.5, 11, "in"),
                "rim_diameter": (10.7, 11.3, "in"),
                "rim_drop": (1.5, 2.5, "in"),
                "wall": (1.6, 2.2, "mm"),
                "weight": (1.3, 2, "lb"),
            },
        ),
        (
            "5 US gal",
            {
                "top_diameter": (11.1, 11.6, "in"),
                "bottom_diameter": (10.1, 10.6, "in"),
                "height": (14.2, 15, "in"),
                "rim_diameter": (11.8, 12.4, "in"),
                "rim_drop": (2, 3.2, "in"),
                "wall": (1.7, 2.4, "mm"),
                "weight": (2, 3, "lb"),
            },
        ),
        (
            "10 US gal",
            {
                "top_diameter": (13.5, 15.5, "in"),
                "bottom_diameter": (12.5, 14.5, "in"),
                "height": (16, 20, "in"),
                "rim_diameter": (14.3, 16.5, "in"),
                "rim_drop": (1.5, 3, "in"),
                "wall": (2, 4, "mm"),
                "weight": (4, 9, "lb"),
            },
        ),
    ),
    "drum": (
        (
            "15 US gal",
            {
                "top_diameter": (14, 16, "in"),
                "bottom_diameter": (14, 16, "in"),
                "height": (23, 28, "in"),
                "rim_diameter": (14.8, 17, "in"),
                "rim_drop": (0.4, 1, "in"),
                "wall": (2.5, 4.5, "mm"),
                "weight": (6, 11, "lb"),
            },
        ),
        (
            "20 US gal",
            {
                "top_diameter": (16, 19, "in"),
                "bottom_diameter": (16, 19, "in"),
                "height": (22, 28, "in"),
                "rim_diameter": (16.8, 20, "in"),
                "rim_drop": (0.4, 1, "in"),
                "wall": (2.5, 4.5, "mm"),
                "weight": (7, 13, "lb"),
            },
        ),
        (
            "30 US gal",
            {
                "top_diameter": (18, 20, "in"),
                "bottom_diameter": (18, 20, "in"),
                "height": (27, 31, "in"),
                "rim_diameter": (18.8, 21, "in"),
                "rim_drop": (0.4, 1, "in"),
                "wall": (3, 5, "mm"),
                "weight": (11, 19, "lb"),
            },
        ),
    ),
    "box": (
        (
            "25 L",
            {
                "top_length": (15, 17, "in"),
                "top_width": (11, 13, "in"),
                "height": (10, 13, "in"),
                "wall": (1.5, 2.5, "mm"),
                "weight": (2, 4, "lb"),
            },
        ),
        (
            "60 L",
            {
                "top_length": (20, 24, "in"),
                "top_width": (14, 17, "in"),
                "height": (12, 16, "in"),
                "wall": (1.8, 3, "mm"),
                "weight": (4, 8, "lb"),
            },
        ),
    ),
    "cyclone": (
        (
            "",
            {
                "body_diameter": (5, 7, "in"),
                "height": (9, 13, "in"),
                "inlet_height": (6, 9, "in"),
                "weight": (1, 3, "lb"),
            },
        ),
    ),
}

#: What a size is called.
_CALLED = {
    "amps": "current",
    "body_diameter": "diameter of the body",
    "bottom_diameter": "diameter of the bottom",
    "inlet_height": "height of the inlet",
    "rim_diameter": "diameter over the rim",
    "rim_drop": "depth of the rim",
    "top_diameter": "diameter under the rim",
    "top_length": "length under the rim",
    "top_width": "width under the rim",
    "wall": "thickness of the wall",
}


def part_key(kind: str, holds: str, size: str) -> str:
    """The key of a usual size.

    >>> part_key("vacuum", "9 US gal", "weight")
    'parts.vacuum.9gal.weight'
    """
    of = holds.replace("US ", "").replace(" ", "")
    return ".".join(("parts", kind, *([of] if of else []), size))


FACTS: tuple[Fact, ...] = tuple(
    Fact(
        part_key(kind, holds, size),
        f"Usual {_CALLED.get(size, size)} of a {kind}{f' of {holds}' if holds else ''}",
        (low + high) / 2,
        unit,
        "practice",
        low=low,
        high=high,
    )
    for kind, rows in PARTS.items()
    for holds, sizes in rows
    for size, (low, high, unit) in sizes.items()
)
