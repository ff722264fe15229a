"""The plate's finite element, with all its functions worked out at once."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from skfem import DiscreteField, ElementTriArgyris


class Quintic(ElementTriArgyris):  # type: ignore[misc]
    """The library's Argyris triangle; of one mesh, since it keeps what it has worked out.

    The library goes through the 21 functions and their 21 monomials one by one, which takes
    most of a plate's time.
    """

    def __init__(self) -> None:
        self._at: tuple[Any, ...] | None = None
        self._fields: list[DiscreteField] = []

    def gbasis(self, mapping: Any, X: Any, i: int, tind: Any = None) -> tuple[DiscreteField]:
        """Function ``i``, without its slopes, as the library asks for it."""
        if self.V is None:
            super().gbasis(mapping, X, i, tind)
        if self._at is None or any(
            a is not b for a, b in zip(self._at, (mapping, X, tind), strict=True)
        ):
            self._at = mapping, X, tind
            self._fields = self._all(mapping, X, tind)
        return (self._fields[i],)

    def _all(self, mapping: Any, X: Any, tind: Any) -> list[DiscreteField]:
        values = self._made(mapping, X, tind, ((0, 0),))
        return [DiscreteField(value=each) for each in values[0].transpose(1, 0, 2)]

    def curvatures(self, mapping: Any, X: Any) -> NDArray[np.float64]:
        """Of every function xx, yy and xy, shape (3, element, function, point)."""
        return self._made(mapping, X, None, ((2, 0), (0, 2), (1, 1)))

    def _made(
        self, mapping: Any, X: Any, tind: Any, kinds: Sequence[tuple[int, int]]
    ) -> NDArray[np.float64]:
        """Derivatives of every function, shape (kind, element, function, point)."""
        weights = self.V if tind is None else self.V[tind]
        x, y = mapping.F(X, tind=tind)
        turned = weights.transpose(0, 2, 1)
        return np.stack(
            [turned @ self._monomials(x, y, dx, dy).transpose(1, 0, 2) for dx, dy in kinds]
        )

    def _monomials(
        self, x: NDArray[np.float64], y: NDArray[np.float64], dx: int, dy: int
    ) -> NDArray[np.float64]:
        """Derivatives of xⁱyʲ in the library's order, shape (21, elements, points)."""
        px, py = _powers(x, dx, self.maxdeg), _powers(y, dy, self.maxdeg)
        return np.stack(
            [
                px[i] * py[j]
                for i in range(self.maxdeg + 1)
                for j in range(self.maxdeg + 1)
                if i + j <= self.maxdeg
            ]
        )


def _powers(x: NDArray[np.float64], times: int, most: int) -> list[NDArray[np.float64]]:
    """The ``times``-th derivatives of x⁰ … x^most."""
    plain = [np.ones_like(x)]
    for _ in range(most):
        plain.append(plain[-1] * x)
    factors = [float(np.prod(np.arange(i - times + 1, i + 1))) for i in range(most + 1)]
    return [f * plain[max(i - times, 0)] for i, f in enumerate(factors)]
