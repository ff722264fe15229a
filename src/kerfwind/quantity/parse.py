"""Reading a quantity from the text a person wrote."""

from __future__ import annotations

import math
import re
from fractions import Fraction

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


class QuantityError(ValueError):
    """A text that is not a quantity of the kind wanted.

    ``found`` is the text, ``allowed`` what would have been read, ``mend`` what to do.
    """

    def __init__(self, found: str, allowed: str, mend: str) -> None:
        super().__init__(f"found {found!r}; allowed: {allowed}. {mend}")
        self.found = found
        self.allowed = allowed
        self.mend = mend


def _examples(dim: Dimension) -> str:
    wanted = {
        "length": "`2-1/4 in`, `5 ft 3-1/2 in`, `57.2 mm ± 0.3`",
        "pressure": "`80 inH2O`, `80..95 inH2O`, `20 kPa ± 5 %`",
        "airflow": "`110 cfm`, `50..55 L/s`, `180 m³/h`",
        "volume": "`9 US gal`, `34 L`",
        "mass": "`21 lb`, `9.5 kg ± 0.5`",
        "temperature": "`68 °F`, `10..30 °C`",
    }
    units = dim.spellings()
    return wanted.get(dim.name, f"`5 {units[0]}`" if units else "`0.5`, `50 %`")


def _allowed(dim: Dimension) -> str:
    article = "an" if dim.name[0] in "aeiou" else "a"
    names = ", ".join(dim.spellings())
    return f"{article} {dim.name} in {names}" if names else f"a {dim.name}"


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
        raise QuantityError(
            repr(text),
            _allowed(dim),
            f"Write it as a text with its unit, such as {_examples(dim)}.",
        )
    if "\n" in text or len(text) > 120:
        raise QuantityError(text[:40] + "…", _allowed(dim), f"Write {_examples(dim)}.")
    body = text.strip().replace("−", "-").replace("–", "-")
    for sign, plain in () if body.isascii() else _VULGAR.items():
        body = re.sub(rf"(\d)\s*{sign}", rf"\1-{plain}", body).replace(sign, plain)
    if ".." in body:
        return _range(text, body, dim, path, standing)
    parts = _PLUS_MINUS.split(body)
    if len(parts) > 2:
        raise QuantityError(text, "one tolerance", f"Write {_examples(dim)}.")
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
        raise QuantityError(text, _allowed(dim), "The number is too large to mean anything here.")
    if dim.positive and low < 0:
        raise QuantityError(
            text,
            f"{_allowed(dim)}, not below zero",
            "Write the size without a sign, or a smaller tolerance.",
        )
    if dim.name == "temperature" and low <= 0:
        raise QuantityError(text, "a temperature above absolute zero", "Check the unit.")


def _range(text: str, body: str, dim: Dimension, path: str, standing: Standing) -> Quantity:
    ends = body.split("..")
    if len(ends) != 2 or not ends[0].strip() or not ends[1].strip():
        raise QuantityError(text, "a range `low..high`", f"Write {_examples(dim)}.")
    left, right = ends[0].strip(), ends[1].strip()
    high, high_res, unit = _one(text, right, dim)
    bare = re.fullmatch(r"[-\d\s./]+", left)
    if bare and dim.name == "length" and _FEET.search(right):
        raise QuantityError(
            text, "both ends with their units", "Write `5 ft..6 ft 3 in`, or both in inches."
        )
    if bare:
        low, low_res, _ = _one(text, f"{left} {unit.name}" if unit.name else left, dim)
    else:
        low, low_res, _ = _one(text, left, dim)
    if low > high:
        raise QuantityError(text, "the smaller value first", "Swap the two ends of the range.")
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
        raise QuantityError(
            text, "a tolerance such as `± 0.3` or `± 5 %`", f"Write {_examples(dim)}."
        )
    rest = rest.strip()
    if rest == "%" and dim.name != "ratio":
        if dim.name == "temperature":
            raise QuantityError(text, "a tolerance in degrees", "Write `± 5 °C`.")
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
        raise QuantityError(text, _allowed(dim), f"Start with a number, such as {_examples(dim)}.")
    rest = rest.strip()
    comma = re.match(r"^,\s*(\d+)", rest)
    if comma:
        ways = [f"`{text.strip().replace(',', '.')}`"]
        if len(comma.group(1)) == 3:
            ways.insert(0, f"`{text.strip().replace(',', '')}`")
        wanted = " or ".join(ways) if text.count(",") == 1 else _examples(dim)
        raise QuantityError(
            text, "a decimal point", f"A comma can mean thousands or decimals; write {wanted}."
        )
    if _DASH.match(rest):
        raise QuantityError(text, "a range `low..high`", "Put two dots between its ends.")
    if dim.name == "length":
        feet = re.match(rf"^(ft|feet|foot|'|′|’)\s*({_NUMBER_WORD}.*)$", rest)
        if feet:
            inches, in_step, tail = _number(feet.group(2))
            unit = dim.unit(tail.strip() or "in")
            if inches is None or unit is None or unit.name != "in" or inches >= 12 or number % 1:
                raise QuantityError(
                    text, "whole feet, then inches below 12", "Write `5 ft 3-1/2 in`."
                )
            return number * 0.3048 + inches * 0.0254, in_step * 0.0254, unit
    if not rest:
        bare = dim.unit("")
        if bare is None:
            raise QuantityError(text, _allowed(dim), f"Say which unit, such as {_examples(dim)}.")
        return number, step, bare
    question = dim.ambiguous.get(rest.lower().rstrip("."))
    if question:
        raise QuantityError(text, _allowed(dim), question[0].upper() + question[1:] + ".")
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
        mend = (
            f"Divide the label's watts by the volts: `{watts / 230:.1f} A` at 230 V, "
            f"`{watts / 120:.1f} A` at 120 V."
        )
        return QuantityError(text, _allowed(dim), mend)
    if others:
        mend = f"`{spelling}` measures {' or '.join(others)}; write {_examples(dim)}."
    else:
        mend = f"`{spelling}` is not a unit known here; write {_examples(dim)}."
    return QuantityError(text, _allowed(dim), mend)
