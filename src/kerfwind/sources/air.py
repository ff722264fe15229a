"""Numbers behind the air room."""

from __future__ import annotations

from .kinds import Fact, Source

_CFM = 0.3048**3 / 60
_FPM = 0.3048 / 60

SOURCES: tuple[Source, ...] = (
    Source(
        "acgih-24", "ACGIH, Industrial Ventilation: A Manual of Recommended Practice, 24th edition"
    ),
    Source(
        "acgih-wood",
        "ACGIH, Industrial Ventilation: A Manual of Recommended Practice, woodworking sheets",
        "memory",
    ),
    Source(
        "croteau",
        "Croteau, University of Washington, 2011, field study of a shrouded orbital sander on an "
        "industrial vacuum",
    ),
    Source("icao", "ICAO Doc 7488, Manual of the ICAO Standard Atmosphere", "memory"),
    Source(
        "sutherland", "Sutherland's relation for the viscosity of air, as in ISO 2533", "memory"
    ),
    Source(
        "hawthorne",
        "Hawthorne and von Helms, Flow in corrugated hose, Product Engineering, 1963",
        "memory",
    ),
    Source(
        "churchill",
        "Churchill, Friction-factor equation spans all fluid-flow regimes, "
        "Chemical Engineering, 7 November 1977",
        "second-hand",
    ),
    Source(
        "rennels",
        "Rennels and Hudson, Pipe Flow: A Practical and Comprehensive Guide (2012)",
        "second-hand",
    ),
    Source("crane", "Crane Technical Paper 410, Flow of Fluids", "second-hand"),
    Source(
        "shepherd-lapple",
        "Shepherd and Lapple, Flow pattern and pressure drop in cyclone dust collectors, "
        "Industrial and Engineering Chemistry 31 (1939) and 32 (1940)",
        "memory",
    ),
    Source(
        "casal",
        "Casal and Martinez-Benet, A better way to calculate cyclone pressure drop, "
        "Chemical Engineering, 24 January 1983",
        "second-hand",
    ),
    Source(
        "wang-air-pollution",
        "Wang, Pereira and Hung (editors), Air Pollution Control Engineering (2004)",
    ),
    Source("smacna-ducts", "SMACNA, HVAC Systems Duct Design, 4th edition"),
    Source("ashrae-fundamentals", "ASHRAE Handbook, Fundamentals (2009)"),
    Source(
        "wood-dust-fall",
        "Measured terminal velocities of wood dust and chips, as told in the paper's abstract",
    ),
    Source(
        "rizk",
        "Rizk, Pneumatic conveying at optimal operation conditions, Pneumotransport 3 (1976), as "
        "encoded in the library fluids",
        "second-hand",
    ),
    Source(
        "weber",
        "Weber, Principles of hydraulic and pneumatic conveying in pipes, Bulk Solids Handling 1 "
        "(1981), as encoded in the library fluids",
        "second-hand",
    ),
    Source(
        "schade",
        "Schade, Zum Übergang Sprung-Strähnenförderung bei der horizontalen pneumatischen "
        "Feststoffförderung (1987), as encoded in the library fluids",
        "second-hand",
    ),
    Source(
        "ferguson-church",
        "Ferguson and Church, A simple universal equation for grain settling velocity, "
        "Journal of Sedimentary Research 74 (2004)",
        "memory",
    ),
    Source(
        "thorpe-brown",
        "Thorpe and Brown, Factors influencing the production of dust during the hand sanding of "
        "wood, Annals of Occupational Hygiene 39 (1995), opening",
    ),
    Source("lapple", "Lapple, Processes use many collector types, Chemical Engineering, May 1951"),
    Source("dalla-valle", "Dalla Valle, Exhaust Hoods (1952)", "memory"),
    Source("iso-5167-2", "ISO 5167-2:2003, orifice plates", "second-hand"),
    Source(
        "miller-orifice",
        "Miller, Flow Measurement Engineering Handbook, 3rd edition (1996), corner-tap orifice",
        "second-hand",
    ),
    Source(
        "iso-5167-1998",
        "ISO 5167-1:1991/Amd 1:1998, orifice expansibility, 1 − (0.41 + 0.35 β⁴) Δp/(κ p₁)",
        "second-hand",
    ),
    Source("astm-f558", "ASTM F558, air performance of vacuum cleaners"),
    Source(
        "total-pressure",
        "Bernoulli's equation: total pressure is static pressure and velocity pressure, "
        "ρV²/2; in standard air (V/4005)² inches of water, V in fpm, ACGIH, Industrial Ventilation",
        "second-hand",
    ),
    Source("idelchik-4-18", "Idelchik, Handbook of Hydraulic Resistance, diagram 4-18", "memory"),
    Source(
        "fan-laws",
        "Fan laws: pressure in proportion to density at equal speed and volume",
        "memory",
    ),
)


