"""What of the home test and the branches cannot be, though each value could."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any

from ..facts import Amount, Name
from ..faults import Refusal, refusal
from ..sources import fact
from .model import Shop

#: A board thicker than this part of the hole guides the jet: no relation tells how much.
THICKEST = 0.5
#: A hole wider than this part of the bore behind it is no longer a hole in still air.
WIDEST = 0.7

#: Suction at the greatest airflow is below this part of that at the least.
FALLS = 0.98
DEEPEST_PA = 45_000.0

Found = tuple[tuple[Any, ...], Refusal]


def air_faults(shop: Shop) -> Iterator[Found]:
    """The place of each fault, and what is wrong there."""
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
    fed_w = amps.high_si * circuit.volts.high_si
    most_w = fact("air.most_efficient").value * fed_w
    fed, most = Amount(fed_w, "power"), Amount(most_w, "power")
    for i, point in enumerate(suction.points):
        power_w = point.airflow.low_si * point.suction.low_si
        if power_w > most_w:
            yield (
                ("vacuum", "suction", "points", i),
                refusal(
                    "shop.air.power_of_point",
                    suction=Name(point.suction.text),
                    airflow=Name(point.airflow.text),
                    power=Amount(power_w, "power"),
                    fed=fed,
                    most=most,
                ),
            )
    if suction.points or suction.home_test is not None:
        return
    # A straight curve has its greatest air power half way: a quarter of the product.
    power_w = suction.sealed.low_si * suction.open_airflow.low_si / 4
    if power_w > most_w:
        yield (
            ("vacuum", "suction", "sealed" if suction.open_airflow.assumed else "open_airflow"),
            refusal(
                "shop.air.power_of_label",
                sealed=Name(suction.sealed.text),
                airflow=Name(suction.open_airflow.text),
                power=Amount(power_w, "power"),
                fed=fed,
                most=most,
            ),
        )


def _points(shop: Shop) -> Iterator[Found]:
    points = sorted(shop.vacuum.suction.points, key=lambda p: p.airflow.best_si)
    pulls = [p.suction.best_si for p in points]
    if any(after > before * 1.02 for before, after in pairwise(pulls)):
        return  # told of that point already
    if len(points) > 1 and pulls[-1] > FALLS * pulls[0]:
        flat = refusal(
            "shop.air.flat", first=Name(points[0].suction.text), last=Name(points[-1].suction.text)
        )
        yield ("vacuum", "suction", "points"), flat


def _home_test(shop: Shop) -> Iterator[Found]:
    suction = shop.vacuum.suction
    test = suction.home_test
    if test is None:
        return
    here: tuple[Any, ...] = ("vacuum", "suction", "home_test")
    if suction.points:
        yield here, refusal("shop.home_test.beside_points")
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
            given, plate = Name(reading.hole.text), Name(test.plate.text)
            yield place, refusal("shop.home_test.thick_plate", hole=given, plate=plate)
        if hole > WIDEST * bore:
            too_wide = refusal(
                "shop.home_test.wide_hole",
                hole=Name(reading.hole.text),
                bore=Amount(bore, "length"),
                most=Amount(WIDEST * bore, "length"),
            )
            yield place, too_wide
    if len(holes) < 2:
        yield (*here, "readings"), refusal("shop.home_test.one_hole", holes=len(holes))
    for i, reading in enumerate(test.readings):
        if reading.suction.high_si > DEEPEST_PA:
            given, deepest = Name(reading.suction.text), Amount(DEEPEST_PA, "pressure", "short")
            place = (*here, "readings", i, "suction")
            yield place, refusal("shop.home_test.too_deep", given=given, most=deepest)
    ordered = sorted((r.hole.best_si, r.suction.best_si, i) for i, r in enumerate(test.readings))
    for (_, before, _), (wide, after, i) in pairwise(ordered):
        if wide and after > before * 1.03:
            given = Name(test.readings[i].suction.text)
            yield (*here, "readings", i, "suction"), refusal("shop.home_test.rises", given=given)
    if len(ordered) > 1 and ordered[-1][1] > FALLS * ordered[0][1]:
        yield (*here, "readings"), refusal("shop.home_test.flat")


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
            to, run = Name(branch.to), Name(branch.name)
            yield place, refusal("shop.branch.loop", to=to, run=run)
        if branch.name == "unit":
            yield ("branches", i, "name"), refusal("shop.branch.called_unit")
        for key in ("tool", "sweep"):
            if getattr(branch, key) and branch.name in joined:
                yield ("branches", i, key), refusal("shop.branch.joined_end")
        if branch.tool:
            if branch.tool in taken:
                tool, run = Name(branch.tool), Name(taken[branch.tool])
                yield ("branches", i, "tool"), refusal("shop.branch.tool_twice", tool=tool, run=run)
            taken[branch.tool] = branch.name
    ends = [b for b in shop.branches if b.name not in joined]
    gates = {b.name: b.gate for b in shop.branches}
    if shop.branches and not any(_opens(b.name, joins, gates) for b in ends):
        yield ("branches", 0, "gate"), refusal("shop.branch.all_shut")


def _opens(name: str, joins: dict[str, str], gates: Mapping[str, str]) -> bool:
    """Whether air comes from this run to the unit."""
    for _ in joins:
        if gates.get(name) == "closed":
            return False
        if joins.get(name, "unit") == "unit":
            return True
        name = joins[name]
    return False
