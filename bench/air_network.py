"""The branched network: speed against scipy and a network library, agreement, any tree."""

from __future__ import annotations

import time
import warnings
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bench.air_cases import ROOM, curve, random_ducts, shop_tree
from kerfwind.air import Duct, NetworkError, SuctionCurve, compile_tree, solve
from kerfwind.air.network import NetworkFlow
from kerfwind.air.properties import GAS_CONSTANT_J_KG_K

Array = NDArray[np.float64]

_BULK = 10_000


def best_of(times: int, run: Callable[[], object]) -> float:
    """Seconds of the quickest of some runs."""
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        run()
        best = min(best, time.perf_counter() - start)
    return best


def scipy_solve(ducts: list[Duct], bores: Array, factors: Array, machine: SuctionCurve) -> Array:
    """Mass flow in each run by `scipy.optimize.root` on the same equations, one sample.

    Unknown are all flows and u at the end of each run, scaled to about one; the equations
    are each run's loss, each joint's balance and the suction curve.
    """
    from scipy.optimize import root

    names = [d.name for d in ducts]
    down = np.array([names.index(d.to) if d.to else -1 for d in ducts])
    leaf = np.array([d.name not in {e.to for e in ducts} for d in ducts])
    law = factors * GAS_CONSTANT_J_KG_K * ROOM.temperature_k[0] / (np.pi / 4 * bores**2) ** 2
    rho, p0 = ROOM.density_kg_m3[0], ROOM.pressure_pa[0]
    top = float(machine.open_m3_s[0]) * rho
    u_top = (2 * p0 - machine.sealed_pa[0]) * machine.sealed_pa[0]
    n = len(ducts)
    starts = [np.flatnonzero(down == i) for i in range(n)]
    first = np.array([s[0] if len(s) else -1 for s in starts])
    a, b, e, m = (
        float(x[0])
        for x in (machine.sealed_pa, machine.slope_start, machine.slope_end, machine.knee_m3_s)
    )

    def gaps(x: Array) -> Array:
        flow, u = x[:n] * top, x[n:] * u_top
        into = np.bincount(down + 1, weights=flow, minlength=n + 1)[1:]
        # u where a run begins: that at the end of any that joins it; nothing in the room.
        before = np.where(leaf, 0.0, u[first])
        loss = (u - before - law * flow * np.abs(flow)) / u_top
        balance = np.where(leaf, 0.0, (flow - into) / top)
        level = [(u[j] - u[s[0]]) / u_top for s in starts for j in s[1:]]
        q = flow[0] / rho
        s = a - (b + (e - b) / (2 * m) * min(q, m)) * min(q, m) - e * (q - min(q, m))
        fan = (u[0] - (2 * p0 - s) * s) / u_top
        return np.concatenate([loss, balance[~leaf], np.array(level), [fan]])

    leaves = int(leaf.sum())
    count = np.zeros(n)
    for i in np.flatnonzero(leaf):
        j = i
        while j >= 0:
            count[j] += 1
            j = down[j]
    guess = np.concatenate([0.6 * count / leaves, np.full(n, 0.5)])
    found = root(gaps, guess, method="hybr", tol=1e-10)
    if not found.success:
        raise RuntimeError(found.message)
    return np.asarray(found.x[:n] * top)


def library_net(ducts: list[Duct], bores: Array, factors: Array, suction_pa: float) -> Any:
    """The same tree in pandapipes: the room at each open end, the suction at the vacuum."""
    import pandapipes as pp

    net = pp.create_empty_network()
    gas = pp.create_constant_fluid(
        "room air",
        "gas",
        density=101_325.0 / (GAS_CONSTANT_J_KG_K * 273.15),
        viscosity=1.81e-5,
        heat_capacity=1006.0,
        compressibility=1.0,
        der_compressibility=0.0,
        molar_mass=28.96,
    )
    net.update(fluid=gas)
    t = float(ROOM.temperature_k[0])
    p0 = 0.0  # the library counts from the ambient pressure, 1.01325 bar
    ends = {d.name: pp.create_junction(net, p0, t, name=d.name) for d in ducts}
    vacuum = pp.create_junction(net, p0, t, name="vacuum")
    joined = {d.to for d in ducts}
    for d, bore, k in zip(ducts, bores, factors, strict=True):
        to = ends[d.to] if d.to else vacuum
        pp.create_pipe_from_parameters(
            net,
            ends[d.name],
            to,
            length_km=1e-9,
            inner_diameter_mm=1000 * float(bore),
            k_mm=0.01,
            loss_coefficient=float(k),
            name=d.name,
        )
        if d.name not in joined:
            pp.create_ext_grid(net, ends[d.name], p0, t)
    pp.create_ext_grid(net, vacuum, p0 - suction_pa / 1e5, t)
    return net


