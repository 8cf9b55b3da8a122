"""Ascents that several tests fly: a small launcher, its search, one flight of it with everything kept."""

import functools
import math
from dataclasses import dataclass

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, Steering, Unknown
from wetmass.flight.optimum import best
from wetmass.flight.propagate import fly
from wetmass.record.mission import Limits, Orbit, Site
from wetmass.record.vehicle import EngineGroup, LetGo, Moment, Propellant, Stage, Vehicle

G0 = 9.80665
DRAG = (
    (0.0, 0.25), (0.5, 0.23), (0.8, 0.26), (0.95, 0.36), (1.05, 0.46), (1.2, 0.48), (1.5, 0.43), (2.0, 0.36),
    (3.0, 0.28), (4.0, 0.24), (5.0, 0.22), (8.0, 0.20),
)  # fmt: skip
SKERRY = Site(math.radians(14.2), math.radians(-40.0), 20.0)
LOW = Orbit(250e3, 250e3, math.radians(30.0))
LIMITS = Limits(acceleration=4.5 * G0, pressure=29e3)  # both are reached by this launcher


def launcher(payload=1500.0, *, mass=1.0, drag=DRAG, throttle=0.4):
    """Two stages and a fairing; `mass` scales every mass, thrust and area alike."""
    thrust = 231_750.0 * mass
    first = Stage(
        "first", 7600.0 * mass, Propellant("LOX/LCH4", 3.4, burns=78_000.0 * mass, residuals=500.0 * mass),
        (EngineGroup("first engines", 7, thrust, 0.2147 * mass, 341.0, throttle),),
        3.1, 7.548 * mass, drag,
    )  # fmt: skip
    second = Stage(
        "second", 1900.0 * mass, Propellant("LOX/LCH4", 3.4, burns=20_000.0 * mass, residuals=160.0 * mass),
        (EngineGroup("second engine", 1, 200_000.0 * mass, 2.011 * mass, 363.0, throttle, 2),),
        3.1, 7.548 * mass, drag, pause=4.0,
    )  # fmt: skip
    shell = LetGo("fairing", 600.0 * mass, Moment.HEATING, 1135.0)
    return Vehicle("small", (first, second), payload * mass, (shell,))


def ascent(orbit=LOW, *, site=SKERRY, limits=LIMITS, coasting=False, build=None, steering=None):
    """An ascent with the payload open."""
    return Ascent(
        site, orbit, limits, steering or Steering(), build or (lambda found: launcher(found[0])),
        (Unknown("payload", 500.0, -1200.0, 8000.0, 2000.0),), lambda vehicle, trial: ([], []),
        lambda vehicle, trial: -vehicle.payload / 1000.0, coasting,
    )  # fmt: skip


@functools.cache
def solved(orbit=LOW, site=SKERRY, limits=LIMITS, coasting=False):
    """(ascent, optimum), searched for once in a run of the tests."""
    made = ascent(orbit, site=site, limits=limits, coasting=coasting)
    return made, best(made)


@dataclass(frozen=True)
class Flown:
    """A flight with everything kept."""

    time: float
    state: np.ndarray
    rows: np.ndarray
    summary: np.ndarray
    marks: np.ndarray
    steps: np.ndarray


def flight(made, x, *, tolerance=1e-9, longest=1e4, n=at.ACCOUNTED, laid=None, replay=None, start=None):
    """Fly the unknowns `x`, recorded."""
    vehicle = made.build(made.open_values(x))
    laid = laid or made.lay_out(x, vehicle)
    control = made.control(x)
    control[at.TOLERANCE], control[at.LONGEST_STEP] = tolerance, longest
    y = made.started(control, laid, n) if start is None else start.copy()
    summary, marks = np.zeros(at.SUMMARY_WIDTH), np.zeros((laid.mark_rows(), 1 + n))
    rows = np.zeros((4500, at.ROW_WIDTH))
    steps = np.zeros((4500, at.STEP_WIDTH)) if replay is None else replay
    time, count = fly(
        0.0, laid.segments, laid.let_go, control, laid.curves, y, summary, marks, rows, steps,
        replay is not None, n, laid.groups, laid.traces,
    )  # fmt: skip
    return Flown(time, y, rows[:count], summary, marks, steps)


def off(state, reference):
    """The larger of the relative differences in place and in speed."""
    place = np.linalg.norm(state[:3] - reference[:3]) / np.linalg.norm(reference[:3])
    speed = np.linalg.norm(state[3:6] - reference[3:6]) / np.linalg.norm(reference[3:6])
    return float(max(place, speed))
