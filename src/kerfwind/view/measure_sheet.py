"""The page of measuring aids in words."""

from __future__ import annotations

from typing import Any

from ..facts import Amount, state
from ..hookup.measuring import Mark, Ruler, StepCard, Strip, StripPiece, Unit, measure_sheet
from ..words import Voice

_INCH = 0.0254
#: No number stands nearer than this to the end of a strip's piece, where it would be cut off.
_CUT_OFF_M = 0.006


def measure_page(voice: Voice) -> dict[str, Any]:
    """Everything the page shows; lengths in millimetres of paper."""
    sheet = measure_sheet()
    return {
        "title": voice.word("measuring.title"),
        "language": voice.language,
        "words": {
            name: voice.word(f"measuring.{name}") for name in ("foot", "cut_here", "end", "cards")
        },
        "how": [voice.text(each) for each in sheet.how],
        "rulers": [_ruler(each, voice) for each in sheet.rulers],
        "strips": [_piece(s, i, voice) for s in sheet.strips for i in range(len(s.pieces))],
        "cards": [_card(each, voice) for each in sheet.cards],
    }


def number_on(size_m: float, unit: Unit, voice: Voice) -> str:
    """What is written at a mark for a size: ``22``, or ``2-1/4 in``."""
    if unit == "in":
        return voice.text(Amount(size_m, "length", "inch"))
    return voice.count(1000 * size_m)


def _ruler(ruler: Ruler, voice: Voice) -> dict[str, Any]:
    length = Amount(ruler.length_m, "length", "inch" if ruler.unit == "in" else "metric")
    marks = [
        # A ruler's numbers are whole, and its title tells their unit.
        _mark(m, f"{round(m.size_m / (_INCH if ruler.unit == 'in' else 0.001)):d}")
        for m in ruler.marks
    ]
    return {
        "title": voice.word("measuring.ruler", length=length),
        "length": ruler.length_m * 1000,
        "marks": marks,
    }


def _mark(mark: Mark, number: str, start_m: float = 0.0) -> dict[str, Any]:
    return {
        "at": 1000 * (mark.at_m - start_m),
        "rank": mark.rank,
        "label": number if mark.numbered else "",
    }


def _piece(strip: Strip, number: int, voice: Voice) -> dict[str, Any]:
    piece: StripPiece = strip.pieces[number]
    first, last = piece.start_m + _CUT_OFF_M, piece.stop_m - _CUT_OFF_M
    marks = [
        _mark(
            m,
            number_on(m.size_m, strip.unit, voice) if first <= m.at_m <= last else "",
            piece.start_m,
        )
        for m in strip.marks
        if piece.start_m <= m.at_m <= piece.stop_m
    ]
    whole = state("measuring.strip", ends=strip.ends, unit=strip.unit)
    overlap = strip.pieces[number - 1].stop_m - piece.start_m if number else 0.0
    pieces = len(strip.pieces)
    of_several = state("measuring.piece", strip=whole, number=number + 1, pieces=pieces)
    return {
        "title": voice.text(of_several if pieces > 1 else whole),
        "length": 1000 * (piece.stop_m - piece.start_m),
        "first": number == 0,
        "tape": voice.word("measuring.tape", overlap=Amount(overlap, "length", "metric")),
        "marks": marks,
    }


def _card(card: StepCard, voice: Voice) -> dict[str, Any]:
    width = max(w for w, _ in card.steps)
    places, y = [], 0.0
    for step, depth in card.steps:
        places.append({"y": 1000 * y, "label": number_on(step, card.unit, voice)})
        y += depth
    title = state("measuring.card", ends=card.ends, unit=card.unit)
    large = card.ends == "large"
    return {
        "title": voice.word("measuring.large_card", card=title) if large else voice.text(title),
        "width": 1000 * width,
        "large": large,
        "height": 1000 * y,
        "outline": [(1000 * x, 1000 * depth) for x, depth in card.outline],
        "steps": places,
    }
