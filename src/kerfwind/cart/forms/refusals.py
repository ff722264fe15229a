"""What stands against a form: wishes it misses, sheets too small, panels cut too far off."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from ...joinery.fasteners import screw_size
from ...joinery.marks import MarkingRule
from ...joinery.pockets import pocket_size
from ...joinery.workbench import ROLES
from ...shop import Sheet, Shop
from ...sources import fact
from ..model import Unmet
from .common import Base, FormInputs

_Sized = tuple[str, float, float]


def pockets_unmet(
    g: FormInputs, roles: Collection[str] = ("shelf", "rail", "lipping")
) -> list[Unmet]:
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
        into = f" into {g.rule.text(other)}" if abs(one - other) > 1e-6 else ""
        mixed = f", leave `{role}` out of `wishes.second_panels`" if role in second else ""
        return [
            Unmet(
                "wishes.joint",
                f"`pocket hole` in plywood of {g.rule.text(one)}{into}",
                "plywood thick enough for a slanted screw with wood under its head and before its "
                "point",
                f"Screw through the faces instead{mixed}, or choose 15 mm (5/8 in) plywood or "
                "thicker.",
                (("wishes.joint", "screwed butt"),),
            )
        ]
    return []


def built_unmet(g: FormInputs, panels: Collection[str]) -> list[Unmet]:
    """Rows of panels as built that this form does not have."""
    return [
        Unmet(
            f"built[{row.name}]",
            f"`{row.name}`",
            ", ".join(sorted(panels)),
            "Use a panel's name from the plan.",
        )
        for row in g.built
        if row.name not in panels
    ]


def shelf_unmet(g: FormInputs, planned: float) -> list[Unmet]:
    """A shelf cut so short that it no longer rests on its uprights, or long enough to be in the way.

    ``planned`` is its length over both uprights [m].
    """
    built = g.cut("shelf", "length", planned)
    if -g.t / 2 <= built - planned <= g.play + 1e-9:
        return []
    return [
        Unmet(
            "built[shelf]",
            f"a shelf {g.rule.text(built)} long",
            f"about {g.rule.text(planned)}, over both uprights",
            "Cut it again: it has too little to rest on."
            if built < planned
            else "Trim it at both ends alike, the opening in its middle.",
        )
    ]


def wishes_unmet(
    shop: Shop, base: Base, form: str, width: float, length: float, height: float
) -> list[Unmet]:
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
            "wider",
            fact("cart.door.play").value,
        ),
    )
    return [
        Unmet(
            wish,
            f"{rule.entry(found + more)} needed",
            f"up to {rule.text(limit)}",
            f"Allow {rule.entry(found + more)}: vacuum and bucket make the `{form}` {word} than that."
            + (
                " Or choose `tower`, which stacks them." if (form, word) == ("low", "wider") else ""
            ),
            ((wish, rule.entry(found + more)),),
        )
        for wish, found, limit, word, more in rows
        if found + more > limit + 1e-7
    ]


def sheet_unmet(
    sheet: Sheet, g: FormInputs, along_grain: Sequence[_Sized], free: Sequence[_Sized]
) -> list[Unmet]:
    """Panels that a sheet is too small for, as (panel, length, width); ``free`` ones may turn."""
    second = g.second
    unmet: list[Unmet] = []
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
) -> list[Unmet]:
    rows = [(length, width) for _, length, width in along_grain]
    for _, length, width in free:
        turned = length <= across + 1e-7 and width <= along + 1e-7
        if not turned:
            rows.append((length, width))
    longest = max((a for a, _ in rows), default=0.0)
    widest = max((b for _, b in rows), default=0.0)
    remedy: list[tuple[str, str]] = []
    trim = g.trimmed
    if longest > along + 1e-7:
        remedy.append((f"{place}.length", g.rule.entry(longest + trim)))
    if widest > across + 1e-7:
        remedy.append((f"{place}.width", g.rule.entry(widest + trim)))
    if not remedy:
        return []
    return [
        Unmet(
            wish,
            f"a panel {g.rule.text(longest)} long and one {g.rule.text(widest)} wide",
            f"up to {g.rule.text(along)} by {g.rule.text(across)} from `{name}`",
            "Choose a larger sheet.",
            tuple(remedy),
        )
    ]
