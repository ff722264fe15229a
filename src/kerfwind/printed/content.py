"""The printed plan's words and tables, ready for the template."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from .. import __version__
from ..cautions import Work
from ..facts import Band, Statement, Term
from ..hookup.chart import ChartJoint, wall_chart
from ..hookup.reducer import PRINT_CAUTIONS
from ..plan import Plan
from ..quantity import show
from ..search.air_help import Change
from ..sources import all_facts, cite
from ..view.cautions import caution_rows
from ..view.findings import Group, groups, measure_text, verdict_lines, voice_of
from ..view.shopping import shopping_rows
from ..wording import (
    airflow,
    bill,
    chain_text,
    joints_text,
    money,
    sheets_text,
    size_text,
    span,
    wanted,
)
from ..words import Voice
from .boards import board_rows
from .cart_content import cart_content
from .choices import parking_rows, second_best
from .figure_files import Figures

#: More places than this that were assumed alike are not all named.
_MOST_PLACES = 6
PAPER = {"letter": "us-letter", "a4": "a4"}


def content(plan: Plan, figures: Figures) -> dict[str, Any]:
    """Everything the template shows; ``figures`` names the drawings."""
    shop = plan.shop
    works: tuple[Work, ...] = ("cutting", "building", "moving", "using", "emptying", "power")
    voice = voice_of(plan)
    good = [f for f in plan.findings if f.level == "good"]
    sources = _sources(plan)
    return {
        "title": plan.title,
        "author": shop.shop.author,
        "paper": PAPER[shop.shop.page],
        "made_by": f"kerfwind {__version__}",
        "intro": _intro(plan),
        "cover": figures.cover,
        "summary": _summary(plan),
        "verdict": {"title": "Know before you build", "lines": verdict_lines(plan)},
        "findings_intro": "Worst first. What was only assumed is never called good: where an "
        "assumption could turn an answer, it is marked unknown, with what to measure.",
        "findings": [_findings(group, voice, sources) for group in groups(plan.findings, voice)],
        "passed": [
            {
                "about": said.about or "unit",
                "answer": said.answer,
                "numbers": said.numbers,
                "source": _marks(f.sources, sources),
            }
            for f in good
            for said in (voice.finding(f),)
        ],
        "air_intro": "Airflow at the hood is a band that holds in nine cases of ten, given what is "
        "measured and what is not. Chips carried follows from the speed of the air; dust caught "
        "from the airflow at the hood, and is always the less certain of the two. Why a tool gets too "
        "little, and what to do, stands under “What was found”.",
        "tools": [_tool(plan, i) for i in range(len(plan.air))],
        "help_intro": "Each change alone. The gain is the band over the tools it could help; what gains less than a "
        "hundredth anywhere is left out.",
        "helps": _helps(plan),
        "measure": _measure(plan),
        "branches": _branches(plan),
        "afterwards": _afterwards(plan),
        "charts": figures.charts,
        "hookup_intro": "In the order the air takes them. A size in a name is no measurement: take "
        "the sizes here to the store.",
        "chains": [
            {
                "tool": voice.text(c.about),
                "hose": chain_text(c, voice),
                "file": figures.chains.get(c.tool),
                "pieces": bool(c.pieces),
                "text": joints_text(c, voice),
            }
            for c in (*plan.hookups.tools, *plan.hookups.unit)
        ],
        "reducers": _reducers(plan, figures),
        "print_cautions": [voice.text(caution) for caution in PRINT_CAUTIONS],
        "boards": board_rows(plan, figures),
        "second": second_best(plan),
        "parking": parking_rows(plan),
        "gains": _gains(plan),
        "wall": _wall(plan),
        "rooms": figures.rooms,
        "room_key": figures.room_key,
        "cart": cart_content(plan, figures),
        "shopping_intro": voice.word("shopping.intro"),
        "shopping": shopping_rows(plan.shopping, voice),
        "shopping_total": f"all together {bill(plan)}",
        "cautions": {work: caution_rows(work, voice) for work in works},
        "assumptions_intro": "Nobody measured these; they are what is usual. Measure what matters, "
        "write it in the shop file, and plan again."
        if plan.file.assumptions
        else "Nothing: every value was given.",
        "assumptions": [
            {"path": _places(paths), "text": text, "why": why}
            for (text, why), paths in _alike(plan, voice).items()
        ],
        "sources": list(sources.values()),
    }


def _intro(plan: Plan) -> str:
    shop = plan.shop
    vacuum, bucket = shop.vacuum, shop.separator.bucket
    tools = "one tool" if len(shop.tools) == 1 else f"{len(shop.tools)} tools"
    carried = f"the {vacuum.name}" if "vacuum" in vacuum.name else f"the vacuum ({vacuum.name})"
    separator = (
        f" and a cyclone on a {show(bucket.volume.best_si, 'volume', plan.units)} bucket,"
        if shop.separator.in_use
        else ""
    )
    text = f"One rolling unit that carries {carried}{separator} and reaches {tools}."
    if plan.cart is not None and plan.nest is not None:
        text += f" It is cut from {sheets_text(plan)}."
    else:
        text += " No cart that meets the wishes was found; the findings say why."
    return f"{text} {shop.shop.notes}".strip()


def _summary(plan: Plan) -> list[tuple[str, str]]:
    rows: list[tuple[str, str]] = []
    units = plan.units
    if plan.cart is not None and plan.nest is not None:
        full = max((s.load for s in plan.cart.stands), key=lambda load: float(load.mass_kg.mean()))
        rows += [
            ("Length × width × height", size_text(plan)),
            (
                "Weight, bucket full" if plan.shop.separator.in_use else "Weight",
                span_of(plan, full.mass_kg, "mass"),
            ),
            ("Sheets", sheets_text(plan)),
        ]
    rows.append(("To buy, in all", bill(plan)))
    best = max(plan.air, key=lambda a: float(a.airflow_m3_s.mean()))
    rows.append(("Most air", f"{airflow(best, units)} at the {best.tool}"))
    rows.append(("Assumed, not measured", f"{len(plan.file.assumptions)} values"))
    return rows


def span_of(plan: Plan, samples: Any, dimension: str) -> str:
    """The band of samples in the plan's units."""
    return span(Band.of(samples, dimension), plan.units)


