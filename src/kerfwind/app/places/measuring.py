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


def bucket_drawing(look: Looking) -> h.Node:
    """A bucket from the side."""
    b = ("separator", "bucket")
    return h.svg(
        ".outline", viewBox="0 0 260 240", role="group", aria_label=look.label("start.bucket")
    )[
        _marker(),
        h.path(".shape", d="M78 60L92 200H172L186 60Z"),
        h.path(".shape", d="M70 48H194V60H70Z"),
        h.path(".shape", d="M82 96H182"),
        h.path(".floor-line", d="M40 200H230"),
        _line(46, 200, 46, 48, "separator-bucket-height", _value(look, b, "height")),
        _line(70, 36, 194, 36, "separator-bucket-rim_diameter", _value(look, b, "rim_diameter")),
        _line(78, 82, 186, 82, "separator-bucket-top_diameter", _value(look, b, "top_diameter")),
        _line(
            92,
            220,
            172,
            220,
            "separator-bucket-bottom_diameter",
            _value(look, b, "bottom_diameter"),
        ),
    ]
