"""The room's air against published tables."""

import numpy as np
import pytest
from fluids import ATMOSPHERE_1976

from kerfwind.air.properties import density, pressure_at_altitude, room_air, viscosity
from kerfwind.quantity import Draw, parse


@pytest.mark.parametrize("altitude_m", [0, 500, 1609, 3000])
def test_standard_atmosphere(altitude_m):
    """US Standard Atmosphere 1976, as `fluids` has it."""
    air = ATMOSPHERE_1976(altitude_m)
    assert pressure_at_altitude(altitude_m) == pytest.approx(air.P, rel=1e-3)
    assert density(air.P, air.T) == pytest.approx(air.rho, rel=1e-4)
    assert viscosity(air.T) == pytest.approx(air.mu, rel=2e-3)


def test_duct_velocity_and_gas_state():
    """US EPA, Basic Concepts in Environmental Sciences, module 2: 2828 fpm."""
    inch = 249.089
    fahrenheit = lambda f: (f + 459.67) * 5 / 9  # noqa: E731
    base = density(407 * inch, fahrenheit(68))
    actual = density((397 - 10) * inch, fahrenheit(250))
    assert 35_000 * base / actual / (5 * 3.5) == pytest.approx(2828, rel=1e-3)


def test_velocity_pressure_of_standard_air():
    """V = 1.29 √VP in m/s and Pa (American Board of Industrial Hygiene, useful equations)."""
    rho = density(101_325, 293.15)
    assert np.sqrt(2 / rho) == pytest.approx(1.29, rel=2e-3)
    fpm, inch = 0.00508, 249.089
    assert rho * (4005 * fpm) ** 2 / 2 == pytest.approx(inch, rel=2e-3)


@pytest.mark.parametrize("bad", [-2000, 20_000, float("nan")])
def test_no_pressure_where_the_relation_does_not_hold(bad):
    with pytest.raises(ValueError, match="altitude"):
        pressure_at_altitude(bad)


@pytest.mark.parametrize(
    ("pressure", "temperature"), [(0, 293), (-5, 293), (1e5, 0), (float("nan"), 293)]
)
def test_no_density_of_impossible_air(pressure, temperature):
    with pytest.raises(ValueError, match="above zero"):
        density(pressure, temperature)


def test_higher_and_warmer_is_thinner():
    def rho(altitude, temperature):
        return room_air(
            parse(altitude, "length"), parse(temperature, "temperature"), Draw(1)
        ).density_kg_m3[0]

    assert rho("0 m", "20 °C") == pytest.approx(1.2041, rel=1e-3)
    assert rho("1600 m", "20 °C") == pytest.approx(0.993, rel=5e-3)
    assert rho("0 m", "35 °C") < rho("0 m", "5 °C")
