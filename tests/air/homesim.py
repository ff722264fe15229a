"""A home test acted out: a true vacuum, hand-made holes, a gauge read by a person.

Orifice flow is Miller's (1996) coefficient and the expansibility of ISO 5167-1:1998, both as
`fluids` has them; the program uses those of ISO 5167-2:2003. So the two can only agree
by both being about right.
"""

from functools import cache

import numpy as np
from fluids.flow_meter import C_Miller_1996, orifice_expansibility_1989
from scipy.optimize import brentq

from kerfwind.quantity import parse
from kerfwind.shop import HoleReading, HomeTest

PRESSURE_PA = 101_325.0
DENSITY = 1.204
VISCOSITY = 1.81e-5
WIDE_M = 3.0
HOLES_MM = (0, 10, 16, 20, 25, 30, 36)


@cache
def miller(hole_m: float) -> float:
    """Coefficient of a small hole before a wide space; Re hardly matters there."""
    mass = 0.6 * np.pi / 4 * hole_m**2 * np.sqrt(2 * DENSITY * 8000.0)
    return C_Miller_1996(WIDE_M, hole_m, DENSITY, VISCOSITY, mass, subtype="orifice", taps="corner")


def flow(hole_m: float, suction_pa: float, coefficient: float) -> float:
    eps = orifice_expansibility_1989(WIDE_M, hole_m, PRESSURE_PA, PRESSURE_PA - suction_pa, 1.4)
    return coefficient * eps * np.pi / 4 * hole_m**2 * np.sqrt(2 * suction_pa / DENSITY)


class Vacuum:
    """A true suction curve, straight to well bowed, at the vacuum's inlet of 60 mm bore."""

    bore_m = 0.060

    def __init__(self, rng: np.random.Generator) -> None:
        self.sealed_pa = rng.uniform(14_000, 22_000)
        self.open_m3_s = rng.uniform(0.035, 0.065)
        self.bow = rng.uniform(0.0, 0.6)

    def suction_pa(self, q):
        x = np.asarray(q) / self.open_m3_s
        return self.sealed_pa * (1 - (1 - self.bow) * x - self.bow * x**2)

    def behind_plate(self, hole_m: float, coefficient: float) -> float:
        """Gauge pressure in the corner behind the plate."""
        if hole_m == 0:
            return self.sealed_pa

        def gap(gauge: float) -> float:
            q = flow(hole_m, gauge, coefficient)
            jet = q / (0.61 * np.pi / 4 * hole_m**2)
            pipe = q / (np.pi / 4 * self.bore_m**2)
            mixed = gauge - DENSITY * (pipe * (jet - pipe) + pipe**2 / 2)
            return self.suction_pa(q) - mixed

        return brentq(gap, 1e-3, self.sealed_pa * 1.3)


def act_out(rng: np.random.Generator) -> tuple[Vacuum, HomeTest]:
    """One person's test: holes off by 0.1 mm (one standard deviation), a gauge 1 % off."""
    vacuum = Vacuum(rng)
    readings = []
    common = 1 + 0.01 * rng.normal()
    for i, nominal in enumerate(HOLES_MM):
        true = (nominal + 0.1 * rng.normal()) / 1000 if nominal else 0.0
        coefficient = (
            miller(nominal / 1000) * common * (1 + 0.0075 * rng.normal()) if nominal else 0.6
        )
        gauge = vacuum.behind_plate(true, coefficient) * (1 + 0.01 * rng.normal())
        gauge = round(gauge / 50) * 50  # the needle is read to 0.05 kPa
        readings.append(
            HoleReading(
                hole=parse(f"{nominal} mm ± 0.2" if nominal else "0 mm", "length", path=f"hole{i}"),
                suction=parse(f"{gauge / 1000:.3f} kPa ± 2 %", "pressure", path=f"gauge{i}"),
            )
        )
    plate = parse("0.8 mm", "length", path="plate")
    return vacuum, HomeTest(at="inlet", plate=plate, readings=tuple(readings))
