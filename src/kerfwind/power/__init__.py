"""The circuit: what runs at once against what it is rated for, and the cord on the way."""

from .circuit import circuit_findings
from .cord import cord_drop, wire_ohm_m

__all__ = ["circuit_findings", "cord_drop", "wire_ohm_m"]
