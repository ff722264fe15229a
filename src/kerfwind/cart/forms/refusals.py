"""What stands against a form: wishes it misses, sheets too small, panels cut too far off."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from ...facts import Amount, Fix, Listing, Name, Ref
from ...faults import Refusal, refusal
from ...joinery.fasteners import screw_size
from ...joinery.marks import MarkingRule
from ...joinery.pockets import pocket_size
from ...joinery.workbench import ROLES
from ...shop import Sheet, Shop
from ...sources import fact
from .common import Base, FormInputs

_Sized = tuple[str, float, float]


def pockets_unmet(
    g: FormInputs, roles: Collection[str] = ("shelf", "rail", "lipping")
) -> list[Refusal]:
    """Pocket holes that the plywood is too thin for; ``roles`` are the form's own."""
    if g.joint != "pocket hole":
        return []
    metric, t = g.rule.units == "mm", g.t
    pairs = [("", t, t)]
    pairs += [("shelf", t, g.shelf_t)] if "shelf" in roles else []
    pairs += [("rail", g.rail_t, t)] if "rail" in roles else []
    pairs += [("rail", g.rail_t, g.shelf_t)] if "rail" in roles and "shelf" in roles else []
    pairs += [("lipping", t, g.lip_t)] if "lipping" in roles else []
    second = g.second.roles if g.second is not None else ()
    for role, one, other in pairs:
        if pocket_size(one, other, screw_size(one, metric), metric) is not None:
            continue
        return [
            refusal(
                "cart.refused.too_thin_for_pockets",
                "wishes.joint",
                fixes=(Fix("wishes.joint", "screwed butt", False),),
                pair="unlike" if abs(one - other) > 1e-6 else "alike",
                thickness=Amount(one, "length"),
                into=Amount(other, "length"),
                mixed="yes" if role in second else "no",
                role=Name(role),
            )
        ]
    return []


def built_unmet(g: FormInputs, panels: Collection[str]) -> list[Refusal]:
    """Rows of panels as built that this form does not have."""
    return [
        refusal(
            "cart.refused.no_such_panel",
            f"built[{row.name}]",
            name=Name(row.name),
            panels=Listing(tuple(Name(p) for p in sorted(panels)), "commas"),
        )
        for row in g.built
        if row.name not in panels
    ]


def shelf_unmet(g: FormInputs, planned: float) -> list[Refusal]:
    """A shelf cut so short that it no longer rests on its uprights, or long enough to be in the way.

    ``planned`` is its length over both uprights [m].
    """
    built = g.cut("shelf", "length", planned)
    if -g.t / 2 <= built - planned <= g.play + 1e-9:
        return []
    return [
        refusal(
            "cart.refused.short_shelf" if built < planned else "cart.refused.long_shelf",
            "built[shelf]",
            length=Amount(built, "length"),
            planned=Amount(planned, "length"),
        )
    ]


def wishes_unmet(
    shop: Shop, base: Base, form: str, width: float, length: float, height: float
) -> list[Refusal]:
    """Wishes for footprint, height and door that a cart of these sizes does not meet."""
    rule = MarkingRule.of(shop)
    w = shop.wishes
    rows = (
        ("wishes.largest_width", width, w.largest_width.best_si, "wider", 0.0),
        ("wishes.largest_length", length, w.largest_length.best_si, "deeper", 0.0),
        ("wishes.greatest_height", height, w.greatest_height.best_si, "higher", 0.0),
        (
            "wishes.narrowest_door",
            base.passing(width, length),
            w.narrowest_door.best_si,
            "door",
            fact("cart.door.play").value,
        ),
    )
    return [
        refusal(
            "cart.refused.too_large",
            wish,
            fixes=(Fix(wish, rule.amount(rule.up(found + more)), False),),
            needed=rule.amount(rule.up(found + more)),
            limit=Amount(limit, "length"),
            form=Name(form),
            way=way,
            stacking="helps" if (form, way) == ("low", "wider") else "no",
        )
        for wish, found, limit, way, more in rows
        if found + more > limit + 1e-7
    ]


def ballast_unmet(base: Base) -> list[Refusal]:
    """Ballast that no tray between the wheels has room for."""
    if base.ballast_kg <= 0:
        return []
    tray = base.tray
    most = tray.holds_kg if tray is not None else 0.0
    if base.ballast_kg <= most + 1e-6:
        return []
    return [
        refusal(
            "cart.refused.ballast",
            "wishes.ballast",
            fixes=(Fix("wishes.ballast", Amount(math.floor(most), "mass"), False),),
            most=Amount(math.floor(most), "mass"),
            room="some" if tray is not None else "none",
        )
    ]


def arms(base: Base) -> list[_Sized]:
    """The outriggers that a sheet must hold, as (panel, length, width)."""
    return [("outrigger", base.over_wheels, base.block[1])] if base.out else []


def sheet_unmet(
    sheet: Sheet, g: FormInputs, along_grain: Sequence[_Sized], free: Sequence[_Sized]
) -> list[Refusal]:
    """Panels that a sheet is too small for, as (panel, length, width); ``free`` ones may turn."""
    second = g.second
    unmet: list[Refusal] = []
    if second is not None:
        second_rows = [
            [r for r in rows if ROLES.get(r[0]) in second.roles] for rows in (along_grain, free)
        ]
        unmet += _too_small(
            second.name,
            g,
            second.along_m,
            second.across_m,
            second_rows[0],
            second_rows[1],
            "wishes.second_sheet",
            "second",
        )
        along_grain = [r for r in along_grain if r not in second_rows[0]]
        free = [r for r in free if r not in second_rows[1]]
    return unmet + _too_small(
        sheet.name, g, g.along, g.across, along_grain, free, "wishes.sheet", "sheet"
    )


def _too_small(
    name: str,
    g: FormInputs,
    along: float,
    across: float,
    along_grain: Sequence[_Sized],
    free: Sequence[_Sized],
    wish: str,
    place: str,
) -> list[Refusal]:
    rows = [(length, width) for _, length, width in along_grain]
    for _, length, width in free:
        turned = length <= across + 1e-7 and width <= along + 1e-7
        if not turned:
            rows.append((length, width))
    longest = max((a for a, _ in rows), default=0.0)
    widest = max((b for _, b in rows), default=0.0)
    fixes: list[Fix] = []
    trim = g.trimmed
    if longest > along + 1e-7:
        fixes.append(Fix(f"{place}.length", _marked(longest + trim, g), False))
    if widest > across + 1e-7:
        fixes.append(Fix(f"{place}.width", _marked(widest + trim, g), False))
    if not fixes:
        return []
    return [
        refusal(
            "cart.refused.sheet_too_small",
            wish,
            fixes=tuple(fixes),
            longest=Amount(longest, "length"),
            widest=Amount(widest, "length"),
            along=Amount(along, "length"),
            across=Amount(across, "length"),
            sheet=Ref("sheet", name),
        )
    ]


def _marked(size_m: float, g: FormInputs) -> Amount:
    """A size to ask for: the next mark at or above it."""
    return g.rule.amount(g.rule.up(size_m))
