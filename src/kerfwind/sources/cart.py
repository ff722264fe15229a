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
    Source("asme-b18-6-1", "ASME B18.6.1, Wood Screws (Inch Series)", "memory"),
    Source(
        "windenburg-trilling",
        "Windenburg and Trilling, Collapse by instability of thin cylindrical shells under "
        "external pressure, Transactions of the ASME, 1934",
    ),
    Source(
        "ahn-pang-oh",
        "Ahn, Pang and Oh (2021), withdrawal of screws from plywood against the design formula",
    ),
    Source(
        "pope-jets",
        "Pope (2000), Turbulent Flows",
        "memory",
    ),
    Source(
        "beaufort",
        "World Meteorological Organization, Beaufort scale: force 4, from 5.5 m/s at 10 m, raises "
        "dust and loose paper",
        "memory",
    ),
    Source(
        "timoshenko-plates",
        "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells",
    ),
    Source(
        "niosh-lifting",
        "Waters, Putz-Anderson and Garg (1994), Applications Manual for the Revised NIOSH Lifting "
        "Equation",
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
        "cart.exhaust.head", "Height of the exhaust vents as a share of a shop vacuum's height: "
        "the motor sits in the head", 0.85, "", "practice", low=0.72, high=0.95,
    ),
    Fact(
        "cart.exhaust.vents", "Free area of a shop vacuum's exhaust vents together", 0.004, "m²",
        "practice", low=0.002, high=0.008,
    ),
    Fact(
        "cart.exhaust.decay", "Round jet: speed on its axis is this many exit diameters over the "
        "distance, times the exit speed", 5.9, "", "pope-jets", "table 5.1", low=5.8, high=6.06,
    ),
    Fact(
        "cart.exhaust.spread", "Round jet: radius at half the speed, over the distance", 0.097, "",
        "pope-jets", "table 5.1", low=0.094, high=0.102,
    ),
    Fact(
        "cart.exhaust.lifts", "Air along a floor that begins to lift dust: the wind that raises "
        "dust, brought down from 10 m to 0.1 m by the logarithmic profile over ground between "
        "smooth and grassy", 2.0, "m/s", "beaufort", low=1.1, high=2.8,
    ),
    Fact(
        "cart.bench.play", "Height left free under a bench that the cart rolls under", 0.5 * _IN,
        "m", "practice",
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
        "cart.screw.eighths", "Length of wood screws with countersunk heads between 3/4 and 1 in",
        0.875 * _IN, "m", "asme-b18-6-1", "lengths, in eighths up to 1 in",
    ),
    Fact(
        "cart.screw.clamps", "Of the second panel's thickness, what a screw bites that draws two "
        "glued faces together, at least", 1 / 3, "", "practice",
    ),
    Fact(
        "cart.screw.holds", "Of the second panel's thickness, what a screw bites that two faces "
        "are also held by, at least", 0.5, "", "practice",
    ),
    Fact(
        "cart.pocket.angle", "Slope of a pocket screw to the face", 0.2617993877991494, "rad",
        "practice", note="15 degrees",
    ),
    Fact(
        "cart.pocket.seat", "Wood under a pocket screw's head, along the screw, at least", 0.010,
        "m", "practice",
    ),
    Fact(
        "cart.pocket.beside", "Wood beside a pocket screw's point in the panel it is driven into, "
        "at least", 0.002, "m", "practice",
    ),
    Fact(
        "cart.pocket.margin", "Wood between a pocket and any other hole, opening or edge, at least",
        0.006, "m", "practice",
    ),
    Fact(
        "cart.pocket.spacing", "Pocket screws along a glued joint, at most", 6 * _IN, "m",
        "practice",
    ),
    Fact(
        "cart.screw.slanted", "What a slanted screw is allowed in withdrawal over a straight one: "
        "the toe-nail factor of the design standard, used for want of one for pocket screws", 0.67,
        "", "nds", "12.5.4", low=0.5, high=0.85, standing="memory",
    ),
    Fact(
        "cart.screw.bearing", "Dowel bearing strength of wood under a thin fastener, "
        "16600 G^1.84 pounds per square inch", 16600.0, "psi", "nds", "table 12.3.3 footnote 2",
        standing="memory",
    ),
    Fact(
        "cart.screw.bending", "Bending yield strength of wood screws of 4 mm shank", 90000.0, "psi",
        "nds", "table 12L", low=80000.0, high=90000.0, standing="memory",
    ),
    Fact(
        "cart.screw.in_end_grain", "Lateral load of a screw in end grain over that in side grain; "
        "taken for a plywood edge, half of whose plies are end grain", 0.67, "", "nds", "12.5.2",
        standing="memory",
    ),
    Fact(
        "cart.dado.depth", "Depth of a groove over the thickness of the panel it is cut in", 1 / 3,
        "", "practice",
    ),
    Fact(
        "cart.dado.play", "Groove wider than the panel that goes in, as measured", 0.0003, "m",
        "practice",
    ),
    Fact(
        "cart.dado.shoulder", "Wood left between a groove and the edge beside it, at least, over "
        "the thickness; a groove at the edge itself has none", 0.5, "", "practice",
    ),
    Fact(
        "cart.dado.stop", "A groove stops this far behind an edge that shows", 0.010, "m",
        "practice",
    ),
    Fact(
        "cart.dado.bearing", "Bearing of wood across the grain allowed for long, softest of the "
        "face woods", 2.3e6, "Pa", "nds", "supplement table 4A", standing="memory",
    ),
    Fact(
        "cart.glue.end_grain", "End grain glued to a face takes too little to be counted on",
        0.0, "", "wood-handbook", "chapter 10, end and corner joints", standing="memory",
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
    Fact(
        "cart.plywood.gravity", "Oven-dry specific gravity of plywood, by its face and core "
        "wood: eastern white pine 0.36, spruce-pine-fir 0.42, Douglas fir-larch 0.50, mixed "
        "maple 0.55", 0.45, "", "nds", "table 12.3.3A", low=0.36, high=0.55,
    ),
    Fact(
        "cart.plywood.modulus", "Bending modulus along the face grain of plywood", 7.5e9, "Pa",
        "wood-handbook", "chapter 12", low=5.5e9, high=10.0e9,
    ),
    Fact(
        "cart.plywood.modulus_ratio", "Bending modulus across the face grain over that along it, "
        "seven plies or so", 0.45, "", "practice", low=0.3, high=0.65,
    ),
    Fact(
        "cart.plywood.shear_modulus", "Shear modulus in the plane of the panel over the bending "
        "modulus along the grain", 0.08, "", "wood-handbook", "chapter 12", low=0.06, high=0.1,
    ),
    Fact(
        "cart.plywood.poisson", "Poisson's ratio in the plane of plywood", 0.1, "",
        "wood-handbook", low=0.05, high=0.2,
    ),
    Fact(
        "cart.plywood.bending_stress", "Bending stress of plywood allowed for long, along the "
        "face grain", 9.0e6, "Pa", "practice",
    ),
    Fact(
        "cart.plywood.creep", "Deflection of wood panels under lasting load over the first one",
        2.0, "", "nds", "3.5.2", standing="memory",
    ),
    Fact(
        "cart.shelf.sag", "Sag of a shelf that nobody minds, as a share of its span", 1 / 240, "",
        "practice",
    ),
    Fact(
        "cart.screw.withdrawal", "Allowable withdrawal of a wood screw from solid side grain, "
        "2850 G^2 D pounds per inch of thread; No. 10 in G 0.45: 110 lb/in", 110.0, "lb/in",
        "nds", "12.2",
    ),
    Fact(
        "cart.screw.in_edge", "What a plywood edge holds over the formula for solid side grain: "
        "tests show that the formula reads high for plywood, and edges hold less than faces",
        0.5, "", "ahn-pang-oh", "the share itself is common practice, no source", low=0.35, high=0.65,
        standing="practice",
    ),
    Fact(
        "cart.screw.in_face", "What a plywood face holds over the formula for solid side grain",
        0.75, "", "ahn-pang-oh", "the share itself is common practice, no source", low=0.6, high=0.9,
        standing="practice",
    ),
    Fact(
        "cart.screw.threaded", "Threaded share of a wood screw's length", 2 / 3, "", "practice",
    ),
    Fact(
        "cart.bucket.buckling", "p = 2.42 E (t/D)^2.5 / ((1 - v^2)^0.75 (L/D - 0.45 sqrt(t/D)))",
        2.42, "", "windenburg-trilling",
    ),
    Fact(
        "cart.bucket.modulus", "Modulus of high-density polyethylene, from warm and long-loaded "
        "to cool and new", 0.8e9, "Pa", "practice", low=0.4e9, high=1.2e9,
    ),
    Fact("cart.bucket.poisson", "Poisson's ratio of polyethylene", 0.42, "", "practice"),
    Fact(
        "cart.bucket.yield", "Stress at which polyethylene yields, warm", 15e6, "Pa", "practice",
    ),
    Fact(
        "cart.bucket.modulus_fibre", "Modulus of the wound paperboard of a fibre drum, from damp to "
        "dry", 2.5e9, "Pa", "practice", low=1.2e9, high=4.0e9,
    ),
    Fact("cart.bucket.poisson_fibre", "Poisson's ratio of paperboard", 0.3, "", "practice"),
    Fact(
        "cart.bucket.modulus_steel", "Modulus of steel", 205e9, "Pa", "practice", low=200e9,
        high=210e9,
    ),
    Fact("cart.bucket.poisson_steel", "Poisson's ratio of steel", 0.3, "", "practice"),
    *(
        Fact(
            f"cart.plate.clamped_{what}_{aspect:g}",
            f"Clamped rectangular plate under even pressure, {aspect:g} times as long as wide: "
            f"{words}", value, "", "timoshenko-plates", "table 35", standing="memory",
        )
        for aspect, deflection, moment in (
            (1.0, 0.00126, 0.0513), (1.2, 0.00172, 0.0639), (1.5, 0.00220, 0.0757),
            (2.0, 0.00254, 0.0829),
        )
        for what, words, value in (
            ("deflection", "deflection of its middle over q a^4 / D", deflection),
            ("moment", "moment amid its long edge over q a^2", moment),
        )
    ),
    Fact(
        "cart.bucket.lift", "Mass that one person lifts under the best of conditions",
        23.0, "kg", "niosh-lifting", "load constant", standing="memory",
    ),
    Fact(
        "cart.bucket.knock_down", "Buckling pressure of a dented, uneven wall over that of a "
        "perfect one", 0.6, "", "practice", low=0.4, high=0.8,
    ),
    Fact(
        "cart.push.walk", "Speed at which a cart is pushed", 1.0, "m/s", "practice",
    ),
    Fact(
        "cart.push.tug", "A firm tug on a hose that is a little too short", 60.0, "N", "practice",
    ),
    Fact(
        "cart.push.hand", "A push with one hand", 100.0, "N", "practice",
    ),
    Fact(
        "cart.push.threshold", "A door's threshold", 0.5 * _IN, "m", "practice",
    ),
    Fact(
        "cart.finish.coverage", "Area that a litre of paint or varnish covers once, brushed on bare "
        "and sealed plywood", 9.0, "m²/L", "practice", low=7.0, high=11.0,
    ),
    Fact(
        "cart.finish.edge_soak", "Edges of plywood drink this many times what a face takes", 2.5,
        "", "practice", low=2.0, high=3.0,
    ),
    Fact("cart.finish.coats", "Coats on faces", 2.0, "", "practice"),
    Fact(
        "cart.finish.glue_clamp", "Wood glue in clamps before the joint is moved", 3600.0, "s",
        "practice", low=1800.0, high=5400.0,
    ),
    Fact(
        "cart.finish.glue_full", "Wood glue before the joint is loaded", 86400.0, "s", "practice",
    ),
    Fact(
        "cart.finish.recoat", "Water-based paint before the next coat; the tin says", 10800.0, "s",
        "practice", low=7200.0, high=14400.0,
    ),
    Fact("cart.time.cut", "Marking and making one saw cut", 240.0, "s", "practice", low=120.0, high=480.0),
    Fact(
        "cart.time.opening", "Marking and cutting one opening or large chamfer", 1200.0, "s",
        "practice", low=600.0, high=2400.0,
    ),
    Fact(
        "cart.time.screw", "Drilling for and driving one screw", 90.0, "s", "practice", low=45.0,
        high=180.0,
    ),
    Fact(
        "cart.time.pocket", "Marking, clamping the guide and drilling one pocket", 75.0, "s",
        "practice", low=40.0, high=150.0,
    ),
    Fact(
        "cart.time.groove", "Marking, setting up, cutting and squaring one groove", 900.0, "s",
        "practice", low=480.0, high=1800.0,
    ),
    Fact(
        "cart.time.joint", "Gluing, setting and clamping one joint", 360.0, "s", "practice",
        low=180.0, high=720.0,
    ),
    Fact(
        "cart.time.sand", "Sanding a square metre with two grits", 900.0, "s/m²", "practice",
        low=450.0, high=1500.0,
    ),
    Fact(
        "cart.time.coat", "Brushing a square metre once", 480.0, "s/m²", "practice", low=300.0,
        high=780.0,
    ),
)  # fmt: skip
