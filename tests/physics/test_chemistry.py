"""Chemical equilibrium: the table against Cantera, the enthalpies against CoolProp, and which one is used."""

import random
import re
import sys

import pytest

from wetmass.physics import chamber, chemistry
from wetmass.physics.combustion_tables import TABLES

cantera = pytest.importorskip("cantera")


def _between_the_rows(pair):
    """Points of a pair away from the rows of its table, within the pressures it was computed for."""
    dice = random.Random(pair)
    ratios = TABLES[pair][0]
    for _ in range(6):
        yield (
            pair, 2e6 * (25e6 / 2e6) ** dice.random(), dice.uniform(ratios[0], ratios[-1]),
            4.0 * 100.0 ** dice.random(), 1.0,
        )  # fmt: skip


@pytest.mark.parametrize("pair", chamber.pairs_with_tables())
def test_the_table_agrees_with_cantera_between_its_rows(pair):
    # interpolation alone parts the two: the source of the table says within 0.1 %
    for point in _between_the_rows(pair):
        table, computed = chamber.ideal_engine(*point), chemistry.computed_engine(*point)
        assert table.ideal_vacuum_speed == pytest.approx(computed.ideal_vacuum_speed, rel=1e-3), point
        assert table.characteristic_speed == pytest.approx(computed.characteristic_speed, rel=1e-3), point
        assert table.temperature == pytest.approx(computed.temperature, rel=3e-3), point
        assert table.exit_pressure == pytest.approx(computed.exit_pressure, rel=0.02), point


@pytest.mark.parametrize(("pressure", "within"), [(1e6, 3e-3), (35e6, 3e-3)])
def test_the_table_is_near_cantera_where_it_is_extrapolated(pressure, within):
    for pair, (ratios, _) in TABLES.items():
        point = (pair, pressure, ratios[3], 30.0, 1.0)
        table, computed = chamber.ideal_engine(*point), chemistry.computed_engine(*point)
        assert table.ideal_vacuum_speed == pytest.approx(computed.ideal_vacuum_speed, rel=within), point


@pytest.mark.parametrize(
    ("name", "fluid", "formation"),
    [("LOX", "Oxygen", 0.0), ("LCH4", "Methane", -74.6), ("propane", "n-Propane", -104.68), ("ethane", "Ethane", -83.85)],
)  # fmt: skip
def test_enthalpies_of_the_cryogens_are_those_of_a_reference_equation_of_state(name, fluid, formation):
    from CoolProp.CoolProp import PropsSI

    liquid = PropsSI("Hmolar", "P", 101_325.0, "Q", 0, fluid)
    gas = PropsSI("Hmolar", "T", 298.15, "P", 1e5, fluid)
    assert chemistry.LIQUIDS[name][1] == pytest.approx(formation + (liquid - gas) / 1e3, abs=1e-3)


def test_atoms_are_kept_by_the_balance():
    # 98 % peroxide weighs 0.98 of its hydrogen peroxide and 0.02 of water, element by element
    elements, _ = chemistry.per_kilogram("H2O2")
    mass = sum(chemistry.ATOMIC[element] * amount * 1e-3 for element, amount in elements.items())
    assert mass == pytest.approx(1.0, rel=1e-12)


def test_cantera_is_used_where_it_is_installed_and_said():
    made = chemistry.best_engine("LOX/LCH4", 10e6, 3.4, 30.0, 0.96)
    assert f"computed with Cantera {cantera.__version__}" in made.source
    assert made.vacuum_speed == pytest.approx(0.96 * made.ideal_vacuum_speed, rel=1e-12)


def test_the_table_stands_in_where_cantera_is_not_installed_and_is_said(monkeypatch):
    monkeypatch.setitem(sys.modules, "cantera", None)  # as if it were not there
    made = chemistry.best_engine("LOX/LCH4", 10e6, 3.4, 30.0, 0.96)
    assert made == chamber.ideal_engine("LOX/LCH4", 10e6, 3.4, 30.0, 0.96)
    assert "interpolated in a table" in made.source
    with pytest.raises(RuntimeError, match=re.escape('pip install "wetmass[thermo]"')):
        chemistry.computed_engine("LOX/LH2", 7e6, 6.0, 40.5, 1.0)


def test_both_ways_refuse_alike():
    for way in (chamber.ideal_engine, chemistry.computed_engine):
        with pytest.raises(ValueError, match="mixture_ratio must lie between"):
            way("LOX/LCH4", 10e6, 9.0, 30.0, 0.96)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: chamber.delivered_speed(1.1, 1800.0, 1.8), "efficiency must be at most 1, got 1.1"),
        (lambda: chamber.delivered_speed(0.9, 0.0, 1.8), "characteristic_speed must be above 0"),
        (lambda: chamber.speed_in_air(3300.0, 1800.0, 20.0, 0.0, 1e5), "chamber_pressure must be above 0"),
        (lambda: chamber.speed_in_air(3300.0, 1800.0, 20.0, 1e7, -1.0), "ambient_pressure must be 0 or more"),
        (lambda: chamber.exit_area(0.0, 3300.0, 1800.0, 20.0, 1e7), "thrust must be above 0"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        call()


def test_the_exit_takes_what_the_air_does():
    # thrust in vacuum less thrust in air is the exit area times the pressure outside, whatever the way
    made = chamber.ideal_engine("LOX/RP-1", 9e6, 2.4, 18.0, 0.94)
    thrust = 1e6
    area = chamber.exit_area(thrust, made.vacuum_speed, made.characteristic_speed, 18.0, 9e6)
    flow = thrust / made.vacuum_speed
    assert thrust - flow * made.speed_in_air(101_325.0) == pytest.approx(101_325.0 * area, rel=1e-12)
