"""The order of cuts as a table, and the cautions that its rows bear."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from ..cutting import CAUTION_WORDS, CutStep, Saw, SawCut, say
from ..quantity import UnitChoice, show_cut


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


def cut_cautions(steps: Sequence[CutStep]) -> list[dict[str, str]]:
    """What is told in full above the table of cuts, since rows say it in few words."""
    return [
        {"title": CAUTION_WORDS[text].partition(":")[0], "text": text} for text in _often(steps)
    ]


def _often(steps: Sequence[CutStep]) -> list[str]:
    """Cautions that several rows of the table bear, in the order they come up."""
    counts = Counter(text for step in steps for text in step.cautions)
    return [text for text, count in counts.items() if count > 1]


def _gives(cut: SawCut) -> str:
    """What a cut gives, and what is left of the piece where that has a name."""
    named = cut.rest and cut.kind != "trim" and not cut.rest.startswith(("waste", "offcut"))
    return f"{cut.gives} (rest {cut.rest})" if named else cut.gives


def _run(values: Sequence[int]) -> str:
    """Whole numbers in short: ``4``, ``5–7`` where they follow each other, else ``5, 9``."""
    if len(values) > 2 and list(values) == list(range(values[0], values[-1] + 1)):
        return f"{values[0]}–{values[-1]}"
    return ", ".join(map(str, values))
