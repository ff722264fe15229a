"""A tree's sweeps up and down: the first guess, Newton's step, the line search.

The same lines work in plain floats for one sample and in arrays for many.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from .friction import churchill_float
from .series import Coefficients, plain, positive

_STEPS = 200
_DONE = 1e-10
_SMALL = 1e-4
_EXACT = 1e-12
_FALL = 0.1

Fan = Callable[[Any], tuple[Any, Any]]


@dataclass(frozen=True)
class Tree:
    """A compiled tree: runs with every upstream run before its downstream one.

    ``names`` of leaks end in ``" leak"``; ``down`` is the index of the run joined, −1 for
    the vacuum.
    """

    names: tuple[str, ...]
    down: tuple[int, ...]
    up: tuple[tuple[int, ...], ...]
    top: tuple[int, ...]
    runs: tuple[Coefficients, ...]

    @cached_property
    def shape(self) -> tuple[int, ...]:
        """Shape of the samples; empty for one."""
        shapes = {np.shape(x) for r in self.runs for x in (r.linear, r.square, *sum(r.smooth, ()))}
        return np.broadcast_shapes(*shapes)

    @cached_property
    def constant(self) -> bool:
        """Whether every run is a plain square law."""
        return all(not r.smooth and not positive(r.linear) for r in self.runs)

    @cached_property
    def float_runs(self) -> tuple[Callable[[float], tuple[float, float]], ...]:
        """Each run's loss and its slope in plain floats, for trees of one sample."""
        return tuple(_float_run(r) for r in self.runs)


def _float_run(run: Coefficients) -> Callable[[float], tuple[float, float]]:
    linear, square = float(plain(run.linear)), float(plain(run.square))
    smooth = [tuple(float(plain(x)) for x in each) for each in run.smooth]

    def bent(m: float) -> tuple[float, float]:
        size = abs(m)
        law, slope = linear + square * size, linear + 2 * square * size
        for base, reynolds, rough in smooth:
            f, df = churchill_float(reynolds * size, rough)
            law += base * f * size
            slope += base * f * size * (2 + df)
        return law * m, slope

    if smooth:
        return bent
    if linear:
        return lambda m: ((linear + square * abs(m)) * m, linear + 2 * square * abs(m))
    return lambda m: (square * abs(m) * m, 2 * square * abs(m))


