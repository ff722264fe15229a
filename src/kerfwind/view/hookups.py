"""From each port to the hose as people see it: chains, the next best, the wall chart, parking."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..facts import Amount, Fact, Listing, Name, Ref, Term, state
from ..hookup import Chain, Joint, Piece
from ..hookup.chart import ChartJoint
from ..hookup.findings import SURE
from ..hookup.reach import ReachChoice
from ..plan import Plan
from ..shopping import guesses_in
from ..words import Voice


@dataclass(frozen=True)
class ChainRow:
    """One chain in words; ``tool`` is empty for a joint of the unit itself."""

    tool: str
    name: str
    line: str
    joints: str
    pieces: int


@dataclass(frozen=True)
class AirRow:
    """The airflow at one tool as planned and by the next best answer."""

    tool: str
    taken: str
    other: str


@dataclass(frozen=True)
class NextBest:
    """The runner-up: what it costs, what it does differently, what it does to the air."""

    text: str
    differs: tuple[str, ...]
    air: str
    rows: tuple[AirRow, ...]


@dataclass(frozen=True)
class ParkingRow:
    """One choice of hoses against moves."""

    hose: str
    moves: str
    lost: str
    price: str
    left: str


@dataclass(frozen=True)
class GainRow:
    """What one more fitting would change."""

    name: str
    price: str
    tools: str


@dataclass(frozen=True)
class TaggedPiece:
    """A piece on the wall chart."""

    tag: str
    name: str


@dataclass(frozen=True)
class WallJoint:
    """The sizes that meet, and how they hold."""

    sizes: str
    kind: str


@dataclass(frozen=True)
class WallRow:
    """One tool of the wall chart."""

    tool: str
    hose: str
    pieces: tuple[TaggedPiece, ...]
    joints: tuple[WallJoint, ...]


@dataclass(frozen=True)
class WallLabel:
    """A label to cut out and stick on."""

    tag: str
    name: str
    sizes: str
    home: str


def chain_text(chain: Chain, voice: Voice) -> str:
    """A chain in one line, from port to hose."""
    if not chain.reached:
        return voice.word("hookup.nothing_joins")
    plate: list[Fact] = [state("hookup.to_make", made=chain.plate.kind)] if chain.plate else []
    last: Fact = Ref("hose", chain.hose) if chain.hose else chain.finish
    pieces = [*plate, *map(_piece, chain.pieces), last]
    return voice.text(Listing(tuple(pieces), "arrows"))


def _piece(piece: Piece) -> Fact:
    return state("hookup.piece", piece=piece.called, origin=piece.origin)


def chain_rows(plan: Plan, voice: Voice) -> list[ChainRow]:
    """Every chain, those of the tools first."""
    return [
        ChainRow(
            chain.tool,
            voice.text(chain.about),
            chain_text(chain, voice),
            voice.text(Listing(tuple(_joint(j) for j in chain.joints), "semicolons")),
            len(chain.pieces),
        )
        for chain in (*plan.hookups.tools, *plan.hookups.unit)
    ]


def _joint(joint: Joint) -> Fact:
    return state(
        "hookup.joint",
        upstream=joint.upstream,
        downstream=joint.downstream,
        way={"a": "into", "b": "over", "": "to"}[joint.fit.inner],
        fit=Term("fit", joint.fit.kind),
    )


def next_best(plan: Plan, voice: Voice) -> NextBest | None:
    """The runner-up, what it does differently, and both airflows where they differ."""
    hookups = plan.hookups
    other, solved = hookups.runner_up, hookups.in_air
    if other is None:
        return None
    more = solved.other_weight - solved.weight if solved else other.weight - hookups.weight
    turned = solved is not None and solved.turned
    # Fittings are priced by guesses, which are in dollars whatever money the shop counts in.
    spoken = voice if guesses_in(voice.currency) else replace(voice, currency="$")
    text = spoken.word(
        "view.next",
        settled="turned" if turned else "proven" if hookups.proven else "bounded",
        cost=_money(hookups.cost),
        weight=_money(hookups.weight),
        bound=_money(hookups.bound),
        other=_money(other.cost),
        more=_money(max(more, 0.0)),
    )
    told = solved.told if solved else ()
    if solved is None or not told:
        air = voice.word("view.next.same_air")
    elif solved.other_better:
        air = voice.word("view.next.better_air")
    else:
        air = voice.word("view.next.air")
    rows = tuple(
        AirRow(t.tool, _airflow(t.taken_m3_s, voice), _airflow(t.other_m3_s, voice)) for t in told
    )
    return NextBest(text, tuple(map(voice.text, other.differs)), air, rows)


def _money(amount: float) -> Amount:
    return Amount(round(amount, 1), "money")


def _airflow(airflow_m3_s: float, voice: Voice) -> str:
    return voice.text(Amount(airflow_m3_s, "airflow"))


def parking_rows(plan: Plan, voice: Voice) -> list[ParkingRow]:
    """Fewest moves against the shortest hose: one row a choice."""
    return [_parking(choice, voice) for choice in plan.floor.choices] if plan.floor else []


def _parking(choice: ReachChoice, voice: Voice) -> ParkingRow:
    new = choice.hose(choice.changed) if choice.changed else None
    hoses = (new,) if new else choice.hoses
    used = Listing(
        tuple(
            state(
                "view.parking.hose", hose=Ref("hose", h.name), length=Amount(h.length_m, "length")
            )
            for h in hoses
        ),
        "commas",
    )
    lost = Listing(tuple(Amount(h.loss_pa, "pressure") for h in hoses), "commas")
    left = Listing(tuple(Ref("tool", tool) for tool in choice.unserved), "commas")
    price = Amount(round(choice.price), "money")
    return ParkingRow(
        voice.word("view.parking.hoses", hoses=used, new="yes" if new else "no"),
        voice.count(choice.moves),
        voice.text(lost),
        _about(price, voice) if new else "",
        voice.text(left) or voice.word("view.parking.none"),
    )


def _about(price: Amount, voice: Voice) -> str:
    """What something costs by a guess; empty in money that none is made in."""
    return voice.word("view.about", price=price) if guesses_in(voice.currency) else ""


def gain_rows(plan: Plan, voice: Voice) -> list[GainRow]:
    """Purchases beyond the plan that would gain air where it can be told."""
    rows = []
    for gain in plan.gains:
        told = [
            (t.tool, _airflow(t.before_m3_s, voice), _airflow(t.after_m3_s, voice))
            for t in gain.tools
        ]
        tools = tuple(
            state("view.gain", tool=Ref("tool", tool), before=Name(before), after=Name(after))
            for tool, before, after in told
            if before != after
        )
        if tools:
            price = _about(Amount(gain.price, "money"), voice)
            rows.append(
                GainRow(voice.text(gain.fitting), price, voice.text(Listing(tools, "commas")))
            )
    return rows


def reducer_texts(plan: Plan, voice: Voice) -> list[tuple[str, str]]:
    """Each printed reducer's name, and what it takes to print it."""
    return [
        (
            voice.text(r.called),
            voice.word(
                "view.reducer",
                mass=Amount(r.mass_kg, "mass", "fine"),
                price=Amount(round(r.material_price, 2), "money"),
                hours=Name(voice.count(r.time_s / 3600, 1)),
                wall=Name(voice.count(1000 * r.wall, 1)),
                allowance=Name(voice.count(1000 * r.allowance, 1)),
            ),
        )
        for r in plan.hookups.printed
    ]


