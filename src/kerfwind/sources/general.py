"""What more than one room draws on."""

from __future__ import annotations

from .kinds import Fact, Source

SOURCES: tuple[Source, ...] = (
    Source("practice", "Common practice in the trade", "practice"),
    Source("briggs", "Briggs, Forest Products Measurements and Conversion Factors (1994)"),
    Source(
        "jcgm-100",
        "JCGM 100:2008, Evaluation of measurement data: Guide to the expression of "
        "uncertainty in measurement",
        "memory",
    ),
    Source(
        "nist-sp-811",
        "NIST Special Publication 811, Guide for the Use of the International System of Units",
        "memory",
    ),
    Source(
        "ipcc-2010",
        "Intergovernmental Panel on Climate Change, Guidance note for lead authors on consistent "
        "treatment of uncertainties, 2010",
        "memory",
    ),
)

FACTS: tuple[Fact, ...] = (
    Fact("general.gravity", "Standard acceleration of free fall", 9.80665, "m/s²", "nist-sp-811"),
    Fact(
        "general.likely",
        "Chance from which a thing is called likely; below it, as likely as not",
        2 / 3,
        "",
        "ipcc-2010",
        "table of likelihoods",
    ),
    Fact(
        "general.sawdust_packing",
        "Loose sawdust takes this many times the volume of the solid wood",
        2.66,
        "",
        "briggs",
        "chapter 7: 2.50; Thompson and Darwin measured 2.82 red oak, 2.84 yellow-poplar",
        2.5,
        2.84,
    ),
)
