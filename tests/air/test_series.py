"""A path in series against closed forms, `fluids`, and the network."""

import numpy as np
import pytest
from fluids import isothermal_gas
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.air import Duct, SuctionCurve, compile_tree, solve
from kerfwind.air.afterwards import port_suction
from kerfwind.air.properties import RoomAir
from kerfwind.air.series import Element, Series
from kerfwind.facts import Ref

ROOM = RoomAir(np.array([101_325.0]), np.array([293.15]))
RHO = float(ROOM.density_kg_m3[0])


def curve(sealed=18_000.0, open_m3_s=0.06, bow=0.2):
    slope = sealed / open_m3_s
    return SuctionCurve(
        *(np.array([x]) for x in (sealed, slope * (1 - bow), slope * (1 + bow), open_m3_s))
    )


def element(bore=0.05, factor=2.0, **more):
    return Element(Ref("branch", "run"), "all", np.array([bore]), factor, **more)


def test_small_losses_are_incompressible():
    """Δp = K ρ V²/2, and back: the airflow where it meets the curve solves a quadratic."""
    machine = curve(sealed=60.0, open_m3_s=0.06, bow=0.0)
    q = float(Series((element(),), ROOM).meet(machine)[0]) / RHO
    a = 2.0 * RHO / 2 / (np.pi / 4 * 0.05**2) ** 2
    slope = 60.0 / 0.06
    exact = (-slope + np.sqrt(slope**2 + 4 * a * 60.0)) / (2 * a)
    assert q == pytest.approx(exact, rel=3e-4)


def test_long_hose_is_isothermal_gas_flow():
    """`fluids.isothermal_gas` has the acceleration term in static pressure; ours is inside the
    total pressure. The two agree to half the squared Mach number."""
    f, length, bore, mass = 0.04, 6.0, 0.038, 0.03
    lost = Series((element(bore, f * length / bore),), ROOM).march(np.array([mass]))[0][0]
    area = np.pi / 4 * bore**2
    start = 101_325.0 - (mass / area) ** 2 / (2 * RHO)
    rho_start = start / 101_325 * RHO
    # The relation wants the density at P1 for its ideal-gas form: ρ/P is what matters.
    end = isothermal_gas(rho=rho_start, fd=f, P1=start, L=length, D=bore, m=mass)
    rho_end = end / 101_325 * RHO
    total_end = end + (mass / area) ** 2 / (2 * rho_end)
    assert float(lost[0]) == pytest.approx(101_325.0 - total_end, rel=0.02)


def test_density_falls_along_the_path():
    """The same hose loses more behind a deep suction than in front of it."""
    first = Series((element(), element(0.03, 6.0)), ROOM).march(np.array([0.03]))
    last = Series((element(0.03, 6.0), element()), ROOM).march(np.array([0.03]))
    assert float(last[1][0][0]) > float(first[0][0][0])


elements = st.lists(
    st.builds(
        element,
        bore=st.floats(0.02, 0.1),
        factor=st.floats(0.1, 8),
        friction_length_m=st.sampled_from([0.0, 3.0]),
        roughness_m=st.just(1e-5),
        linear_pa_s_m3=st.sampled_from([0.0, 4e4]),
        leak_area_m2=st.sampled_from([0.0, 2e-5]),
    ),
    min_size=1,
    max_size=7,
)


@given(elements)
def test_energy_and_mass_are_kept(parts):
    series, machine = Series(tuple(parts), ROOM), curve()
    mass = series.meet(machine)
    steps = series.march(mass)
    suction = 101_325.0 - float(steps[-1][1][0])
    assert sum(float(lost[0]) for lost, _, _ in steps) == pytest.approx(suction, rel=1e-9)
    leak_after_last = 0.0
    if np.any(np.asarray(parts[-1].leak_area_m2) > 0):
        u = 101_325.0**2 - float(steps[-1][1][0]) ** 2
        leak_after_last = 2e-5 * np.sqrt(u / (287.05287 * 293.15))
    total = float(steps[-1][2][0]) + leak_after_last
    assert float(machine.raw(total / RHO)[0][0]) == pytest.approx(suction, rel=1e-7, abs=1e-4)


@given(elements)
def test_the_network_has_the_same_answer(parts):
    series, machine = Series(tuple(parts), ROOM), curve()
    ducts, name = [], "0"
    for i, e in enumerate(parts):
        to = str(i + 1) if i + 1 < len(parts) else ""
        ducts.append(Duct(name, to, (e,), joint_leak_m2=e.leak_area_m2))
        name = to
    flow = solve(compile_tree(ducts, ROOM), machine, ROOM)
    assert float(flow.of("0")[0]) == pytest.approx(float(series.meet(machine)[0]), rel=1e-8)


@given(elements)
def test_many_samples_are_each_solved_as_one(parts):
    n = 7
    room = RoomAir(np.linspace(85_000, 102_000, n), np.linspace(275, 305, n))
    wide = tuple(
        Element(
            e.part,
            e.what,
            np.full(n, e.bore_m[0]),
            e.factor,
            e.friction_length_m,
            e.roughness_m,
            e.linear_pa_s_m3,
            0.0,
            e.leak_area_m2,
        )
        for e in parts
    )
    together = Series(wide, room).meet(curve())
    for i in range(n):
        alone = RoomAir(room.pressure_pa[i : i + 1], room.temperature_k[i : i + 1])
        one = Series(tuple(parts), alone).meet(curve())
        assert together[i] == pytest.approx(one[0], rel=1e-8)


@given(elements)
def test_within_a_bracket_the_answer_is_the_same(parts):
    """Newton's method is kept inside one where it does not settle by itself."""
    path = Series(tuple(parts), ROOM)
    free = path.meet(curve())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("kerfwind.air.series._MOST_STEPS", 0)
        held = path.meet(curve())
    assert float(free[0]) == pytest.approx(float(held[0]), rel=1e-10)


@pytest.mark.parametrize(
    ("factor", "entry_coefficient"), [(0.93, 0.72), (0.49, 0.82), (0.04, 0.98), (1.78, 0.60)]
)
def test_hood_static_suction(factor, entry_coefficient):
    """Static suction in a hood's duct is (1 + F) VP, so that air enters at Ce = 1/√(1 + F) of
    what that suction could draw (Industrial Ventilation, hood entry losses)."""
    series = Series((element(0.1, factor),), ROOM)
    mass = np.array([0.02])
    suction = float(port_suction(series, mass)[0])
    speed = 0.02 / RHO / (np.pi / 4 * 0.1**2)
    assert suction == pytest.approx((1 + factor) * RHO * speed**2 / 2, rel=1e-3)
    assert speed / np.sqrt(2 * suction / RHO) == pytest.approx(entry_coefficient, abs=0.005)


def test_held_shut():
    """Without leaks the sealed suction reaches the tool's end; with them less, and the less
    the more they let in."""
    tight = Series((element(), element()), ROOM)
    assert tight.held_shut(curve()) == pytest.approx([18_000.0], rel=1e-9)
    leaky = [
        float(Series((element(leak_area_m2=a), element()), ROOM).held_shut(curve())[0])
        for a in (1e-5, 1e-4, 4e-4)
    ]
    assert 18_000 > leaky[0] > leaky[1] > leaky[2] > 0
