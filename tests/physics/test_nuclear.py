"""Nuclear thermal engines: power, decay heat, start-up and cool-down."""

import re

import pytest
from scipy.integrate import quad

from wetmass.physics import nuclear as n

G0 = 9.80665


def test_decay_heat_has_the_published_form():
    # Way-Wigner: 0.0622·P·(t^−0.2 − (t₀ + t)^−0.2), physics.stackexchange.com/questions/622966 (read)
    assert n.decay_power(1.0, 3600.0, 10.0) == pytest.approx(0.0622 * (10**-0.2 - 3610**-0.2), rel=1e-14)
    # some percent of full power at first, and nothing for a core that never ran
    assert 0.03 < n.decay_power(1.0, 3600.0, 1.0) < 0.07
    assert n.decay_power(1.0, 1e-9, 10.0) < 1e-9


def test_decay_energy_is_the_integral_of_the_power():
    whole, _ = quad(lambda t: n.decay_power(1.5e9, 1800.0, t), 1.0, 1e5, epsrel=1e-11, limit=500)
    assert n.decay_energy(1.5e9, 1800.0, 1.0, 1e5) == pytest.approx(whole, rel=1e-9)


def test_power_of_the_large_flight_design():
    # 334 kN at 825 s from about 1570 MW: from memory, so 3 %; the jet's own power is a lower bound
    power = n.thermal_power(334e3, 825 * G0)
    assert power == pytest.approx(1570e6, rel=0.03)
    assert power > 334e3 * 825 * G0 / 2


def test_cool_down_stops_where_it_says_and_takes_all_the_heat_up():
    cooled = n.cool_down(1.55e9, 1800.0, residual_power=5e5, exhaust_speed=4000.0)
    assert n.decay_power(1.55e9, 1800.0, cooled.duration) == pytest.approx(5e5, rel=1e-9)
    heat = n.decay_energy(1.55e9, 1800.0, 1.0, cooled.duration)
    assert cooled.propellant * 4000.0**2 / 2 / n.JET_SHARE == pytest.approx(heat, rel=1e-12)
    assert cooled.impulse == pytest.approx(cooled.propellant * 4000.0)
    # a few percent of what the run itself burnt (41 kg/s for 1800 s) at half the exhaust speed
    steady = 334e3 / (825 * G0) * 1800.0
    assert 0.02 < cooled.propellant / steady < 0.2


def test_longer_runs_need_more_cooling_and_a_hotter_residue_less():
    base = n.cool_down(1e9, 1000.0, residual_power=1e6).propellant
    assert n.cool_down(1e9, 3000.0, residual_power=1e6).propellant > base
    assert n.cool_down(1e9, 1000.0, residual_power=3e6).propellant < base
    assert n.cool_down(1e6, 10.0, residual_power=1e6).propellant == 0.0


def test_start_up_is_half_the_flow_for_its_time():
    start = n.start_up(334e3, 8000.0, 40.0, 0.75)
    assert start.propellant == pytest.approx(334e3 / 8000.0 * 20.0)
    assert start.impulse == pytest.approx(0.75 * 8000.0 * start.propellant)
    assert n.start_up(334e3, 8000.0, 0.0).propellant == 0.0


def test_every_engine_says_where_its_figures_come_from():
    for row in n.NUCLEAR_ENGINES.values():
        assert "from memory" in row.source and row.note
    assert "licensed" in n.CAUTION


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: n.thermal_power(0.0, 1.0), "thrust must be above 0"),
        (lambda: n.thermal_power(1.0, 1.0, 1.1), "jet_share must lie above 0 and at most 1"),
        (lambda: n.decay_power(1.0, 1.0, 0.5), "since must be 1 s or more after shut-down"),
        (lambda: n.decay_power(1.0, 0.0, 5.0), "run_time must be above 0"),
        (lambda: n.decay_energy(1.0, 1.0, 5.0, 5.0), "end must come after start (5.0 s)"),
        (lambda: n.start_up(1.0, 1.0, -1.0), "duration must be 0 or more"),
        (lambda: n.start_up(1.0, 1.0, 1.0, 0.0), "speed_share must lie above 0"),
        (lambda: n.cool_down(1e9, 1e4, residual_power=1.0), "a year after shut-down; allow more"),
        (lambda: n.cool_down(1e9, 1e4, residual_power=0.0), "residual_power must be above 0"),
        (lambda: n.cool_down(1e9, 1e4, residual_power=1e6, jet_share=0.0), "jet_share must lie above 0"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        call()
