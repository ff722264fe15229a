"""The home test against an independent orifice relation."""

import numpy as np

from kerfwind import air
from kerfwind.air.properties import RoomAir
from kerfwind.quantity import Draw

from .homesim import DENSITY, PRESSURE_PA, act_out

TEMPERATURE_K = PRESSURE_PA / (287.05287 * DENSITY)


def test_the_90_percent_band_covers_the_true_curve_in_87_to_93_of_100():
    draw = Draw(200)
    room = RoomAir(np.full(draw.count, PRESSURE_PA), np.full(draw.count, TEMPERATURE_K))
    bore = np.full(draw.count, 0.060)
    rng = np.random.default_rng(2026)
    covered = 0
    tests = 1000
    for _ in range(tests):
        vacuum, test = act_out(rng)
        band = air.from_home_test(test, room, draw, bore).band()
        true = vacuum.suction_pa(band.airflow_m3_s)
        covered += bool(np.all((band.low_pa <= true) & (true <= band.high_pa)))
    assert 0.87 <= covered / tests <= 0.93
