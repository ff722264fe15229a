"""Any tree of runs with any gates open, solved together.

Each run takes ``h(ṁ)`` of ``u = p₀² − p²`` (see `series`), and h grows with ṁ. The flows
of a tree follow from those of its open ends, so they are the least point of one strictly
convex function: the sum over runs of ``∫ h dṁ``, less ``∫ U dM`` of the vacuum, whose U
falls with its flow. Newton's method with a line search finds it from anywhere; on a tree
a step costs one sweep up, combining what is parallel and in series, and one sweep down.
The first guess takes each run as a square law, for which the two sweeps are the answer
itself.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .curve import SuctionCurve
from .friction import churchill_float
from .properties import GAS_CONSTANT_J_KG_K, RoomAir
from .series import Coefficients, Element, coefficients, plain, positive

Array = NDArray[np.float64]

_STEPS = 200
_DONE = 1e-10
_SMALL = 1e-4
_EXACT = 1e-12
_TRUSTED = 1e-9


class NetworkError(ValueError):
    """Runs that are no tree, or a tree that no air can enter: what, and how to mend it."""


@dataclass(frozen=True)
class Duct:
    """One run of the tree, its air flowing towards ``to``.

    Attributes
    ----------
    name, to
        Its own name and that of the run it joins; an empty ``to`` is the vacuum.
    elements
        What costs pressure in it, upstream first. A wye's loss belongs to the run that
        enters it.
    open
        Whether its gate is open; a closed one shuts off all that is upstream of it.
    gate_leak_m2
        What a closed gate leaves open, discharge coefficient included.
    joint_leak_m2
        Opening to the room where it joins ``to``.
    enters
        Whether room air enters at its upstream end; None: only where nothing joins it.
    """

    name: str
    to: str
    elements: tuple[Element, ...]
    open: bool = True
    gate_leak_m2: Array | float = 0.0
    joint_leak_m2: Array | float = 0.0
    enters: bool | None = None


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
class NetworkFlow:
    """The solved tree; arrays are runs by samples.

    Attributes
    ----------
    names
        Runs that carry air; closed ones are left out.
    mass_kg_s
        Mass flow in each.
    u_pa2
        ``p₀² − p²`` at each run's downstream end.
    residual
        Largest mismatch of u along two ways to the same place, relative to the vacuum's.
    steps
        Newton steps taken.
    """

    names: tuple[str, ...]
    mass_kg_s: Array
    u_pa2: Array
    residual: float
    steps: int

    def of(self, name: str) -> Array:
        """Mass flow in a run [kg/s], zeros when it is shut."""
        if name in self.names:
            return np.asarray(self.mass_kg_s[self.names.index(name)])
        return np.zeros(self.mass_kg_s.shape[1:])


def _check(ducts: Sequence[Duct]) -> dict[str, Duct]:
    table: dict[str, Duct] = {}
    for duct in ducts:
        if not duct.name:
            raise NetworkError("a run without a name: give each run a name of its own")
        if duct.name in table:
            raise NetworkError(f"two runs are called {duct.name!r}: give each a name of its own")
        table[duct.name] = duct
    for duct in ducts:
        if duct.to and duct.to not in table:
            raise NetworkError(f"run {duct.name!r} joins {duct.to!r}, which is no run here")
        seen, here = [duct.name], duct.to
        while here:
            if here in seen:
                loop = " → ".join([*seen[seen.index(here) :], here])
                raise NetworkError(
                    f"the runs go in a loop: {loop}; let one of them join the vacuum"
                )
            seen.append(here)
            here = table[here].to
        for e in duct.elements:
            _possible(duct, e)
    if not ducts:
        raise NetworkError("no run: give at least one that joins the vacuum")
    return table


def _possible(duct: Duct, e: Element) -> None:
    for what, values, least in (
        ("bore", e.bore_m, 1e-9), ("loss factor", e.factor, 0.0), ("length", e.friction_length_m, 0.0),
        ("resistance", e.linear_pa_s_m3, 0.0), ("roughness", e.roughness_m, 0.0),
    ):  # fmt: skip
        if not _within(plain(values), least):
            found = float(np.min(values))
            bound = "above zero" if least else "zero or more"
            raise NetworkError(
                f"run {duct.name!r}, {e.what}: found {what} {found:g}, allowed {bound} and finite"
            )


def _within(values: Any, least: float) -> bool:
    """Finite and not below ``least``; no for NaN."""
    if isinstance(values, np.ndarray):
        return bool(np.min(values) >= least and np.max(values) < np.inf)
    return bool(least <= values < math.inf)


def compile_tree(ducts: Sequence[Duct], room: RoomAir) -> Tree:
    """Check the runs and put them in order.

    Raises
    ------
    NetworkError
        Two runs of one name, a run that joins none, a loop, an impossible bore or factor,
        an open end without any loss, or no way in for air.
    """
    table = _check(ducts)
    joins: dict[str, list[str]] = {name: [] for name in ("", *table)}
    for duct in ducts:
        joins[duct.to].append(duct.name)
    rt = GAS_CONSTANT_J_KG_K * plain(room.temperature_k)
    names: list[str] = []
    up: list[tuple[int, ...]] = []
    runs: list[Coefficients] = []

    def add(name: str, ups: list[int], run: Coefficients) -> int:
        names.append(name)
        up.append(tuple(ups))
        runs.append(run)
        return len(names) - 1

    # Depth first without recursion: a run is added once all that joins it has been.
    heads: dict[str, list[int]] = {name: [] for name in ("", *table)}
    stack: list[tuple[str, bool]] = [(name, False) for name in joins[""]]
    while stack:
        name, joined = stack.pop()
        duct = table[name]
        leak = plain(duct.gate_leak_m2)
        if not duct.open and not positive(leak):
            continue
        if not joined:
            stack.append((name, True))
            stack += [(each, False) for each in joins[name]]
            continue
        entering = not joins[name] if duct.enters is None else duct.enters
        if not heads[name] and not entering:
            continue
        if heads[name] and duct.enters:
            raise NetworkError(f"run {name!r} is joined by others and cannot be an open end too")
        run = coefficients(duct.elements, room)
        if not duct.open:
            run = Coefficients(
                run.linear, run.square + rt / np.maximum(leak, 1e-9) ** 2, run.smooth
            )
        if not heads[name] and _free(run):
            raise NetworkError(f"run {name!r} is open to the room without any loss: give its entry")
        heads[duct.to].append(add(name, heads[name], run))
        joint = plain(duct.joint_leak_m2)
        if positive(joint):
            way = Coefficients(0.0, rt / np.maximum(joint, 1e-9) ** 2)
            heads[duct.to].append(add(f"{name} leak", [], way))
    if not heads[""]:
        raise NetworkError("no gate is open, and nothing leaks: open a gate")
    down = [-1] * len(names)
    for i, ups in enumerate(up):
        for j in ups:
            down[j] = i
    return Tree(tuple(names), tuple(down), tuple(up), tuple(heads[""]), tuple(runs))


def _free(run: Coefficients) -> bool:
    total = run.linear + run.square
    return not run.smooth and bool(
        np.min(total) <= 0 if isinstance(total, np.ndarray) else total <= 0
    )


Fan = Callable[[Any], tuple[Any, Any]]


def fan_of(curve: SuctionCurve, room: RoomAir) -> Fan:
    """The vacuum's u and its slope against mass flow [kg/s]."""
    rho, p0 = np.asarray(room.density_kg_m3), room.pressure_pa

    def fan(mass: Any) -> tuple[Any, Any]:
        s, ds = curve.raw(mass / rho)
        return (2 * p0 - s) * s, 2 * (p0 - s) * ds / rho

    return fan


