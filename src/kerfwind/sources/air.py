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
        "memory",
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
        "memory",
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


def _fpm(key: str, what: str, low: float, high: float, where: str) -> Fact:
    return Fact(
        f"air.carry.{key}",
        what,
        (low + high) / 2 * _FPM,
        "m/s",
        "acgih-24",
        where,
        low * _FPM,
        high * _FPM,
    )


def _lift(key: str, what: str, low: float, high: float) -> Fact:
    return Fact(
        f"air.lift.{key}",
        what,
        (low + high) / 2,
        "m/s",
        "practice",
        "",
        low,
        high,
        note="about twice the speed at which the largest pieces fall",
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
    _range("bend_spread", "Loss of bends against the relation", 0.75, 1.35, "", "practice"),
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
        0.65,
        1.15,
        "",
        "practice",
        note="holds what two published relations differ by at round inlets",
    ),
    # Leaks
    _range("leak.joint", "Open area of one push-fit joint", 0.0, 2e-6, "m²", "practice"),
    _range("leak.lid", "Open area around the separator's lid", 0.0, 15e-6, "m²", "practice"),
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
    # To carry chips
    _fpm("flour", "Air speed to carry very fine light dust along", 2500, 3000, _TABLE),
    _fpm("fine", "Air speed to carry dry sawdust along", 3000, 4000, _TABLE),
    _fpm("shavings", "Air speed to carry light shavings along", 3000, 4000, _TABLE),
    _fpm("chips", "Air speed to carry dry dust with small chips along", 3000, 4000, _TABLE),
    _fpm(
        "heavy",
        "Air speed to carry mixed sweepings along, average dust to blocks",
        3500,
        5000,
        _TABLE,
    ),
    _lift("flour", "Air speed to lift very fine dust straight up", 4.0, 8.0),
    _lift("fine", "Air speed to lift sawdust straight up", 7.0, 12.0),
    _lift("shavings", "Air speed to lift shavings straight up", 9.0, 15.0),
    _lift("chips", "Air speed to lift chips straight up", 11.0, 17.0),
    _lift("heavy", "Air speed to lift small blocks straight up", 15.0, 23.0),
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
        1.75,
        "m/s",
        "acgih-24",
        "capture velocities, active generation into rapid air motion: 200 to 500 fpm",
        1.0,
        2.5,
        standing="memory",
    ),
    Fact(
        "air.need.hood box",
        "Air speed through the face of an open box, where dust comes off gently in that face",
        0.75,
        "m/s",
        "acgih-24",
        "capture velocities, dust released at low speed into moderately still air: 100 to 200 fpm",
        0.5,
        1.0,
        standing="memory",
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
