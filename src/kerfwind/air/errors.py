"""What the air room refuses: measurements and systems that cannot be."""

from __future__ import annotations

from ..faults import Refusal


class AirError(ValueError):
    """An input that no air can answer to.

    ``refusal`` tells what was found, what is allowed and how to mend it.
    """

    def __init__(self, refusal: Refusal) -> None:
        super().__init__(refusal)
        self.refusal = refusal


class CurveError(AirError):
    """Measurements that no suction curve can hold."""


class OrificeError(AirError):
    """A hole, plate or suction for which the orifice relation does not hold."""


class NetworkError(AirError):
    """Runs that are no tree, or a tree that no air can enter."""
