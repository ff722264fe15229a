"""Hoods and operations: what surrounds the cut, and what is done to the wood.

What a tool needs is keyed by these, never by the tool's name.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Dust = Literal["flour", "fine", "chips", "shavings", "heavy"]


@dataclass(frozen=True)
class Hood:
    """One kind of hood.

    ``duct_m`` is the bore of the duct that hoods of the kind are drawn for [m]; ``made_for``
    says whether that is a vacuum hose or a dust collector's duct.
    """

    key: str
    made_for: Literal["vacuum hose", "duct"]
    duct_m: float
    operations: tuple[str, ...]


@dataclass(frozen=True)
class Operation:
    """One way of working wood, and the dust that comes of it."""

    key: str
    dust: Dust


#: Hoods of tools that a hand holds up, hose and all.
HAND_HELD = frozenset({"pad holes", "belt shroud", "saw shroud", "router base"})
#: The hood whose need follows from the face it covers.
BOX = "hood box"

HOODS: dict[str, Hood] = {
    h.key: h
    for h in (
        Hood("pad holes", "vacuum hose", 0.032, ("sanding",)),
        Hood("belt shroud", "vacuum hose", 0.032, ("sanding",)),
        Hood("disc table", "duct", 0.1016, ("sanding",)),
        Hood("saw shroud", "vacuum hose", 0.038, ("sawing",)),
        Hood("mitre boot", "vacuum hose", 0.064, ("sawing",)),
        Hood("band saw port", "duct", 0.1016, ("sawing",)),
        Hood("saw cabinet", "duct", 0.1016, ("sawing",)),
        Hood("blade guard", "vacuum hose", 0.064, ("sawing",)),
        Hood("router fence", "vacuum hose", 0.064, ("routing",)),
        Hood("router base", "vacuum hose", 0.038, ("routing",)),
        Hood("planer hood", "duct", 0.1016, ("planing",)),
        Hood("jointer chute", "duct", 0.1016, ("planing",)),
        Hood("drill fence", "vacuum hose", 0.064, ("drilling",)),
        Hood("lathe hood", "duct", 0.1016, ("sanding", "turning")),
        Hood("floor nozzle", "vacuum hose", 0.064, ("sweeping",)),
        Hood(
            BOX,
            "vacuum hose",
            0.064,
            ("sanding", "sawing", "routing", "planing", "drilling", "turning"),
        ),
        Hood("bench nozzle", "vacuum hose", 0.064, ("sanding", "sweeping")),
    )
}

OPERATIONS: dict[str, Operation] = {
    o.key: o
    for o in (
        Operation("sanding", "flour"),
        Operation("sawing", "fine"),
        Operation("routing", "chips"),
        Operation("planing", "shavings"),
        Operation("drilling", "chips"),
        Operation("turning", "shavings"),
        Operation("sweeping", "heavy"),
    )
}
