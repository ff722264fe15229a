"""Findings in English, for tests that read what a person reads."""

from kerfwind.answering import faults_lines
from kerfwind.facts import Fact, Listing
from kerfwind.faults import Faults, Refusal
from kerfwind.finding import Finding
from kerfwind.joinery import Step
from kerfwind.quantity import UnitChoice
from kerfwind.words import SaidRefusal, Voice

VOICE = Voice()


def answer(finding: Finding) -> str:
    """The answer's sentence."""
    return VOICE.finding(finding).answer


def check(finding: Finding) -> str:
    """What was checked."""
    return VOICE.finding(finding).check


def text(fact: Fact) -> str:
    """Any fact in words."""
    return VOICE.text(fact)


def title_of(step: Step) -> str:
    """A step's title."""
    return VOICE.text(step.title)


def told(step: Step) -> str:
    """What a step says to do."""
    return VOICE.text(Listing(step.says, "sentences"))


def minded(step: Step) -> str:
    """What a step says to mind."""
    return VOICE.text(Listing(step.cautions, "sentences"))


def refused(refusal: Refusal, units: UnitChoice = "in") -> SaidRefusal:
    """A refusal in words."""
    return Voice(units=units).refusal(refusal)


def all_refused(faults: Faults) -> str:
    """All that is wrong with a file, as a terminal has it."""
    return "\n".join(faults_lines(faults))


def to_do(finding: Finding) -> str:
    """What to do about it."""
    return VOICE.finding(finding).do