def _marks(keys: Sequence[str], sources: dict[str, str]) -> str:
    """Numbers of these sources in the list at the end, such as ``[3, 7]``."""
    places = list(sources)
    marks = [str(places.index(key) + 1) for key in dict.fromkeys(keys)]
    return f"[{', '.join(marks)}]" if marks else ""


def _findings(group: Group, voice: Voice, sources: dict[str, str]) -> dict[str, Any]:
    return {
        "level": group.level,
        "told": [
            {
                "about": each.said.about,
                "answer": each.said.answer,
                "numbers": each.said.numbers,
                "source": _marks(each.sources, sources),
            }
            for each in group.spoken
        ],
        "do": group.do,
        "measure": measure_text(group.measure, voice),
    }


def _tool(plan: Plan, index: int) -> dict[str, str]:
    air = plan.air[index]
    chain, voice = plan.hookups.chain(air.tool), voice_of(plan)
    return {
        "name": air.tool,
        "airflow": airflow(air, plan.units),
        "wanted": wanted(air, plan.units),
        "chips": voice.text(air.chips.named),
        "caught": voice.text(air.caught.named),
        "hose": chain.hose,
    }


def _helps(plan: Plan, most: int = 8) -> list[dict[str, str]]:
    """Changes by the airflow they gain over all tools together."""
    before = {each.tool: each.caught_before for each in plan.helps}
    voice = voice_of(plan)
    groups: dict[Statement, list[tuple[str, Change]]] = {}
    for each in plan.helps:
        for change in each.changes:
            if change.share >= 0.01:
                groups.setdefault(change.what, []).append((each.tool, change))
    ranked = sorted(groups.values(), key=lambda g: -sum(c.gain_m3_s.best for _, c in g))
    rows = []
    for group in ranked[:most]:
        first = group[0][1]
        low = min(c.gain_m3_s.low for _, c in group)
        high = max(c.gain_m3_s.high for _, c in group)
        turned = [
            f"{tool} ({100 * before[tool]:.0f} → {100 * c.caught:.0f} in 100)"
            for tool, c in group
            if c.caught >= 0.5 and c.caught - before[tool] >= 0.05
        ]
        some = "" if len(group) == len(plan.helps) else f" (at {', '.join(t for t, _ in group)})"
        rows.append(
            {
                "what": voice.text(first.what)
                + some
                + (f". {voice.text(first.catch)}" if first.catch else ""),
                "gain": span(Band(low, low, high, "airflow"), plan.units),
                "turns": ", ".join(turned) or "nowhere new",
                "cost": _cost(plan, first),
            }
        )
    return rows


def _cost(plan: Plan, change: Change) -> str:
    if change.cost_high < 0.5:
        return "nothing"
    low, high = round(change.cost_low), round(change.cost_high)
    return (
        f"up to {money(plan, high)}" if low == 0 else f"{money(plan, low)} to {money(plan, high)}"
    )


def _measure(plan: Plan) -> list[str]:
    """Measurements that would settle a verdict, and whose."""
    voice = voice_of(plan)
    worth: dict[str, list[str]] = {}
    for each in plan.helps:
        for m in each.measurements[:2]:
            if m.settles >= 0.02:
                worth.setdefault(
                    voice.word("search.measure.with", what=m.what, gauge=m.how), []
                ).append(each.tool)
    return [f"{what}: for {', '.join(tools)}" for what, tools in worth.items()]


def _branches(plan: Plan) -> list[dict[str, str]]:
    """Tools on fixed branches, with the gates as they stand."""
    if plan.branches is None:
        return []
    gates, voice = dict(plan.branches.gates), voice_of(plan)
    rows = []
    for tool in plan.branches.air.tools:
        best = next((c for c in gates.get(tool.tool, ()) if c.share >= 0.01), None)
        gain = (
            f"{voice.text(best.what)}: {span(best.gain_m3_s, plan.units)} more"
            if best
            else "none to close"
        )
        rows.append(
            {
                "tool": voice.text(tool.standing),
                "airflow": span_of(plan, tool.airflow_m3_s, "airflow"),
                "chips": voice.text(tool.chips.named),
                "caught": voice.text(tool.caught.named),
                "gate": gain,
            }
        )
    return rows


