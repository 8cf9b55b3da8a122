"""Is the optimum the true one, and what does freedom of steering cost?

    python benchmarks/optimum.py [--fine]

For a two-stage vehicle with a short first burn and one with a long: the payload by shooting
and by direct collocation at the same freedom, collocation on a halved mesh, the replay in the exact air, and
the payload of freer steering.  Then the drift of energy in a coast, and the identity of the losses.
"""

from __future__ import annotations

import argparse
import math
import platform
import time
from dataclasses import replace

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, Steering, Unknown
from wetmass.record.mission import Limits, Orbit, Site
from wetmass.record.vehicle import EngineGroup, LetGo, Moment, Propellant, Stage, Vehicle

G0 = 9.80665
DRAG = ((0, 0.25), (0.5, 0.23), (0.8, 0.26), (0.95, 0.36), (1.05, 0.46), (1.2, 0.48), (1.5, 0.43), (2, 0.36),
        (3, 0.28), (4, 0.24), (5, 0.22), (8, 0.2))  # fmt: skip
SITE = Site(math.radians(14.2), math.radians(-40.0), 20.0)
ORBITS = (
    Orbit(200e3, 200e3, math.radians(30.0)),
    Orbit(300e3, 300e3, math.radians(97.0), "south"),
    Orbit(520e3, 520e3, math.radians(97.5), "south"),
    Orbit(250e3, 2000e3, math.radians(30.0)),
)


def short_burn() -> Vehicle:
    """Two methane stages, the first burns 155 s; invented."""
    thrust = 7 * 210e3 * 341.0 / 309.0
    first = EngineGroup("e", 7, thrust / 7, (thrust - 7 * 210e3) / 7 / 101_325.0, 341.0, 0.45)
    second = EngineGroup("v", 1, 180e3, 0.5, 365.0, 0.5)
    area = math.pi / 4.0 * 3.1**2
    stages = (
        Stage("first", 9400.0, Propellant("LOX/LCH4", 3.4, burns=77_600.0), (first,), 3.1, area, DRAG),
        Stage(
            "second", 1900.0, Propellant("LOX/LCH4", 3.4, burns=20e3), (second,), 3.1, area, DRAG, pause=2.0
        ),
    )
    return Vehicle("short first burn", stages, 0.0, (LetGo("fairing", 400.0, Moment.HEATING, 1135.0),))


def long_burn() -> Vehicle:
    """A hydrogen core that burns 300 s under a small upper stage; invented."""
    thrust = 2400e3
    first = EngineGroup("core", 2, thrust / 2, (thrust - 1980e3) / 2 / 101_325.0, 435.0, 0.5)
    second = EngineGroup("v", 1, 110e3, 1.0, 455.0, 0.5)
    area = math.pi / 4.0 * 5.0**2
    stages = (
        Stage("core", 17e3, Propellant("LOX/LH2", 6.0, burns=128e3), (first,), 5.0, area, DRAG),
        Stage(
            "second", 2600.0, Propellant("LOX/LH2", 6.0, burns=14e3), (second,), 5.0, area, DRAG, pause=3.0
        ),
    )
    return Vehicle("long first burn", stages, 0.0, (LetGo("fairing", 1300.0, Moment.HEATING, 1135.0),))


def problem(vehicle: Vehicle, orbit: Orbit) -> Ascent:
    """The most payload of `vehicle` to `orbit`."""
    return Ascent(
        SITE,
        orbit,
        Limits(4.5 * G0, 38e3),
        Steering(),
        lambda values: replace(vehicle, payload=float(values[0])),
        (Unknown("payload", 1000.0, -1500.0, 30_000.0, 1500.0),),
        lambda vehicle, trial: ([], []),
        lambda vehicle, trial: -vehicle.payload / 1000.0,
    )


