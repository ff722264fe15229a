"""Numbers behind what a cart can have besides: handle, holders, rack, drawer, shelf, switch."""

from __future__ import annotations

from .kinds import Fact, Source

_IN = 0.0254

SOURCES: tuple[Source, ...] = (
    Source(
        "ccohs-carts",
        "Canadian Centre for Occupational Health and Safety, Pushing and Pulling: Handcarts",
        "memory",
    ),
    Source(
        "ada-2010",
        "United States Department of Justice, 2010 ADA Standards for Accessible Design",
        "memory",
    ),
)

FACTS: tuple[Fact, ...] = (
    Fact(
        "cart.handle.height",
        "Handle of a cart that a standing adult pushes",
        1.0,
        "m",
        "ccohs-carts",
        low=0.91,
        high=1.12,
    ),
    Fact(
        "cart.handle.grip", "Height of a bar that a hand closes round", 1.5 * _IN, "m", "practice"
    ),
    Fact(
        "cart.handle.knuckles",
        "Free depth between a bar and what is behind it",
        1.5 * _IN,
        "m",
        "ada-2010",
        "609.3: grab bars 1-1/2 in off the wall",
    ),
    Fact(
        "cart.hose.wall",
        "From a hose's bore to the outside of its ribs, with a little play",
        0.005,
        "m",
        "practice",
    ),
    Fact(
        "cart.hose.mass",
        "Mass of a metre of ribbed hose over its bore",
        6.0,
        "kg/m²",
        "practice",
        low=3.5,
        high=9.0,
    ),
    Fact(
        "cart.hose.off_floor", "A hung hose stays this far off the floor", 2 * _IN, "m", "practice"
    ),
    Fact(
        "cart.cord.diameter",
        "Thickness of a heavy three-wire cord",
        0.009,
        "m",
        "practice",
        low=0.007,
        high=0.011,
    ),
    Fact("cart.cord.length", "A vacuum's own cord", 3.6, "m", "practice", low=1.8, high=6.1),
    Fact(
        "cart.fitting.density",
        "Plastic and rubber of fittings",
        1100.0,
        "kg/m³",
        "practice",
        low=900.0,
        high=1350.0,
    ),
    Fact("cart.fitting.play", "A fitting's hole over its measured outside", 0.002, "m", "practice"),
    Fact(
        "cart.fitting.fingers", "Free around a fitting, to take hold of it", 0.006, "m", "practice"
    ),
    Fact("cart.peg.play", "A peg under a fitting's measured inside", 0.003, "m", "practice"),
    Fact("cart.peg.height", "A peg's height over the board", 0.045, "m", "practice"),
    Fact("cart.drawer.play", "Play on each side of a wooden drawer", 0.0015, "m", "practice"),
    Fact(
        "cart.drawer.hand",
        "Inside width of a drawer that a hand, some 95 mm broad, reaches into, at least",
        0.1016,
        "m",
        "practice",
    ),
    Fact(
        "cart.drawer.load", "What lies in a small drawer", 2.0, "kg", "practice", low=0.0, high=4.0
    ),
    Fact(
        "cart.side_shelf.load",
        "What stands on a small shelf",
        2.0,
        "kg",
        "practice",
        low=0.0,
        high=4.0,
    ),
    Fact("cart.strip.length", "A switched outlet strip", 12 * _IN, "m", "practice"),
    Fact("cart.strip.width", "Its width", 2.25 * _IN, "m", "practice"),
    Fact("cart.strip.depth", "How far it stands out", 1.75 * _IN, "m", "practice"),
    Fact("cart.strip.mass", "Its mass", 0.6, "kg", "practice", low=0.4, high=1.0),
    Fact("cart.strip.plugs", "Free in front of it for plugs and cords", 2.5 * _IN, "m", "practice"),
    Fact(
        "cart.switch.reach",
        "Height within which a switch is reached without bending or stretching far",
        1.0,
        "m",
        "ada-2010",
        "308.2.1: 15 in to 48 in",
        low=15 * _IN,
        high=48 * _IN,
    ),
)
