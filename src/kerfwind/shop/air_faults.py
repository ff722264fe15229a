"""What of the home test and the branches cannot be, though each value could."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from .model import Shop

#: A board thicker than this part of the hole guides the jet: no relation tells how much.
THICKEST = 0.5
#: A hole wider than this part of the bore behind it is no longer a hole in still air.
WIDEST = 0.7

Found = tuple[tuple[Any, ...], str, str, str]


def air_faults(shop: Shop) -> Iterator[Found]:
    """Place, what was found, what is allowed, how to mend it."""
    yield from _home_test(shop)
    yield from _branches(shop)


def _home_test(shop: Shop) -> Iterator[Found]:
    suction = shop.vacuum.suction
    test = suction.home_test
    if test is None:
        return
    here: tuple[Any, ...] = ("vacuum", "suction", "home_test")
    if suction.points:
        yield here, "a home test beside measured points", "one of them", "Remove one of the two."
    bore = shop.vacuum.inlet.inside.best_si
    if test.at == "hose":
        hoses = [h for h in shop.hoses if h.name == test.hose] or [
            h for h in shop.hoses if h.use == "tool"
        ]
        bore = hoses[0].bore.best_si if hoses else bore
    holes = set()
    for i, reading in enumerate(test.readings):
        hole = reading.hole.best_si
        place = (*here, "readings", i, "hole")
        holes.add(round(hole, 5))
        if hole and test.plate.best_si > THICKEST * hole:
            yield (place, f"a hole of `{reading.hole.text}` in a plate of `{test.plate.text}`",
                   "a plate at most half as thick as the hole is wide, better a tenth",
                   "Use a thinner plate, or leave this hole out.")  # fmt: skip
        if hole > WIDEST * bore:
            yield (place, f"a hole of `{reading.hole.text}` before a bore of {bore * 1000:.0f} mm",
                   f"at most {WIDEST * bore * 1000:.0f} mm", "Leave this hole out.")  # fmt: skip
    if len(holes) < 2:
        yield ((*here, "readings"), f"{len(holes)} different hole sizes", "two or more, better six",
               "Read the gauge at another hole.")  # fmt: skip
    ordered = sorted((r.hole.best_si, r.suction.best_si, i) for i, r in enumerate(test.readings))
    for (_, before, _), (wide, after, i) in zip(ordered, ordered[1:], strict=False):
        if wide and after > before * 1.03:
            yield ((*here, "readings", i, "suction"),
                   f"`{test.readings[i].suction.text}`, more than behind the smaller hole",
                   "suction that falls as the hole grows", "Read this one again.")  # fmt: skip


def _branches(shop: Shop) -> Iterator[Found]:
    joins = {b.name: b.to for b in shop.branches}
    joined = set(joins.values())
    taken: dict[str, str] = {}
    for i, branch in enumerate(shop.branches):
        place = ("branches", i, "to")
        seen, here = [branch.name], branch.to
        while here != "unit" and here in joins and here not in seen:
            seen.append(here)
            here = joins[here]
        if here in seen:
            yield (place, f"`{branch.to}`, which comes back to `{branch.name}`",
                   "runs that all end at `unit`", "Let one of them join `unit`.")  # fmt: skip
        if branch.name == "unit":
            yield (("branches", i, "name"), "`unit`", "another name", "`unit` is where runs end.")
        for key in ("tool", "sweep"):
            if getattr(branch, key) and branch.name in joined:
                yield (("branches", i, key), "an open end on a run that others join",
                       "an open end only where nothing joins", "Give it a run of its own.")  # fmt: skip
        if branch.tool:
            if branch.tool in taken:
                yield (("branches", i, "tool"), f"`{branch.tool}`, which is on `{taken[branch.tool]}`",
                       "each tool on one run", "Name another tool.")  # fmt: skip
            taken[branch.tool] = branch.name
