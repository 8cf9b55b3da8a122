"""Ascents of every kind that collocation knows, all invented: what `optimum.py` compares, and the tests too."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from corpus import DRAG, G0
from wetmass.flight.ascent import Ascent, Steering, Unknown
from wetmass.record.mission import AirLaunch, Climb, Limits, Orbit, Site
from wetmass.record.vehicle import (
    EngineGroup,
    Jet,
    Kind,
    LetGo,
    Moment,
    Propellant,
    Rules,
    Stage,
    StrapOn,
    Vehicle,
)  # fmt: skip

SITE = Site(math.radians(14.2), math.radians(-40.0), 20.0)
LIMITS = Limits(4.5 * G0, 38e3)
UNPRESSED = Limits(4.5 * G0)
ORBITS = (
    Orbit(200e3, 200e3, math.radians(30.0)),
    Orbit(300e3, 300e3, math.radians(97.0), "south"),
    Orbit(520e3, 520e3, math.radians(97.5), "south"),
    Orbit(250e3, 2000e3, math.radians(30.0)),
)
LOW = ORBITS[0]
TRACE = (
    (0.0, 0.2),
    (1.0, 1.0),
    (10.0, 1.15),
    (25.0, 0.95),
    (40.0, 1.05),
    (55.0, 0.9),
    (60.0, 0.3),
    (63.0, 0.0),
)


def _area(diameter: float) -> float:
    return math.pi / 4.0 * diameter**2


def _stage(
    name: str, dry: float, burns: float, *engines: EngineGroup, wide: float, pause: float = 0.0
) -> Stage:
    propellant = Propellant("invented", 3.4, burns=burns)
    return Stage(name, dry, propellant, engines, wide, _area(wide), DRAG, pause=pause)


def _fairing(mass: float) -> tuple[LetGo, ...]:
    return (LetGo("fairing", mass, Moment.HEATING, 1135.0),)


def short_burn(payload: float = 0.0) -> Vehicle:
    """Two methane stages, the first burns 155 s."""
    thrust = 7 * 210e3 * 341.0 / 309.0
    first = EngineGroup("e", 7, thrust / 7, (thrust - 7 * 210e3) / 7 / 101_325.0, 341.0, 0.45)
    second = EngineGroup("v", 1, 180e3, 0.5, 365.0, 0.5)
    stages = (
        _stage("first", 9400.0, 77_600.0, first, wide=3.1),
        _stage("second", 1900.0, 20e3, second, wide=3.1, pause=2.0),
    )
    return Vehicle("short first burn", stages, payload, _fairing(400.0))


def long_burn(payload: float = 0.0) -> Vehicle:
    """A hydrogen core that burns 300 s under a small upper stage."""
    first = EngineGroup("core", 2, 1200e3, (2400e3 - 1980e3) / 2 / 101_325.0, 435.0, 0.5)
    second = EngineGroup("v", 1, 110e3, 1.0, 455.0, 0.5)
    stages = (
        _stage("core", 17e3, 128e3, first, wide=5.0),
        _stage("second", 2600.0, 14e3, second, wide=5.0, pause=3.0),
    )
    return Vehicle("long first burn", stages, payload, _fairing(1300.0))


def strapped(payload: float = 0.0) -> Vehicle:
    """The hydrogen core with two kerosene strap-ons that throttle and hang on for 3 s."""
    engine = EngineGroup("b", 1, 900e3, 0.9, 311.0, 0.5)
    one = _stage("strap-on", 3500.0, 36e3, engine, wide=2.4)
    core = long_burn(payload)
    stronger = replace(core.stages[1], engines=(EngineGroup("v", 1, 180e3, 1.0, 455.0, 0.5),))
    return replace(
        core, name="strap-ons", stages=(core.stages[0], stronger),
        strap_ons=(StrapOn(one, 2, 0, let_go_after=3.0),),
    )  # fmt: skip


def solids(payload: float = 0.0) -> Vehicle:
    """The methane launcher with two solid strap-ons that follow a thrust trace."""
    motor = EngineGroup("m", 1, 600e3, 0.45, 270.0, kind=Kind.SOLID, trace=TRACE)
    one = _stage("solid", 1500.0, 12e3, motor, wide=1.4)
    return replace(short_burn(payload), name="solid strap-ons", strap_ons=(StrapOn(one, 2, 0),))


def solid_first(payload: float = 0.0) -> Vehicle:
    """A solid first stage with a thrust trace under the methane upper stage."""
    trace = tuple((1.4 * time, share) for time, share in TRACE)
    motor = EngineGroup("m", 1, 1700e3, 1.2, 275.0, kind=Kind.SOLID, trace=trace)
    stages = (
        _stage("solid", 7000.0, 62e3, motor, wide=3.1),
        replace(short_burn().stages[1], pause=3.0),
    )
    return Vehicle("solid first stage", stages, payload, _fairing(400.0))


def carried(payload: float = 0.0) -> Vehicle:
    """Two small stages let go by a carrier."""
    stages = (
        _stage("first", 1400.0, 17e3, EngineGroup("e", 1, 330e3, 0.6, 310.0, 0.5), wide=1.6, pause=4.0),
        _stage("second", 330.0, 3200.0, EngineGroup("v", 1, 30e3, 0.2, 340.0, 0.6), wide=1.6, pause=2.0),
    )
    return Vehicle("from a carrier", stages, payload, _fairing(120.0))


def sounding(payload: float = 0.0) -> Vehicle:
    """One small stage that climbs."""
    return Vehicle(
        "climb", (_stage("one", 500.0, 2200.0, EngineGroup("e", 1, 60e3, 0.05, 260.0), wide=0.8),), payload
    )


def fans(payload: float = 0.0) -> Vehicle:
    """Turbofans that burn beside the rockets of the first stage up to 11 km."""
    rockets = EngineGroup("r", 4, 700e3, 0.9, 340.0, 0.3)
    jet = EngineGroup(
        "fans", 6, 0.0, 0.0, 9500.0, kind=Kind.TURBOFAN, jet=Jet(250e3, 3.0, 300.0, 4.0, 2.4),
        rules=Rules(stops_above=11e3),
    )  # fmt: skip
    stages = (
        _stage("deck", 17e3, 150e3, rockets, jet, wide=4.0),
        _stage("second", 3e3, 34e3, EngineGroup("v", 1, 300e3, 1.0, 365.0, 0.5), wide=4.0, pause=3.0),
    )
    return Vehicle("fans beside rockets", stages, payload, _fairing(900.0))


def problem(
    build: Callable[[float], Vehicle], orbit: Orbit | Climb = LOW, *, site: Site = SITE, limits: Limits = LIMITS,
    start: float = 1500.0, low: float = -1500.0,
) -> Ascent:  # fmt: skip
    """The most payload of a vehicle to `orbit`; the search begins at `start` [kg], and goes down to `low`."""
    return Ascent(
        site, orbit, limits, Steering(), lambda values: build(float(values[0])),
        (Unknown("payload", start, low, 20.0 * start, start),), lambda vehicle, trial: ([], []),
        lambda vehicle, trial: -vehicle.payload / start,
    )  # fmt: skip


CARRIER = replace(SITE, launch=AirLaunch(12e3, 220.0, math.radians(20.0)))
KINDS: dict[str, Callable[[], Ascent]] = {
    "strap-ons": lambda: problem(strapped, limits=UNPRESSED, start=6000.0),
    "strap-ons, 97.5°": lambda: problem(strapped, ORBITS[2], limits=UNPRESSED, start=6000.0),
    "strap-ons, 38 kPa held": lambda: problem(strapped, start=6000.0),
    "solid strap-ons": lambda: problem(solids, limits=Limits()),
    "solid strap-ons, 38 kPa held": lambda: problem(solids),
    "solid first stage": lambda: problem(solid_first),
    "from a carrier": lambda: problem(
        carried, Orbit(250e3, 250e3, math.radians(30.0)), site=CARRIER, limits=Limits(6.0 * G0, 50e3),
        start=200.0, low=-300.0,
    ),
    "straight up, 120 km": lambda: problem(sounding, Climb(120e3, at_apex=True), limits=Limits(), start=300.0, low=-100.0),
    "at 60°, 40 km": lambda: problem(
        sounding, Climb(40e3, path_angle=math.radians(60.0), speed=600.0), limits=Limits(), start=300.0, low=-100.0
    ),
    "fans beside rockets": lambda: problem(fans, start=4000.0),
}  # fmt: skip
