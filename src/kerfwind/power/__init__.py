"""The circuit: what runs at once against what it is rated for."""

from .circuit import circuit_findings

__all__ = ["circuit_findings"]
