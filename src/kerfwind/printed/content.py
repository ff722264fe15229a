"""The printed plan's words and tables, ready for the template."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from typing import Any

from .. import __version__
from ..air.branches import on_branch
from ..cart import Cart, CartPanel, HardwareItem, carries, work
from ..cart.others import Carries, Range
from ..cautions import Work, cautions_for
from ..cutting import CAUTION_WORDS, CutStep, Saw, SawCut, say
from ..finding import Finding, Reading, numbers
from ..hookup.chart import ChartJoint, wall_chart
from ..hookup.reducer import PRINT_CAUTIONS
from ..plan import Plan
from ..quantity import UnitChoice, show, show_cut, show_range
from ..search.air_help import Change
from ..search.sheet_choice import Build, saw_of
from ..shopping import ShoppingLine, screw_text
from ..sources import all_facts, cite
from ..wording import (
    airflow,
    bill,
    chain_text,
    grouped,
    joined,
    joints_text,
    money,
    sheets_text,
    size_text,
    span,
    verdict_lines,
    wanted,
)
from .boards import board_rows
from .choices import parking_rows, second_best
from .figures import PAGE_MM, Figures

#: Panels from which on their list is set closer.
_LONG_LIST = 8
#: The page's headings and the lines about views and list [mm], as `plan.typ` sets them.
_AROUND_LIST_MM = 38.0
#: More places than this that were assumed alike are not all named.
_MOST_PLACES = 6
PAPER = {"letter": "us-letter", "a4": "a4"}


def content(plan: Plan, figures: Figures) -> dict[str, Any]:
    """Everything the template shows; ``figures`` names the drawings."""
    shop = plan.shop
    units = plan.units
    works: tuple[Work, ...] = (
        "cutting",
        "building",
        "moving",
        "using",
        "emptying",
        "power",
    )
    told = joined([f for f in plan.findings if f.level != "good"])
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
        "findings": [_findings(group, units, sources) for group in grouped(told)],
        "passed": [
            {
                "about": f.about or "unit",
                "answer": f.answer,
                "numbers": numbers(f, units),
                "source": _marks(f, sources),
            }
            for f in good
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
                "tool": c.tool or c.start,
                "hose": chain_text(c),
                "file": figures.chains.get(c.tool or c.start),
                "pieces": bool(c.pieces),
                "text": joints_text(c),
            }
            for c in (*plan.hookups.tools, *plan.hookups.unit)
        ],
        "reducers": _reducers(plan, figures),
        "print_cautions": PRINT_CAUTIONS,
        "boards": board_rows(plan, figures),
        "second": second_best(plan),
        "parking": parking_rows(plan),
        "gains": _gains(plan),
        "wall": _wall(plan),
        "rooms": figures.rooms,
        "room_key": figures.room_key,
        "cart": _cart(plan, figures),
        "shopping_intro": "Prices marked “about” are rough; write your own over them.",
        "shopping": [_shopping(plan, line) for line in plan.shopping],
        "shopping_total": f"all together {bill(plan)}",
        "cautions": {
            w: [{"title": c.title, "text": c.text} for c in cautions_for(w)] for w in works
        },
        "assumptions_intro": "Nobody measured these; they are what is usual. Measure what matters, "
        "write it in the shop file, and plan again."
        if plan.file.assumptions
        else "Nothing: every value was given.",
        "assumptions": [
            {"path": _places(paths), "text": text, "why": why}
            for (text, why), paths in _alike(plan).items()
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
    return span(Reading.of(samples, dimension), plan.units)


def _marks(finding: Finding, sources: dict[str, str]) -> str:
    """Numbers of its sources in the list at the end, such as ``[3, 7]``."""
    places = list(sources)
    marks = [str(places.index(key) + 1) for key in dict.fromkeys(finding.sources)]
    return f"[{', '.join(marks)}]" if marks else ""


def _findings(
    group: Sequence[Finding], units: UnitChoice, sources: dict[str, str]
) -> dict[str, Any]:
    return {
        "level": group[0].level,
        "told": [
            {
                "about": f.about,
                "answer": f.answer,
                "numbers": numbers(f, units),
                "source": _marks(f, sources),
            }
            for f in group
        ],
        "do": group[0].do,
        "measure": ", ".join(dict.fromkeys(m for f in group for m in f.measure)),
    }


def _tool(plan: Plan, index: int) -> dict[str, str]:
    air = plan.air[index]
    chain = plan.hookups.chain(air.tool)
    return {
        "name": air.tool,
        "airflow": airflow(air, plan.units),
        "wanted": wanted(air, plan.units),
        "chips": air.chips.word,
        "caught": air.caught.word,
        "hose": chain.hose,
    }


def _helps(plan: Plan, most: int = 8) -> list[dict[str, str]]:
    """Changes by the airflow they gain over all tools together."""
    before = {each.tool: each.caught_before for each in plan.helps}
    groups: dict[str, list[tuple[str, Change]]] = {}
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
                "what": first.what + some + (f". {first.catch}" if first.catch else ""),
                "gain": span(Reading(low, low, high, "airflow"), plan.units),
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
    worth: dict[str, list[str]] = {}
    for each in plan.helps:
        for m in each.measurements[:2]:
            if m.settles >= 0.02:
                worth.setdefault(f"{m.what}, with {m.how}", []).append(each.tool)
    return [f"{what}: for {', '.join(tools)}" for what, tools in worth.items()]


def _branches(plan: Plan) -> list[dict[str, str]]:
    """Tools on fixed branches, with the gates as they stand."""
    if plan.branches is None:
        return []
    gates = dict(plan.branches.gates)
    rows = []
    for tool in plan.branches.air.tools:
        best = next((c for c in gates.get(tool.tool, ()) if c.share >= 0.01), None)
        gain = f"{best.what}: {span(best.gain_m3_s, plan.units)} more" if best else "none to close"
        rows.append(
            {
                "tool": on_branch(tool.tool, tool.branch),
                "airflow": span_of(plan, tool.airflow_m3_s, "airflow"),
                "chips": tool.chips.word,
                "caught": tool.caught.word,
                "gate": gain,
            }
        )
    return rows


def _afterwards(plan: Plan) -> dict[str, Any] | None:
    found = plan.afterwards
    if found is None:
        return None
    said = [f.answer for f in found.findings]
    said += [
        f"{e.cause[:1].upper()}{e.cause[1:]} ({e.size}): {e.do}" for e in found.explanations[:3]
    ]
    return {
        "text": " ".join(said),
        "rows": [
            {
                "tool": c.tool,
                "what": c.what,
                "predicted": span(c.predicted, plan.units),
                "measured": show(c.measured_pa, "pressure", plan.units),
                "recalibrated": span(c.recalibrated, plan.units),
            }
            for c in found.compared
        ],
    }


def _shopping(plan: Plan, line: ShoppingLine) -> dict[str, str]:
    about = "about " if line.standing == "about" else ""
    what = f"{line.what} ({line.note})" if line.note else line.what
    if line.price is None:
        return {"count": str(line.count), "what": what, "each": "", "total": ""}
    return {
        "count": str(line.count),
        "what": what,
        "each": about + money(plan, line.price),
        "total": about + money(plan, line.cost),
    }


def _list_mm(plan: Plan, intro: str) -> float:
    """How high the list of panels is with all else on its page but the views [mm]."""
    letters = 34 if plan.units == "both" else 60
    wrapped = sum((len(p.name + _note(p)) - 1) // letters for p in plan.panels)
    wrapped += (len(intro) - 1) // 110
    row = 3.84 if len(plan.panels) > _LONG_LIST else 4.76
    return row * len(plan.panels) + 4.2 * wrapped + _AROUND_LIST_MM


def _note(panel: CartPanel) -> str:
    """What is said beside a panel's name; from which face to drill only where it is drilled."""
    drilled = panel.holes or panel.pockets
    return f": {panel.note}" if panel.note and (drilled or "drill from" not in panel.note) else ""


