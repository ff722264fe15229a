"""Any tree of runs with any gates open, solved together.

Each run takes ``h(ṁ)`` of ``u = p₀² − p²`` (see `series`), and h grows with ṁ. The flows
of a tree follow from those of its open ends, so they are the least point of one strictly
convex function: the sum over runs of ``∫ h dṁ``, less ``∫ U dM`` of the vacuum, whose U
falls with its flow. Newton's method with Armijo's rule finds it from anywhere; on a tree
a step costs one sweep up, combining what is parallel and in series, and one sweep down.
The first guess takes each run as a square law, for which the two sweeps are the answer
itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..facts import Listing, Name
from ..faults import refusal
from .curve import SuctionCurve
from .errors import NetworkError
from .properties import GAS_CONSTANT_J_KG_K, RoomAir
from .series import Coefficients, Element, coefficients, plain, positive
from .sweeps import Fan, Kernel, Tree

Array = NDArray[np.float64]

_TRUSTED = 1e-9


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
            raise NetworkError(refusal("air.network.no_name"))
        if duct.name in table:
            raise NetworkError(refusal("air.network.same_name", run=Name(duct.name)))
        table[duct.name] = duct
    for duct in ducts:
        if duct.to and duct.to not in table:
            raise NetworkError(
                refusal("air.network.joins_none", run=Name(duct.name), to=Name(duct.to))
            )
        seen, here = [duct.name], duct.to
        while here:
            if here in seen:
                loop = tuple(Name(run) for run in (*seen[seen.index(here) :], here))
                raise NetworkError(refusal("air.network.loop", loop=Listing(loop, "arrows")))
            seen.append(here)
            here = table[here].to
        for e in duct.elements:
            _possible(duct, e)
    if not ducts:
        raise NetworkError(refusal("air.network.no_run"))
    return table


def _possible(duct: Duct, e: Element) -> None:
    for what, values, least in (
        ("bore", e.bore_m, 1e-9),
        ("loss factor", e.factor, 0.0),
        ("length", e.friction_length_m, 0.0),
        ("resistance", e.linear_pa_s_m3, 0.0),
        ("roughness", e.roughness_m, 0.0),
    ):
        if not _within(plain(values), least):
            raise NetworkError(
                refusal(
                    "air.network.impossible",
                    run=Name(duct.name),
                    element=Name(e.what),
                    value=what,
                    found=Name(f"{float(np.min(values)):g}"),
                    bound="above zero" if least else "from zero",
                )
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
            raise NetworkError(refusal("air.network.joined_end", run=Name(name)))
        run = coefficients(duct.elements, room)
        if not duct.open:
            run = Coefficients(
                run.linear, run.square + rt / np.maximum(leak, 1e-9) ** 2, run.smooth
            )
        if not heads[name] and _free(run):
            raise NetworkError(refusal("air.network.free_end", run=Name(name)))
        heads[duct.to].append(add(name, heads[name], run))
        joint = plain(duct.joint_leak_m2)
        if positive(joint):
            way = Coefficients(0.0, rt / np.maximum(joint, 1e-9) ** 2)
            heads[duct.to].append(add(f"{name} leak", [], way))
    if not heads[""]:
        raise NetworkError(refusal("air.network.all_shut"))
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
        one = Kernel(tree, tree.float_runs, _fan_floats(curve, room), math.sqrt)
        flows, u, residual, steps = one.solve(open_kg_s.item())
        mass, ends = np.array(flows)[:, None], np.array(u)[:, None]
    else:
        many = Kernel(tree, [r.rise for r in tree.runs], fan_of(curve, room), np.sqrt)
        flows, u, residual, steps = many.solve(np.broadcast_to(open_kg_s, shape).astype(float))
        mass = np.array([np.broadcast_to(m, shape) for m in flows])
        ends = np.array([np.broadcast_to(x, shape) for x in u])
    if not residual < _TRUSTED:
        raise NetworkError(refusal("air.network.unsettled", gap=Name(f"{residual:.1e}")))
    return NetworkFlow(tree.names, mass, ends, residual, steps)
