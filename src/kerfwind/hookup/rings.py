"""Test rings: a few millimetres of a printed end, to try the fit before printing it all."""

from __future__ import annotations

from dataclasses import dataclass

from ..facts import Amount, Fact, Statement, state
from ..sources import fact
from .reducer import Points, PrintedEnd, Reducer, revolved_m3

HEIGHT_M = 0.006
#: Steps about the designed size: a printer's error is rarely larger.
STEPS_M = (-0.0004, -0.0002, 0.0, 0.0002, 0.0004)


@dataclass(frozen=True)
class TestRing:
    """A ring of one trial size. ``step_m`` is what it adds to the designed diameter."""

    __test__ = False

    mates: Fact
    over: bool
    step_m: float
    inside: float
    outside: float
    inner: Points
    outer: Points
    volume_m3: float

    @property
    def called(self) -> Statement:
        """What to say for it."""
        return state(
            "hookup.ring",
            mates=self.mates,
            way="wider" if self.step_m > 0 else "narrower" if self.step_m < 0 else "as_designed",
            step=Amount(abs(self.step_m), "length", "metric"),
        )


def test_rings(reducer: Reducer) -> tuple[TestRing, ...]:
    """Five rings for either end of a reducer, smallest first.

    The one that goes on best tells the printer's own error: add its step to the fit
    allowance of that end.
    """
    return tuple(_ring(end, step) for end in (reducer.first, reducer.last) for step in STEPS_M)


test_rings.__test__ = False  # type: ignore[attr-defined]


def _ring(end: PrintedEnd, step: float) -> TestRing:
    wall = fact("hookup.print_wall").value
    inside = end.inside + step
    outside = inside + 2 * wall
    inner = ((0.0, inside / 2), (HEIGHT_M, inside / 2))
    outer = ((0.0, outside / 2), (HEIGHT_M, outside / 2))
    return TestRing(
        end.mates,
        end.over,
        step,
        inside,
        outside,
        inner,
        outer,
        revolved_m3(outer) - revolved_m3(inner),
    )
