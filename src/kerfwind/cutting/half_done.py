"""Going on from a build half cut: what exists stays, the rest is nested again."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..facts import Amount, Listing, Name, Statement, state
from ..sources import fact
from .checking import Box, named_pieces, replay
from .model import Nest, Panel, Placed, Saw, SheetKind, Watch
from .nesting import nest
from .order import CutStep

_CLOSE_M = 1e-6
#: Narrower leftovers are waste.
_SLIVER_M = 0.01


class CutTooEarlyError(ValueError):
    """A cut is said to be made before one that frees its piece; ``cut`` is its number."""

    def __init__(self, cut: int) -> None:
        super().__init__(cut)
        self.cut = cut


@dataclass(frozen=True)
class Frozen:
    """What exists after some of the cuts.

    Attributes
    ----------
    made
        Panels that have come off in their final size.
    lying
        Pieces left of sheets that were begun, as offcuts on hand.
    whole
        Sheets bought and not yet begun, counted by the key of their kind.
    planned
        What was to come of each of these, in its own coordinates, by the key of its kind.
    """

    made: tuple[Placed, ...]
    lying: tuple[SheetKind, ...]
    whole: tuple[SheetKind, ...]
    planned: tuple[tuple[str, tuple[Placed, ...]], ...] = ()

    @property
    def copies(self) -> dict[str, frozenset[int]]:
        """Copy numbers already made, by panel name."""
        found: dict[str, set[int]] = {}
        for piece in self.made:
            found.setdefault(piece.panel, set()).add(piece.copy)
        return {name: frozenset(copies) for name, copies in found.items()}


def freeze(nest: Nest, steps: Sequence[CutStep], saw: Saw, done: Collection[int]) -> Frozen:
    """What lies there once the cuts numbered in ``done`` are made.

    Raises
    ------
    CutTooEarlyError
        A cut is ticked before one that it needs.
    """
    kept = [replace(step, cuts=tuple(c for c in step.cuts if c.number in done)) for step in steps]
    lying, wrong = replay(nest, kept, saw)
    for each in wrong:
        cut = dict(each.facts).get("cut")
        if each.kind == "cutting.wrong.not_edge_to_edge" and isinstance(cut, int):
            raise CutTooEarlyError(cut)
    begun = {c.sheet for step in kept for c in step.cuts}
    pencilled = named_pieces(nest, kept, saw)
    made: list[Placed] = []
    rest: list[SheetKind] = []
    whole: dict[str, SheetKind] = {}
    planned: list[tuple[str, tuple[Placed, ...]]] = []
    for sheet in nest.sheets:
        kind = sheet.kind
        if sheet.number not in begun and not _is_whole_panel(sheet.pieces, kind):
            known = whole.get(kind.key)
            count = (known.limit or 0) + 1 if known else 1
            key = kind.key if kind.on_hand else f"{kind.key} on hand"
            planned.append((key, sheet.pieces))
            whole[kind.key] = replace(
                kind, key=key, price=0.0, limit=count, offcut=True, on_hand=True, called=kind.name
            )
            continue
        pieces = list(sheet.pieces)
        for at, box in enumerate(lying[sheet.number]):
            match = [
                p
                for p in pieces
                if abs(p.x_m - box[0]) < _CLOSE_M
                and abs(p.y_m - box[1]) < _CLOSE_M
                and abs(p.x_m + p.length_m - box[2]) < _CLOSE_M
                and abs(p.y_m + p.width_m - box[3]) < _CLOSE_M
            ]
            if match:
                made.append(match[0])
                pieces.remove(match[0])
                continue
            if min(box[2] - box[0], box[3] - box[1]) < _SLIVER_M:
                continue
            key = f"piece {at + 1} of sheet {sheet.number}"
            inside = tuple(
                replace(p, x_m=p.x_m - box[0], y_m=p.y_m - box[1])
                for p in pieces
                if box[0] - _CLOSE_M < p.x_m < box[2] and box[1] - _CLOSE_M < p.y_m < box[3]
            )
            planned.append((key, inside))
            rest.append(
                SheetKind(
                    key,
                    box[2] - box[0],
                    box[3] - box[1],
                    kind.material,
                    kind.thickness_m,
                    0.0,
                    1,
                    kind.grain,
                    offcut=True,
                    trim=False,
                    called=_called(pencilled[sheet.number], box, at + 1, sheet.number),
                )
            )
    return Frozen(tuple(made), tuple(rest), tuple(whole.values()), tuple(planned))


def _called(pencilled: Sequence[tuple[str, Box]], box: Box, at: int, sheet: int) -> Statement:
    for name, other in pencilled:
        if all(abs(p - q) < _CLOSE_M for p, q in zip(box, other, strict=True)):
            return state("cutting.sheet.pencilled", name=Name(name), sheet=sheet)
    return state("cutting.sheet.piece", piece=at, sheet=sheet)


def _is_whole_panel(pieces: Sequence[Placed], kind: SheetKind) -> bool:
    return (
        len(pieces) == 1
        and abs(pieces[0].length_m - kind.length_m) < _CLOSE_M
        and abs(pieces[0].width_m - kind.width_m) < _CLOSE_M
    )


def nest_rest(
    panels: Sequence[Panel],
    sheets: Sequence[SheetKind],
    saw: Saw,
    frozen: Frozen,
    *,
    budget: int = 300,
    seed: int = 0,
    watch: Watch | None = None,
) -> Nest:
    """Nest what is still to be made from what lies there, then from sheets to buy.

    Panels keep their pencil names; those made are left out.
    """
    stock = [*frozen.lying, *frozen.whole, *(s for s in sheets if not s.offcut)]
    return nest(
        list(panels),
        stock,
        saw,
        budget=budget,
        seed=seed,
        watch=watch,
        made=frozen.copies,
        known=frozen.planned,
    )


@dataclass(frozen=True)
class ShortAnswer:
    """One way to go on with a panel that came out too small."""

    kind: Literal["use", "shim", "recut", "follow"]
    said: Statement
    extra_cost: float = 0.0
    extra_sheets: int = 0
    nest: Nest | None = None


def cut_short(
    frozen: Frozen, piece: Placed, length_m: float, width_m: float, panel: Panel
) -> Frozen:
    """The same with one panel still to be made, and what came of it as an offcut on hand."""
    sides = (width_m, length_m) if piece.turned else (length_m, width_m)
    offcut = SheetKind(
        f"{piece.pencil} short",
        *sides,
        panel.material,
        panel.thickness_m,
        0.0,
        1,
        "length",
        offcut=True,
        trim=False,
        called=state("cutting.sheet.cut_short", panel=Name(piece.pencil)),
    )
    made = tuple(p for p in frozen.made if p.pencil != piece.pencil)
    return replace(frozen, made=made, lying=(*frozen.lying, offcut))


def then(before: Frozen, nest: Nest, after: Frozen) -> Frozen:
    """What exists after some cuts of a ``nest`` that was itself made from what existed.

    Parameters
    ----------
    before
        What ``nest`` was laid on; what it left alone is still there.
    after
        As `freeze` gives it for ``nest``.
    """
    used: dict[str, int] = {}
    for sheet in nest.sheets:
        used[sheet.kind.key] = used.get(sheet.kind.key, 0) + 1
    rest = [k for k in before.lying if k.key not in used]
    spare = [
        replace(k, limit=(k.limit or 0) - used.get(k.key, 0))
        for k in before.whole
        if (k.limit or 0) > used.get(k.key, 0)
    ]
    taken = {k.key for k in (*rest, *spare)}
    # A piece of a sheet begun now may be counted as one of an earlier round was.
    names = {k.name for k in (*rest, *after.whole)}

    def own(kind: SheetKind) -> SheetKind:
        while kind.key in taken or (not kind.on_hand and kind.name in names):
            called = kind.name
            if not kind.on_hand:
                called = state("cutting.sheet.again", sheet=kind.name)
            kind = replace(kind, key=f"{kind.key} again", called=called)
        return kind

    renamed = {k.key: own(k) for k in (*after.lying, *after.whole)}
    return Frozen(
        (*before.made, *after.made),
        (*rest, *(renamed[k.key] for k in after.lying)),
        (*spare, *(renamed[k.key] for k in after.whole)),
        tuple((renamed[key].key, pieces) for key, pieces in after.planned),
    )


def short_panel(
    piece: Placed,
    length_m: float,
    width_m: float,
    panels: Sequence[Panel],
    sheets: Sequence[SheetKind],
    saw: Saw,
    frozen: Frozen,
) -> list[ShortAnswer]:
    """What to do about a panel cut to ``length_m`` by ``width_m`` instead of its size.

    The easiest first: use it as it is, shim it, recut it (with the nest and what it costs
    more; the short piece counts as an offcut), or let the design follow it.
    """
    panel = next(p for p in panels if p.name == piece.panel)
    if length_m <= 0 or width_m <= 0:
        raise ValueError(f"measured {length_m:g} by {width_m:g} m; both must be more than zero")
    pencil = Name(piece.pencil)
    missing = (panel.length_m - length_m, panel.width_m - width_m)
    worst = max(missing)
    if worst <= fact("cutting.close_enough").value:
        return [ShortAnswer("use", state("cutting.short.use", panel=pencil))]
    answers: list[ShortAnswer] = []
    if worst <= fact("cutting.largest_shim").value:
        lacking = Listing(_lacking(*missing))
        answers.append(
            ShortAnswer("shim", state("cutting.short.shim", panel=pencil, lacking=lacking))
        )
    before = nest_rest(panels, sheets, saw, frozen)
    after = nest_rest(panels, sheets, saw, cut_short(frozen, piece, length_m, width_m, panel))
    extra = after.sheets_bought - before.sheets_bought
    recut = state("cutting.short.recut", panel=pencil, sheets=max(extra, 0))
    answers.append(ShortAnswer("recut", recut, after.cost - before.cost, extra, after))
    follow = state(
        "cutting.short.follow",
        panel=Name(panel.name),
        length=Amount(length_m, "length"),
        width=Amount(width_m, "length"),
    )
    answers.append(ShortAnswer("follow", follow))
    return answers


def _lacking(length_m: float, width_m: float) -> tuple[Statement, ...]:
    """By how much a panel is short, along each side where it is [m]."""
    close = fact("cutting.close_enough").value
    found = []
    if length_m > close:
        found.append(state("cutting.short.in_length", by=Amount(length_m, "length", "cut")))
    if width_m > close:
        found.append(state("cutting.short.in_width", by=Amount(width_m, "length", "cut")))
    return tuple(found)
