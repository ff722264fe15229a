"""Sentences and cells that the terminal, the printed plan and the tables share."""

from __future__ import annotations

from .air import BranchTool, ToolAir
from .facts import Band, Term
from .hookup import Chain
from .hookup.model import Piece
from .plan import Plan
from .quantity import UnitChoice, show, show_range
from .shopping import total
from .words import Voice


def span(reading: Band, units: UnitChoice) -> str:
    """A range in short: ``72 to 85 cfm``; in both units on demand."""
    return show_range(reading.low, reading.high, reading.dimension, units)


def airflow(air: ToolAir | BranchTool, units: UnitChoice) -> str:
    """The band of the airflow at the hood."""
    return span(Band.of(air.airflow_m3_s, "airflow"), units)


def wanted(air: ToolAir | BranchTool, units: UnitChoice) -> str:
    """The band of the airflow that the hood wants."""
    limit = air.caught.finding.limit
    return span(limit, units) if limit else "not known"


def piece_text(piece: Piece, voice: Voice) -> str:
    """A fitting with where it comes from."""
    return voice.word("hookup.piece", piece=piece.called, origin=piece.origin)


def chain_text(chain: Chain, voice: Voice) -> str:
    """A chain in one line, from port to hose."""
    if not chain.reached:
        return voice.word("hookup.nothing_joins")
    plate = [voice.word("hookup.to_make", made=chain.plate.kind)] if chain.plate else []
    pieces = [*plate, *(piece_text(p, voice) for p in chain.pieces)]
    return " → ".join([*pieces, chain.hose or voice.text(chain.finish)])


def joints_text(chain: Chain, voice: Voice) -> str:
    """How each joint of a chain holds."""
    return "; ".join(
        voice.word(
            "hookup.joint",
            upstream=joint.upstream,
            downstream=joint.downstream,
            way={"a": "into", "b": "over", "": "to"}[joint.fit.inner],
            fit=Term("fit", joint.fit.kind),
        )
        for joint in chain.joints
    )


def size_text(plan: Plan) -> str:
    """Length × width × height of the unit."""
    if plan.cart is None:
        return ""
    s, u = plan.cart.sizes, plan.units
    return " × ".join(show(v, "length", u) for v in (s.length_m, s.width_m, s.height_m))


def money(plan: Plan, amount: float) -> str:
    """An amount in the shop's money."""
    sign = plan.shop.shop.currency
    number = f"{amount:,.0f}" if amount == int(amount) and abs(amount) >= 1 else f"{amount:,.2f}"
    return f"{sign}{number}" if len(sign) == 1 else f"{number} {sign}"


def bill(plan: Plan) -> str:
    """What all there is to buy costs, and how many items have no price."""
    known = f"about {money(plan, round(total(plan.shopping)))}"
    without = sum(line.price is None for line in plan.shopping)
    if not without:
        return known
    return f"{known}, and {without} item{'s' if without > 1 else ''} without a known price"


def sheets_text(plan: Plan) -> str:
    """How many sheets of which kind."""
    if plan.nest is None:
        return ""
    counts: dict[str, int] = {}
    for sheet in plan.nest.sheets:
        counts[sheet.kind.key] = counts.get(sheet.kind.key, 0) + 1
    return " and ".join(f"{n} sheet{'s' if n > 1 else ''} of {name}" for name, n in counts.items())
