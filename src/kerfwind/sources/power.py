"""Numbers behind the power room."""

from __future__ import annotations

from .kinds import Fact, Source

SOURCES: tuple[Source, ...] = (Source("nec", "National Electrical Code (NFPA 70)", "second-hand"),)

FACTS: tuple[Fact, ...] = (
    Fact(
        "power.plug_in_share",
        "Largest share of a branch circuit's rating for one plug-in appliance not fastened in place",
        0.80, "", "nec", "210.23",
        note="15 and 20 A circuits with two or more outlets",
    ),
    Fact(
        "power.receptacle_15a",
        "Largest plug-in load on a 15 A receptacle, even on a 20 A circuit",
        12.0, "A", "nec", "table 210.21(B)(2)",
    ),
)  # fmt: skip
