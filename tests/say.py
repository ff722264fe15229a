"""Findings in English, for tests that read what a person reads."""

from kerfwind.finding import Finding
from kerfwind.words import Voice

VOICE = Voice()


def answer(finding: Finding) -> str:
    """The answer's sentence."""
    return VOICE.finding(finding).answer


def to_do(finding: Finding) -> str:
    """What to do about it."""
    return VOICE.finding(finding).do
