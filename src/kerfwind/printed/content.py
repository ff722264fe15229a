"""All that the printed plan shows, ready for the template."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from .. import __version__
from ..cautions import Work
from ..facts import Name
from ..hookup.reducer import PRINT_CAUTIONS
from ..plan import Plan
from ..search.sheet_choice import saw_of
from ..view.air import Tag, afterwards, branch_rows, help_rows, tool_rows, worth_measuring
from ..view.assumed import assumed_rows, source_marks, sources_of
from ..view.boards import board_rows
from ..view.breathing import session_pages
from ..view.cart import (
    cart_intro,
    hardware_rows,
    nest_intro,
    panel_rows,
    range_rows,
    shapes_intro,
    step_rows,
    work_text,
)
from ..view.cautions import Caution, caution_rows
from ..view.cuts import cut_cautions, cut_rows, cut_words
from ..view.figures import room_key
from ..view.findings import Group, groups, measure_text, voice_of
from ..view.first import what_first
from ..view.hookups import (
    chain_rows,
    gain_rows,
    next_best,
    parking_rows,
    reducer_texts,
    wall_labels,
    wall_rows,
)
from ..view.page import page_words
from ..view.shopping import shopping_rows
from ..view.summary import bill_text, intro_text, level_text, summary_rows
from ..words import Voice
from .figure_files import PAGE_MM, Figures

PAPER = {"letter": "us-letter", "a4": "a4"}
#: Panels from which on their list is set closer.
_LONG_LIST = 8
#: The page's headings and the lines about views and list [mm], as `plan.typ` sets them.
_AROUND_LIST_MM = 38.0


def content(
    plan: Plan, figures: Figures, cart: Callable[[], Figures] | None = None
) -> dict[str, Any]:
    """Everything the template shows.

    Parameters
    ----------
    figures
        The drawings by name; the cart's are added to them.
    cart
        Gives the cart's own drawings, asked for when all else is told.
    """
    told = _beside_cart(plan, figures)
    if cart is not None:
        figures.take_cart(cart())
    voice = voice_of(plan)
    return {
        **told,
        "cover": figures.cover,
        "boards": [
            {**asdict(row), "file": figures.boards.get(row.key)} for row in board_rows(plan, voice)
        ],
        "cart": _cart(plan, figures, voice),
    }


def _beside_cart(plan: Plan, figures: Figures) -> dict[str, Any]:
    shop, voice = plan.shop, voice_of(plan)
    works: tuple[Work, ...] = ("cutting", "building", "moving", "using", "emptying", "power")
    good = [f for f in plan.findings if f.level == "good"]
    sources = sources_of(plan, voice)
    mind = voice.word("view.mind")
    return {
        "title": plan.title,
        "language": voice.language,
        "words": page_words(voice),
        "author": voice.word("page.by", author=Name(shop.about.author))
        if shop.about.author
        else "",
        "paper": PAPER[shop.about.page],
        "made_by": f"kerfwind {__version__}",
        "intro": intro_text(plan, voice),
        "summary": summary_rows(plan, voice),
        "first": _first(plan, voice),
        "findings": [_findings(group, voice, sources) for group in groups(plan.findings, voice)],
        "passed": [
            {
                "about": said.about or voice.word("page.good.unit"),
                "answer": said.answer,
                "numbers": said.numbers,
                "source": source_marks(f.sources, sources),
            }
            for f in good
            for said in (voice.finding(f),)
        ],
        "tools": tool_rows(plan, voice),
        "helps": help_rows(plan, voice),
        "measure": worth_measuring(plan, voice),
        "branches": branch_rows(plan, voice),
        "afterwards": afterwards(plan, voice),
        "charts": figures.charts,
        "chains": [
            {**asdict(row), "file": figures.chains.get(row.tool)} for row in chain_rows(plan, voice)
        ],
        "reducers": [
            {"name": name, "text": text, "file": file}
            for (name, text), file in zip(reducer_texts(plan, voice), figures.reducers, strict=True)
        ],
        "print_cautions": [Caution(mind, voice.text(each)) for each in PRINT_CAUTIONS],
        "second": next_best(plan, voice),
        "parking": parking_rows(plan, voice),
        "gains": gain_rows(plan, voice),
        "wall": {"rows": wall_rows(plan, voice), "labels": wall_labels(plan, voice)},
        "rooms": figures.rooms,
        "room_key": room_key(plan, voice),
        "sessions": [
            {**asdict(page), "figures": drawn}
            for page, drawn in zip(
                session_pages(plan, voice.plain()), figures.sessions, strict=bool(figures.sessions)
            )
        ],
        "shopping_intro": voice.word("shopping.intro"),
        "shopping": shopping_rows(plan.shopping, voice),
        "shopping_total": voice.word("page.to_buy.total", price=Name(bill_text(plan, voice))),
        "cautions": {work: caution_rows(work, voice) for work in works},
        "assumptions_intro": voice.word(
            "page.assumed.intro" if plan.file.assumptions else "page.assumed.nothing"
        ),
        "assumptions": assumed_rows(plan, voice),
        "sources": list(sources.values()),
    }


def _first(plan: Plan, voice: Voice) -> dict[str, Any]:
    """What the first page says: does it work, what to do, what to measure."""
    first = what_first(plan)
    return {
        "title": voice.word("view.verdict"),
        "works": first.works,
        "todo_title": voice.word("first.todo"),
        "todo": [
            {
                "what": each.what,
                "cost": each.cost,
                "changes": voice.word("first.changes", changes=Name(each.changes))
                if each.changes
                else "",
            }
            for each in first.todo
        ],
        "nothing": "" if first.todo else voice.word("first.nothing"),
        "more": voice.word("first.more", count=first.more) if first.more else "",
        "measure_title": voice.word("first.measure"),
        "measure": [
            {"what": m.what, "settles": voice.word("first.settles", what=Name(m.settles))}
            for m in first.measure
        ],
    }


def _findings(group: Group, voice: Voice, sources: dict[str, str]) -> dict[str, Any]:
    return {
        "level": Tag(group.level, level_text(group.level, voice)),
        "check": group.check,
        "tried": [voice.word("terminal.tried", tried=Name(line)) for line in group.tried],
        "told": [
            {
                "about": each.said.about,
                "answer": each.said.answer,
                "numbers": each.said.numbers,
                "brief": each.brief,
                "source": source_marks(each.sources, sources),
            }
            for each in group.spoken
        ],
        "do": group.do,
        "measure": measure_text(group.measure, voice),
    }


def _cart(plan: Plan, figures: Figures, voice: Voice) -> dict[str, Any] | None:
    """What the pages about the cart show; None where none is built."""
    build = plan.build
    if build is None:
        return None
    cart = build.cart
    intro = cart_intro(plan.shop, cart, cart.measure_first, voice)
    panels = panel_rows(plan, voice)
    names = [row.name for row in panels]
    room_mm = PAGE_MM[plan.shop.about.page][1] - figures.views_mm
    return {
        "intro": intro,
        "views": figures.views,
        "panels_tight": len(panels) > _LONG_LIST,
        "panels_fit": _list_mm(names, intro, both=voice.units == "both") < room_mm,
        "exploded": figures.exploded,
        "panels": panels,
        "nest_intro": nest_intro(plan, voice),
        "nests": figures.nests,
        "cuts": cut_rows(plan.cuts, saw_of(plan.shop.saw), voice),
        "cut_cautions": cut_cautions(plan.cuts, voice),
        "cut_words": cut_words(voice),
        "work": work_text(plan.work, voice) if plan.work else None,
        "others": range_rows(plan.fits, voice) if plan.fits else [],
        "shapes_intro": shapes_intro(cart, voice),
        "shapes": figures.shapes,
        "hardware": hardware_rows(build, voice),
        "steps": [
            {
                **asdict(step),
                "title": voice.word("page.step", number=step.number, title=Name(step.title)),
                "file": figures.steps.get(step.number),
                "wide": step.number in figures.wide_steps,
            }
            for step in step_rows(cart, plan.steps, voice)
        ],
    }


def _list_mm(names: list[str], intro: str, *, both: bool) -> float:
    """How high the list of panels is with all else on its page but the views [mm].

    ``both``: sizes stand there in two units.
    """
    letters = 34 if both else 60
    wrapped = sum((len(name) - 1) // letters for name in names) + (len(intro) - 1) // 110
    row = 3.84 if len(names) > _LONG_LIST else 4.76
    return row * len(names) + 4.2 * wrapped + _AROUND_LIST_MM