def unsure(plan: Plan) -> list[str]:
    """Tools of which it is not settled that the parts fit one another."""
    return [c.tool for c in plan.hookups.tools if c.reached and c.likelihood < SURE]


def wall_rows(plan: Plan, voice: Voice) -> list[WallRow]:
    """The wall chart: each tool's chain by tags, with the sizes that meet."""
    near = voice.plain()

    def joint(joint: ChartJoint) -> WallJoint:
        sizes = voice.word(
            "view.wall.into",
            inner=Name(near.length(joint.inner_outside_m)),
            outer=Name(near.length(joint.outer_inside_m)),
        )
        return WallJoint(sizes, voice.text(Term("fit", joint.kind)))

    return [
        WallRow(
            row.tool,
            row.hose,
            tuple(
                TaggedPiece(tag, voice.text(piece))
                for tag, piece in zip(row.tags, row.pieces, strict=True)
            ),
            tuple(map(joint, row.joints)),
        )
        for row in plan.wall.rows
        if row.reached
    ]


def wall_labels(plan: Plan, voice: Voice) -> list[WallLabel]:
    """A label for each fitting: inside and outside of both its ends, and where it lives."""
    near = voice.plain()

    def end(sizes_m: tuple[float, float]) -> str:
        return " / ".join(map(near.length, sizes_m))

    return [
        WallLabel(
            each.tag,
            voice.text(each.what),
            voice.word(
                "view.wall.in_out", first=Name(end(each.end_a_m)), last=Name(end(each.end_b_m))
            ),
            voice.word("view.wall.lives", home=each.home),
        )
        for each in plan.wall.labels
    ]