def compared(vehicle: Vehicle, orbit: Orbit, fine: bool) -> str:
    """One line of the table."""
    from wetmass.flight.collocation import phases, replay, solve
    from wetmass.flight.optimum import best

    ascent = problem(vehicle, orbit)
    where = f"{orbit.perigee / 1e3:5.0f} × {orbit.apogee / 1e3:<5.0f}"
    begun = time.process_time()
    shot = best(ascent)
    shooting = time.process_time() - begun
    if not shot.met:
        return f"{vehicle.name:<17}{where}  shooting: {shot.message}"
    begun = time.process_time()
    law = solve.best(ascent, shot.x)
    collocating = time.process_time() - begun
    again = replay.replay(ascent, law.outline)
    words = [
        f"{vehicle.name:<17}{where}",
        f"{shot.x[-1]:9.2f}{'' if shot.met else '!'}",
        f"{law.payload:9.2f}{_sign(law)}",
        f"{100 * (shot.x[-1] / law.payload - 1):+8.4f} %",
    ]
    if fine:
        finer = solve.refined(ascent, law)
        words.append(f"{100 * (finer.payload / law.payload - 1):+8.4f} %{_sign(finer)}")
    words.append(f"{max(again.place_miss, again.speed_miss):.0e}{'' if again.agrees else '!'}")
    for freedom in (phases.Freedom.LIMITED, phases.Freedom.FREE):
        freer = solve.best(ascent, shot.x, freedom)
        words.append(f"{100 * (freer.payload / law.payload - 1):+6.2f} %{_sign(freer)}")
    words.append(f"{shooting:5.2f} s {collocating:5.2f} s")
    return "  ".join(words)


def _sign(solution) -> str:
    return (
        ""
        if solution.solved and not solution.pressed
        else f" ({solution.status}, pressed {solution.pressed})"
    )


def coasted() -> tuple[float, float]:
    """Drift of the energy integral (with J2) over a coast of one orbit, and the gap of the losses."""
    from wetmass.flight.ascent import start_state
    from wetmass.flight.optimum import best
    from wetmass.flight.program import program
    from wetmass.flight.propagate import fly
    from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM, J2, OMEGA

    ascent = problem(short_burn(), ORBITS[0])
    x = best(ascent).x
    laid = program(replace(short_burn(), payload=float(x[-1])))
    control = ascent.control(x)
    y = np.zeros(at.ACCOUNTED)
    y[: at.STEERED] = start_state(SITE)
    y[at.MASS] = laid.lift_off_mass
    none, rows = np.zeros((0, at.STEP_WIDTH)), np.zeros((0, at.ROW_WIDTH))
    marks = np.zeros((laid.mark_rows(), 1 + at.ACCOUNTED))
    fly(0.0, laid.segments, laid.let_go, control, laid.curves, y, np.zeros(at.SUMMARY_WIDTH), marks, rows,
        none, False, at.ACCOUNTED)  # fmt: skip
    air = math.hypot(y[3] + OMEGA * y[1], y[4] - OMEGA * y[0], y[5])
    gap = abs(y[at.IDEAL] - y[at.BACK] - y[at.STEER] - y[at.DRAG] - y[at.GRAVITY] - air) / y[at.IDEAL]

    def energy(s):
        r = math.sqrt(s[0] ** 2 + s[1] ** 2 + s[2] ** 2)
        bulge = 0.5 * J2 * (EARTH_RADIUS_WGS84 / r) ** 2 * (3.0 * (s[2] / r) ** 2 - 1.0)
        return 0.5 * (s[3] ** 2 + s[4] ** 2 + s[5] ** 2) - GM / r * (1.0 - bulge)

    coast = np.zeros((1, at.SEGMENT_WIDTH))
    coast[0, at.LEAST_THROTTLE] = 1.0
    coast[0, at.END], coast[0, at.END_VALUE] = at.ENDS_AT_TIME, 5400.0
    control = control.copy()
    control[at.TOLERANCE], control[at.LONGEST_STEP] = 1e-13, 60.0
    s = np.zeros(at.STEERED)
    s[:] = y[: at.STEERED]
    before = energy(s)
    fly(0.0, coast, np.zeros((0, at.LET_GO_WIDTH)), control, laid.curves, s, np.zeros(at.SUMMARY_WIDTH),
        np.zeros((1, 1 + at.STEERED)), rows, none, False, at.STEERED)  # fmt: skip
    return abs(energy(s) / before - 1.0), gap


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--fine", action="store_true", help="solve on a halved mesh as well")
    told = parser.parse_args()
    drift, gap = coasted()
    print(f"machine: {platform.machine()}, Python {platform.python_version()}; processor time")
    halved = ", halved mesh" if told.fine else ""
    print(f"payload [kg] by shooting, by collocation at the same freedom, difference{halved}; replay;")
    print("  q-alpha limited all the way; free; time of each")
    for vehicle in (short_burn(), long_burn()):
        for orbit in ORBITS:
            print(compared(vehicle, orbit, told.fine), flush=True)
    print(f"energy integral over a coast of 5400 s drifts by {drift:.1e} of itself")
    print(f"losses: the identity is missed by {gap:.1e} of the ideal speed")


if __name__ == "__main__":
    main()