@dataclass(frozen=True)
class Kernel:
    """The sweeps, in whatever arithmetic ``run`` and ``fan`` speak: floats or arrays."""

    tree: Tree
    run: Sequence[Callable[[Any], tuple[Any, Any]]]
    fan: Fan
    sqrt: Callable[[Any], Any]

    def solve(self, open_kg_s: Any) -> tuple[list[Any], list[Any], float, int]:
        """Flows, u downstream, mismatch and steps, from the vacuum's open mass flow."""
        m = self._guess(open_kg_s)
        taken = 0
        values = [f(x) for f, x in zip(self.run, m, strict=True)]
        if self.tree.constant:
            u, residual = self._potentials(m, values)
            if residual < _EXACT:
                return m, u, residual, taken
        while taken < _STEPS:
            taken += 1
            d = self._newton(m, values)
            # An end behind a wide opening may carry next to nothing; it need not be known to
            # the last digit of that.
            total = sum(abs(m[j]) for j in self.tree.top)
            moved = max(_largest(x / (abs(y) + _SMALL * total)) for x, y in zip(d, m, strict=True))
            m, values = self._advance(m, values, d)
            if moved < _DONE:
                break
        u, residual = self._potentials(m, values)
        return m, u, residual, taken

    def _guess(self, open_kg_s: Any) -> list[Any]:
        """Square laws that agree with each run at the last guess; two rounds."""
        leaves = sum(1 for ups in self.tree.up if not ups)
        m: list[Any] = [open_kg_s / leaves] * len(self.run)
        for ups, i in zip(self.tree.up, range(len(m)), strict=True):
            if ups:
                m[i] = sum(m[j] for j in ups)
        for _ in range(1 if self.tree.constant else 3):
            m = self._square(
                [f(x)[0] / (x * x) for f, x in zip(self.run, m, strict=True)], open_kg_s
            )
        return m

    def _square(self, law: list[Any], open_kg_s: Any) -> list[Any]:
        tree, sqrt = self.tree, self.sqrt
        inverse: list[Any] = [0.0] * len(law)  # 1/√R of each run with all upstream of it
        joined: list[Any] = [0.0] * len(law)  # sum of those over what joins it
        for i, ups in enumerate(tree.up):
            if ups:
                total = inverse[ups[0]]
                for j in ups[1:]:
                    total = total + inverse[j]
                joined[i] = total
                inverse[i] = 1 / sqrt(law[i] + 1 / (total * total))
            else:
                inverse[i] = 1 / sqrt(law[i])
        top = sum(inverse[j] for j in tree.top)
        mass = self._close(1 / (top * top), open_kg_s)
        m: list[Any] = [None] * len(law)
        for j in tree.top:
            m[j] = mass * (inverse[j] / top)
        for i in range(len(law) - 1, -1, -1):
            for j in tree.up[i]:
                m[j] = m[i] * (inverse[j] / joined[i])
        return m

    def _close(self, law: Any, open_kg_s: Any) -> Any:
        """Where ``law M²`` meets the vacuum; Newton from above needs no guard for a bowed curve."""
        # Both bound it from above: the open airflow, and the sealed suction on the law alone.
        low = open_kg_s * 0.0
        alone = self.sqrt(self.fan(low)[0] / law)
        mass = min(open_kg_s, alone) if isinstance(alone, float) else np.minimum(open_kg_s, alone)
        high = mass
        for _ in range(60):
            u, du = self.fan(mass)
            gap = law * mass * mass - u
            new = mass - gap / (2 * law * mass - du)
            if isinstance(mass, float):
                low, high = (low, mass) if gap > 0 else (mass, high)
                if not low <= new <= high:
                    new = (low + high) / 2
            else:
                high = np.where(gap > 0, mass, high)
                low = np.where(gap > 0, low, mass)
                new = np.where((new >= low) & (new <= high), new, (low + high) / 2)
            moved = _largest((new - mass) / new)
            mass = new
            if moved < 1e-12:
                break
        return mass

    def _newton(self, m: list[Any], values: list[tuple[Any, Any]]) -> list[Any]:
        """The full step in every run's flow: linear laws ``u = α + β ṁ`` swept up and down."""
        tree = self.tree
        n = len(m)
        floor = 1e-13 * self.fan(m[0] * 0.0)[0]
        alpha: list[Any] = [0.0] * n
        beta: list[Any] = [0.0] * n
        inner: list[Any] = [None] * n
        for i, ups in enumerate(tree.up):
            h, g = values[i]
            # A run at rest has no slope; a little of one keeps the step finite and downhill.
            g = g + floor
            a, b = h - g * m[i], g
            if ups:
                ja, jb = _parallel(alpha, beta, ups)
                inner[i] = (ja, jb)
                a, b = a + ja, b + jb
            alpha[i], beta[i] = a, b
        a, b = _parallel(alpha, beta, tree.top)
        mass = m[tree.top[0]]
        for j in tree.top[1:]:
            mass = mass + m[j]
        u, du = self.fan(mass)
        total = (u - du * mass - a) / (b - du)
        new: list[Any] = [None] * n
        here = a + b * total
        for j in tree.top:
            new[j] = (here - alpha[j]) / beta[j]
        for i in range(n - 1, -1, -1):
            if inner[i] is not None:
                a, b = inner[i]
                here = a + b * new[i]
                for j in tree.up[i]:
                    new[j] = (here - alpha[j]) / beta[j]
        return [x - y for x, y in zip(new, m, strict=True)]

    def _advance(
        self, m: list[Any], values: list[tuple[Any, Any]], d: list[Any]
    ) -> tuple[list[Any], list[tuple[Any, Any]]]:
        """Go along the step as far as the convex function falls enough (Armijo's rule).

        Its slope only grows along the step, so that over the step t it changes by no more
        than ``t/2`` times the slopes at half and whole: where these add up to well below
        zero, it has fallen. Halving t comes there from any start.
        """
        t: Any = 1.0
        noise = self._noise(m, values)
        first = self._along(m, [h for h, _ in values], d)
        for _ in range(60):
            new, fresh = self._at(m, d, t)
            half, middle = self._at(m, d, t / 2)
            slopes = self._along(new, [h for h, _ in fresh], d) + self._along(
                half, [h for h, _ in middle], d
            )
            # Near the root all is rounding; a step that no longer matters is taken.
            over = (slopes > _FALL * first) & (abs(first) > noise)
            if not np.any(over):
                break
            t = t / 2 if isinstance(over, bool) else np.where(over, t / 2, t)
        return new, fresh

    def _at(self, m: list[Any], d: list[Any], t: Any) -> tuple[list[Any], list[tuple[Any, Any]]]:
        """Flows a part ``t`` of the step on, what leaves a joint being what enters it."""
        new: list[Any] = [None] * len(m)
        for i, ups in enumerate(self.tree.up):
            if ups:
                total = new[ups[0]]
                for j in ups[1:]:
                    total = total + new[j]
                new[i] = total
            else:
                new[i] = m[i] + t * d[i]
        return new, [f(x) for f, x in zip(self.run, new, strict=True)]

    def _along(self, m: list[Any], h: list[Any], d: list[Any]) -> Any:
        """Slope of the convex function along the step."""
        slope = h[0] * d[0]
        for x, y in zip(h[1:], d[1:], strict=True):
            slope = slope + x * y
        mass, step = m[self.tree.top[0]], d[self.tree.top[0]]
        for j in self.tree.top[1:]:
            mass, step = mass + m[j], step + d[j]
        return slope - self.fan(mass)[0] * step

    def _noise(self, m: list[Any], values: list[tuple[Any, Any]]) -> Any:
        """What rounding leaves of `_along` where it should be nothing."""
        total = abs(values[0][0] * m[0])
        for (h, _), x in zip(values[1:], m[1:], strict=True):
            total = total + abs(h * x)
        return 1e-13 * total

    def _potentials(self, m: list[Any], values: list[tuple[Any, Any]]) -> tuple[list[Any], float]:
        """u downstream of each run, from the open ends; and how far the ways disagree."""
        tree = self.tree
        u: list[Any] = [None] * len(m)
        worst = 0.0
        mass: Any = 0.0
        for j in tree.top:
            mass = mass + m[j]
        at_vacuum = self.fan(mass)[0]
        for i, ups in enumerate(tree.up):
            base: Any = 0.0
            if ups:
                base = u[ups[0]]
                for j in ups[1:]:
                    worst = max(worst, _largest((u[j] - base) / at_vacuum))
            u[i] = base + values[i][0]
        for j in tree.top:
            worst = max(worst, _largest((u[j] - at_vacuum) / at_vacuum))
        return u, worst


def _parallel(alpha: list[Any], beta: list[Any], ups: Sequence[int]) -> tuple[Any, Any]:
    if len(ups) == 1:
        return alpha[ups[0]], beta[ups[0]]
    y: Any = 0.0
    z: Any = 0.0
    for j in ups:
        w = 1 / beta[j]
        y = y + w
        z = z + alpha[j] * w
    return z / y, 1 / y


def _largest(x: Any) -> float:
    return abs(x) if isinstance(x, float) else float(np.max(np.abs(x)))
