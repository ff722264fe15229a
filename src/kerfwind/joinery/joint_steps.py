"""What steps state of each kind of joint."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence
from functools import reduce

from ..facts import Amount, Fact, Listing, Statement, Term, state
from ..sources import fact
from .grooves import kind_of, stopped
from .marks import MarkingRule
from .model import CutPanel, Pocket
from .workbench import Workbench

#: Stops and depths are set to a 32nd of an inch, or to a millimetre.
_SETTING_IN_M, _SETTING_MM_M = 0.0254 / 32, 0.001


def drills(sizes: Iterable[float | None], rule: MarkingRule) -> Listing:
    """Drills by their sizes, each once, largest first."""
    distinct = sorted({round(s, 6) for s in sizes if s is not None}, reverse=True)
    return Listing(tuple(rule.amount(s) for s in distinct), "or")


def making(bench: Workbench) -> tuple[tuple[Statement, ...], tuple[Statement, ...]]:
    """How pockets and grooves are made, and what to mind; nothing where there are none."""
    if any(p.pockets for p in bench.panels.values()):
        return (_pockets(bench),), (state("joinery.mind.pockets"),)
    if any(p.grooves for p in bench.panels.values()):
        return _grooves(bench), (state("joinery.mind.grooves"),)
    return (), ()


def _pockets(bench: Workbench) -> Statement:
    rule = bench.rule
    rows = [(panel, p) for panel in bench.panels.values() for p in panel.pockets]
    bits = [
        state("joinery.bit", bore=rule.amount(bore), tip=rule.amount(tip))
        for bore, tip in sorted({(p.bore_m, p.shank_m) for _, p in rows})
    ]
    return state(
        "joinery.say.pockets",
        bit=reduce(lambda a, b: state("joinery.bits", thinner=a, thicker=b), bits),
        angle=Amount(rows[0][1].angle_rad, "angle", "short"),
        stop=_stop(bench, rows),
    )


def _stop(bench: Workbench, rows: Sequence[tuple[CutPanel, Pocket]]) -> Fact:
    """How far from the edge the shoulders stay: once for all, or for each pair of panels."""
    into = {j.key: bench.panels[bench.placed[j.first].key].name for j in bench.joints}
    seats: dict[Amount, dict[Statement, None]] = {}
    for panel, pocket in rows:
        across = _setting(pocket.seat_m * math.cos(pocket.angle_rad), bench.rule)
        pair = state(
            "joinery.into", panel=Term("panel", panel.name), into=Term("panel", into[pocket.joint])
        )
        seats.setdefault(across, {})[pair] = None
    if len(seats) == 1:
        return state("joinery.stop.alike", across=next(iter(seats)))
    return Listing(
        tuple(
            state("joinery.stop.of", across=across, pairs=Listing(tuple(pairs), "commas"))
            for across, pairs in seats.items()
        )
    )


def _grooves(bench: Workbench) -> tuple[Statement, ...]:
    rows = [(p, g) for p in bench.panels.values() for g in p.grooves]
    deep: dict[Amount, dict[Term, None]] = {}
    for panel, cut in rows:
        deep.setdefault(_setting(cut.depth_m, bench.rule), {})[Term("panel", panel.name)] = None
    kinds = {kind_of(g, p.length_m, p.width_m) for p, g in rows}
    depth: Fact = next(iter(deep))
    if len(deep) > 1:
        depth = Listing(
            tuple(
                state("joinery.depth.of", depth=d, panels=Listing(tuple(panels)))
                for d, panels in deep.items()
            ),
            "commas",
        )
    found = [
        state(
            "joinery.say.grooves",
            cuts="both" if len(kinds) > 1 else next(iter(kinds)),
            depths="alike" if len(deep) == 1 else "several",
            depth=depth,
            play=Amount(fact("cart.dado.play").value, "length", "metric"),
        )
    ]
    if any(stopped(g, p.length_m, p.width_m) for p, g in rows):
        found.append(state("joinery.say.stopped"))
    if any(p.notches for p in bench.panels.values()):
        found.append(state("joinery.say.notch"))
    return tuple(found)


def _setting(size_m: float, rule: MarkingRule) -> Amount:
    step = _SETTING_MM_M if rule.metric else _SETTING_IN_M
    return Amount(round(size_m / step) * step, "length", "cut")


def fastened(bench: Workbench, joints: Collection[str]) -> tuple[Statement, ...]:
    """How the joints of a step are fastened."""
    made = [j for j in bench.joints if j.key in joints]
    pockets = any(j.by_pockets for j in made)
    found = []
    if any(j.in_groove for j in made):
        found.append(state("joinery.say.home"))
    if pockets:
        found.append(state("joinery.say.drive_pockets"))
    if any(j.screwed_butt or j.in_groove for j in made):
        pilots = drills((s.pilot_hole_m for s in bench.screws_of(joints)), bench.rule)
        others = "pockets" if pockets else "none"
        found.append(state("joinery.say.drive", others=others, pilots=pilots))
    return tuple(found)
