"""How far the place of coming down may lie from the one computed: many falls with chance in them."""

from __future__ import annotations

import math

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.fall import add_coast, parachute_legs
from wetmass.flight.home.legs import Flyer, body, leg
from wetmass.flight.home.report import Legs
from wetmass.physics.earth import EARTH_RADIUS_WGS84
from wetmass.record.homecoming import Released, Spread, Way

# wind: one vector drawn for the whole column, times this share of the stated strength: ours, in the shape of
# mean wind over height at middle latitudes (from memory), strongest at the height of the jet stream
WIND_HEIGHTS = (0.0, 2e3, 5e3, 9e3, 12e3, 16e3, 20e3, 30e3)
WIND_SHARES = (0.2, 0.35, 0.6, 0.9, 1.0, 0.65, 0.35, 0.3)


def spread(
    released: Released,
    way: Way,
    *,
    flights: int = 400,
    seed: int = 1,
    wind: float = 20.0,
    drag: float = 0.10,
    speed: float = 5.0,
    angle: float = math.radians(0.1),
    time: float = 0.5,
) -> Spread:
    """Where a stage comes down without guidance, `flights` times; every number is one standard deviation.

    wind   of each of its two parts at 12 km  [m/s]    drag   relative
    speed  at cut-off [m/s]    angle  of the path at cut-off, up and sideways [rad]    time  of cut-off [s]

    Falls, or parachutes where `way` has them.  The same seed gives the same points.  Raises ValueError for
    fewer than 10 flights or a negative deviation.
    """
    if flights < 10:
        raise ValueError(f"flights must be 10 or more to say anything of a spread, got {flights}")
    for name, value in {"wind": wind, "drag": drag, "speed": speed, "angle": angle, "time": time}.items():
        if not value >= 0.0:
            raise ValueError(f"{name} must be 0 or more, got {value}")
    made = body(released, way)
    flyer = Flyer(released, made.curves, ground=way.landing_height)
    if way.canopies:
        legs = parachute_legs(made, way)
    else:
        legs = Legs()
        add_coast(legs, made, way)
        legs.add("fall", leg(made, way.posture, at.FALLEN, way.landing_height), "impact")
    rows = np.array(legs.rows)
    base = flyer.start()
    over = places.ground_velocity(base)
    fast = float(np.linalg.norm(over))
    _, _, up = places.frame(base)
    along = over / fast
    side = np.cross(along, up)
    side /= np.linalg.norm(side)
    lift = np.cross(side, along)
    dice = np.random.default_rng(seed)
    found = []
    for _ in range(flights):
        draw = dice.standard_normal(7)
        y = base.copy()
        y[3:6] += speed * draw[0] * along + fast * angle * (draw[1] * lift + draw[2] * side)
        y[:3] += over * time * draw[3]
        factor = math.exp(drag * draw[4] - 0.5 * drag * drag)
        trial = rows.copy()
        trial[:, at.DRAG_SHARE] *= factor
        trial[:, at.CHUTE_FROM] *= factor
        trial[:, at.CHUTE_TO] *= factor
        flyer.wind = np.array(
            [
                (h, wind * draw[5] * share, wind * draw[6] * share)
                for h, share in zip(WIND_HEIGHTS, WIND_SHARES, strict=True)
            ]
        )
        flown = flyer.fly(trial, start=(released.time, y), tolerance=1e-7, longest=10.0)
        found.append(places.over_ground(flown.state, flown.time)[:2])
    return _ellipse(
        np.array(found),
        seed,
        (
            f"wind {wind:g} m/s in each direction at 12 km, one draw for the whole column",
            f"drag {100 * drag:g} %",
            f"cut-off: speed {speed:g} m/s, direction {math.degrees(angle):g}°, time {time:g} s",
            "each one standard deviation, drawn independently; no break-up",
        ),
    )


def _ellipse(points: np.ndarray, seed: int, assumed: tuple[str, ...]) -> Spread:
    latitude, longitude = (float(value) for value in points.mean(axis=0))
    north = (points[:, 0] - latitude) * EARTH_RADIUS_WGS84
    east = (points[:, 1] - longitude) * EARTH_RADIUS_WGS84 * math.cos(latitude)
    values, vectors = np.linalg.eigh(np.cov(np.array([north, east])))
    across, along = (math.sqrt(max(float(value), 0.0)) for value in values)
    axis = vectors[:, 1]
    a = (axis[0] * north + axis[1] * east) / max(along, 1e-9)
    b = (-axis[1] * north + axis[0] * east) / max(across, 1e-9)
    return Spread(
        len(points),
        seed,
        latitude,
        longitude,
        along,
        across,
        math.atan2(float(axis[1]), float(axis[0])) % math.pi,
        float(np.quantile(np.hypot(a, b), 0.99)),
        tuple((float(p[0]), float(p[1])) for p in points),
        assumed,
    )
