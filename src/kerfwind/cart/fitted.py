"""What the options add to a cart that is laid out."""

from __future__ import annotations

from dataclasses import dataclass

from ..facts import Fact
from ..finding import Finding
from ..joinery.model import HardwareItem
from ..solids import Body
from .model import Home, Load


@dataclass(frozen=True)
class Fitted:
    """Everything besides panels, joints and steps that comes with the options.

    ``bodies`` are the things that hang or stand on them, ``loads`` what they weigh, ``top_m``
    how high any of it reaches; ``called`` what bodies are called that are a person's own.
    """

    bodies: tuple[Body, ...] = ()
    loads: tuple[Load, ...] = ()
    findings: tuple[Finding, ...] = ()
    hardware: tuple[HardwareItem, ...] = ()
    homes: tuple[Home, ...] = ()
    top_m: float = 0.0
    called: tuple[tuple[str, Fact], ...] = ()

    def __add__(self, other: Fitted) -> Fitted:
        return Fitted(
            self.bodies + other.bodies,
            self.loads + other.loads,
            self.findings + other.findings,
            self.hardware + other.hardware,
            self.homes + other.homes,
            max(self.top_m, other.top_m),
            self.called + other.called,
        )
