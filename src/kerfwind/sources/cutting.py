"""Numbers behind the cutting room."""

from __future__ import annotations

from .kinds import Fact, Source

SOURCES: tuple[Source, ...] = (
    Source(
        "fekete-schepers-2004",
        "Fekete and Schepers, A general framework for bounds for higher-dimensional orthogonal "
        "packing problems, Mathematical Methods of Operations Research 60 (2004)",
        "memory",
    ),
    Source(
        "clautiaux-2010",
        "Clautiaux, Alves and Valério de Carvalho, A survey of dual-feasible and superadditive "
        "functions, Annals of Operations Research 179 (2010)",
        "memory",
    ),
    Source(
        "gilmore-gomory-1965",
        "Gilmore and Gomory, Multistage cutting stock problems of two and more dimensions, "
        "Operations Research 13 (1965)",
        "memory",
    ),
    Source(
        "berkey-wang-1987",
        "Berkey and Wang, Two-dimensional finite bin-packing algorithms, Journal of the "
        "Operational Research Society 38 (1987); classes 7 to 10 from Martello and Vigo, Management "
        "Science 44 (1998); instances as collected in 2DPackLib (Iori, de Lima, Martello, Monaci "
        "2022)",
    ),
    Source(
        "macedo-2010",
        "Macedo, Alves and Valério de Carvalho, Arc-flow model for the two-dimensional guillotine "
        "cutting stock problem, Computers & Operations Research 37 (2010); instances as collected "
        "in 2DPackLib (Iori, de Lima, Martello, Monaci 2022)",
    ),
    Source(
        "goncalves-resende-2013",
        "Gonçalves and Resende, A biased random key genetic algorithm for 2D and 3D bin packing "
        "problems, International Journal of Production Economics 145 (2013)",
    ),
)

FACTS: tuple[Fact, ...] = (
    Fact(
        "cutting.record_any_pattern",
        "Sheets over the 500 class instances, turning allowed, any pattern",
        6988,
        "",
        "goncalves-resende-2013",
    ),
    Fact(
        "cutting.banding_overhang",
        "Edge banding left over at each end, trimmed flush after it is on",
        0.025,
        "m",
        "practice",
    ),
    Fact(
        "cutting.close_enough",
        "A sawn panel this much too small is used as it is",
        0.0005,
        "m",
        "practice",
    ),
    Fact(
        "cutting.largest_shim",
        "A gap at a panel's edge that is made up with a glued strip",
        0.004,
        "m",
        "practice",
    ),
    Fact(
        "cutting.smallest_width",
        "Narrowest rip between blade and fence without another way to hold it",
        0.05,
        "m",
        "practice",
    ),
    Fact(
        "cutting.smallest_length",
        "Shortest piece pushed by hand at a table saw; many saw manuals say 12 in",
        0.25,
        "m",
        "practice",
        low=0.15,
        high=0.305,
    ),
    Fact(
        "cutting.sled_stop",
        "Longest piece that a crosscut sled's stop measures, on an extension of its fence",
        1.2,
        "m",
        "practice",
        low=0.6,
        high=1.5,
    ),
    Fact(
        "cutting.kerf",
        "Width of cut of a full-kerf table saw blade",
        0.0032,
        "m",
        "practice",
        low=0.0018,
        high=0.0035,
    ),
    Fact("cutting.sheet_length", "A full sheet of plywood", 2.4384, "m", "practice"),
    Fact("cutting.sheet_width", "A full sheet of plywood", 1.2192, "m", "practice"),
)
