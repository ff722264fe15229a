"""Breathing: what the work means for lungs and ears, and where its dust ends."""

from .session import Air, HoodAir, SessionAir, TaskAir, session_air
from .whole import Breathing, SessionResult, breathing

__all__ = [
    "Air",
    "Breathing",
    "HoodAir",
    "SessionAir",
    "SessionResult",
    "TaskAir",
    "breathing",
    "session_air",
]