def _thick(cart: Cart, units: UnitChoice) -> str:
    """The thicknesses it is made of, that of most panels first."""
    sizes = dict.fromkeys((cart.thickness_m, *(p.thickness_m for p in cart.panels)))
    return " and ".join(show(t, "length", units, denominator=32) for t in sizes)


def _cart(plan: Plan, figures: Figures) -> dict[str, Any] | None:
    build = plan.build
    if build is None:
        return None
    cart, nest = build.cart, build.nest
    units = plan.units

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
                "name": p.name + _note(p),
                "count": str(p.quantity),
                "length": show_cut(p.length_m, units),
                "width": show_cut(p.width_m, units),
                "thickness": show_cut(p.thickness_m, units),
                "grain": GRAIN[p.grain],
            }
            for p in plan.panels
        ],
        "panel_note": "Lengths run along the face grain where the grain is named. Sizes are finished "
        "sizes; the kerf is in the cuts.",
        "nest_intro": f"{sheets_text(plan)}. {nest.nearness}",
        "nests": figures.nests,
        "cuts": cut_rows(plan.cuts, saw_of(plan.shop.saw), units),
        "cut_cautions": cut_cautions(plan.cuts),
        "work": _work(plan, build.whole),
        "others": _others(plan, cart),
        "shapes_intro": "Seen from the face where the marks are made; holes are given from the near "
        "left corner to their centres. templates.pdf has openings and chamfers at full size."
        + _joint_marks(cart),
        "shapes": figures.shapes,
        "hardware": [
            {"count": str(h.quantity), "what": screw_text(h, units), "where": _where(build, h)}
            for h in build.hardware
        ],
        "steps": [
            {
                "number": str(s.number),
                "title": s.title,
                "text": s.text,
                "uses": "",
                "cautions": [{"title": "Mind", "text": s.caution}] if s.caution else [],
                "file": figures.steps.get(s.number),
                "wide": s.number in figures.wide_steps,
            }
            for s in cart.steps
        ],
    }


