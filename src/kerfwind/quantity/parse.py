"""Reading a quantity from the text a person wrote."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import lru_cache

from .dimension import Dimension, Unit, dimension, guess_dimensions
from .quantity import Quantity, Shape, Standing

_MIXED = re.compile(r"^(\d+)(?:\s*-\s*|\s+)(\d+)\s*/\s*(\d+)")
_FRACTION = re.compile(r"^(\d+)\s*/\s*(\d+)")
_DECIMAL = re.compile(r"^(\d+(?:\.\d*)?|\.\d+)(?:[eE]([+-]?\d+))?")
_VULGAR = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}
_PLUS_MINUS = re.compile(r"\s*(?:±|\+/-|\+-)\s*")
_FEET = re.compile(r"\d\s*(?:ft|feet|foot|'|′|’)\s*[\d.]")
_DASH = re.compile(r"^(?:-|to\b)\s*-?[\d.]")
_NUMBER_WORD = r"(?:\d|\.\d)"


#: What an error tells besides the text: a text as written, amperes, or names of dimensions.
Told = str | float | tuple[str, ...]


class QuantityError(ValueError):
    """A text that is not a quantity of the kind wanted.

    Attributes
    ----------
    kind
        What is wrong, such as ``quantity.no_unit``.
    found
        The text.
    dimension
        What kind of quantity was wanted.
    told
        What else belongs to it, by name.
    """

    def __init__(self, kind: str, found: str, wanted: Dimension, **told: Told) -> None:
        super().__init__(f"{kind}: {found!r} is no {wanted.name}")
        self.kind = kind
        self.found = found
        self.dimension = wanted
        self.told = told


#: Signs that take no room, in a text that is copied from a page or from paper.
UNSEEN = dict.fromkeys(map(ord, "\u2060\u200b\ufeff"))
_PLAIN = {**UNSEEN, **dict.fromkeys(map(ord, "−–‐‑"), "-"), ord("⁄"): "/"}


@lru_cache(4096)
def parse(
    text: str, dimension_name: str, *, path: str = "", standing: Standing = "measured"
) -> Quantity:
    """Read one quantity.

    Parameters
    ----------
    text
        A number with its unit; fractions (``2-1/4 in``, ``2 1/4 in``, ``¾ in``), feet and
        inches (``5 ft 3-1/2 in``), a tolerance (``± 0.3``, ``± 0.3 mm``, ``± 5 %``) or a
        range (``80..95 inH2O``).
    dimension_name
        The kind of quantity wanted, such as ``"length"``.

    Raises
    ------
    QuantityError
        The text is none of these, its unit belongs to another kind of quantity, or
        its unit could mean two things.
    """
    dim = dimension(dimension_name)
    if not isinstance(text, str):
        raise QuantityError("quantity.no_text", repr(text), dim)
    if "\n" in text or len(text) > 120:
        raise QuantityError("quantity.long", text[:40] + "…", dim)
    body = text.strip()
    if not body.isascii():
        body = body.translate(_PLAIN).strip()
    for sign, plain in () if body.isascii() else _VULGAR.items():
        body = re.sub(rf"(\d)\s*{sign}", rf"\1-{plain}", body).replace(sign, plain)
    if ".." in body:
        return _range(text, body, dim, path, standing)
    parts = _PLUS_MINUS.split(body)
    if len(parts) > 2:
        raise QuantityError("quantity.two_tolerances", text, dim)
    unit: Unit | None
    if len(parts) == 2:
        # The unit may stand after the tolerance alone: `57.2 ± 0.3 mm`.
        tail = re.sub(r"^[\d\s./-]+", "", parts[1]).strip()
        head = parts[0].strip()
        if dim.unit(tail) and tail != "%" and re.fullmatch(r"[\d\s./-]+", head):
            head = f"{head} {tail}"
        best, resolution, unit = _one(text, head, dim)
        half = _tolerance(text, parts[1].strip(), dim, unit, best)
        low, high, shape = best - half, best + half, "normal" if half else "exact"
    else:
        best, resolution, unit = _one(text, body, dim)
        low = high = best
        shape = "exact"
    _check_sign(text, dim, low)
    return Quantity(
        best, low, high, dim.name, _shape(shape), resolution, text.strip(), path, standing
    )


def _shape(name: str) -> Shape:
    return {"normal": "normal", "flat": "flat"}.get(name, "exact")  # type: ignore[return-value]


def _check_sign(text: str, dim: Dimension, low: float) -> None:
    if not math.isfinite(low):
        raise QuantityError("quantity.too_large", text, dim)
    if dim.positive and low < 0:
        raise QuantityError("quantity.below_zero", text, dim)
    if dim.name == "temperature" and low <= 0:
        raise QuantityError("quantity.absolute_zero", text, dim)


def _range(text: str, body: str, dim: Dimension, path: str, standing: Standing) -> Quantity:
    ends = body.split("..")
    if len(ends) != 2 or not ends[0].strip() or not ends[1].strip():
        raise QuantityError("quantity.no_range", text, dim)
    left, right = ends[0].strip(), ends[1].strip()
    high, high_res, unit = _one(text, right, dim)
    bare = re.fullmatch(r"[-\d\s./]+", left)
    if bare and dim.name == "length" and _FEET.search(right):
        raise QuantityError("quantity.end_without_unit", text, dim)
    if bare:
        low, low_res, _ = _one(text, f"{left} {unit.name}" if unit.name else left, dim)
    else:
        low, low_res, _ = _one(text, left, dim)
    if low > high:
        raise QuantityError("quantity.backwards", text, dim)
    _check_sign(text, dim, low)
    shape: Shape = "flat" if high > low else "exact"
    return Quantity(
        (low + high) / 2,
        low,
        high,
        dim.name,
        shape,
        max(low_res, high_res),
        text.strip(),
        path,
        standing,
    )


def _tolerance(text: str, tail: str, dim: Dimension, unit: Unit, best: float) -> float:
    number, _, rest = _number(tail)
    if number is None or number < 0:
        raise QuantityError("quantity.no_tolerance", text, dim)
    rest = rest.strip()
    if rest == "%" and dim.name != "ratio":
        if dim.name == "temperature":
            raise QuantityError("quantity.part_of_temperature", text, dim)
        return abs(best) * number / 100
    own = dim.unit(rest) if rest else unit
    if own is None:
        raise _wrong_unit(text, rest, dim)
    return number * own.factor


def _number(text: str) -> tuple[float | None, float, str]:
    """Value, half of its last digit, and what follows it."""
    sign = 1.0
    body = text.strip()
    if body.startswith(("+", "-")):
        sign = -1.0 if body[0] == "-" else 1.0
        body = body[1:].lstrip()
    for pattern in (_MIXED, _FRACTION):
        found = pattern.match(body)
        if found:
            parts = [int(g) for g in found.groups()]
            if parts[-1] == 0 or (len(parts) == 3 and parts[1] >= parts[2]):
                # `3-5/2` is a slip of the pen, and no one knows of which digit.
                return None, 0.0, body
            whole = parts[0] if len(parts) == 3 else 0
            value = whole + Fraction(parts[-2], parts[-1])
            return sign * float(value), 0.5 / parts[-1], body[found.end() :]
    found = _DECIMAL.match(body)
    if not found:
        return None, 0.0, body
    digits = found.group(1)
    exponent = int(found.group(2) or 0)
    if abs(exponent) > 300 or len(digits) > 40:
        return math.inf, 0.0, body[found.end() :]
    places = len(digits.partition(".")[2])
    step = 0.5 * 10.0 ** (exponent - places)
    return sign * float(found.group(0)), step, body[found.end() :]


def _one(text: str, body: str, dim: Dimension) -> tuple[float, float, Unit]:
    number, step, rest = _number(body)
    if number is None:
        raise QuantityError("quantity.no_number", text, dim)
    rest = rest.strip()
    comma = re.match(r"^,\s*(\d+)", rest)
    if comma:
        decimal, thousands = (text.strip().replace(",", point) for point in (".", ""))
        if text.count(",") > 1:
            raise QuantityError("quantity.commas", text, dim)
        if len(comma.group(1)) == 3:
            raise QuantityError(
                "quantity.comma_of_two_meanings", text, dim, thousands=thousands, decimal=decimal
            )
        raise QuantityError("quantity.comma", text, dim, decimal=decimal)
    if _DASH.match(rest):
        raise QuantityError("quantity.dash", text, dim)
    if dim.name == "length":
        feet = re.match(rf"^(ft|feet|foot|'|′|’)\s*({_NUMBER_WORD}.*)$", rest)
        if feet:
            inches, in_step, tail = _number(feet.group(2))
            unit = dim.unit(tail.strip() or "in")
            if inches is None or unit is None or unit.name != "in" or inches >= 12 or number % 1:
                raise QuantityError("quantity.feet_and_inches", text, dim)
            return number * 0.3048 + inches * 0.0254, in_step * 0.0254, unit
    if not rest:
        bare = dim.unit("")
        if bare is None:
            raise QuantityError("quantity.no_unit", text, dim)
        return number, step, bare
    if rest.lower().rstrip(".") in dim.ambiguous:
        raise QuantityError("quantity.which_gallon", text, dim)
    unit = dim.unit(rest)
    if unit is None:
        raise _wrong_unit(text, rest, dim)
    return number * unit.factor + unit.offset, step * unit.factor, unit


def _wrong_unit(text: str, spelling: str, dim: Dimension) -> QuantityError:
    others = [name for name in guess_dimensions(spelling) if name != dim.name]
    watts = _number(text)[0]
    if dim.name == "current" and "power" in others and watts:
        unit = dimension("power").unit(spelling)
        watts *= unit.factor if unit else 1.0
        return QuantityError(
            "quantity.watts", text, dim, at_120_v=watts / 120, at_230_v=watts / 230
        )
    if others:
        return QuantityError(
            "quantity.other_unit", text, dim, unit=spelling, measures=tuple(others)
        )
    return QuantityError("quantity.unknown_unit", text, dim, unit=spelling)
