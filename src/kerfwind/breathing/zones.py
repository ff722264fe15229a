"""Two volumes of air, round the worker and the rest of the room, solved exactly.

``V_n C_n' = G_n + β (C_f − C_n) − L_n C_n`` and ``V_f C_f' = G_f + β (C_n − C_f) − L_f C_f``.
With sources that hold for a while the solution is the sum of two modes that fade by
themselves, so a step may be as long as a source lasts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def _phi1(x: Array) -> Array:
    """``(1 − e^(−x)) / x``."""
    safe = np.where(x < 1e-3, 1.0, x)
    return np.where(x < 1e-3, 1 - x / 2 + x**2 / 6 - x**3 / 24, -np.expm1(-safe) / safe)


def _phi2(x: Array) -> Array:
    """``(x − 1 + e^(−x)) / x²``."""
    safe = np.where(x < 1e-2, 1.0, x)
    series = 0.5 - x / 6 + x**2 / 24 - x**3 / 120 + x**4 / 720
    return np.where(x < 1e-2, series, (safe + np.expm1(-safe)) / safe**2)


@dataclass(frozen=True)
class Step:
    """What a time of this length does to both modes; see `Zones.step`."""

    fades: tuple[Array, Array]
    gains: tuple[Array, Array]
    held_gains: tuple[Array, Array]


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

    def modes(self, near: ArrayLike, far: ArrayLike) -> tuple[Array, Array]:
        """Both modes of what is in the zones: masses, or sources of mass, over the volume's root."""
        n, f = np.asarray(near) / self.root_near, np.asarray(far) / self.root_far
        return self._cos * n + self._sin * f, self._cos * f - self._sin * n

    def near(self, modes: tuple[Array, Array]) -> Array:
        """Concentration in the near zone."""
        return np.asarray((self._cos * modes[0] - self._sin * modes[1]) / self.root_near)

    def far(self, modes: tuple[Array, Array]) -> Array:
        """Concentration in the far zone."""
        return np.asarray((self._sin * modes[0] + self._cos * modes[1]) / self.root_far)

    def step(self, seconds: ArrayLike) -> Step:
        """A time to go on by, used with `after` and `held`."""
        t = np.asarray(seconds, dtype=float)
        fades, gains, held_gains = [], [], []
        for rate in self.rates:
            x = rate * t
            fades.append(np.exp(-x))
            gains.append(t * _phi1(x))
            held_gains.append(t**2 * _phi2(x))
        return Step((fades[0], fades[1]), (gains[0], gains[1]), (held_gains[0], held_gains[1]))

    @staticmethod
    def after(
        modes: tuple[Array, Array], sources: tuple[Array, Array] | None, step: Step
    ) -> tuple[Array, Array]:
        """The modes after a step with sources that hold through it; None for no source."""
        first, second = (m * f for m, f in zip(modes, step.fades, strict=True))
        if sources is None:
            return first, second
        return first + sources[0] * step.gains[0], second + sources[1] * step.gains[1]

    @staticmethod
    def held(
        modes: tuple[Array, Array], sources: tuple[Array, Array] | None, step: Step
    ) -> tuple[Array, Array]:
        """The modes' integral over a step [times s]."""
        first, second = (m * h for m, h in zip(modes, step.gains, strict=True))
        if sources is None:
            return first, second
        return first + sources[0] * step.held_gains[0], second + sources[1] * step.held_gains[1]