def _in_words(place: str) -> str:
    """A place in the shop file as one says it: ``bucket top diameter``."""
    return " ".join(place.split(".")[-2:]).replace("_", " ")


def _where(build: Build, item: HardwareItem) -> str:
    """The steps that drive a screw, and the boards that take it; for other things their use."""
    cart = build.cart
    takes = {j.key for j in cart.joints if any(s.hardware == item.key for s in j.screws)}
    numbers = [str(s.number) for s in cart.steps if takes.intersection(s.joints)]
    if not numbers:
        return item.use
    steps = f"step{'s' if len(numbers) > 1 else ''} {', '.join(numbers)}"
    boards = [b.wanted.name for b in build.boards if any(h.key == item.key for h in b.hardware)]
    return "; ".join([steps, *boards])


def _alike(plan: Plan) -> dict[tuple[str, str], list[str]]:
    """Places in the shop file by what was assumed there and why."""
    found: dict[tuple[str, str], list[str]] = {}
    for each in plan.file.assumptions:
        found.setdefault((each.text, each.why), []).append(each.path)
    return found


def _places(paths: Sequence[str]) -> str:
    """Places in the shop file; many alike by the first of them and their number."""
    if len(paths) <= _MOST_PLACES:
        return ", ".join(paths)
    last = {path.rpartition(".")[2] for path in paths}
    rest = f"and {len(paths) - 2} more" + (f" ending in {last.pop()}" if len(last) == 1 else "")
    return ", ".join([*paths[:2], rest])


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


