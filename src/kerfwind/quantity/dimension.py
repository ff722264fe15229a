"""The dimensions people measure in a workshop, and the units they write.

Conversion factors are exact where the unit is defined exactly (inch 25.4 mm, pound
0.45359237 kg, US gallon 231 cubic inches: NIST Handbook 44, appendix C). A column of
water is taken at 4 °C: 249.089 Pa for an inch (NIST SP 811, appendix B.8).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

#: Units that a reader asks for.
UnitChoice = Literal["in", "mm", "both"]


@dataclass(frozen=True)
class Unit:
    """One unit: ``si = value * factor + offset``."""

    name: str
    factor: float
    offset: float = 0.0
    spellings: tuple[str, ...] = ()
    decimals: int = 1


@dataclass(frozen=True)
class Dimension:
    """A kind of quantity.

    ``ambiguous`` spellings could mean two units: which of them has to be asked.
    ``positive`` dimensions refuse negative values when parsed.
    """

    name: str
    si: str
    units: tuple[Unit, ...]
    imperial: str
    metric: str
    positive: bool = True
    ambiguous: tuple[str, ...] = ()

    def unit(self, spelling: str) -> Unit | None:
        """The unit written as ``spelling``; None when there is none."""
        return _spellings(self.name).get(_fold(spelling))

    def spellings(self) -> list[str]:
        """The usual spelling of every unit, for messages."""
        return [u.name for u in self.units if u.name]


def _fold(text: str) -> str:
    folded = text.strip().rstrip(".").lower()
    for old, new in (("³", "3"), ("²", "2"), ("^", ""), (" ", ""), ("₂", "2"), ("·", "")):
        folded = folded.replace(old, new)
    return folded


_IN = 0.0254
_FT = 0.3048
_GAL = 231 * _IN**3
_LB = 0.45359237
_INH2O = 249.089
_LBF = _LB * 9.80665

_ALL = (
    Dimension(
        "length",
        "m",
        (
            Unit("m", 1.0, spellings=("meter", "metre", "meters", "metres"), decimals=3),
            Unit("cm", 0.01, decimals=1),
            Unit("mm", 0.001, decimals=1),
            Unit("in", _IN, spellings=('"', "″", "inch", "inches", "”"), decimals=2),
            Unit("ft", _FT, spellings=("'", "′", "foot", "feet", "’"), decimals=2),
        ),
        "in",
        "mm",
    ),
    Dimension(
        "area",
        "m²",
        (
            Unit("m²", 1.0, spellings=("m2", "sqm"), decimals=2),
            Unit("cm²", 1e-4, spellings=("cm2",), decimals=1),
            Unit("in²", _IN**2, spellings=("in2", "sqin"), decimals=1),
            Unit("ft²", _FT**2, spellings=("ft2", "sqft"), decimals=1),
        ),
        "ft²",
        "m²",
    ),
    Dimension(
        "volume",
        "m³",
        (
            Unit("m³", 1.0, spellings=("m3",), decimals=3),
            Unit("L", 1e-3, spellings=("l", "liter", "litre", "liters", "litres"), decimals=1),
            Unit("US gal", _GAL, spellings=("gal us", "usgal", "gal", "gallon", "gallons")),
            Unit("UK gal", 4.54609e-3, spellings=("gal uk", "ukgal", "imp gal", "imperial gal")),
            Unit("ft³", _FT**3, spellings=("ft3", "cuft"), decimals=2),
            Unit("in³", _IN**3, spellings=("in3", "cuin"), decimals=0),
        ),
        "US gal",
        "L",
        ambiguous=("gal", "gallon", "gallons"),
    ),
    Dimension(
        "airflow",
        "m³/s",
        (
            Unit("m³/s", 1.0, spellings=("m3/s",), decimals=4),
            Unit("L/s", 1e-3, spellings=("l/s", "lps"), decimals=1),
            Unit("m³/h", 1 / 3600, spellings=("m3/h", "m3/hr", "cmh"), decimals=0),
            Unit("L/min", 1e-3 / 60, spellings=("l/min", "lpm"), decimals=0),
            Unit("cfm", _FT**3 / 60, spellings=("ft3/min", "cuft/min"), decimals=0),
        ),
        "cfm",
        "m³/h",
    ),
    Dimension(
        "pressure",
        "Pa",
        (
            Unit("Pa", 1.0, decimals=0),
            Unit("kPa", 1e3, decimals=2),
            Unit("hPa", 1e2, decimals=0),
            Unit("mbar", 1e2, decimals=0),
            Unit("bar", 1e5, decimals=3),
            Unit("inH2O", _INH2O, spellings=("in wc", "inwc", "inwg", "in wg", '"wc'), decimals=1),
            Unit("mmH2O", _INH2O / 25.4, spellings=("mmwc",), decimals=0),
            Unit("psi", _LBF / _IN**2, decimals=2),
            Unit("inHg", 3386.389, decimals=1),
        ),
        "inH2O",
        "kPa",
    ),
    Dimension(
        "stress",
        "Pa",
        (
            Unit("Pa", 1.0, decimals=0),
            Unit("MPa", 1e6, decimals=2),
            Unit("GPa", 1e9, decimals=2),
            Unit("psi", _LBF / _IN**2, decimals=0),
        ),
        "psi",
        "MPa",
    ),
    Dimension(
        "mass",
        "kg",
        (
            Unit("kg", 1.0, decimals=1),
            Unit("g", 1e-3, decimals=0),
            Unit("lb", _LB, spellings=("lbs", "pound", "pounds"), decimals=1),
            Unit("oz", _LB / 16, decimals=1),
        ),
        "lb",
        "kg",
    ),
    Dimension(
        "force", "N", (Unit("N", 1.0, decimals=0), Unit("lbf", _LBF, decimals=0)), "lbf", "N"
    ),
    Dimension(
        "speed",
        "m/s",
        (
            Unit("m/s", 1.0, decimals=1),
            Unit("m/min", 1 / 60, decimals=1),
            Unit("mm/s", 1e-3, decimals=1),
            Unit("fpm", _FT / 60, spellings=("ft/min",), decimals=0),
        ),
        "fpm",
        "m/s",
    ),
    # Of who walks, not of air.
    Dimension(
        "pace",
        "m/s",
        (Unit("m/s", 1.0, decimals=1), Unit("mph", 0.44704, decimals=1)),
        "mph",
        "m/s",
    ),
    Dimension("current", "A", (Unit("A", 1.0, spellings=("amp", "amps"), decimals=1),), "A", "A"),
    Dimension("voltage", "V", (Unit("V", 1.0, spellings=("volt", "volts"), decimals=0),), "V", "V"),
    Dimension(
        "power",
        "W",
        (
            Unit("W", 1.0, spellings=("watt", "watts"), decimals=0),
            Unit("kW", 1e3, decimals=2),
            Unit("hp", 745.6998715822702, decimals=1),
        ),
        "W",
        "W",
    ),
    Dimension(
        "temperature",
        "K",
        (
            Unit("°C", 1.0, 273.15, spellings=("c", "degc"), decimals=0),
            Unit("°F", 5 / 9, 459.67 * 5 / 9, spellings=("f", "degf"), decimals=0),
            Unit("K", 1.0, decimals=0),
        ),
        "°F",
        "°C",
        positive=False,
    ),
    Dimension(
        "angle",
        "rad",
        (
            Unit("°", 0.017453292519943295, spellings=("deg", "degrees", "degree"), decimals=0),
            Unit("rad", 1.0, decimals=3),
        ),
        "°",
        "°",
    ),
    Dimension(
        "time",
        "s",
        (
            Unit("s", 1.0, spellings=("sec", "seconds"), decimals=0),
            Unit("min", 60.0, spellings=("minutes", "minute"), decimals=0),
            Unit("h", 3600.0, spellings=("hr", "hours", "hour"), decimals=1),
        ),
        "min",
        "min",
    ),
    Dimension(
        "density",
        "kg/m³",
        (
            Unit("kg/m³", 1.0, spellings=("kg/m3",), decimals=0),
            Unit("lb/ft³", _LB / _FT**3, spellings=("lb/ft3",), decimals=1),
        ),
        "lb/ft³",
        "kg/m³",
    ),
    Dimension(
        "concentration",
        "kg/m³",
        (Unit("mg/m³", 1e-6, spellings=("mg/m3",), decimals=2),),
        "mg/m³",
        "mg/m³",
    ),
    Dimension(
        "sound",
        "dB(A)",
        (Unit("dB(A)", 1.0, spellings=("dB", "dBA", "dB A"), decimals=0),),
        "dB(A)",
        "dB(A)",
    ),
    Dimension(
        "ratio",
        "",
        (Unit("", 1.0, decimals=2), Unit("%", 0.01, decimals=0)),
        "",
        "",
        positive=False,
    ),
)


@cache
def dimension(name: str) -> Dimension:
    """The dimension called ``name``.

    Raises
    ------
    KeyError
        There is no such dimension.
    """
    for each in _ALL:
        if each.name == name:
            return each
    raise KeyError(name)


@cache
def _spellings(name: str) -> dict[str, Unit]:
    table: dict[str, Unit] = {}
    for unit in dimension(name).units:
        for spelling in (unit.name, *unit.spellings):
            table.setdefault(_fold(spelling), unit)
    return table


def guess_dimensions(spelling: str) -> list[str]:
    """Names of the dimensions that have a unit so spelled, for error messages."""
    return [d.name for d in _ALL if spelling and d.unit(spelling)]
