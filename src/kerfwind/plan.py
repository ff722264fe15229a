"""The order in which the rooms are asked, and the whole result."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from . import __version__
from .air import Piece, ToolAir, tool_air
from .cart import Cart
from .cutting import CutStep, Nest
from .finding import Finding, as_record, ordered
from .hookup import Chain, Hookups, choose
from .power import circuit_findings
from .quantity import Draw, UnitChoice
from .record import record
from .search.sheet_choice import (
    Build,
    NoBuild,
    cheapest_build,
    nest_finding,
    sheet_groups,
)
from .shop import Hose, Shop, ShopFile, Tool
from .shop.narrow import narrow
from .shopping import ShoppingLine, shopping
from .stages import Stages

#: Samples of everything uncertain: a likelihood is stable to about two points.
SAMPLES = 2048

Tell = Callable[[str], None]


@dataclass(frozen=True)
class Plan:
    """Everything computed for one shop file. ``build`` is None where no cart can be."""

    file: ShopFile
    draw: Draw
    hookups: Hookups
    air: tuple[ToolAir, ...]
    build: Build | None
    shopping: tuple[ShoppingLine, ...]
    findings: tuple[Finding, ...]

    @property
    def shop(self) -> Shop:
        """The shop it was made for."""
        return self.file.shop

    @property
    def title(self) -> str:
        """What to call it."""
        return self.shop.shop.name

    @property
    def units(self) -> UnitChoice:
        """Units to print in."""
        return self.shop.shop.units

    @property
    def cart(self) -> Cart | None:
        """The cart, where one can be built."""
        return self.build.cart if self.build else None

    @property
    def nest(self) -> Nest | None:
        """Its panels on sheets."""
        return self.build.nest if self.build else None

    @property
    def cuts(self) -> tuple[CutStep, ...]:
        """The order of cuts."""
        return self.build.cuts if self.build else ()


def make_plan(
    file: ShopFile,
    *,
    samples: int = SAMPLES,
    seed: int = 20,
    stages: Stages | None = None,
    tell: Tell = lambda text: None,
) -> Plan:
    """Plan the whole unit.

    The same file, samples and seed give the same plan.

    Parameters
    ----------
    stages
        Kept by the caller between two plans, it spares the stages whose inputs are
        unchanged.
    tell
        Called with the name of each stage as it begins.
    """
    stages = stages if stages is not None else Stages()
    shop, draw = file.shop, Draw(samples, seed)
    tell("choosing fittings")
    hookups = stages.run(
        "hookup", choose,
        narrow(shop, "shop", "vacuum", "separator", "hoses", "tools", "fittings"), draw,
    )  # fmt: skip
    tell("building the cart and nesting its panels")
    build = cheapest_build(
        narrow(shop, "shop", "vacuum", "separator", "hoses", "wishes", "room", "saw"),
        sheet_groups(shop), shop.saw, draw, stages,
    )  # fmt: skip
    tell("solving the air")
    cart = build.cart if isinstance(build, Build) else None
    air = tuple(_air(shop, tool, hookups, cart, draw, stages) for tool in shop.tools)
    tell("checking circuits")
    power = stages.run("power", circuit_findings, narrow(shop, "vacuum", "tools", "circuit"), draw)
    findings = [
        *(f for each in air for f in each.findings),
        *hookups.findings,
        *(build.cart.findings if isinstance(build, Build) else _refused(build)),
        *([nest_finding(build)] if isinstance(build, Build) else []),
        *power,
    ]
    built = build if isinstance(build, Build) else None
    return Plan(
        file, draw, hookups, air, built,
        shopping(
            hookups, built.cart if built else None, built.nest if built else None,
            shop.shop.units,
        ),
        tuple(ordered(findings)),
    )  # fmt: skip


def hose_of(shop: Shop, name: str) -> Hose:
    """The hose called ``name``."""
    return next(h for h in shop.hoses if h.name == name)


def link_of(shop: Shop) -> Hose | None:
    """The hose between separator and vacuum."""
    return next((h for h in shop.hoses if h.use == "link"), None)


def pieces_of(chain: Chain) -> tuple[Piece, ...]:
    """A chain's fittings as the air room wants them."""
    return tuple(Piece(p.fitting, p.turned) for p in chain.pieces)


def _air(
    shop: Shop, tool: Tool, hookups: Hookups, cart: Cart | None, draw: Draw, stages: Stages
) -> ToolAir:
    chain = hookups.chain(tool.name)
    view = narrow(shop, "vacuum", "separator", "hoses", "room", "shop")
    path = cart.hose if cart else None
    return stages.run(
        f"air of {tool.name}", _tool_air, view, tool, hose_of(shop, chain.hose), pieces_of(chain),
        link_of(shop), draw, path.length_m if path else None,
        path.turn_rad / (math.pi / 2) if path else None,
    )  # fmt: skip


def _tool_air(
    shop: Shop, tool: Tool, hose: Hose, pieces: tuple[Piece, ...], link: Hose | None, draw: Draw,
    link_length_m: float | None, link_bends: float | None,
) -> ToolAir:  # fmt: skip
    return tool_air(
        shop, tool, hose, pieces, link, draw, link_length_m=link_length_m, link_bends=link_bends
    )


def _refused(reason: NoBuild) -> list[Finding]:
    return [
        Finding(
            key="cart.cannot_build", room="cart", about="cart", check="a cart that meets the wishes",
            level="problem", answer=f"{u.wish}: found {u.found}; allowed: {u.allowed}.",
            do=u.mend,
        )
        for u in reason.unmet
    ] + [
        Finding(
            key="cutting.cannot_nest", room="cutting", about="sheets", check="panels on sheets",
            level="problem", answer=text, do="Add a larger sheet to the shop file.",
        )
        for text in reason.problems
    ]  # fmt: skip


def plan_record(plan: Plan) -> dict[str, Any]:
    """The whole plan as plain data in SI, for `plan.json`."""
    body = {
        "kerfwind": __version__,
        "samples": plan.draw.count,
        "seed": plan.draw.seed,
        "shop": plan.shop,
        "assumptions": plan.file.assumptions,
        "hookups": plan.hookups,
        "air": plan.air,
        "build": plan.build,
        "shopping": plan.shopping,
    }
    return {
        **record(body, plan.draw.count),
        "findings": [as_record(f) for f in plan.findings],
    }
