"""From a concept and its flight to the way home; and what is loaded when."""

import dataclasses
import doctest
import importlib
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from stages import SITE, small_first

from builders import vehicle
from wetmass.flight.home import come_home, find_reserve
from wetmass.flight.home.impact import states
from wetmass.flight.home.places import over_ground, release_state
from wetmass.flight.home.stated import jets_of, released, released_in, usual_canopies, way, way_for
from wetmass.record.homecoming import By
from wetmass.record.mission import Site


@pytest.fixture(scope="module")
def closed():
    from wetmass.closing import close
    from wetmass.concept import load

    godwit = load(Path(__file__).parents[2] / "examples" / "godwit.yaml")
    return close(godwit, kept={"stages/bottom/home/propellant": 6000.0})


def test_the_stage_let_go_is_where_the_ascent_left_it(closed):
    # the state is made again from latitude, heading and the rest: the ascent's own marks must agree
    stage = released_in(closed.flight, 0)
    burnt_out = closed.flight.stages[0]
    assert stage.time == pytest.approx(burnt_out.burnout_time, abs=1e-6)
    _, _, height = over_ground(np.array(stage.state), stage.time)
    assert height == pytest.approx(burnt_out.burnout_height, abs=0.01)
    speed = float(np.linalg.norm(stage.state[3:6]))
    assert speed == pytest.approx(burnt_out.burnout_speed, rel=1e-7)
    first = closed.vehicle.stages[0]
    assert stage.mass == first.dry_mass + first.propellant.residuals + first.propellant.home


def test_a_state_from_the_ground_and_back_is_the_same():
    state = release_state(100.0, 0.3, -0.5, 50e3, 2000.0, 0.4, 2.0)
    from wetmass.record.flight import COLUMNS, Trajectory

    values = np.zeros((1, len(COLUMNS)))
    keys = [c.key for c in COLUMNS]
    for key, value in zip(
        ("time", "latitude", "longitude", "height", "air_speed", "path_angle", "heading"),
        (100.0, np.degrees(0.3), np.degrees(-0.5), 50e3, 2000.0, np.degrees(0.4), np.degrees(2.0)),
        strict=True,
    ):
        values[0, keys.index(key)] = value
    assert states(Trajectory(COLUMNS, values))[0, 1:] == pytest.approx(state, rel=1e-12)


def test_godwits_bottom_stage_comes_home_in_five_ways(closed):
    stage = closed.vehicle.stages[0]
    let_go = released_in(closed.flight, 0, length=18.0)
    for by in ("ballistic", "parachutes", "powered landing", "glide", "jets"):
        chosen, _ = way_for(stage, by, "downrange", SITE)
        home = come_home(let_go, chosen, SITE)
        assert home.down.distance > 300e3
        assert home.trajectory["height"][-1] == pytest.approx(0.0, abs=0.1)
        if by == "powered landing":  # what is kept for the fans does not do for rockets: it says what would
            assert not home.comes_home and home.needed > let_go.propellant
        else:
            assert home.comes_home, by


def test_godwits_fans_do_not_carry_it_back_to_the_site_and_say_what_would(closed):
    chosen, _ = way_for(closed.vehicle.stages[0], "jets", "back to site", SITE)
    home = come_home(released_in(closed.flight, 0, length=18.0), chosen, SITE)
    finding = next(f for f in home.findings if f.rule == "place out of reach on jets")
    assert not home.comes_home and "A lift to drag of" in finding.remedy


def test_a_places_name_is_looked_up_and_an_unknown_one_refused():
    barge = Site(0.1, 0.2)
    assert way("powered landing", "barge", SITE, {"barge": barge}).place == barge
    assert way("glide", "downrange", SITE).place is None
    with pytest.raises(ValueError, match="one of downrange, back to site, barge, got 'raft'"):
        way("glide", "raft", SITE, {"barge": barge})


def test_jets_a_stage_does_not_have_are_refused():
    with pytest.raises(ValueError, match="takes turbofans or turbojets, the stage has none"):
        jets_of(vehicle().stages[0])


def test_a_stage_keeps_residuals_and_reserve_in_its_mass():
    stage = vehicle().stages[1]
    found = released(stage, 500.0, (7e6, 0.0, 0.0, 0.0, 7e3, 0.0))
    assert found.dry_mass == stage.dry_mass + stage.propellant.residuals + stage.propellant.reserve


def test_usual_parachutes_sink_at_the_speed_they_are_sized_for():
    chosen = way("parachutes", "downrange", SITE, canopies=usual_canopies(11_110.0, 12.0))
    assert chosen.by is By.PARACHUTES
    home = come_home(small_first(), chosen, SITE)
    assert home.down.sinking == pytest.approx(12.0, rel=0.02)


def test_nothing_is_compiled_before_a_stage_flies_home():
    text = "import sys, wetmass.flight.home, wetmass.record.homecoming; print('numba' in sys.modules)"
    made = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=True)
    assert made.stdout.strip() == "False"


# ── the reserve that closes the loop ─────────────────────────────────────────────────────────────


def test_the_reserve_is_where_what_is_needed_is_what_is_kept():
    asked = []

    def needed(kept):
        asked.append(kept)
        return 9000.0 * np.exp(-kept / 6000.0)

    found = find_reserve(needed, 0.0)
    # kept·exp(kept/6000) = 9000: Lambert's W, 6000·W(1.5)
    assert found.met and found.kept == pytest.approx(6000.0 * 0.7258613577, rel=3e-3)
    assert found.rounds == len(asked) <= 6


def test_a_steep_need_is_found_as_well():
    found = find_reserve(lambda kept: max(0.0, 40_000.0 - 4.0 * kept), 1000.0)
    assert found.met and found.kept == pytest.approx(8000.0, rel=3e-3)


def test_where_the_need_jumps_the_side_that_is_enough_is_kept():
    found = find_reserve(lambda kept: 3600.0 if kept < 3400.0 else 3350.0, 2500.0, rounds=20)
    assert found.met and found.needed <= found.kept <= 3600.0 * 1.002


def test_a_reserve_above_what_the_stage_can_keep_is_told():
    found = find_reserve(lambda kept: 5000.0 - 0.1 * kept, 0.0, most=2000.0)
    assert not found.met and "2\u2009000 kg at most" in found.reason and found.needed == pytest.approx(4800.0)
    assert "no way home" in find_reserve(lambda kept: None, 0.0).reason
    with pytest.raises(ValueError, match="start must lie between 0 and"):
        find_reserve(lambda kept: 1.0, -1.0)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"dry_mass": 0.0}, "first: dry_mass must be above 0"),
        ({"propellant": -1.0}, "first: propellant must be 0 or more"),
        ({"state": (1.0, 2.0, 3.0)}, "first: state must be six finite numbers"),
        ({"state": (1e6, 0.0, 0.0, 0.0, 0.0, 0.0)}, "first: state must lie outside the Earth"),
    ],
)
def test_a_stage_that_cannot_be_is_refused(changes, words):
    with pytest.raises(ValueError, match=words):
        come_home(dataclasses.replace(small_first(), **changes), way("ballistic", "downrange", SITE), SITE)


def test_parachutes_must_be_said():
    with pytest.raises(ValueError, match=r"way\.canopies must say"):
        come_home(small_first(), way("parachutes", "downrange", SITE), SITE)


@pytest.mark.parametrize("module", ["reserve", "stated"])
def test_examples_in_docstrings_run(module):
    found = doctest.testmod(importlib.import_module(f"wetmass.flight.home.{module}"))
    assert found.attempted > 0 and found.failed == 0
