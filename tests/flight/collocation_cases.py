"""A two-stage test vehicle, invented, and its ascent as a problem of steering and payload."""

import math

from wetmass.flight.ascent import Ascent, Steering, Unknown
from wetmass.record.mission import Limits, Orbit, Site
from wetmass.record.vehicle import EngineGroup, LetGo, Moment, Propellant, Stage, Vehicle

G0 = 9.80665
DRAG = ((0, 0.25), (0.5, 0.23), (0.8, 0.26), (0.95, 0.36), (1.05, 0.46), (1.2, 0.48), (1.5, 0.43), (2, 0.36),
        (3, 0.28), (4, 0.24), (5, 0.22), (8, 0.2))  # fmt: skip
SITE = Site(math.radians(14.2), math.radians(-40.0), 20.0)
LIMITS = Limits(4.5 * G0, 38e3)


def two_stages(payload, scale=1.0):
    """`scale` multiplies every mass, thrust and area: the flight must stay the same."""
    thrust = 7 * 210e3 * 341.0 / 309.0
    first = EngineGroup("e", 7, scale * thrust / 7, scale * (thrust - 7 * 210e3) / 7 / 101_325.0, 341.0, 0.45)
    second = EngineGroup("v", 1, scale * 180e3, scale * 0.5, 365.0, 0.5)
    area = scale * math.pi / 4.0 * 3.1**2
    lower, upper = (Propellant("LOX/LCH4", 3.4, burns=scale * mass) for mass in (77_600.0, 20e3))
    return Vehicle(
        "test",
        (
            Stage("first", scale * 9400.0, lower, (first,), 3.1, area, DRAG),
            Stage("second", scale * 1900.0, upper, (second,), 3.1, area, DRAG, pause=2.0),
        ),
        payload,
        (LetGo("fairing", scale * 400.0, Moment.HEATING, 1135.0),),
    )


def ascent(orbit=None, scale=1.0, limits=LIMITS, **changes):
    return Ascent(
        SITE,
        orbit or Orbit(200e3, 200e3, math.radians(30.0)),
        limits,
        Steering(),
        lambda values: two_stages(float(values[0]), scale),
        (Unknown("payload", 1000.0 * scale, -1500.0 * scale, 8000.0 * scale, 1500.0 * scale),),
        lambda vehicle, trial: ([], []),
        lambda vehicle, trial: -vehicle.payload / (1000.0 * scale),
        **changes,
    )
