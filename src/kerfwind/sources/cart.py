"""Numbers behind the cart room."""

from __future__ import annotations

from .kinds import Fact, Source

_IN = 0.0254

SOURCES: tuple[Source, ...] = (
    Source(
        "iec-60335-1",
        "IEC 60335-1, Household and similar electrical appliances: Safety, Part 1",
    ),
    Source(
        "nds",
        "American Wood Council, National Design Specification for Wood Construction",
    ),
    Source(
        "wood-handbook",
        "USDA Forest Products Laboratory, Wood Handbook: Wood as an Engineering Material",
        "memory",
    ),
    Source(
        "thompson-darwin",
        "Thompson and Darwin, density of loose sawdust against the solid wood",
    ),
)

FACTS: tuple[Fact, ...] = (
    Fact(
        "cart.tilt.angle", "Slope on which it must not overturn, in its worst position, wheels "
        "blocked", 0.17453292519943295, "rad", "iec-60335-1", "clause 20.1",
    ),
    Fact(
        "cart.plywood.density", "Density of plywood, dry", 590.0, "kg/m³", "practice",
        low=460.0, high=720.0,
    ),
    Fact(
        "cart.sawdust.density", "Loose sawdust: 184 kg/m³ for red oak, 141 for yellow-poplar; "
        "wider here, since dust settles under vibration and may be damp", 190.0, "kg/m³",
        "thompson-darwin", low=110.0, high=300.0,
    ),
    Fact(
        "cart.vacuum.centre_height", "Centre of mass of a shop vacuum as a share of its height: "
        "the motor sits on top", 0.55, "", "practice", low=0.45, high=0.65,
    ),
    Fact(
        "cart.air.gap", "Free distance in front of a motor's air openings", 2 * _IN, "m",
        "practice",
    ),
    Fact(
        "cart.lift.gap", "Free height left over the vacuum when it is lifted over the lipping",
        0.5 * _IN, "m", "practice",
    ),
    Fact(
        "cart.lip.height", "Lipping stands this far above the bottom to keep wheels from rolling "
        "over it", 1.5 * _IN, "m", "practice",
    ),
    Fact(
        "cart.opening.play", "Opening over the bucket's diameter, so that it drops in", 0.125 * _IN,
        "m", "practice",
    ),
    Fact(
        "cart.rim.bearing", "Least width of rim that rests on wood, each side", 0.003, "m",
        "practice",
    ),
    Fact(
        "cart.shelf.margin", "Wood left around the opening in the shelf", 1.5 * _IN, "m",
        "practice",
    ),
    Fact(
        "cart.screw.carries", "Screw through 3/4 in into an edge, where it carries", 2.5 * _IN, "m",
        "practice",
    ),
    Fact(
        "cart.screw.lipping", "Screw through 3/4 in into an edge, for lipping", 1.5 * _IN, "m",
        "practice",
    ),
    Fact(
        "cart.screw.end_distance", "Screw from the end of an edge, at least", 1.5 * _IN, "m",
        "practice",
    ),
    Fact(
        "cart.screw.spacing", "Screws along a glued joint, at most", 6 * _IN, "m", "practice",
    ),
    Fact(
        "cart.screw.point", "Wood left before a screw's point", 0.003, "m", "practice",
    ),
    Fact(
        "cart.thickness.least", "Thinnest plywood whose edge takes a screw", 0.011, "m", "practice",
    ),
    Fact(
        "cart.thickness.most", "Thickest plywood these screws are made for", 0.030, "m", "practice",
    ),
    Fact(
        "cart.caster.plate_length", "Plate of a 3 in swivel caster, long side", 3.625 * _IN, "m",
        "practice",
    ),
    Fact(
        "cart.caster.plate_width", "Plate of a 3 in swivel caster, short side", 2.375 * _IN, "m",
        "practice",
    ),
    Fact(
        "cart.caster.trail", "Wheel's contact behind its swivel axis, as a share of the wheel's "
        "diameter", 0.42, "", "practice", low=0.33, high=0.5,
    ),
    Fact(
        "cart.caster.tread", "Width of a caster's wheel as a share of its diameter", 0.42, "",
        "practice",
    ),
    Fact(
        "cart.caster.mass", "One swivel caster of 3 in", 0.40, "kg", "practice", low=0.25, high=0.6,
    ),
    Fact(
        "cart.door.play", "Door left free beside what passes it, in all", 0.5 * _IN, "m", "practice",
    ),
    Fact(
        "cart.rail.width", "Width of the rails that keep it square", 4 * _IN, "m", "practice",
    ),
    Fact(
        "cart.floor.unevenness", "A floor, cord or threshold lifts one wheel of four, so that the "
        "others carry all", 1.0, "", "practice",
    ),
)  # fmt: skip