def _cfm(
    key: str, what: str, low: float, high: float, source: str, where: str = "", note: str = ""
) -> Fact:
    return Fact(
        f"air.need.{key}",
        what,
        (low + high) / 2 * _CFM,
        "m³/s",
        source,
        where,
        low * _CFM,
        high * _CFM,
        note=note,
    )


def _fpm(
    key: str, what: str, low: float, high: float, where: str, source: str = "acgih-24"
) -> Fact:
    return Fact(
        f"air.carry.{key}",
        what,
        (low + high) / 2 * _FPM,
        "m/s",
        source,
        where,
        low * _FPM,
        high * _FPM,
    )


def _range(
    key: str,
    what: str,
    low: float,
    high: float,
    unit: str,
    source: str,
    where: str = "",
    note: str = "",
) -> Fact:
    return Fact(f"air.{key}", what, (low + high) / 2, unit, source, where, low, high, note=note)


_TABLE = "transport velocity table"
_VACUUM_HOOD = "no published figure for this hood on a vacuum hose"

FACTS: tuple[Fact, ...] = (
    # Air itself
    Fact(
        "air.sea_level_pressure",
        "Pressure of the standard atmosphere at sea level",
        101_325.0,
        "Pa",
        "icao",
    ),
    Fact("air.gas_constant", "Specific gas constant of dry air", 287.05287, "J/(kg K)", "icao"),
    Fact(
        "air.standard_density",
        "Density of standard air, 20 °C and 101.325 kPa",
        1.2041,
        "kg/m³",
        "icao",
    ),
    _range(
        "weather",
        "Barometer against the standard atmosphere, as the weather moves it",
        0.98,
        1.02,
        "",
        "practice",
    ),
    # The vacuum
    Fact(
        "air.efficient",
        "Largest part of what it is fed that a usual shop vacuum turns into air power",
        0.35,
        "",
        "practice",
        note="most reach 0.14 to 0.25",
    ),
    Fact(
        "air.most_efficient",
        "Part of what it is fed that no vacuum's air power exceeds",
        0.5,
        "",
        "practice",
        note="small motors give about 0.8 of it, fans of their size about 0.6 of that",
    ),
    _range(
        "label_sealed",
        "Sealed suction met in use, as a part of the label's",
        0.85,
        1.0,
        "",
        "practice",
        note="labels give the best of a new machine at full voltage",
    ),
    _range(
        "label_open",
        "Open airflow met in use, as a part of the label's",
        0.65,
        1.0,
        "",
        "practice",
        note="labels may give airflow without hose or filter",
    ),
    _range(
        "maker_sealed",
        "Sealed suction met in use, as a part of that on its maker's curve",
        0.9,
        1.0,
        "",
        "practice",
        note="a new machine with a clean filter at full voltage",
    ),
    _range(
        "maker_open",
        "Open airflow met in use, as a part of that on its maker's curve",
        0.9,
        1.0,
        "",
        "practice",
        note="measured by a test method, so without what a label leaves out",
    ),
    _range(
        "curve_bow",
        "How far the suction curve bows above a straight line, 0 straight, 1 a parabola",
        0.0,
        0.5,
        "",
        "practice",
    ),
    _range(
        "filter.clean",
        "Extra resistance of a clean filter over the one the curve was taken with",
        0.0,
        5e3,
        "Pa/(m³/s)",
        "practice",
    ),
    _range("filter.used", "Extra resistance of a used filter", 1e4, 6e4, "Pa/(m³/s)", "practice"),
    _range(
        "filter.clogged",
        "Extra resistance of a clogged filter",
        8e4,
        2.5e5,
        "Pa/(m³/s)",
        "practice",
    ),
    # Runs
    _range("rib_pitch", "Pitch of a hose's ribs as a part of its bore", 0.07, 0.12, "", "practice"),
    _range(
        "ribbed_friction",
        "Friction of a ribbed hose against the relation for deep corrugation",
        0.5,
        1.0,
        "",
        "practice",
        note="a wire hose's ripple is shallower than a corrugation",
    ),
    _range("roughness", "Roughness of a smooth plastic wall", 1e-6, 2e-5, "m", "practice"),
    _range(
        "bend_radius",
        "Radius of a lying hose's bends as a multiple of its bore",
        1.5,
        4.0,
        "",
        "practice",
    ),
    _range(
        "elbow_radius",
        "Radius of a moulded elbow as a multiple of its bore",
        0.8,
        1.5,
        "",
        "practice",
    ),
    _range(
        "bend_spread",
        "Loss of bends against the relation",
        0.55,
        1.35,
        "",
        "smacna-ducts",
        "table A-7, smooth round elbows, r/D 0.75 to 2.5",
        "the upper end holds the stamped elbows of the ASHRAE Handbook, at 75 mm twice SMACNA's",
    ),
    _range("step_spread", "Loss at changes of bore against the relation", 0.8, 1.2, "", "practice"),
    _range(
        "cone_part",
        "Part of a reducer's length over which its bore changes",
        0.2,
        0.6,
        "",
        "practice",
    ),
    _range(
        "cyclone_factor",
        "Loss of a cyclone against 16 inlet areas over outlet diameter squared",
        0.69,
        1.2,
        "",
        "wang-air-pollution",
        "equations 32 and 33, p. 105",
        "two published relations at round inlets, each with its standard deviation",
    ),
    # Leaks
    _range("leak.joint", "Open area of one push-fit joint", 0.0, 2e-6, "m²", "practice"),
    _range("leak.lid", "Open area around the separator's lid", 0.0, 15e-6, "m²", "practice"),
    _range(
        "valve.over",
        "A relief valve is wide open this much beyond the suction at which it lifts",
        0.1,
        0.3,
        "",
        "practice",
    ),
    _range("leak.gate", "Open area of a closed gate", 2e-6, 30e-6, "m²", "practice"),
    # Hood entry
    Fact(
        "air.entry_loss.plain",
        "Entry loss of a plain duct end, velocity heads",
        0.93,
        "",
        "acgih-24",
        "hood entry losses",
    ),
    Fact(
        "air.entry_loss.flanged",
        "Entry loss of a flanged duct end",
        0.49,
        "",
        "acgih-24",
        "hood entry losses",
    ),
    Fact(
        "air.entry_loss.bellmouth",
        "Entry loss of a bellmouth",
        0.04,
        "",
        "acgih-24",
        "hood entry losses",
    ),
    Fact(
        "air.entry_loss.orifice",
        "Entry loss of a sharp-edged orifice",
        1.78,
        "",
        "acgih-24",
        "hood entry losses",
    ),
    Fact(
        "air.entry_loss.grinding_straight",
        "Entry loss of a grinding hood, straight take-off",
        0.65,
        "",
        "acgih-24",
        "hood entry losses",
    ),
    Fact(
        "air.entry_loss.grinding_tapered",
        "Entry loss of a grinding hood, tapered take-off",
        0.40,
        "",
        "acgih-24",
        "hood entry losses",
    ),
    _range(
        "entry.pad",
        "Entry loss of a sanding pad: holes as orifices, then passages",
        2.5,
        9.0,
        "",
        "practice",
    ),
    _range("entry.shroud", "Entry loss of a close shroud", 1.0, 3.0, "", "practice"),
    _range(
        "entry.box",
        "Entry loss of a box or cabinet with a straight take-off",
        0.4,
        1.0,
        "",
        "practice",
        note="round the published 0.40 and 0.65 of grinding hoods and 0.93 of a plain end",
    ),
    _range("entry.nozzle", "Entry loss of a flat nozzle", 0.6, 2.0, "", "practice"),
    # Branches: on the branch's own velocity head
    Fact(
        "air.branch_entry.30",
        "Loss of a branch entering at 30°",
        0.18,
        "",
        "acgih-wood",
        "branch entry loss",
    ),
    Fact(
        "air.branch_entry.45",
        "Loss of a branch entering at 45°",
        0.28,
        "",
        "acgih-wood",
        "branch entry loss",
    ),
    Fact(
        "air.branch_entry.60",
        "Loss of a branch entering at 60°",
        0.44,
        "",
        "acgih-wood",
        "branch entry loss",
    ),
    Fact(
        "air.branch_entry.90",
        "Loss of a branch entering at 90°",
        1.00,
        "",
        "acgih-wood",
        "branch entry loss",
    ),
    _range("branch_spread", "Loss of branch entries against the table", 0.6, 1.6, "", "practice"),
    # Orifice of the home test
    Fact(
        "air.orifice.thin",
        "Thickest plate that still counts as thin, of the hole's bore",
        0.1,
        "",
        "astm-f558",
        standing="memory",
    ),
    _range(
        "orifice.c",
        "Orifice relation against the truth, for all holes together",
        0.977,
        1.014,
        "",
        "practice",
        note="midway between ISO 5167-2:2003 and Miller with the older expansibility, which differ by 0.5 to 2 %, and 2 % either way",
    ),
    _range(
        "orifice.edge",
        "One hand-made hole against the others: edge and roundness",
        0.985,
        1.015,
        "",
        "practice",
    ),
    _range(
        "orifice.thick",
        "Correction for a thick board, as a part of itself",
        0.5,
        1.5,
        "",
        "practice",
    ),
    _range(
        "orifice.stub",
        "Part of the jet's momentum that comes back as suction in a vacuum's inlet alone",
        0.0,
        0.5,
        "",
        "practice",
        note="an inlet is about a bore long; a jet needs several to fill it",
    ),
    _range(
        "orifice.hole",
        "Error of a drilled hole's diameter where none is given, ±",
        -2e-4,
        2e-4,
        "m",
        "practice",
    ),
    _range(
        "orifice.gauge",
        "Error of a dial gauge or tube where none is given, ±",
        -0.02,
        0.02,
        "",
        "practice",
    ),
    _range(
        "point.airflow",
        "Error of a measured airflow where none is given, ±",
        -0.05,
        0.05,
        "",
        "practice",
    ),
    Fact(
        "air.model_error",
        "What the model itself may be off beside all its inputs, one standard deviation",
        0.03,
        "",
        "practice",
    ),
    # What changes cost, in whole units of money
    _range("cost.hose_m", "A metre of hose", 5.0, 15.0, "", "practice"),
    _range("cost.fitting", "A fitting", 5.0, 15.0, "", "practice"),
    _range("cost.filter", "Cleaning a filter, or a new one", 0.0, 25.0, "", "practice"),
    _range("cost.vacuum", "A stronger vacuum", 100.0, 250.0, "", "practice"),
    # To carry chips: the speeds of long ducts, in standard air
    _fpm("flour", "Air speed to carry very fine light dust along a duct", 2500, 3000, _TABLE),
    _fpm(
        "fine",
        "Air speed to carry dry sawdust along a duct",
        3000,
        4000,
        "no row of its own: between light shavings and average industrial dust",
        "practice",
    ),
    _fpm("shavings", "Air speed to carry light shavings along a duct", 3000, 4000, _TABLE),
    _fpm(
        "chips",
        "Air speed to carry dry dust with small chips along a duct",
        3500,
        4000,
        "no row of its own: average industrial dust",
        "practice",
    ),
    _fpm(
        "heavy",
        "Air speed to carry mixed sweepings along a duct, average dust to blocks",
        3500,
        5000,
        _TABLE,
    ),
    # What is sucked in: grains, as spheres that fall like them
    *(
        _range(f"grain.{kind}", f"Size of the usual {words}", low, high, "m", "practice")
        for kind, words, low, high in (
            ("flour", "grains of sanding dust", 3e-5, 2e-4),
            ("fine", "grains of sawdust", 4e-4, 1.2e-3),
            ("chips", "chips of routing and drilling", 1e-3, 3e-3),
            ("shavings", "shavings, as a sphere of their volume", 2.5e-3, 5e-3),
            ("heavy", "pieces among sweepings", 3e-3, 8e-3),
        )
    ),
    _range(
        "grain_density.flour",
        "Density of a sphere that falls like sanding dust of its size",
        100.0,
        130.0,
        "kg/m³",
        "wood-dust-fall",
        "abstract",
        "under 150 µm; being flat, it falls like much lighter spheres",
    ),
    *(
        _range(
            f"grain_density.{kind}",
            f"Density of a sphere that falls like {words} of its size",
            low,
            high,
            "kg/m³",
            "practice",
            note="wood of 400 to 700 kg/m³, the flatter the less",
        )
        for kind, words, low, high in (
            ("fine", "sawdust", 150.0, 450.0),
            ("chips", "a chip", 150.0, 450.0),
            ("shavings", "a shaving", 100.0, 250.0),
            ("heavy", "a splinter or offcut", 300.0, 600.0),
        )
    ),
    *(
        _range(
            f"mass.{hood}",
            f"What {words} sends into its hose",
            low / 60e3,
            high / 60e3,
            "kg/s",
            "practice",
            note=f"{low:g} to {high:g} g a minute: {how}",
        )
        for hood, words, low, high, how in (
            ("pad holes", "an orbital sander", 1, 10, "fine to coarse paper"),
            ("belt shroud", "a belt sander", 5, 60, "fine to coarse belt"),
            ("disc table", "a disc or belt sander", 5, 80, "edges to end grain"),
            ("saw shroud", "a hand-held saw", 20, 150, "kerf 2 mm, 18 to 40 mm deep, 1 to 3 m/min"),
            ("mitre boot", "a mitre saw", 10, 100, "kerf 3 mm, a board cut across now and then"),
            ("band saw port", "a band saw", 10, 120, "kerf 1 mm, 20 to 150 mm deep, 1 m/min"),
            ("saw cabinet", "a table saw", 40, 300, "kerf 3 mm, 20 to 50 mm deep, 2 to 5 m/min"),
            ("blade guard", "a table saw's guard", 10, 100, "what the blade carries up"),
            ("router fence", "a router table", 20, 200, "8 by 8 to 12 by 15 mm, 1 to 2 m/min"),
            ("router base", "a hand router", 20, 200, "8 by 8 to 12 by 15 mm, 1 to 2 m/min"),
            ("planer hood", "a thickness planer", 200, 1500, "100 to 300 mm by 1 mm, 4 to 8 m/min"),
            ("jointer chute", "a jointer", 60, 700, "50 to 150 mm by 1 mm, 3 to 6 m/min"),
            ("drill fence", "a drill press", 5, 50, "holes of 6 to 35 mm"),
            ("floor nozzle", "a floor nozzle", 50, 600, "heaps in bursts"),
            ("sanding", "sanding by hand", 1, 60, "any sander"),
            ("sawing", "sawing", 10, 300, "any saw"),
            ("routing", "routing", 20, 200, "any router"),
            ("planing", "planing", 60, 1500, "any planer or jointer"),
            ("drilling", "drilling", 5, 50, "holes of 6 to 35 mm"),
            ("turning", "turning", 20, 250, "finishing to roughing"),
            ("sweeping", "sweeping", 50, 600, "heaps in bursts"),
        )
    ),
    *(
        _range(f"longest.{hood}", f"Longest chips that {words} makes", low, high, "m", "practice")
        for hood, words, low, high in (
            ("pad holes", "an orbital sander", 3e-4, 1e-3),
            ("belt shroud", "a belt sander", 5e-4, 2e-3),
            ("disc table", "a disc or belt sander", 5e-4, 3e-3),
            ("saw shroud", "a hand-held saw", 2e-3, 6e-3),
            ("mitre boot", "a mitre saw", 2e-3, 1e-2),
            ("band saw port", "a band saw", 2e-3, 8e-3),
            ("saw cabinet", "a table saw", 3e-3, 1.5e-2),
            ("blade guard", "a table saw's guard", 2e-3, 8e-3),
            ("router fence", "a router table", 3e-3, 1.2e-2),
            ("router base", "a hand router", 3e-3, 1.2e-2),
            ("planer hood", "a thickness planer", 1e-2, 3e-2),
            ("jointer chute", "a jointer", 1e-2, 3e-2),
            ("drill fence", "a drill press", 3e-3, 1.5e-2),
            ("floor nozzle", "a floor", 8e-3, 3.5e-2),
            ("sanding", "sanding", 5e-4, 3e-3),
            ("sawing", "sawing", 2e-3, 1.5e-2),
            ("routing", "routing", 3e-3, 1.2e-2),
            ("planing", "planing", 1e-2, 3e-2),
            ("drilling", "drilling", 3e-3, 1.5e-2),
            ("turning", "turning", 1e-2, 8e-2),
            ("sweeping", "sweeping", 8e-3, 3.5e-2),
        )
    ),
    _range(
        "over_saltation",
        "Air speed in a short hose over that at which chips begin to settle",
        1.2,
        2.0,
        "",
        "practice",
        note="no published relation was fitted to wood: each is a floor, not a need",
    ),
    _range(
        "over_fall", "Air speed straight up over that at which chips fall", 1.5, 2.5, "", "practice"
    ),
    Fact(
        "air.short_run",
        "Longest run that is cleared by lifting it, so that a duct's speeds are not asked",
        3.0,
        "m",
        "practice",
    ),
    Fact(
        "air.long_run",
        "Run from which on a duct's speeds hold in full",
        10.0,
        "m",
        "practice",
        note="between a short run and a long one the need goes over from one to the other",
    ),
    Fact(
        "air.passage",
        "A passage clogs where it is narrower than this many of the longest chips",
        3.0,
        "",
        "practice",
    ),
    # To catch dust
    _cfm(
        "pad holes",
        "Airflow to catch dust at an orbital sander's pad",
        50,
        75,
        "croteau",
        "",
        "50 is the published least; the upper end allows for wear of pad and shroud",
    ),
    Fact(
        "air.capture.flat",
        "Most of the dust that an orbital sander's holes catch on flat work; less airflow, less in "
        "proportion",
        0.9,
        "",
        "thorpe-brown",
        "opening; NIOSH, orbital hand sanders: 90 % in the laboratory",
        low=0.8,
        high=0.9,
    ),
    Fact(
        "air.capture.edge",
        "Of the dust of sanding edges, what an orbital sander on a vacuum cleaner catches",
        0.5,
        "",
        "thorpe-brown",
        "opening, a slowly turned dowel",
        low=0.4,
        high=0.6,
    ),
    Fact(
        "air.capture.edge_least",
        "Of the dust of sanding edges, what an orbital sander's own fan catches",
        0.05,
        "",
        "thorpe-brown",
        "opening, a slowly turned dowel",
    ),
    _cfm(
        "belt shroud",
        "Airflow to catch dust at a belt sander's shroud",
        60,
        110,
        "acgih-wood",
        "low-volume high-velocity hoods",
    ),
    _cfm(
        "disc table",
        "Airflow for a disc or belt sander to 12 in",
        300,
        440,
        "acgih-wood",
        "disc sander",
        "350 for a 12 in disc",
    ),
    _cfm(
        "saw shroud", "Airflow for a hand-held saw's shroud", 60, 110, "practice", "", _VACUUM_HOOD
    ),
    _cfm(
        "mitre boot",
        "Airflow for a boot behind a mitre saw's blade",
        110,
        350,
        "practice",
        "",
        _VACUUM_HOOD,
    ),
    _cfm(
        "band saw port",
        "Airflow for a band saw, each hood, blade to 2 in",
        300,
        400,
        "acgih-wood",
        "band saw",
        "350 a hood",
    ),
    _cfm(
        "saw cabinet",
        "Airflow for a table saw's cabinet, blade to 16 in",
        300,
        440,
        "acgih-wood",
        "table saw",
        "350",
    ),
    _cfm("blade guard", "Airflow for a table saw's guard", 60, 120, "practice", "", _VACUUM_HOOD),
    _cfm(
        "router fence",
        "Airflow for a port in a router table's fence",
        80,
        150,
        "practice",
        "",
        _VACUUM_HOOD,
    ),
    _cfm(
        "router base", "Airflow for a hood on a hand router", 50, 100, "practice", "", _VACUUM_HOOD
    ),
    _cfm(
        "planer hood",
        "Airflow for a thickness planer to 20 in",
        350,
        550,
        "acgih-wood",
        "planer",
        "500 to 20 in; small planers less",
    ),
    _cfm(
        "jointer chute", "Airflow for a jointer to 6 in", 300, 440, "acgih-wood", "jointer", "350"
    ),
    _cfm(
        "drill fence",
        "Airflow for a nozzle at a drill press",
        70,
        160,
        "practice",
        "",
        _VACUUM_HOOD,
    ),
    _cfm(
        "lathe hood",
        "Airflow for an open hood behind a lathe",
        350,
        600,
        "practice",
        "",
        "no figure checked",
    ),
    Fact(
        "air.need.hood box.thrown",
        "Air speed through the face of an open box, where the tool throws the dust",
        6.35,
        "m/s",
        "acgih-24",
        "capture velocities, released at high speed into very rapid air: 500 to 2000 fpm",
        2.54,
        10.16,
        standing="second-hand",
    ),
    Fact(
        "air.need.hood box",
        "Air speed through the face of an open box, where dust comes off gently in that face",
        0.762,
        "m/s",
        "acgih-24",
        "capture velocities, dust released at low speed into moderately still air: 100 to 200 fpm",
        0.508,
        1.016,
        standing="second-hand",
    ),
    Fact(
        "air.dalla_valle",
        "Open face: V = Q / (10 x² + A), distances squared this many times against its area",
        10.0,
        "",
        "dalla-valle",
    ),
    _cfm("floor nozzle", "Airflow for a floor nozzle", 60, 110, "practice", "", _VACUUM_HOOD),
    _cfm(
        "bench nozzle",
        "Airflow to catch dust with a nozzle 100 to 150 mm from the work",
        100,
        400,
        "dalla-valle",
        "",
        "V (10 x² + A) at 0.5 to 1 m/s",
    ),
)
