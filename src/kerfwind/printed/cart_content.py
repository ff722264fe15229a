"""The printed plan's words and tables about the cart, ready for the template."""

from __future__ import annotations

import math
from typing import Any

from ..cart import Cart
from ..checks.fit_range import FitRange, SizeRange
from ..facts import Listing, Statement
from ..joinery import CutPanel, HardwareItem
from ..plan import Plan
from ..quantity import UnitChoice, show, show_cut, show_range
from ..search.sheet_choice import Build, saw_of
from ..view.cuts import cut_cautions, cut_rows, cut_words, grain_text
from ..view.findings import voice_of
from ..wording import sheets_text
from ..words import Voice
from .figure_files import PAGE_MM, Figures

#: Panels from which on their list is set closer.
_LONG_LIST = 8
#: The page's headings and the lines about views and list [mm], as `plan.typ` sets them.
_AROUND_LIST_MM = 38.0


def cart_content(plan: Plan, figures: Figures) -> dict[str, Any] | None:
    """What the pages about the cart show; None where none is built."""
    build = plan.build
    if build is None:
        return None
    cart, nest = build.cart, build.nest
    units, voice = plan.units, voice_of(plan)

    measure = ", ".join(_in_words(place) for place in cart.measure_first)
    intro = f"Form {cart.form}, from plywood {_thick(cart, units)} thick as measured. " + (
        f"Measure these before you cut: {measure}." if measure else ""
    )
    room_mm = PAGE_MM[plan.shop.shop.page][1] - figures.views_mm
    return {
        "intro": intro,
        "views": figures.views,
        "panels_tight": len(plan.panels) > _LONG_LIST,
        "panels_fit": _list_mm(plan, intro) < room_mm,
        "exploded": figures.exploded,
        "panels": [
            {
                "mark": p.key,
                "name": p.name + _note(p, voice),
                "count": str(p.quantity),
                "length": show_cut(p.length_m, units),
                "width": show_cut(p.width_m, units),
                "thickness": show_cut(p.thickness_m, units),
                "grain": grain_text(p.grain, voice),
            }
            for p in plan.panels
        ],
        "panel_note": "Lengths run along the face grain where the grain is named. Sizes are finished "
        "sizes; the kerf is in the cuts.",
        "nest_intro": f"{sheets_text(plan)}. {voice.text(nest.nearness)}",
        "nests": figures.nests,
        "cuts": cut_rows(plan.cuts, saw_of(plan.shop.saw), voice),
        "cut_cautions": cut_cautions(plan.cuts, voice),
        "cut_words": cut_words(voice),
        "work": _work(plan, voice),
        "others": _others(plan),
        "shapes_intro": "Seen from the face where the marks are made; holes are given from the near "
        "left corner to their centres. templates.pdf has openings and chamfers at full size."
        + _joint_marks(cart),
        "shapes": figures.shapes,
        "hardware": [
            {"count": str(h.quantity), "what": voice.text(h.what), "where": _where(build, h, voice)}
            for h in build.hardware
        ],
        "steps": [
            {
                "number": str(s.number),
                "title": voice.text(s.title),
                "text": voice.text(Listing(s.says, "sentences")),
                "cautions": [
                    {"title": "Mind", "text": voice.text(Listing(s.cautions, "sentences"))}
                ]
                if s.cautions
                else [],
                "file": figures.steps.get(s.number),
                "wide": s.number in figures.wide_steps,
            }
            for s in cart.steps
        ],
    }


