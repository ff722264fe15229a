"""Two volumes of air, round the worker and the rest of the room, solved exactly.

``V_n C_n' = G_n + β (C_f − C_n) − L_n C_n`` and ``V_f C_f' = G_f + β (C_n − C_f) − L_f C_f``.
With sources that hold for a while the solution is the sum of two modes that fade by
themselves, so a step may be as long as a source lasts.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


#: Below these, ``(1 − e^(−x)) / x`` and ``(x − 1 + e^(−x)) / x²`` are taken from their series.
_SMALL, _SMALL_HELD = 1e-3, 1e-2


@dataclass(frozen=True)
class Step:
    """What a time [s] does to both modes, which fade at their ``rates`` [1/s]; see `Zones.step`."""

    seconds: Array
    rates: tuple[Array, Array]

    @cached_property
    def _faded(self) -> tuple[Array, Array]:
        return self.rates[0] * self.seconds, self.rates[1] * self.seconds

    @cached_property
    def _lost(self) -> tuple[Array, Array]:
        first, second = self._faded
        return -np.expm1(-first), -np.expm1(-second)

    @cached_property
    def fades(self) -> tuple[Array, Array]:
        """What is left of each mode."""
        first, second = self._faded
        return np.exp(-first), np.exp(-second)

    @cached_property
    def greatest_fades(self) -> tuple[float, float]:
        """The greatest part that is left of any size, of each mode."""
        first, second = self.fades
        return float(first.max()), float(second.max())

    @cached_property
    def even_gains(self) -> tuple[Array, Array]:
        """What a mode of one adds to its integral; the modes must fade."""
        (first, second), (fast, slow) = self._lost, self.rates
        return first / fast, second / slow

    @cached_property
    def gains(self) -> tuple[Array, Array]:
        """What a source of one adds to each mode, and a mode of one to its integral."""
        first, second = map(self._gain, self._faded, self._lost)
        return first, second

    @cached_property
    def held_gains(self) -> tuple[Array, Array]:
        """What a source of one adds to the integral of each mode."""
        first, second = map(self._held_gain, self._faded, self._lost)
        return first, second

    def _gain(self, x: Array, lost: Array) -> Array:
        found = np.asarray(lost / np.maximum(x, _SMALL))
        if np.any(small := x < _SMALL):
            few = np.asarray(x)[small]
            found[small] = 1 - few * (1 / 2 - few * (1 / 6 - few / 24))
        return np.asarray(self.seconds * found)

    def _held_gain(self, x: Array, lost: Array) -> Array:
        found = np.asarray((x - lost) / np.square(np.maximum(x, _SMALL_HELD)))
        if np.any(small := x < _SMALL_HELD):
            few = np.asarray(x)[small]
            found[small] = 1 / 2 - few * (1 / 6 - few * (1 / 24 - few * (1 / 120 - few / 720)))
        return np.asarray(self.seconds**2 * found)


@dataclass(frozen=True)
class Brought:
    """What sources bring in a step: to both modes, and to the modes' integrals over it."""

    modes: tuple[Array, Array]
    held: tuple[Array, Array]


def _weighed(weights: tuple[Array, Array], modes: tuple[Array, Array]) -> Array:
    return np.asarray(weights[0] * modes[0] + weights[1] * modes[1])


class Zones:
    """A near and a far zone; parameters broadcast against each other.

    Parameters
    ----------
    near_m3, far_m3
        Volumes, above zero.
    between_m3_s
        β, air that passes each way between them.
    near_loss_m3_s, far_loss_m3_s
        Air cleaned of the dust in each: fresh air, filters, settling speed times floor.
    """

    def __init__(
        self,
        near_m3: ArrayLike,
        far_m3: ArrayLike,
        between_m3_s: ArrayLike,
        near_loss_m3_s: ArrayLike,
        far_loss_m3_s: ArrayLike,
    ) -> None:
        vn, vf, b, ln, lf = (
            np.asarray(x, dtype=float)
            for x in (near_m3, far_m3, between_m3_s, near_loss_m3_s, far_loss_m3_s)
        )
        self.root_near, self.root_far = np.sqrt(vn), np.sqrt(vf)
        a, d, off = (b + ln) / vn, (b + lf) / vf, -b / (self.root_near * self.root_far)
        half = np.hypot((a - d) / 2, off)
        fast = (a + d) / 2 + half
        # The slow rate by the product of both: their difference would lose its digits.
        slow = np.where(
            fast > 0, (b * (ln + lf) + ln * lf) / (vn * vf * np.where(fast > 0, fast, 1.0)), 0.0
        )
        self.rates = (fast, slow)
        angle = 0.5 * np.arctan2(2 * off, a - d)
        self._cos, self._sin = np.cos(angle), np.sin(angle)
        #: What each mode adds to the concentrations near and far.
        self.near_weights = self._cos / self.root_near, -self._sin / self.root_near
        self.far_weights = self._sin / self.root_far, self._cos / self.root_far

    def modes(self, near: ArrayLike, far: ArrayLike) -> tuple[Array, Array]:
        """Both modes of what is in the zones: masses, or sources of mass, over the volume's root."""
        n, f = np.asarray(near) / self.root_near, np.asarray(far) / self.root_far
        return self._cos * n + self._sin * f, self._cos * f - self._sin * n

    def near(self, modes: tuple[Array, Array]) -> Array:
        """Concentration in the near zone."""
        return _weighed(self.near_weights, modes)

    def far(self, modes: tuple[Array, Array]) -> Array:
        """Concentration in the far zone."""
        return _weighed(self.far_weights, modes)

    def step(self, seconds: ArrayLike) -> Step:
        """A time to go on by, used with `after` and `held`."""
        return Step(np.asarray(seconds, dtype=float), self.rates)

    @staticmethod
    def brought(sources: tuple[Array, Array] | None, step: Step) -> Brought | None:
        """What sources that hold through a step add to the modes, and to their integral over it."""
        if sources is None:
            return None
        (first, second), (a, b), (c, d) = sources, step.gains, step.held_gains
        return Brought((first * a, second * b), (first * c, second * d))

    @staticmethod
    def after(
        modes: tuple[Array, Array], brought: Brought | None, step: Step
    ) -> tuple[Array, Array]:
        """The modes after a step; None for no source."""
        first, second = modes[0] * step.fades[0], modes[1] * step.fades[1]
        if brought is None:
            return first, second
        return first + brought.modes[0], second + brought.modes[1]

    @staticmethod
    def held(
        modes: tuple[Array, Array], brought: Brought | None, step: Step
    ) -> tuple[Array, Array]:
        """The modes' integral over a step [times s]."""
        first, second = modes[0] * step.gains[0], modes[1] * step.gains[1]
        if brought is None:
            return first, second
        return first + brought.held[0], second + brought.held[1]