def _afterwards(plan: Plan) -> dict[str, Any] | None:
    found = plan.afterwards
    if found is None:
        return None
    voice = voice_of(plan)
    told = [voice.finding(f) for f in found.findings]
    said = [text for f in told for text in (f.answer, f.do) if text]
    said += [
        voice.word("air.measured.other", cause=e.named, size=e.size, remedy=e.remedy)
        for e in found.explanations[1:3]
    ]
    return {
        "text": " ".join(said),
        "rows": [
            {
                "tool": c.tool,
                "what": voice.text(Term("suction", c.what)),
                "predicted": span(c.predicted, plan.units),
                "measured": show(c.measured_pa, "pressure", plan.units),
                "recalibrated": span(c.recalibrated, plan.units),
            }
            for c in found.compared
        ],
    }


def _alike(plan: Plan, voice: Voice) -> dict[tuple[str, str], list[str]]:
    """Places in the shop file by what was assumed there and why."""
    found: dict[tuple[str, str], list[str]] = {}
    for each in plan.file.assumptions:
        said = (voice.text(each.value), voice.text(each.why))
        found.setdefault(said, []).append(each.path)
    return found


def _places(paths: Sequence[str]) -> str:
    """Places in the shop file; many alike by the first of them and their number."""
    if len(paths) <= _MOST_PLACES:
        return ", ".join(paths)
    last = {path.rpartition(".")[2] for path in paths}
    rest = f"and {len(paths) - 2} more" + (f" ending in {last.pop()}" if len(last) == 1 else "")
    return ", ".join([*paths[:2], rest])


def _reducers(plan: Plan, figures: Figures) -> list[dict[str, str]]:
    return [
        {
            "name": voice_of(plan).text(r.called),
            "file": file,
            "text": f"{show(r.mass_kg, 'mass', plan.units, decimals=2)} of filament, about "
            f"{money(plan, round(r.material_price, 2))}; very roughly {r.time_s / 3600:.1f} h to print, "
            f"within a factor of two. Wall {1000 * r.wall:.1f} mm; {1000 * r.allowance:.1f} mm allowed "
            "for the fit: print the test rings first, and correct it by the ring that goes on best.",
        }
        for r, file in zip(plan.hookups.printed, figures.reducers, strict=True)
    ]


def _gains(plan: Plan) -> list[dict[str, str]]:
    """Purchases beyond the plan that would gain air."""

    def flow(value: float) -> str:
        return show(value, "airflow", plan.units)

    rows = []
    for gain in plan.gains:
        told = [(t.tool, flow(t.before_m3_s), flow(t.after_m3_s)) for t in gain.tools]
        tools = ", ".join(f"{tool} {a} → {b}" for tool, a, b in told if a != b)
        if tools:
            price = f"about {money(plan, gain.price)}"
            name = voice_of(plan).text(gain.fitting)
            rows.append({"name": name, "price": price, "tools": tools})
    return rows


def _wall(plan: Plan) -> dict[str, Any]:
    """The wall chart: each tool's chain by tags, and a label for each fitting."""
    voice = voice_of(plan)
    places = [h.place for h in plan.cart.homes] if plan.cart else []
    chart = wall_chart(plan.hookups, plan.shop.fittings, places)

    def size(value: float) -> str:
        return show(value, "length", "mm" if plan.units == "mm" else "in", denominator=32)

    def meets(joint: ChartJoint) -> str:
        return f"{size(joint.inner_outside_m)} into {size(joint.outer_inside_m)}"

    return {
        "rows": [
            {
                "tool": row.tool,
                "hose": row.hose,
                "pieces": [
                    {"tag": tag, "name": voice.text(piece)}
                    for tag, piece in zip(row.tags, row.pieces, strict=True)
                ],
                "joints": [
                    {"sizes": meets(j), "kind": voice.text(Term("fit", j.kind))} for j in row.joints
                ],
            }
            for row in chart.rows
            if row.reached
        ],
        "labels": [
            {
                "tag": each.tag,
                "name": voice.text(each.what),
                "home": voice.text(each.home),
                "sizes": f"{size(each.end_a_m[0])} / {size(each.end_a_m[1])}  ·  "
                f"{size(each.end_b_m[0])} / {size(each.end_b_m[1])}",
                "tools": ", ".join(each.tools),
            }
            for each in chart.labels
        ],
    }


def _sources(plan: Plan) -> dict[str, str]:
    """Every source that a finding cites, in the order of first use."""
    known = {f.key: f for f in all_facts()}
    return {
        key: (f"{known[key].what}: " if key in known else "") + cite(key)
        for key in dict.fromkeys(key for f in plan.findings for key in f.sources)
    }