def _list_mm(plan: Plan, intro: str) -> float:
    """How high the list of panels is with all else on its page but the views [mm]."""
    voice = voice_of(plan)
    letters = 34 if plan.units == "both" else 60
    wrapped = sum((len(p.name + _note(p, voice)) - 1) // letters for p in plan.panels)
    wrapped += (len(intro) - 1) // 110
    row = 3.84 if len(plan.panels) > _LONG_LIST else 4.76
    return row * len(plan.panels) + 4.2 * wrapped + _AROUND_LIST_MM


def _note(panel: CutPanel, voice: Voice) -> str:
    """What is said beside a panel's name; from which face to drill only where it is drilled."""
    if panel.note is None:
        return ""
    undrilled = not (panel.holes or panel.pockets)
    mirrored = isinstance(panel.note, Statement) and panel.note.kind == "cart.note.mirrored"
    return "" if undrilled and mirrored else f": {voice.text(panel.note)}"


def _thick(cart: Cart, units: UnitChoice) -> str:
    """The thicknesses it is made of, that of most panels first."""
    sizes = dict.fromkeys((cart.thickness_m, *(p.thickness_m for p in cart.panels)))
    return " and ".join(show(t, "length", units, denominator=32) for t in sizes)


def _in_words(place: str) -> str:
    """A place in the shop file as one says it: ``bucket top diameter``."""
    return " ".join(place.split(".")[-2:]).replace("_", " ")


def _where(build: Build, item: HardwareItem, voice: Voice) -> str:
    """The steps that drive a screw, and the boards that take it; for other things their use."""
    cart = build.cart
    takes = {j.key for j in cart.joints if any(s.hardware == item.key for s in j.screws)}
    numbers = [str(s.number) for s in cart.steps if takes.intersection(s.joints)]
    if not numbers:
        return voice.text(Listing(item.uses, "semicolons"))
    steps = f"step{'s' if len(numbers) > 1 else ''} {', '.join(numbers)}"
    boards = [b.wanted.name for b in build.boards if any(h.key == item.key for h in b.hardware)]
    return "; ".join([steps, *boards])


def _joint_marks(cart: Cart) -> str:
    """What the marks of pockets and grooves mean, where there are any."""
    text = ""
    if any(p.pockets for p in cart.panels):
        text += " A pocket's place is where the axis of the bit enters the face that is named."
    if any(p.grooves for p in cart.panels):
        text += (
            " Dados and the stops of grooves are given from the near left corner, rebates by their "
            "width from the edge."
        )
    if text:
        text += (
            " Dashed grooves and grey pockets are in the face behind: turn the panel over end for end, and what is given "
            "from the left end is then from the right."
        )
    return text


def _work(plan: Plan, voice: Voice) -> dict[str, Any]:
    found, units = plan.work, plan.units
    assert found is not None
    paint = show_range(
        found.finish.paint_l.low / 1000, found.finish.paint_l.high / 1000, "volume", units
    )
    hours = found.hours
    return {
        "text": f"{hours.low:.0f} to {hours.high:.0f} hours of work, and {found.waiting_h.low:.0f} to "
        f"{found.waiting_h.high:.0f} hours of waiting for glue and paint: a rough estimate, no promise. "
        f"{show(found.finish.faces_m2, 'area', units)} to paint and "
        f"{show(found.finish.edges_m2, 'area', units)} of edges to seal first: {paint} of paint.",
        "order": [voice.text(each) for each in found.finish.order],
        "tasks": [
            {"name": voice.text(t.what), "hours": f"{t.hours.low:.1f} to {t.hours.high:.1f}"}
            for t in found.tasks
        ],
        "tools": [
            {
                "name": voice.text(t),
                "use": voice.say(t.kind, t.facts, "use"),
                "otherwise": voice.say(t.kind, t.facts, "otherwise"),
            }
            for t in found.tools
        ],
    }


def _bucket_rows(found: FitRange) -> list[tuple[str, SizeRange, str]]:
    """Sizes of the buckets, or of the boxes, that the opening carries."""
    thing = "bucket" if len(found.across) == 1 else "box"
    ways = ("",) if thing == "bucket" else (", side to side", ", front to back")
    said = {
        "none": {},
        "standing": {"floor": "between its cleats"},
        "taper": {"floor": "at its floor", "top": "under the rim"},
        "rim": {"top": "under the rim", "rim": "over the rim"},
    }[found.hold]
    rows = [
        (f"{thing} {where}{way}", getattr(span, level), "length")
        for way, span in zip(ways, found.across, strict=True)
        for level, where in said.items()
    ]
    deep = {"rim": "its rim", "standing": "its rim", "taper": "where it wedges"}.get(found.hold)
    return [*rows, (f"{thing}'s floor to {deep}", found.bucket_side, "length")] if deep else rows


def _others(plan: Plan) -> list[dict[str, str]]:
    """Ranges of other vacuums and buckets that this cart carries."""
    found = plan.fits
    assert found is not None
    rows: list[tuple[str, SizeRange, str]] = [
        ("vacuum, front to back", found.vacuum_length, "length"),
        ("vacuum, side to side", found.vacuum_width, "length"),
        ("vacuum, height", found.vacuum_height, "length"),
        ("vacuum, weight", found.vacuum_kg, "mass"),
        *_bucket_rows(found),
        ("bucket, lid, cyclone and dust", found.full_bucket_kg, "mass"),
    ]

    def words(span: SizeRange, dimension: str) -> str:
        low = show(span.low, dimension, plan.units) if span.low > 0 else ""
        high = show(span.high, dimension, plan.units) if math.isfinite(span.high) else ""
        if low and high:
            return f"{low} to {high}"
        return f"up to {high}" if high else f"at least {low}" if low else "any"

    return [{"what": what, "span": words(span, kind)} for what, span, kind in rows]
