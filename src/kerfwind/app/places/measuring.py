"""Outlines to measure by: where the tape goes, and which field each line is."""

from __future__ import annotations

import htpy as h

from ..looking import Looking


def _line(x1: float, y1: float, x2: float, y2: float, field: str, text: str) -> h.Node:
    """A dimension line that leads to its field."""
    upright = abs(x1 - x2) < 1
    x, y = (x1 + x2) / 2, (y1 + y2) / 2
    return h.a(".dimension", href="#", data_focus=field)[
        # The tape, as it is laid while this is measured.
        h.path(".tape", d=f"M{x1} {y1}L{x2} {y2}"),
        h.path(".marks", d=f"M{x1} {y1}L{x2} {y2}"),
        h.path(d=f"M{x1} {y1}L{x2} {y2}", marker_start="url(#end)", marker_end="url(#end)"),
        h.text(
            x=str(x),
            y=str(y - 3),
            text_anchor="middle",
            transform=f"rotate(-90 {x} {y})" if upright else None,
        )[text],
    ]


def _marker() -> h.Node:
    return h.defs[
        h.marker(id="end", viewBox="-5 -5 10 10", markerWidth="8", markerHeight="8", orient="auto")[
            h.path(d="M-4 3L4 -3M0 -5V5")
        ]
    ]


def _value(look: Looking, section: tuple[str, ...], name: str) -> str:
    here = look.given
    for key in section:
        here = here.get(key, {}) if isinstance(here, dict) else {}
    written = here.get(name) if isinstance(here, dict) else None
    return str(written) if written is not None else look.voice.say(f"field.{name}")


def vacuum_drawing(look: Looking) -> h.Node:
    """A vacuum from the side and from above, its lines over wheels and port as the tape is laid."""
    v = ("vacuum",)
    return h.svg(
        ".outline", viewBox="0 0 260 400", role="group", aria_label=look.label("start.vacuum")
    )[
        _marker(),
        h.path(".shape", d="M70 190V110Q70 95 85 95H185Q200 95 200 110V190Z"),
        h.path(".shape", d="M80 95V75Q80 55 100 55H170Q190 55 190 75V95Z"),
        h.path(".shape", d="M200 130h18v22h-18"),
        h.path(".shape", d="M112 55Q112 42 135 42T158 55"),
        h.circle(".shape", cx="88", cy="200", r="10"),
        h.circle(".shape", cx="182", cy="200", r="10"),
        h.path(".floor-line", d="M40 210H236"),
        _line(48, 210, 48, 43, "vacuum-height", _value(look, v, "height")),
        _line(70, 234, 218, 234, "vacuum-length", _value(look, v, "length")),
        # From above.
        h.path(".shape", d="M200 309h18v22h-18"),
        h.rect(".shape", x="70", y="256", width="130", height="128", rx="30"),
        h.rect(".shape", x="84", y="270", width="102", height="100", rx="22"),
        h.path(".shape", d="M112 313H158V327H112Z"),
        _line(48, 384, 48, 256, "vacuum-width", _value(look, v, "width")),
    ]


#: The widest size of a bucket as it is drawn; how tall it may be; where its rim begins.
_WIDE, _LEAST_TALL, _MOST_TALL, _TOP = 124.0, 80.0, 190.0, 48.0
#: Rim, wall under it, floor and height of a bucket of which nothing can be read.
_USUAL = (1.0, 0.87, 0.65, 1.23)
#: The middle of what is drawn from the side.
_MIDDLE = 132.0


def is_box(look: Looking) -> bool:
    """Whether the bucket is a box, which has lengths and widths."""
    return look.file is not None and not look.file.shop.separator.bucket.is_round


def _proportions(look: Looking) -> tuple[float, float, float, float]:
    """Rim, wall under it, floor and height, against the widest of them."""
    if look.file is None:
        return _USUAL
    bucket = look.file.shop.separator.bucket
    sizes = [sides[1].best_si for sides in (bucket.rim, bucket.top, bucket.bottom)]
    rim, top, bottom, tall = (size / max(sizes) for size in (*sizes, bucket.height.best_si))
    return rim, top, bottom, tall


def bucket_drawing(look: Looking) -> h.Node:
    """A bucket from the side as it tapers, a box from above too."""
    b = ("separator", "bucket")
    box = is_box(look)
    way = "length" if box else "diameter"
    rim, top, bottom, high = _proportions(look)
    tall = round(min(max(_WIDE * high, _LEAST_TALL), _MOST_TALL), 1)
    under, floor = _TOP + 12, _TOP + tall

    def across(size: float) -> tuple[float, float]:
        half = round(_WIDE * size / 2, 1)
        return _MIDDLE - half, _MIDDLE + half

    def line(y: float, size: float, level: str) -> h.Node:
        left, right = across(size)
        name = f"{level}_{way}"
        return _line(left, y, right, y, f"separator-bucket-{name}", _value(look, b, name))

    rim_left, rim_right = across(rim)
    left, right = across(top)
    floor_left, floor_right = across(bottom)
    deep = _depth(look) if box else 0.0
    wall = f"M{left} {under}L{floor_left} {floor}H{floor_right}L{right} {under}Z"
    return h.svg(
        ".outline",
        viewBox=f"0 0 260 {floor + 40 + (deep + 40 if box else 0)}",
        role="group",
        aria_label=look.label("start.bucket"),
    )[
        _marker(),
        h.path(".shape.wall", d=wall),
        h.path(".shape", d=f"M{rim_left} {_TOP}H{rim_right}V{under}H{rim_left}Z"),
        h.path(".floor-line", d=f"M40 {floor}H230"),
        _line(46, floor, 46, _TOP, "separator-bucket-height", _value(look, b, "height")),
        line(36, rim, "rim"),
        line(under + 22, top, "top"),
        line(floor + 20, bottom, "bottom"),
        _from_above(look, left, right, floor + 50, deep) if box else None,
    ]


def _depth(look: Looking) -> float:
    """A box's width under its rim, in the scale of its length there."""
    assert look.file is not None
    wide, long = look.file.shop.separator.bucket.top
    return round(_WIDE * _proportions(look)[1] * wide.best_si / long.best_si, 1)


def _from_above(look: Looking, left: float, right: float, y: float, deep: float) -> h.Node:
    """A box from above, just under its rim."""
    name = "top_width"
    value = _value(look, ("separator", "bucket"), name)
    return [
        h.rect(".shape", x=str(left), y=str(y), width=str(right - left), height=str(deep), rx="8"),
        _line(46, y + deep, 46, y, f"separator-bucket-{name}", value),
    ]
