"""What of the home test and the branches cannot be, though each value could."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any

from ..sources import fact
from .model import Shop

#: A board thicker than this part of the hole guides the jet: no relation tells how much.
THICKEST = 0.5
#: A hole wider than this part of the bore behind it is no longer a hole in still air.
WIDEST = 0.7

#: Suction at the greatest airflow is below this part of that at the least.
FALLS = 0.98
DEEPEST_PA = 45_000.0

Found = tuple[tuple[Any, ...], str, str, str]


def air_faults(shop: Shop) -> Iterator[Found]:
    """Place, what was found, what is allowed, how to mend it."""
    yield from _air_power(shop)
    yield from _points(shop)
    yield from _home_test(shop)
    yield from _branches(shop)


def _air_power(shop: Shop) -> Iterator[Found]:
    """More air power than any fan gets out of what the vacuum is fed.

    Every figure is taken at the end of its range that lets it pass. Between two known points
    no falling curve has less than the smaller suction at the smaller airflow.
    """
    vacuum, circuit = shop.vacuum, shop.circuit
    suction = vacuum.suction
    amps = circuit.breaker if vacuum.amps.assumed else vacuum.amps
    most_w = fact("air.most_efficient").value * amps.high_si * circuit.volts.high_si
    figures: list[tuple[float, tuple[Any, ...], str]] = []
    for i, point in enumerate(suction.points):
        power_w = point.airflow.low_si * point.suction.low_si
        here = ("vacuum", "suction", "points", i)
        figures.append((power_w, here, f"`{point.suction.text}` at `{point.airflow.text}`"))
    if not suction.points and suction.home_test is None:
        # A straight curve has its greatest air power half way: a quarter of the product.
        power_w = suction.sealed.low_si * suction.open_airflow.low_si / 4
        key = "sealed" if suction.open_airflow.assumed else "open_airflow"
        found = f"`{suction.sealed.text}` sealed and `{suction.open_airflow.text}` open"
        figures.append((power_w, ("vacuum", "suction", key), found))
    for power_w, place, found in figures:
        if power_w > most_w:
            fed_w = amps.high_si * circuit.volts.high_si
            yield (
                place,
                f"{found}: {power_w:,.0f} W of air from {fed_w:,.0f} W of electricity",
                f"up to {most_w:,.0f} W, half of what it is fed; shop vacuums reach a quarter",
                "Check the units of suction and airflow, and `amps` and `volts`.",
            )


def _points(shop: Shop) -> Iterator[Found]:
    points = sorted(shop.vacuum.suction.points, key=lambda p: p.airflow.best_si)
    pulls = [p.suction.best_si for p in points]
    if any(after > before * 1.02 for before, after in pairwise(pulls)):
        return  # told of that point already
    if len(points) > 1 and pulls[-1] > FALLS * pulls[0]:
        yield (
            ("vacuum", "suction", "points"),
            f"`{points[0].suction.text}` at the least airflow, `{points[-1].suction.text}` at the "
            "greatest",
            "suction that falls as airflow grows",
            "Measure again, at airflows further apart.",
        )


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
            yield (
                place,
                f"a hole of `{reading.hole.text}` in a plate of `{test.plate.text}`",
                "a plate at most half as thick as the hole is wide, better a tenth",
                "Use a thinner plate, or leave this hole out.",
            )
        if hole > WIDEST * bore:
            yield (
                place,
                f"a hole of `{reading.hole.text}` before a bore of {bore * 1000:.0f} mm",
                f"at most {WIDEST * bore * 1000:.0f} mm",
                "Leave this hole out.",
            )
    if len(holes) < 2:
        yield (
            (*here, "readings"),
            f"{len(holes)} different hole sizes",
            "two or more, better six",
            "Read the gauge at another hole.",
        )
    for i, reading in enumerate(test.readings):
        if reading.suction.high_si > DEEPEST_PA:
            yield (
                (*here, "readings", i, "suction"),
                f"`{reading.suction.text}`",
                "up to 45 kPa, more than any shop vacuum pulls",
                "Check the gauge and its unit.",
            )
    ordered = sorted((r.hole.best_si, r.suction.best_si, i) for i, r in enumerate(test.readings))
    for (_, before, _), (wide, after, i) in pairwise(ordered):
        if wide and after > before * 1.03:
            yield (
                (*here, "readings", i, "suction"),
                f"`{test.readings[i].suction.text}`, more than behind the smaller hole",
                "suction that falls as the hole grows",
                "Read this one again.",
            )
    if len(ordered) > 1 and ordered[-1][1] > FALLS * ordered[0][1]:
        yield (
            (*here, "readings"),
            "the same suction behind the smallest and the largest hole",
            "suction that falls as the hole grows",
            "Read a larger hole too.",
        )


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
            yield (
                place,
                f"`{branch.to}`, which comes back to `{branch.name}`",
                "runs that all end at `unit`",
                "Let one of them join `unit`.",
            )
        if branch.name == "unit":
            yield (("branches", i, "name"), "`unit`", "another name", "`unit` is where runs end.")
        for key in ("tool", "sweep"):
            if getattr(branch, key) and branch.name in joined:
                yield (
                    ("branches", i, key),
                    "an open end on a run that others join",
                    "an open end only where nothing joins",
                    "Give it a run of its own.",
                )
        if branch.tool:
            if branch.tool in taken:
                yield (
                    ("branches", i, "tool"),
                    f"`{branch.tool}`, which is on `{taken[branch.tool]}`",
                    "each tool on one run",
                    "Name another tool.",
                )
            taken[branch.tool] = branch.name
    ends = [b for b in shop.branches if b.name not in joined]
    gates = {b.name: b.gate for b in shop.branches}
    if shop.branches and not any(_opens(b.name, joins, gates) for b in ends):
        yield (
            ("branches", 0, "gate"),
            "every way to the unit shut by a gate",
            "one open way or more",
            'Write gate = "open" where you work.',
        )


def _opens(name: str, joins: dict[str, str], gates: Mapping[str, str]) -> bool:
    """Whether air comes from this run to the unit."""
    for _ in joins:
        if gates.get(name) == "closed":
            return False
        if joins.get(name, "unit") == "unit":
            return True
        name = joins[name]
    return False
