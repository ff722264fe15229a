"""The wall chart: each tool's chain piece by piece, and where every fitting lives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..facts import Fact, Ref, Term, state
from ..shop import End, Fitting
from .fits import FitKind
from .model import Chain, Hookups, Joint, Piece

#: The home of a shared fitting for which the cart has no place.
LOOSE = Term("home", "loose")


@dataclass(frozen=True)
class ChartJoint:
    """Where two pieces meet: the inner's outside and the outer's inside diameter [m]."""

    inner: Fact
    outer: Fact
    inner_outside_m: float
    outer_inside_m: float
    kind: FitKind
    remade: bool


@dataclass(frozen=True)
class ChartRow:
    """One tool: tags of its pieces in order, what they are, and the joints between.

    ``changes`` are the joints to make when the tool is hooked up.
    """

    tool: str
    hose: str
    tags: tuple[str, ...]
    pieces: tuple[Fact, ...]
    turned: tuple[bool, ...]
    joints: tuple[ChartJoint, ...]
    changes: int
    reached: bool


@dataclass(frozen=True)
class Label:
    """A sticker for one fitting: its tag, what it is, both its sizes, and its home."""

    tag: str
    what: Fact
    end_a_m: tuple[float, float]
    end_b_m: tuple[float, float]
    home: Fact
    tools: tuple[str, ...]


@dataclass(frozen=True)
class WallChart:
    """Rows by tool, and the labels to cut out."""

    rows: tuple[ChartRow, ...]
    labels: tuple[Label, ...]


def on_the_cart(hookups: Hookups, owned: Sequence[Fitting]) -> tuple[Fitting, ...]:
    """Every fitting whose place is on the cart, one by one.

    First those that several tools share, in the order of the wall chart; then the owned ones
    that no chain uses.
    """
    shared: dict[tuple[Fact, str], Fitting] = {}
    used: dict[tuple[Fact, str], str] = {}
    for chain in hookups.tools:
        for number, piece in enumerate(chain.pieces):
            key = (piece.called, _keeper(chain, piece, number))
            if piece.stays == "shared":
                shared.setdefault(key, piece.fitting)
            if piece.origin == "owned":
                used[key] = piece.fitting.name
    for chain in hookups.unit:
        for number, piece in enumerate(chain.pieces):
            if piece.origin == "owned":
                used[(chain.start, str(number))] = piece.fitting.name
    names = list(used.values())
    spare = [f for f in owned for _ in range(f.count - names.count(f.name))]
    return tuple(f.model_copy(update={"count": 1}) for f in (*shared.values(), *spare))


def wall_chart(
    hookups: Hookups, owned: Sequence[Fitting] = (), places: Sequence[Fact] = ()
) -> WallChart:
    """The chart of a shop's hookups.

    Tags run A, B, C … through the chains; a fitting that stays where it is has a tag of
    its own for each copy, a shared one the same wherever it is used.

    Parameters
    ----------
    owned
        Fittings owned, for the labels of those that no chain uses.
    places
        Where the cart keeps what is `on_the_cart`, in that order; without them it is loose.
    """
    homes: dict[str, Fact] = {}
    tags: dict[tuple[Fact, str], str] = {}
    seen: dict[str, tuple[Piece, list[str]]] = {}
    pegs = 0
    rows = []
    for chain in hookups.tools:
        own_tags = []
        for number, piece in enumerate(chain.pieces):
            key = (piece.called, _keeper(chain, piece, number))
            if key not in tags:
                tags[key] = _tag(len(tags))
                if piece.stays == "shared":
                    homes[tags[key]] = places[pegs] if pegs < len(places) else LOOSE
                    pegs += 1
                else:
                    on_hose = piece.stays == "hose"
                    keeper = Ref("hose", chain.hose) if on_hose else Ref("tool", chain.tool)
                    homes[tags[key]] = state("hookup.home", keeper=keeper)
            tag = tags[key]
            own_tags.append(tag)
            seen.setdefault(tag, (piece, []))[1].append(chain.tool)
        rows.append(_row(chain, tuple(own_tags)))
    labels = tuple(
        Label(
            tag,
            piece.called,
            _sizes(piece, "a"),
            _sizes(piece, "b"),
            homes[tag],
            tuple(dict.fromkeys(tools)),
        )
        for tag, (piece, tools) in seen.items()
    )
    spare = on_the_cart(hookups, owned)[pegs:] if places else ()
    labels += tuple(
        Label(_tag(len(tags) + i), f.called, _measures(f.end_a), _measures(f.end_b), place, ())
        for i, (f, place) in enumerate(zip(spare, places[pegs:], strict=True))
    )
    return WallChart(tuple(rows), labels)


def _keeper(chain: Chain, piece: Piece, number: int) -> str:
    if piece.stays == "shared":
        # Two of a kind in one chain are two things.
        before = [p.called for p in chain.pieces[:number]]
        return f"shared {before.count(piece.called)}"
    return chain.hose if piece.stays == "hose" else f"{chain.tool} {number}"


def _tag(number: int) -> str:
    letter = chr(ord("A") + number % 26)
    return letter if number < 26 else f"{letter}{number // 26 + 1}"


def _sizes(piece: Piece, which: str) -> tuple[float, float]:
    return _measures(piece.fitting.end_a if which == "a" else piece.fitting.end_b)


def _measures(end: End) -> tuple[float, float]:
    return end.inside.best_si, end.outside.best_si


def _row(chain: Chain, tags: tuple[str, ...]) -> ChartRow:
    return ChartRow(
        chain.tool,
        chain.hose,
        tags,
        tuple(p.called for p in chain.pieces),
        tuple(p.turned for p in chain.pieces),
        tuple(_joint(j) for j in chain.joints),
        chain.changes,
        chain.reached,
    )


def _joint(joint: Joint) -> ChartJoint:
    swapped = joint.fit.inner == "b"
    ends = (joint.upstream_end, joint.downstream_end)
    owners = (joint.upstream, joint.downstream)
    inner, outer = (ends[1], ends[0]) if swapped else ends
    inner_owner, outer_owner = (owners[1], owners[0]) if swapped else owners
    return ChartJoint(
        inner_owner,
        outer_owner,
        inner.outside.best_si,
        outer.inside.best_si,
        joint.fit.kind,
        joint.remade,
    )
