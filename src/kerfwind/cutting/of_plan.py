"""The panels of a plan, with its own sheets and saw, so that its numbers of cuts stay what they are."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, TypeVar

from .. import limits
from ..faults import Faults, refusal
from ..quantity import UnitChoice
from ..rawfile import TooLargeError, read_at_most
from .model import Mark, Nest, Panel, Saw, SheetKind
from .reading import CutList, read_cut_list

#: What a plan's folder calls its record and its list of panels.
RECORD, PANELS = "plan.json", "panels.csv"
_SAME_M = 5e-6

_T = TypeVar("_T")


@dataclass(frozen=True)
class PlanList:
    """A plan's panels, sheets and saw, and how its nest was looked for.

    Attributes
    ----------
    budget, seed
        Of its nest: with others the sheets could be laid out another way.
    units, page
        As the plan was printed.
    places
        Where the plan has each panel: sheet, pencil mark and corner [m].
    made
        Copies of panels that were cut before the plan was made, by name.
    """

    listed: CutList
    budget: int
    seed: int
    units: UnitChoice
    page: str
    places: Mapping[tuple[int, str], tuple[float, float]]
    made: Mapping[str, frozenset[int]]

    def lays_out(self, nest: Nest) -> bool:
        """Whether a nest is the plan's own."""
        now = {(s.number, p.pencil): (p.x_m, p.y_m) for s in nest.sheets for p in s.pieces}
        return now.keys() == self.places.keys() and all(
            _alike(now[key], place) for key, place in self.places.items()
        )


def _alike(first: Sequence[float], second: Sequence[float]) -> bool:
    return all(abs(a - b) < _SAME_M for a, b in zip(first, second, strict=True))


def read_plan_list(path: Path) -> PlanList | None:
    """The list of a plan, from its record or from the list of panels beside it.

    None where the file is neither, or was changed since the plan was made.

    Raises
    ------
    Faults
        A record without panels: of a plan without a cart, or of no plan.
    """
    if path.suffix.lower() == ".json":
        return _of_record(path)
    record = path.with_name(RECORD)
    if path.name != PANELS or not record.is_file():
        return None
    try:
        found = _of_record(record)
        listed = read_cut_list(path)
    except Faults:
        return None
    ours, theirs = ({p.name: p for p in of.panels} for of in (listed, found.listed))
    same = ours.keys() == theirs.keys() and all(
        p.quantity == theirs[name].quantity
        and _alike((p.length_m, p.width_m), (theirs[name].length_m, theirs[name].width_m))
        for name, p in ours.items()
    )
    return found if same else None


def _of_record(path: Path) -> PlanList:
    try:
        record = json.loads(read_at_most(path, limits.RECORD_BYTES))
        build, about = record["build"], record["shop"]["about"]
        laid, nest = build["laid"], build["nest"]
        panels = tuple(
            _made(Panel, {**p, "marks": tuple(_made(Mark, m) for m in p.get("marks", ()))})
            for p in laid["panels"]
        )
        sheets = tuple(_made(SheetKind, k) for k in laid["sheets"])
        places = {
            (int(s["number"]), str(p["pencil"])): (float(p["x_m"]), float(p["y_m"]))
            for s in nest["sheets"]
            for p in s["pieces"]
        }
        return PlanList(
            CutList(panels, sheets, _made(Saw, laid["saw"]), currency=about["currency"]),
            int(nest["budget"]),
            int(nest["seed"]),
            about["units"],
            about["page"],
            places,
            _made_before(panels, nest["sheets"]),
        )
    except (OSError, TooLargeError, ValueError, KeyError, TypeError):
        raise Faults([refusal("cutting.plan.no_panels", file=path.name)]) from None


def _made_before(
    panels: Sequence[Panel], sheets: Sequence[Mapping[str, Any]]
) -> dict[str, frozenset[int]]:
    """Copies that lie on none of the sheets."""
    laid = {(p["panel"], p["copy"]) for s in sheets for p in s["pieces"]}
    missing = {
        p.name: frozenset(n for n in range(1, p.quantity + 1) if (p.name, n) not in laid)
        for p in panels
    }
    return {name: copies for name, copies in missing.items() if copies}


def _made(kind: type[_T], row: Mapping[str, Any]) -> _T:
    """A dataclass from plain data; lists become tuples, as it holds them."""
    known = {f.name for f in fields(kind)}  # type: ignore[arg-type]
    return kind(**{k: tuple(v) if isinstance(v, list) else v for k, v in row.items() if k in known})
