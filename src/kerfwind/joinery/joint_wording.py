"""What steps say of each kind of joint."""

from __future__ import annotations

import math
from collections.abc import Collection
from fractions import Fraction

from ..sources import fact
from .grooves import kind_of, stopped
from .workbench import Workbench

_GROOVE_CAUTION = (
    "A groove does not go through: keep the saw's riving knife and guard on where they can stay, "
    "hold the panel down with push blocks and a featherboard, and never guide one cut by fence and "
    "mitre gauge at once. With a router, clamp the panel and the straightedge, move it against the "
    "bit's turn, and take the depth in two passes."
)
_POCKET_CAUTION = "A stepped bit grabs as it breaks out: clamp guide and panel, and keep the hand off the far side."


def drill_text(diameter_m: float, units: str) -> str:
    """A drill's size as it is sold: 64ths of an inch, or tenths of a millimetre."""
    if units == "mm":
        return f"{diameter_m * 1000:.1f} mm"
    part = Fraction(round(diameter_m / 0.0254 * 64), 64)
    return f"{part.numerator}/{part.denominator} in"


def making(bench: Workbench) -> tuple[str, str]:
    """How pockets and grooves are made, and what to mind; empty where there are none."""
    if any(p.pockets for p in bench.panels.values()):
        return _pockets(bench), _POCKET_CAUTION
    if any(p.grooves for p in bench.panels.values()):
        return _grooves(bench), _GROOVE_CAUTION
    return "", ""


def _pockets(bench: Workbench) -> str:
    units = bench.rule.units
    rows = [(panel, p) for panel in bench.panels.values() for p in panel.pockets]
    bits = {(p.bore_m, p.shank_m) for _, p in rows}
    bit = " or, for the thicker panels, ".join(
        f"{drill_text(bore, units)} bore, {drill_text(tip, units)} tip"
        for bore, tip in sorted(bits)
    )
    into = {j.key: bench.panels[bench.placed[j.first].key].name for j in bench.joints}
    seats: dict[str, list[str]] = {}
    for panel, pocket in rows:
        across = _mm_or_in(pocket.seat_m * math.cos(pocket.angle_rad), units)
        pair = f"{panel.name} into {into[pocket.joint]}"
        if pair not in seats.setdefault(across, []):
            seats[across].append(pair)
    stop = next(iter(seats)) + " from the edge"
    if len(seats) > 1:
        each = [f"{a} from the edge for {', '.join(n)}" for a, n in seats.items()]
        stop = " and ".join((", ".join(each[:-1]), each[-1]))
    turn = math.degrees(rows[0][1].angle_rad)
    return (
        f" Drill the pockets with a stepped bit ({bit}) in a guide of {turn:.0f}°, "
        "from the face named on each panel's drawing. The mark is where the bit's axis enters. Set "
        f"the stop so that the shoulder stays {stop}. Try "
        "guide, stop and screw on scrap of the same sheet first: no point may come through."
    )


def _grooves(bench: Workbench) -> str:
    rows = [(p, g) for p in bench.panels.values() for g in p.grooves]
    units = bench.rule.units
    deep: dict[str, list[str]] = {}
    for panel, cut in rows:
        names = deep.setdefault(_mm_or_in(cut.depth_m, units), [])
        if panel.name not in names:
            names.append(panel.name)
    depth = next(iter(deep)) + " deep"
    if len(deep) > 1:
        depth = ", ".join(f"{d} deep in the {' and '.join(n)}" for d, n in deep.items()) + ","
    play = fact("cart.dado.play").value
    kinds = {kind_of(g, p.length_m, p.width_m) for p, g in rows}
    cuts = " and ".join(f"{k}s" for k in ("dado", "rebate") if k in kinds)
    text = (
        f" Cut the {cuts} {depth} before anything is joined: with a router and a straight bit "
        "along a clamped straightedge, or on a table saw with a dado set. Width: what goes in as it "
        f"measures plus {play * 1000:.1f} mm; cut one in scrap first, in which an offcut must slide "
        "by hand without rattling."
    )
    if any(stopped(g, p.length_m, p.width_m) for p, g in rows):
        text += (
            " Where a groove stops before an edge, stop the router there and square the end with a "
            "chisel; a table saw cannot stop it."
        )
    if any(p.notches for p in bench.panels.values()):
        text += " Notch the corners of the uprights that pass over a stop."
    return text


def _mm_or_in(size_m: float, units: str) -> str:
    if units == "mm":
        return f"{size_m * 1000:.0f} mm"
    part = Fraction(round(size_m / 0.0254 * 32), 32)
    whole, rest = divmod(part.numerator, part.denominator)
    if not rest:
        return f"{whole} in"
    tail = f"{rest}/{part.denominator} in"
    return f"{whole}-{tail}" if whole else tail


def fastened(bench: Workbench, joints: Collection[str], pilot: str) -> str:
    """How the joints of a step are fastened, in a sentence or two."""
    made = [j for j in bench.joints if j.key in joints]
    pockets = any(j.by_pockets for j in made)
    sentences = []
    if any(j.in_groove for j in made):
        sentences.append("Press each edge into its groove until it is home.")
    if pockets:
        sentences.append(
            "Clamp each joint flush and drive the pocket screws from the inner faces, slowly: stop "
            "when the head seats."
        )
    if any(j.screwed_butt or j.in_groove for j in made):
        where = "Where screws go through the face, drill" if pockets else "Drill"
        sentences.append(
            f"{where} pilot holes ({pilot}) through the clearance holes and drive the screws."
        )
    return " ".join(sentences)