def _reducers(plan: Plan, figures: Figures) -> list[dict[str, str]]:
    return [
        {
            "name": r.name,
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
            rows.append({"name": gain.name, "price": price, "tools": tools})
    return rows


def _work(plan: Plan, cart: Cart) -> dict[str, Any]:
    found = work(plan.shop, cart)
    units = plan.units
    paint = show_range(
        found.finish.paint_l.low / 1000, found.finish.paint_l.high / 1000, "volume", units
    )
    hours = found.hours
    return {
        "text": f"{hours.low:.0f} to {hours.high:.0f} hours of work, and {found.waiting_h.low:.0f} to "
        f"{found.waiting_h.high:.0f} hours of waiting for glue and paint: a rough estimate, no promise. "
        f"{show(found.finish.faces_m2, 'area', units)} to paint and "
        f"{show(found.finish.edges_m2, 'area', units)} of edges to seal first: {paint} of paint.",
        "order": list(found.finish.order),
        "tasks": [
            {"name": t.name, "hours": f"{t.hours.low:.1f} to {t.hours.high:.1f}"}
            for t in found.tasks
        ],
        "tools": [{"name": t.name, "use": t.use, "otherwise": t.otherwise} for t in found.tools],
    }


def _bucket_rows(found: Carries) -> list[tuple[str, Range, str]]:
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


def _others(plan: Plan, cart: Cart) -> list[dict[str, str]]:
    """Ranges of other vacuums and buckets that this cart carries."""
    found = carries(plan.shop, cart)
    rows: list[tuple[str, Range, str]] = [
        ("vacuum, front to back", found.vacuum_length, "length"),
        ("vacuum, side to side", found.vacuum_width, "length"),
        ("vacuum, height", found.vacuum_height, "length"),
        ("vacuum, weight", found.vacuum_kg, "mass"),
        *_bucket_rows(found),
        ("bucket, lid, cyclone and dust", found.full_bucket_kg, "mass"),
    ]

    def words(span: Range, dimension: str) -> str:
        low = show(span.low, dimension, plan.units) if span.low > 0 else ""
        high = show(span.high, dimension, plan.units) if math.isfinite(span.high) else ""
        if low and high:
            return f"{low} to {high}"
        return f"up to {high}" if high else f"at least {low}" if low else "any"

    return [{"what": what, "span": words(span, kind)} for what, span, kind in rows]


def _wall(plan: Plan) -> dict[str, Any]:
    """The wall chart: each tool's chain by tags, and a label for each fitting."""
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
                    {"tag": tag, "name": name}
                    for tag, name in zip(row.tags, row.pieces, strict=True)
                ],
                "joints": [{"sizes": meets(j), "kind": j.kind} for j in row.joints],
            }
            for row in chart.rows
            if row.reached
        ],
        "labels": [
            {
                "tag": each.tag, "name": each.name, "home": each.home,
                "sizes": f"{size(each.end_a_m[0])} / {size(each.end_a_m[1])}  ·  "
                f"{size(each.end_b_m[0])} / {size(each.end_b_m[1])}",
                "tools": ", ".join(each.tools),
            }
            for each in chart.labels
        ],
    }  # fmt: skip


def _often(steps: Sequence[CutStep]) -> list[str]:
    """Cautions that several rows of the table bear, in the order they come up."""
    counts = Counter(text for step in steps for text in step.cautions)
    return [text for text, count in counts.items() if count > 1]


def cut_cautions(steps: Sequence[CutStep]) -> list[dict[str, str]]:
    """What is told in full above the table of cuts, since rows say it in few words."""
    return [
        {"title": CAUTION_WORDS[text].partition(":")[0], "text": text} for text in _often(steps)
    ]


def cut_rows(steps: Sequence[CutStep], saw: Saw, units: UnitChoice) -> list[dict[str, Any]]:
    """The order of cuts as rows of the table, with cautions in full or as `cut_cautions` say."""
    short = {text: CAUTION_WORDS[text] for text in _often(steps)}
    return [
        {
            "number": _run([c.number for c in step.cuts]),
            "sheet": ", ".join(dict.fromkeys(str(c.sheet) for c in step.cuts)),
            "what": say(step, units, saw),
            "setting": show_cut(step.setting_m, units),
            "gives": ", ".join(dict.fromkeys(map(_gives, step.cuts))),
            "cautions": [short.get(text, text) for text in step.cautions],
        }
        for step in steps
    ]


def _gives(cut: SawCut) -> str:
    """What a cut gives, and what is left of the piece where that has a name."""
    named = cut.rest and cut.kind != "trim" and not cut.rest.startswith(("waste", "offcut"))
    return f"{cut.gives} (rest {cut.rest})" if named else cut.gives


def _run(values: Sequence[int]) -> str:
    """Whole numbers in short: ``4``, ``5–7`` where they follow each other, else ``5, 9``."""
    if len(values) > 2 and list(values) == list(range(values[0], values[-1] + 1)):
        return f"{values[0]}–{values[-1]}"
    return ", ".join(map(str, values))


GRAIN = {"along": "along its length", "across": "across", "free": "either way"}


def _sources(plan: Plan) -> dict[str, str]:
    """Every source that a finding cites, in the order of first use."""
    known = {f.key: f for f in all_facts()}
    return {
        key: (f"{known[key].what}: " if key in known else "") + cite(key)
        for key in dict.fromkeys(key for f in plan.findings for key in f.sources)
    }