def library_solve(net: Any, *, quick: bool = True) -> Array:
    """Mass flow in each run [kg/s] as the library has it; ``quick`` compiles it first."""
    import pandapipes as pp

    with warnings.catch_warnings():
        # It warns of pressures below ambient, which is what suction is.
        warnings.simplefilter("ignore", UserWarning)
        pp.pipeflow(net, max_iter_hyd=200, tol_m=1e-9, tol_p=1e-9, use_numba=quick)
    return np.asarray(net.res_pipe.mdot_from_kg_per_s)


def ours(ducts: list[Duct], machine: SuctionCurve) -> NetworkFlow:
    """One case from ducts to flows."""
    return solve(compile_tree(ducts, ROOM), machine, ROOM)


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """Benchmark rows; ``full`` adds ten thousand random trees."""
    machine = curve()
    ducts, bores, factors = shop_tree()
    flow = ours(ducts, machine)
    mine = np.array([flow.of(d.name)[0] for d in ducts])
    theirs = scipy_solve(ducts, bores[:, 0], factors[:, 0], machine)
    if np.max(np.abs(mine / theirs - 1)) > 1e-6:
        raise RuntimeError("scipy and the tree solver disagree")
    seconds = best_of(100, lambda: ours(ducts, machine))
    scipy_seconds = best_of(5, lambda: scipy_solve(ducts, bores[:, 0], factors[:, 0], machine))
    many, _, _ = shop_tree(_BULK)
    bulk = best_of(3, lambda: ours(many, machine)) / _BULK

    u = float(flow.u_pa2[flow.names.index("unit")][0])
    p0 = float(ROOM.pressure_pa[0])
    net = library_net(ducts, bores[:, 0], factors[:, 0], p0 - np.sqrt(p0**2 - u))
    reference = library_solve(net)
    library_seconds = best_of(5, lambda: library_solve(net))
    tree = compile_tree(ducts, ROOM)
    solving = best_of(100, lambda: solve(tree, machine, ROOM))
    result = [
        _row(
            "air.single_vs_scipy",
            scipy_seconds / seconds,
            "times",
            "scipy.optimize.root, 15 runs; at least 3",
        ),
        _row(
            "air.bulk_vs_scipy",
            scipy_seconds / bulk,
            "times",
            "per case, 10,000 at once; at least 300",
        ),
        _row(
            "air.single_vs_network_library",
            library_seconds / solving,
            "times",
            "pandapipes, net and tree both made before; at least 100",
        ),
        _row(
            "air.agreement",
            float(np.max(np.abs(mine / reference - 1))),
            "",
            "pandapipes, 15 runs, largest relative difference; at most 0.005",
        ),
    ]
    return result + (_any_tree() if full else [])


def _row(name: str, value: float, unit: str, reference: str) -> dict[str, Any]:
    return {"name": name, "value": value, "unit": unit, "reference": reference}


def _any_tree(count: int = 10_000, seed: int = 3) -> list[dict[str, Any]]:
    rng = np.random.default_rng(seed)
    solved, worst, shut = 0, 0.0, 0
    while solved < count:
        ducts = random_ducts(rng, int(rng.integers(1, 101)))
        machine = curve(rng.uniform(8e3, 3e4), rng.uniform(0.02, 0.1), rng.uniform(-0.5, 0.8))
        try:
            tree = compile_tree(ducts, ROOM)
        except NetworkError:
            shut += 1
            continue
        flow = solve(tree, machine, ROOM)
        worst = max(worst, flow.residual, balance(flow, tree.up))
        if not worst < 1e-9:
            raise RuntimeError(f"tree {solved} is not solved: {worst}")
        solved += 1
    return [
        _row("air.trees_solved", solved, "trees", "random trees to 100 runs; 10,000"),
        _row("air.trees_worst_balance", worst, "", "mass and energy; at most 1e-9"),
    ]


def balance(flow: NetworkFlow, up: tuple[tuple[int, ...], ...]) -> float:
    """Largest gap between what enters and leaves a joint, as a part of all the air."""
    m = flow.mass_kg_s[:, 0]
    gaps = [abs(m[i] - sum(m[j] for j in ups)) for i, ups in enumerate(up) if ups]
    return float(max(gaps, default=0.0) / np.max(m))
