"""What the air room refuses: measurements and systems that cannot be."""

from __future__ import annotations


class AirError(ValueError):
    """An input no air can answer to: what was found, what is allowed, how to mend it."""


class CurveError(AirError):
    """Measurements that no suction curve can hold."""


class OrificeError(AirError):
    """A hole, plate or suction for which the orifice relation does not hold."""


class NetworkError(AirError):
    """Runs that are no tree, or a tree that no air can enter."""
