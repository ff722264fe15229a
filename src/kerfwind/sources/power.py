"""Numbers behind the power room."""

from __future__ import annotations

from .kinds import Fact, Source

SOURCES: tuple[Source, ...] = (
    Source("nec", "National Electrical Code (NFPA 70)", "second-hand"),
    Source("hd516", "HD 516, Guide to use of low voltage harmonized cables", "memory"),
    Source("iec60028", "IEC 60028, International standard of resistance for copper", "memory"),
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
    Fact("power.copper", "Resistivity of annealed copper at 20 °C", 1.7241e-8, "Ω m", "iec60028"),
    Fact(
        "power.cord_drop", "Largest share of the voltage to lose along a cord", 0.03, "", "practice"
    ),
    *(
        Fact(
            f"power.cord.{key}",
            f"Largest current of a cord of {what}, two conductors loaded",
            amps,
            "A",
            source,
            where,
            standing="memory",
            note=f"{mm2:g} mm²",
        )
        for key, what, mm2, amps, source, where in (
            ("awg16", "16 AWG", 1.31, 13.0, "nec", "table 400.5(A)(1)"),
            ("awg14", "14 AWG", 2.08, 18.0, "nec", "table 400.5(A)(1)"),
            ("awg12", "12 AWG", 3.31, 25.0, "nec", "table 400.5(A)(1)"),
            ("awg10", "10 AWG", 5.26, 30.0, "nec", "table 400.5(A)(1)"),
            ("mm15", "1.5 mm²", 1.5, 16.0, "hd516", ""),
            ("mm25", "2.5 mm²", 2.5, 25.0, "hd516", ""),
        )
    ),
)
