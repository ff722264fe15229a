"""The only room that knows a language and the units of display."""

from .messages import Unsaid, languages
from .voice import Said, SaidRefusal, Voice

__all__ = ["Said", "SaidRefusal", "Unsaid", "Voice", "languages"]