def _fan_floats(curve: SuctionCurve, room: RoomAir) -> Fan:
    """The same for one sample, in plain floats."""
    rho, p0 = room.density_kg_m3.item(), np.asarray(room.pressure_pa).item()
    a, b, e, knee = (
        x.item() for x in (curve.sealed_pa, curve.slope_start, curve.slope_end, curve.knee_m3_s)
    )
    bow = (e - b) / (2 * knee)

    def fan(mass: float) -> tuple[float, float]:
        q = mass / rho
        x = q if q < knee else knee
        s = a - (b + bow * x) * x - e * (q - x)
        return (2 * p0 - s) * s, -2 * (p0 - s) * (b + 2 * bow * x) / rho

    return fan


def solve(tree: Tree, curve: SuctionCurve, room: RoomAir) -> NetworkFlow:
    """Flow in every run where tree and suction curve meet.

    One sample is solved in plain floats, many in arrays; the equations are the same.

    Raises
    ------
    NetworkError
        No meeting within the steps allowed, which no valid tree is known to need.
    """
    open_kg_s = room.density_kg_m3 * curve.open_m3_s
    shape = np.broadcast_shapes(np.shape(open_kg_s), tree.shape)
    if math.prod(shape) == 1:
        one = _Kernel(tree, tree.float_runs, _fan_floats(curve, room), math.sqrt)
        flows, u, residual, steps = one.solve(open_kg_s.item())
        mass, ends = np.array(flows)[:, None], np.array(u)[:, None]
    else:
        many = _Kernel(tree, [r.rise for r in tree.runs], fan_of(curve, room), np.sqrt)
        flows, u, residual, steps = many.solve(np.broadcast_to(open_kg_s, shape).astype(float))
        mass = np.array([np.broadcast_to(m, shape) for m in flows])
        ends = np.array([np.broadcast_to(x, shape) for x in u])
    if not residual < _TRUSTED:
        raise NetworkError(
            f"the tree did not settle: its ways differ by {residual:.1e} of the suction"
        )
    return NetworkFlow(tree.names, mass, ends, residual, steps)


@dataclass(frozen=True)
class _Kernel:
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
        """Go along the step as far as the convex function allows."""
        tree = self.tree
        t: Any = 1.0
        noise = self._noise(m, values)
        first = self._along(m, [h for h, _ in values], d)
        for _ in range(60):
            new: list[Any] = [None] * len(m)
            for i, ups in enumerate(tree.up):
                if ups:
                    total = new[ups[0]]
                    for j in ups[1:]:
                        total = total + new[j]
                    new[i] = total
                else:
                    new[i] = m[i] + t * d[i]
            fresh = [f(x) for f, x in zip(self.run, new, strict=True)]
            last = self._along(new, [h for h, _ in fresh], d)
            # Near the root both are rounding; a step that no longer matters is taken.
            over = (last > 0.9 * abs(first)) & (abs(first) > noise)
            if not np.any(over):
                break
            t = t / 2 if isinstance(over, bool) else np.where(over, t / 2, t)
        return new, fresh

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
