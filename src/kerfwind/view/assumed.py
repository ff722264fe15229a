"""What a plan rests on: what nobody measured, and where the numbers come from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..facts import Listing, Name
from ..plan import Plan
from ..sources import all_facts, cite
from ..words import Voice

#: More places than this that were assumed alike are not all named.
_MOST_PLACES = 6


@dataclass(frozen=True)
class AssumedRow:
    """Places in the shop file, what was taken for all of them, and why."""

    path: str
    text: str
    why: str


def assumed_rows(plan: Plan, voice: Voice) -> list[AssumedRow]:
    """What nobody measured; places taken alike in one row."""
    alike: dict[tuple[str, str], list[str]] = {}
    for each in plan.file.assumptions:
        said = (voice.text(each.value), voice.text(each.why))
        alike.setdefault(said, []).append(each.path)
    return [
        AssumedRow(places_text(paths, voice), text, why) for (text, why), paths in alike.items()
    ]


def places_text(paths: Sequence[str], voice: Voice) -> str:
    """Places in the shop file; many alike by the first of them and their number."""
    if len(paths) <= _MOST_PLACES:
        return voice.text(Listing(tuple(map(Name, paths)), "commas"))
    last = {path.rpartition(".")[2] for path in paths}
    count = len(paths) - 2
    rest = (
        voice.word("view.assumed.rest_ending", count=count, field=Name(last.pop()))
        if len(last) == 1
        else voice.word("view.assumed.rest", count=count)
    )
    return voice.text(Listing(tuple(map(Name, [*paths[:2], rest])), "commas"))


def sources_of(plan: Plan, voice: Voice) -> dict[str, str]:
    """Every source that a finding cites, in the order of first use, with where it stands."""
    known = {f.key: f for f in all_facts()}
    return {
        key: voice.word("view.source", what=Name(known[key].what), cite=Name(cite(key)))
        if key in known
        else cite(key)
        for key in dict.fromkeys(key for f in plan.findings for key in f.sources)
    }


def source_marks(keys: Sequence[str], sources: dict[str, str]) -> str:
    """Numbers of these sources in the list at the end, such as ``[3, 7]``."""
    places = list(sources)
    marks = [str(places.index(key) + 1) for key in dict.fromkeys(keys)]
    return f"[{', '.join(marks)}]" if marks else ""
