"""The cart as people see it: its panels, hardware and steps, the work, what else it carries."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..cart import Cart, Work
from ..checks.fit_range import FitRange, SizeRange
from ..facts import Amount, Band, Fact, Listing, Name, Place, Statement, Term, state
from ..joinery import CutPanel, HardwareItem, Step, Taken
from ..plan import Plan
from ..search.sheet_choice import Build
from ..shop.model import Shop
from ..words import Voice
from .cautions import Caution
from .cuts import grain_text
from .placing import placings
from .summary import sheets_fact


@dataclass(frozen=True)
class PanelRow:
    """One kind of panel with its finished sizes."""

    mark: str
    name: str
    count: str
    length: str
    width: str
    thickness: str
    grain: str


@dataclass(frozen=True)
class HardwareRow:
    """One kind of screw or fitting, and where it goes."""

    count: str
    what: str
    where: str


@dataclass(frozen=True)
class StepRow:
    """One step of assembly: what to do, where each part goes, what it takes, what to mind."""

    number: int
    title: str
    text: str
    places: tuple[str, ...]
    parts: tuple[str, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True)
class TaskRow:
    """One kind of work and its hours."""

    name: str
    hours: str


@dataclass(frozen=True)
class ToolNeedRow:
    """A tool for building, what for, and how to do without it."""

    name: str
    use: str
    otherwise: str


@dataclass(frozen=True)
class WorkText:
    """Finish and time: a sentence, the tasks, the tools."""

    text: str
    tasks: tuple[TaskRow, ...]
    tools: tuple[ToolNeedRow, ...]


@dataclass(frozen=True)
class RangeRow:
    """A size of other vacuums or buckets, and from where to where the cart carries it."""

    what: str
    span: str


def cart_intro(shop: Shop, cart: Cart, measure_first: tuple[str, ...], voice: Voice) -> str:
    """Its form, what it is made of, and what to measure before it is cut."""
    guessed = any(sheet.thickness.assumed for sheet in shop.sheets)
    sizes = dict.fromkeys((cart.thickness_m, *(p.thickness_m for p in cart.panels)))
    thick = Listing(tuple(Name(voice.length(t)) for t in sizes))
    said = voice.word(
        "view.cart",
        form=Term("form", cart.form),
        thick=thick,
        known="assumed" if guessed else "measured",
    )
    if not measure_first:
        return said
    places = Listing(tuple(map(Place, measure_first)), "commas")
    first = voice.word("view.cart.measure_first", places=places)
    return voice.text(Listing((Name(said), Name(first)), "sentences"))


def panel_rows(plan: Plan, voice: Voice) -> list[PanelRow]:
    """Everything that is cut."""

    def cut(size_m: float) -> str:
        return voice.text(Amount(size_m, "length", "cut"))

    return [
        PanelRow(
            p.key,
            _with_copies(plan, p, voice),
            voice.count(p.quantity),
            cut(p.length_m),
            cut(p.width_m),
            cut(p.thickness_m),
            grain_text(p.grain, voice),
        )
        for p in plan.panels
    ]


def _with_copies(plan: Plan, panel: CutPanel, voice: Voice) -> str:
    """A panel with the names of its copies, where they are called otherwise in the steps."""
    name = panel_name(panel, voice)
    placed = plan.build.cart.placed if plan.build else ()
    copies = [p.name for p in placed if p.key == panel.key]
    last = panel.name.split()[-1]
    if all(last in copy.split() or panel.name in copy for copy in copies):
        return name
    return voice.word(
        "view.panel.copies",
        panel=Name(name),
        copies=Listing(tuple(Term("panel", copy) for copy in copies)),
    )


def panel_name(panel: CutPanel, voice: Voice) -> str:
    """A panel with its note; from which face to drill only where it is drilled."""
    note = panel.note
    mirrored = isinstance(note, Statement) and note.kind == "cart.note.mirrored"
    if note is None or (mirrored and not (panel.holes or panel.pockets)):
        return voice.text(panel.called)
    return voice.word("view.panel.with_note", panel=panel.called, note=note)


def nest_intro(plan: Plan, voice: Voice) -> str:
    """How many sheets, and how near that is to the best there can be."""
    if plan.nest is None:
        return ""
    sheets = voice.word("view.cart.sheets", sheets=sheets_fact(plan))
    return voice.text(Listing((Name(sheets), plan.nest.nearness), "sentences"))


def shapes_intro(cart: Cart, voice: Voice) -> str:
    """How to read the drawings of the panels."""
    pockets = any(p.pockets for p in cart.panels)
    grooves = any(p.grooves for p in cart.panels)
    cut_out = any(p.openings or p.chamfers for p in cart.panels)
    said = [
        voice.word("view.shapes"),
        *([voice.word("view.shapes.templates")] if cut_out else []),
        *([voice.word("view.shapes.pockets")] if pockets else []),
        *([voice.word("view.shapes.grooves")] if grooves else []),
        *([voice.word("view.shapes.behind")] if pockets or grooves else []),
    ]
    return voice.text(Listing(tuple(map(Name, said)), "sentences"))


def hardware_rows(build: Build, voice: Voice) -> list[HardwareRow]:
    """Screws, casters and the like, with the steps or boards that take them."""
    return [
        HardwareRow(voice.count(h.quantity), voice.text(h.what), _where(build, h, voice))
        for h in build.hardware
    ]


def _where(build: Build, item: HardwareItem, voice: Voice) -> str:
    """The steps and the boards that take it, and what it is for besides screws of joints."""
    cart = build.cart
    numbers = [Name(str(s.number)) for s in cart.steps if any(t.key == item.key for t in s.takes)]
    if not numbers:
        return voice.text(Listing(item.uses, "semicolons"))
    steps = state(
        "view.hardware.steps", count=len(numbers), steps=Listing(tuple(numbers), "commas")
    )
    # What screws of joints are for shows from their steps.
    driven = any(s.hardware == item.key for j in cart.joints for s in j.screws)
    uses = () if driven else item.uses
    boards = [b.called for b in build.boards if any(h.key == item.key for h in b.hardware)]
    return voice.text(Listing((steps, *uses, *boards), "semicolons"))


def step_rows(cart: Cart, steps: Sequence[Step], voice: Voice) -> list[StepRow]:
    """The steps of assembly in order."""
    rows = {h.key: h for h in cart.hardware}
    return [
        StepRow(
            s.number,
            voice.text(s.title),
            voice.text(Listing(s.says, "sentences")),
            tuple(placings(cart, s, voice)),
            tuple(voice.text(_taken(t, rows)) for t in s.takes),
            (Caution(voice.word("view.mind"), voice.text(Listing(s.cautions, "sentences"))),)
            if s.cautions
            else (),
        )
        for s in steps
    ]


def _taken(taken: Taken, rows: Mapping[str, HardwareItem]) -> Statement:
    """A part that a step takes; of a screw, how wide and how deep to drill for it."""
    row = rows.get(taken.key)
    what = taken.what if taken.what is not None else row.what if row else Name(taken.key)
    if row is not None and row.pilot_hole_m is not None and row.length_m is not None:
        return state(
            "view.step.screws",
            count=taken.count,
            what=what,
            pilot=Amount(row.pilot_hole_m, "length", "cut"),
            deep=Amount(row.length_m, "length", "cut"),
        )
    return state("view.step.takes", count=taken.count, what=what)


def work_text(found: Work, voice: Voice) -> WorkText:
    """How long it takes, what to paint and seal, which tools it needs."""
    paint, hours, waiting = found.finish.paint_l, found.hours, found.waiting_h

    def span(low: float, high: float, decimals: int) -> Fact:
        low_text, high_text = (Name(voice.count(v, decimals)) for v in (low, high))
        return state("number.range", before=low_text, after=high_text)

    return WorkText(
        voice.word(
            "view.work",
            hours=span(hours.low, hours.high, 0),
            waiting=span(waiting.low, waiting.high, 0),
            faces=Amount(found.finish.faces_m2, "area"),
            edges=Amount(found.finish.edges_m2, "area"),
            paint=Band(paint.likely / 1000, paint.low / 1000, paint.high / 1000, "volume"),
        ),
        tuple(
            TaskRow(voice.text(t.what), voice.text(span(t.hours.low, t.hours.high, 1)))
            for t in found.tasks
        ),
        tuple(
            ToolNeedRow(
                voice.text(t),
                voice.say(t.kind, t.facts, "use"),
                voice.say(t.kind, t.facts, "otherwise"),
            )
            for t in found.tools
        ),
    )


def range_rows(found: FitRange, voice: Voice) -> list[RangeRow]:
    """Ranges of other vacuums and buckets that this cart carries."""
    rows: list[tuple[str, SizeRange, str]] = [
        ("vacuum-length", found.vacuum_length, "length"),
        ("vacuum-width", found.vacuum_width, "length"),
        ("vacuum-height", found.vacuum_height, "length"),
        ("vacuum-weight", found.vacuum_kg, "mass"),
        *_bucket_rows(found),
        ("full-bucket", found.full_bucket_kg, "mass"),
    ]
    return [
        RangeRow(voice.text(Term("carries", what)), _span(span, kind, voice))
        for what, span, kind in rows
    ]


def _span(span: SizeRange, dimension: str, voice: Voice) -> str:
    low, high = Amount(span.low, dimension), Amount(span.high, dimension)
    if span.low > 0 and math.isfinite(span.high):
        return voice.word("number.range", before=low, after=high)
    if math.isfinite(span.high):
        return voice.word("view.carries.up_to", most=high)
    if span.low > 0:
        return voice.word("view.carries.at_least", least=low)
    return voice.word("view.carries.any")


def _bucket_rows(found: FitRange) -> list[tuple[str, SizeRange, str]]:
    """Sizes of the buckets, or of the boxes, that the opening carries."""
    thing = "bucket" if len(found.across) == 1 else "box"
    ways = ("",) if thing == "bucket" else ("-side-to-side", "-front-to-back")
    levels = {
        "none": {},
        "standing": {"floor": "cleats"},
        "taper": {"floor": "floor", "top": "under"},
        "rim": {"top": "under", "rim": "over"},
    }[found.hold]
    rows = [
        (f"{thing}-{where}{way}", getattr(span, level), "length")
        for way, span in zip(ways, found.across, strict=True)
        for level, where in levels.items()
    ]
    deep = {"rim": "rim", "standing": "rim", "taper": "wedge"}.get(found.hold)
    return [*rows, (f"{thing}-to-{deep}", found.bucket_side, "length")] if deep else rows
