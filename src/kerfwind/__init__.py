"""kerfwind: from a home workshop's measurements to a dust unit that works."""

__version__ = "0.1.0"
