"""Numbers behind the power room."""

from __future__ import annotations

from .kinds import Fact, Source

_PER_1000_FT = 1 / 304.8
_PER_KM = 1e-3

SOURCES: tuple[Source, ...] = (
    Source("nec", "National Electrical Code (NFPA 70)", "second-hand"),
    Source("bs-7671", "BS 7671, table 4F3A, flexible cords", "memory"),
    Source("bs-1363", "BS 1363, plugs with fuses", "memory"),
    Source("iec-60228", "IEC 60228, conductors of insulated cables, class 5", "second-hand"),
    Source("iec-60028", "IEC 60028, International standard of resistance for copper", "memory"),
)

#: Wire, area [mm²], greatest current [A], resistance [Ω/m] and at what temperature [°C].
_AWG = (
    ("18 AWG", 10.0, 8.08),
    ("16 AWG", 13.0, 5.08),
    ("14 AWG", 18.0, 3.14),
    ("12 AWG", 25.0, 1.98),
    ("10 AWG", 30.0, 1.24),
)
_METRIC = (
    ("0.75 mm²", 6.0, 26.0),
    ("1.0 mm²", 10.0, 19.5),
    ("1.5 mm²", 16.0, 13.3),
    ("2.5 mm²", 25.0, 7.98),
    ("4 mm²", 32.0, 4.95),
)

FACTS: tuple[Fact, ...] = (
    Fact(
        "power.plug_in_share",
        "Largest share of a branch circuit's rating for one plug-in appliance not fastened in place",
        0.80,
        "",
        "nec",
        "210.23",
        note="15 and 20 A circuits with two or more outlets",
    ),
    Fact(
        "power.receptacle_15a",
        "Largest plug-in load on a 15 A receptacle, even on a 20 A circuit",
        12.0,
        "A",
        "nec",
        "table 210.21(B)(2)",
    ),
    Fact(
        "power.continuous",
        "What a circuit's rating must be of a load that lasts three hours or more",
        1.25,
        "",
        "nec",
        "continuous load",
        standing="memory",
    ),
    Fact(
        "power.continuous_from",
        "From when a load counts as continuous",
        3 * 3600.0,
        "s",
        "nec",
        standing="memory",
    ),
    Fact("power.fuse_13a", "Fuse of a British plug", 13.0, "A", "bs-1363"),
    Fact(
        "power.start",
        "Current in the first moment of a motor's start, as a multiple of its label's",
        4.0,
        "",
        "practice",
        low=2.0,
        high=6.0,
    ),
    Fact(
        "power.copper_warming",
        "Part by which copper's resistance grows for each kelvin, from 20 °C",
        0.00393,
        "1/K",
        "iec-60028",
    ),
    Fact("power.cord_warm", "Working temperature of a flexible cord", 333.15, "K", "practice"),
    Fact(
        "power.cord_drop", "Largest share of the voltage to lose along a cord", 0.03, "", "practice"
    ),
    *(
        Fact(
            f"power.cord.{wire}",
            f"Largest current of a cord of {wire}, two conductors loaded",
            amps,
            "A",
            "nec",
            "table 400.5(A)(1)",
            standing=None if wire == "12 AWG" else "memory",
        )
        for wire, amps, _ in _AWG
    ),
    *(
        Fact(f"power.cord.{wire}", f"Largest current of a cord of {wire}", amps, "A", "bs-7671")
        for wire, amps, _ in _METRIC
    ),
    *(
        Fact(
            f"power.wire.{wire}",
            f"Resistance of stranded copper of {wire} at 75 °C",
            ohm * _PER_1000_FT,
            "Ω/m",
            "nec",
            "chapter 9, table 8",
            standing="memory",
            note="2 % over the solid wire's",
        )
        for wire, _, ohm in _AWG
    ),
    *(
        Fact(
            f"power.wire.{wire}",
            f"Resistance of flexible copper of {wire} at 20 °C",
            ohm * _PER_KM,
            "Ω/m",
            "iec-60228",
            "class 5",
        )
        for wire, _, ohm in _METRIC
    ),
)
