"""Trees of runs for the air benchmarks: random ones, and one ordinary shop's."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from kerfwind.air import Duct, RoomAir, SuctionCurve
from kerfwind.air.series import Element
from kerfwind.facts import Ref

Array = NDArray[np.float64]

ROOM = RoomAir(np.array([101_325.0]), np.array([293.15]))


def curve(sealed_pa: float = 18_000.0, open_m3_s: float = 0.06, bow: float = 0.2) -> SuctionCurve:
    """A suction curve of one sample."""
    slope = sealed_pa / open_m3_s
    return SuctionCurve(
        np.array([sealed_pa]),
        np.array([slope * (1 - bow)]),
        np.array([slope * (1 + bow)]),
        np.array([open_m3_s]),
    )


def shop_tree(count: int = 1, seed: int = 5) -> tuple[list[Duct], Array, Array]:
    """Fifteen runs: a main in five lengths with a branch at each joint, all with fixed factors.

    Factors vary by sample by a tenth either way. Returned with them: bores and factors,
    runs by samples, in the order of the ducts.
    """
    rng = np.random.default_rng(seed)
    ducts: list[Duct] = []
    bores, factors = [], []

    def add(name: str, to: str, bore: float, factor: float) -> None:
        k = factor * (1 + 0.1 * rng.uniform(-1, 1, count))
        d = np.full(count, bore)
        ducts.append(Duct(name, to, (Element(Ref("branch", name), "all", d, k),)))
        bores.append(d)
        factors.append(k)

    add("unit", "", 0.057, 14.0)
    before = "unit"
    for i in range(5):
        add(f"main {i}", before, 0.063, 1.2)
        add(f"branch {i}", f"main {i}", 0.050, 2.5 + 0.4 * i)
        before = f"main {i}"
    # The last main ends in a wye of its own; each side splits once more.
    add("left", before, 0.050, 1.5)
    add("right", before, 0.044, 1.5)
    add("left tool", "left", 0.038, 3.0)
    add("left sweep", "left", 0.050, 1.0)
    return ducts, np.array(bores), np.array(factors)


def random_ducts(rng: np.random.Generator, runs: int) -> list[Duct]:
    """Any tree: bores 20 to 160 mm, smooth or fixed friction, filters, leaks, closed gates."""
    ducts = []
    for i in range(runs):
        to = "" if i == 0 else f"r{rng.integers(0, i)}"
        if i > 3 and rng.random() < 0.3:
            to = f"r{i - 1}"
        bore = np.array([10 ** rng.uniform(np.log10(0.02), np.log10(0.16))])
        length = rng.uniform(0.1, 8)
        smooth = rng.random() < 0.5
        factor = rng.uniform(0.05, 5) + (0.0 if smooth else 0.03 * length / bore[0])
        element = Element(
            Ref("branch", f"r{i}"),
            "all",
            bore,
            factor,
            friction_length_m=length if smooth else 0.0,
            roughness_m=1e-5,
            linear_pa_s_m3=1e4 if rng.random() < 0.2 else 0.0,
        )
        ducts.append(
            Duct(
                f"r{i}",
                to,
                (element,),
                open=bool(rng.random() > 0.15),
                gate_leak_m2=float(rng.choice([0, 1e-6, 1e-5])),
                joint_leak_m2=float(rng.choice([0, 0, 1e-6, 1e-5])),
            )
        )
    return ducts
