"""A measured or assumed value with its range, and the draw that samples it."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from statistics import NormalDist
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .dimension import Dimension, dimension

Standing = Literal["measured", "label", "assumed", "chosen"]
Shape = Literal["exact", "normal", "flat"]


@dataclass(frozen=True)
class Quantity:
    """One value in SI with its range.

    Attributes
    ----------
    best_si, low_si, high_si
        The value used in the nominal case, and the ends of its range.
    dimension_name
        What kind of quantity it is.
    shape
        ``normal``: ``±`` was written, and its half-width is taken as two standard
        deviations (coverage factor 2, as in the Guide to the Expression of
        Uncertainty in Measurement, JCGM 100:2008, 6.3.3). ``flat``: a range
        ``a..b``, any value in it as likely as another. ``exact``: neither.
    resolution_si
        Half of the last digit or fraction written: what the writing itself leaves open.
    text
        As the person wrote it, for messages and for the printed plan.
    path
        Where it stands in the shop file, such as ``vacuum.height``. It names the random
        stream, so that adding one input does not redraw the others.
    standing
        ``measured`` by the person, read from a ``label``, ``assumed`` by the program,
        or ``chosen`` (a wish, which has no error).
    """

    best_si: float
    low_si: float
    high_si: float
    dimension_name: str
    shape: Shape = "exact"
    resolution_si: float = 0.0
    text: str = ""
    path: str = ""
    standing: Standing = "measured"

    @property
    def dimension(self) -> Dimension:
        """The kind of quantity."""
        return dimension(self.dimension_name)

    @property
    def assumed(self) -> bool:
        """Whether the program, not the person, supplied the value."""
        return self.standing == "assumed"

    @property
    def at_hand(self) -> bool:
        """Whether it is of something in the shop file, not of what is to be bought or made yet."""
        return not self.path.startswith(("catalogue[", "cut[", "printed["))

    def at(self, path: str) -> Quantity:
        """The same quantity, known by another place in the file."""
        return replace(self, path=path)

    def standing_as(self, standing: Standing) -> Quantity:
        """The same value with another standing."""
        return replace(self, standing=standing)


def exact(si: float, dimension_name: str, *, path: str = "", text: str = "") -> Quantity:
    """A quantity without a range."""
    return Quantity(si, si, si, dimension_name, path=path, text=text)


# A plan asks for some seven hundred quantities, each of up to 16 kB: more would be the old
# values of what is edited, and the old names of what is renamed.
@lru_cache(maxsize=128)
def _stratified(path: str, seed: int, count: int) -> NDArray[np.float64]:
    """Probabilities in (0, 1), one in each of ``count`` equal strata, shuffled.

    A Latin hypercube column (McKay, Beckman and Conover 1979): the mean of a smooth
    result settles far sooner than with independent draws.
    """
    digest = hashlib.blake2b(f"{seed}:{path}".encode(), digest_size=8).digest()
    rng = np.random.default_rng(int.from_bytes(digest, "big"))
    column = (rng.permutation(count) + rng.random(count)) / count
    column.setflags(write=False)
    return column


@lru_cache(maxsize=1024)
def _samples(
    low: float, high: float, path: str, shape: Shape, seed: int, count: int
) -> NDArray[np.float64]:
    """Kept, since the same quantity is asked for by every room and every change tried."""
    p = _stratified(path, seed, count)
    if shape == "normal":
        found = (low + high) / 2 + np.interp(p, *_normal_scores()) * (high - low) / 4
    else:
        found = low + p * (high - low)
    found.setflags(write=False)
    return found


@lru_cache(maxsize=512)
def _even(value: float, count: int) -> NDArray[np.float64]:
    found = np.full(count, value)
    found.setflags(write=False)
    return found


@cache
def _normal_scores() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Probabilities and their standard normal quantiles, to be interpolated.

    Cut off at three deviations: a far tail of a tape measure is a blunder, and a blunder
    is not what ± describes. A table, since importing scipy.special takes longer than a plan
    can spare.
    """
    probabilities = np.linspace(0.00135, 0.99865, 8193)
    quantile = NormalDist().inv_cdf
    return probabilities, np.array([quantile(p) for p in probabilities])


#: Samples of a plan: with so many a likelihood is stable to about two points.
SAMPLES = 2048

#: Of more tools the air of each on all samples takes too many megabytes.
MANY_TOOLS = 60


def samples_for(tools: int) -> int:
    """How many samples a plan for so many tools is made on."""
    return SAMPLES if tools <= MANY_TOOLS else SAMPLES // 2


@dataclass(frozen=True)
class Draw:
    """One seeded draw of everything uncertain.

    ``Draw(1)`` is the nominal case. The stream of each quantity depends only on its
    path and the seed, so rooms that share a quantity share its samples, and a stage
    that uses three quantities is untouched by a change to a fourth.
    """

    count: int = 1
    seed: int = 20

    @property
    def nominal(self) -> bool:
        """Whether this is the case of best values alone."""
        return self.count == 1

    def even(self, value: float) -> NDArray[np.float64]:
        """A value that is the same in every sample, shape ``(count,)``, not to be written to."""
        return _even(value, self.count)

    def of(self, quantity: Quantity) -> NDArray[np.float64]:
        """Samples of ``quantity`` in SI, shape ``(count,)``, not to be written to."""
        if self.nominal or quantity.shape == "exact":
            return _even(quantity.best_si, self.count)
        return self.between(quantity.low_si, quantity.high_si, quantity.path, quantity.shape)

    def between(
        self, low: float, high: float, path: str, shape: Shape = "flat"
    ) -> NDArray[np.float64]:
        """Samples of a quantity that has no place in the shop file, shape ``(count,)``.

        Parameters
        ----------
        low, high
            Ends of the range; for ``normal``, two standard deviations either side.
        path
            Names the random stream, such as ``air.loss_factor``.
        """
        if self.nominal or high <= low:
            return _even((low + high) / 2, self.count)
        return _samples(low, high, path, shape, self.seed, self.count)
