"""What vacuums, buckets, cyclones, ends and sheets of a kind usually measure.

All of it is common practice without a published source, and stands in the register of sources
as such: ranges wide enough to hold what is found in shops, so that a verdict that hangs on one of
them says so.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache

from ...facts import Statement, state
from ...quantity import QuantityError, parse
from ...sources import Fact, fact
from ...sources.parts import PARTS, part_key


@dataclass(frozen=True)
class Row:
    """Sizes usual for things of one capacity [m³]; between two rows they are interpolated."""

    volume_m3: float
    sizes: dict[str, str]
    inlet: str = ""


#: Which inlet a vacuum of a tank usually has.
_INLETS = {"4 US gal": "1-1/4 in port"}


@cache
def _rows(kind: str) -> tuple[Row, ...]:
    """The rows of a kind, from the register."""
    rows = []
    for holds, sizes in PARTS[kind]:
        texts = {size: _text(fact(part_key(kind, holds, size))) for size in sizes}
        volume = parse(holds, "volume").best_si if holds else 0.0
        rows.append(Row(volume, texts, _INLETS.get(holds, "2-1/2 in port")))
    return tuple(rows)


def _text(size: Fact) -> str:
    """A usual size as it would stand in a shop file."""
    low, high = size.span
    return f"{low:g}..{high:g} {size.unit}"


#: What a drum's rim measures beyond its wall, on the diameter [m].
DRUM_RIM = (0.012, 0.032)
#: Sizes of a box that follow from its size under the rim [m]: what is added to it.
BOX_FROM_TOP = {"bottom": (-0.030, 0.0), "rim": (0.012, 0.040)}
BOX_REST = {"rim_drop": "0.3..1.2 in", "corner": "0.5..2 in"}


@cache
def cyclone_sizes() -> dict[str, str]:
    """What a cyclone usually measures."""
    [row] = _rows("cyclone")
    return row.sizes


def _row(rows: tuple[Row, ...], volume_m3: float) -> Row:
    """Sizes for a capacity [m³], between the two rows that it lies between.

    Lengths go with the cube root of what a body holds, so that is what they are interpolated by.
    """
    roots = [row.volume_m3 ** (1 / 3) for row in rows]
    root = min(max(volume_m3 ** (1 / 3), roots[0]), roots[-1])
    above = next(i for i, each in enumerate(roots[1:], 1) if root <= each)
    low, high = rows[above - 1], rows[above]
    part = (root - roots[above - 1]) / (roots[above] - roots[above - 1])
    near = high if part > 0.5 else low
    sizes = {key: _between(low.sizes[key], high.sizes[key], part) for key in low.sizes}
    return replace(near, volume_m3=volume_m3, sizes=sizes)


def _between(low: str, high: str, part: float) -> str:
    """A range so far on the way from one to another, all with the same unit."""
    if part in (0.0, 1.0):
        return high if part else low
    (a, b, unit), (c, d, _) = (_RANGE.fullmatch(text).groups() for text in (low, high))  # type: ignore[union-attr]
    ends = (float(x) + part * (float(y) - float(x)) for x, y in ((a, c), (b, d)))
    return "..".join(f"{end:.2f}" for end in ends) + f" {unit}"


_RANGE = re.compile(r"([\d.]+)\.\.([\d.]+) (.+)")


def vacuum_row(volume_m3: float) -> Row:
    """Usual sizes of a vacuum by its tank [m³]."""
    return _row(_rows("vacuum"), volume_m3)


def bucket_row(volume_m3: float, shape: str = "tapered") -> Row:
    """Usual sizes of a bucket, drum or box by what it holds [m³]."""
    return _row(_rows(shape if shape in ("drum", "box") else "bucket"), volume_m3)


def bucket_volume(shape: str) -> tuple[str, Statement]:
    """What one of this shape usually holds, and why it is taken."""
    return {
        "drum": ("15 US gal", state("assumed.smallest_drum")),
        "box": ("40 L", state("assumed.middling_box")),
    }.get(shape, ("5 US gal", state("assumed.usual_bucket")))


def open_airflow_m3_s(input_power_w: float, sealed_pa: float) -> tuple[float, float]:
    """Range of open airflow from input power and sealed suction.

    On a straight suction curve the air power is greatest at half the open airflow and
    half the sealed suction: a quarter of their product. A shop vacuum turns 14 to 25 %
    of its input into that (common practice, no source).
    """
    return 4 * 0.14 * input_power_w / sealed_pa, 4 * 0.25 * input_power_w / sealed_pa


def sealed_pa(input_power_w: float, open_airflow_m3_s: float) -> tuple[float, float]:
    """Range of sealed suction from input power and open airflow, by the same reckoning.

    Kept between what the weakest and the strongest shop vacuums pull.
    """
    low, high = (4 * part * input_power_w / open_airflow_m3_s for part in (0.14, 0.25))
    return min(max(low, 8e3), 26e3), min(max(high, 10e3), 30e3)


@dataclass(frozen=True)
class NominalRow:
    """What parts sold under one nominal size are found to measure."""

    key: str
    outside: str
    inside: str


_NOMINALS = (
    NominalRow("27 mm", "26..36 mm", "24..30 mm"),
    NominalRow("35 mm", "34..41 mm", "30..36 mm"),
    NominalRow("1 in", "25..32 mm", "22..28 mm"),
    NominalRow("1-1/4 in", "31..39 mm", "27..33 mm"),
    NominalRow("1-1/2 in", "37..45 mm", "33..39 mm"),
    NominalRow("1-7/8 in", "46..53 mm", "41..49 mm"),
    NominalRow("2 in", "50..58 mm", "45..53 mm"),
    NominalRow("2-1/4 in", "56..64 mm", "51..59 mm"),
    NominalRow("2-1/2 in", "56..70 mm", "52..64 mm"),
    NominalRow("3 in", "74..82 mm", "70..77 mm"),
    NominalRow("4 in", "98..106 mm", "94..103 mm"),
    NominalRow("100 mm", "98..106 mm", "94..102 mm"),
    NominalRow("50 mm", "49..58 mm", "44..51 mm"),
    NominalRow("58 mm", "57..64 mm", "51..59 mm"),
)


def nominal_names() -> tuple[str, ...]:
    """The nominal sizes that have a row."""
    return tuple(row.key for row in _NOMINALS)


def nominal_row(text: str) -> NominalRow | None:
    """The row of a nominal size, such as ``2-1/2 in``, ``2 1/2"`` or ``2.5 in``; None without one.

    >>> nominal_row('2.5"').key, nominal_row("57.2 mm")
    ('2-1/2 in', None)
    """
    # A tolerance or a range is a measurement, and no name.
    try:
        size = parse(text.lower().removesuffix("port").strip(), "length")
    except QuantityError:
        return None
    if size.low_si < size.high_si:
        return None
    return next((row for row in _NOMINALS if abs(_size_m(row.key) - size.best_si) < 1e-6), None)


@cache
def _size_m(key: str) -> float:
    return parse(key, "length").best_si


TOOL_AMPS = "2..15 A"

# key: (inch shops, millimetre shops, why)
REST: dict[str, dict[str, tuple[object, object, Statement]]] = {
    "saw": {
        "kind": ("table saw", "table saw", state("assumed.usual_saw")),
        "kerf": ("1/8 in", "3 mm", state("assumed.full_kerf")),
        "trim": ("1/8 in", "3 mm", state("assumed.knocked_edge")),
        "largest_rip": ("30 in", "760 mm", state("assumed.common_fence")),
        "smallest_piece": ("3 in", "75 mm", state("assumed.near_the_blade")),
        "carry_length": ("8 ft", "2.5 m", state("assumed.whole_sheet")),
        "carry_width": ("4 ft", "1.25 m", state("assumed.whole_sheet")),
    },
    "room": {
        "length": ("18..24 ft", "5.5..7.3 m", state("assumed.one_car_garage")),
        "width": ("10..14 ft", "3..4.3 m", state("assumed.one_car_garage")),
        "height": ("8..9 ft", "2.4..2.8 m", state("assumed.one_car_garage")),
        "altitude": ("0..2000 ft", "0..600 m", state("assumed.where_people_live")),
        "temperature": ("45..90 °F", "7..32 °C", state("assumed.unheated_garage")),
    },
    "circuit": {
        "volts": ("120 V", "230 V", state("assumed.usual_voltage")),
        "breaker": ("15 A", "16 A", state("assumed.smaller_circuit")),
        "tool_shares": (True, True, state("assumed.one_circuit")),
    },
    "wishes": {
        "form": ("tower", "tower", state("assumed.smallest_footprint")),
        "largest_length": ("30 in", "760 mm", state("assumed.garage_corner")),
        "largest_width": ("30 in", "760 mm", state("assumed.garage_corner")),
        "greatest_height": ("72 in", "1850 mm", state("assumed.within_reach")),
        "clearance": ("1/2 in", "12 mm", state("assumed.lift_out")),
        "extra_width": ("0 in", "0 mm", state("assumed.no_wider")),
        "extra_depth": ("0 in", "0 mm", state("assumed.no_deeper")),
        "extra_front": ("0 in", "0 mm", state("assumed.no_deeper")),
        "ballast": ("0 lb", "0 kg", state("assumed.as_steady_as_needed")),
        "outriggers": ("0 in", "0 mm", state("assumed.as_steady_as_needed")),
        "hose_anchor": ("low", "low", state("assumed.tug_at_the_bottom")),
        "narrowest_door": ("24..36 in", "610..910 mm", state("assumed.house_doors")),
        "caster_diameter": ("3 in", "75 mm", state("assumed.rolls_over")),
        "caster_height": ("4..4.3 in", "100..108 mm", state("assumed.swivel_caster")),
        "caster_load": ("90..150 lb", "40..70 kg", state("assumed.swivel_caster")),
    },
}

#: Largest width of a `low` cart where none is wished for: inches, millimetres, why.
LOW_WIDTH = ("42 in", "1070 mm", state("assumed.side_by_side"))
