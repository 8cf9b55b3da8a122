"""The cruise and the hover of a way home on jets, added to its record row by row."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.jet_plan import (
    SET_DOWN,
    STAND_OFF,
    Plan,
    ground_of,
    rest_height,
)
from wetmass.flight.home.report import event
from wetmass.physics.atmosphere import air
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.flight import Trajectory
from wetmass.record.homecoming import HOME_COLUMNS, Burn, Homecoming, Released, Way
from wetmass.record.mission import Site


def with_cruise(result: Homecoming, released: Released, way: Way, site: Site, plan: Plan) -> Homecoming:
    """The record with the cruise and the hover added, row by row."""
    jets = way.jets
    assert jets is not None
    values = [*result.trajectory.values]
    flown, mass, time = plan.flown, float(plan.flown.state[at.MASS]), plan.flown.time
    here = places.over_ground(flown.state, flown.time)
    events, legs = [e for e in result.events if e.what != "meets the ground"], [*result.legs]
    column = {c.key: i for i, c in enumerate(HOME_COLUMNS)}
    burns = [*result.burns]

    def row(
        leg_number: int, place: tuple[float, float, float], speed: float, path: float, heading: float
    ) -> np.ndarray:
        made = values[-1].copy()
        state = places.release_state(time, *place, max(speed, 1e-6), path, heading)
        _, _, density, sound = air(place[2])
        made[column["time"]], made[column["leg"]], made[column["height"]] = time, leg_number, place[2]
        made[column["latitude"]], made[column["longitude"]] = math.degrees(place[0]), math.degrees(place[1])
        made[column["downrange"]] = places.distance(place[:2], (site.latitude, site.longitude))
        made[column["air_speed"]], made[column["speed"]] = speed, float(np.linalg.norm(state[3:]))
        made[column["path_angle"]], made[column["heading"]] = math.degrees(path), math.degrees(heading)
        made[column["mass"]], made[column["felt_acceleration"]] = mass, STANDARD_GRAVITY
        made[column["dynamic_pressure"]] = 0.5 * density * speed**2
        made[column["mach"]], made[column["drag"]] = speed / sound, 0.0
        made[column["thrust"]] = mass * STANDARD_GRAVITY
        made[column["heating"]] = made[column["molecular_heating"]] = 0.0
        made[column["x"] :] = state
        return made

    number = len(legs)
    end = (here[0], here[1])
    if plan.cruise is not None and way.place is not None:
        number += 1
        legs.append("cruise")
        began, m0, to = time, mass, (way.place.latitude, way.place.longitude)
        over = plan.cruise.speed - jets.headwind
        for share in np.linspace(0.0, 1.0, 41):
            time = began + share * plan.cruise.time
            mass = m0 * math.exp(math.log1p(-plan.cruise.fuel / m0) * share)
            place = _between(end, to, share)
            made = row(number, (*place, rest_height(released, way)), over, 0.0, places.bearing(place, to))
            made[column["thrust"]] = mass * STANDARD_GRAVITY / plan.cruise.lift_to_drag
            values.append(made)
        events.append(event("over the place", values[-1]))
        burns.append(
            Burn(
                "cruise on jets",
                1.0,
                plan.cruise.thrust / plan.cruise.available,
                began,
                rest_height(released, way),
                plan.cruise.speed,
                plan.cruise.time,
                plan.cruise.fuel,
                0.0,
                1.0 / plan.cruise.lift_to_drag,
                1.0 / plan.cruise.lift_to_drag,
            )
        )
        end = to
    number += 1
    legs.append("hover and set down")
    burns.append(
        Burn(
            "hover and set down",
            1.0,
            min(1.0, mass * STANDARD_GRAVITY / jets.static_thrust),
            time,
            ground_of(way) + STAND_OFF,
            0.0,
            jets.hover + STAND_OFF / SET_DOWN,
            plan.hover_fuel,
            0.0,
            1.0,
            1.0,
        )
    )
    high = rest_height(released, way)
    if high > ground_of(way) + STAND_OFF:
        time += (high - ground_of(way) - STAND_OFF) / 20.0
        values.append(row(number, (*end, ground_of(way) + STAND_OFF), 20.0, -0.5 * math.pi, 0.0))
    time += jets.hover
    values.append(row(number, (*end, ground_of(way) + STAND_OFF), 0.0, 0.0, 0.0))
    events.append(event("hover ends", values[-1]))
    time += STAND_OFF / SET_DOWN
    mass -= plan.hover_fuel
    values.append(row(number, (*end, ground_of(way)), SET_DOWN, -0.5 * math.pi, 0.0))
    events.append(event("touch-down", values[-1]))
    missed = 0.0 if way.place is None else places.distance(end, (way.place.latitude, way.place.longitude))
    down = dataclasses.replace(
        result.down,
        time=time,
        latitude=end[0],
        longitude=end[1],
        speed=SET_DOWN,
        sinking=SET_DOWN,
        missed_by=missed,
        distance=places.distance(end, (site.latitude, site.longitude)),
    )
    return dataclasses.replace(
        result,
        trajectory=Trajectory(HOME_COLUMNS, np.array(values)),
        events=tuple(events),
        legs=tuple(legs),
        down=down,
        burns=tuple(burns),
    )


def _between(one: tuple[float, float], other: tuple[float, float], share: float) -> tuple[float, float]:
    """A point on the great circle between two places on a sphere."""

    def vector(at_place: tuple[float, float]) -> np.ndarray:
        return np.array(
            [
                math.cos(at_place[0]) * math.cos(at_place[1]),
                math.cos(at_place[0]) * math.sin(at_place[1]),
                math.sin(at_place[0]),
            ]
        )

    a, b = vector(one), vector(other)
    angle = math.acos(max(-1.0, min(1.0, float(a @ b))))
    if angle < 1e-12:
        return one
    mixed = (math.sin((1.0 - share) * angle) * a + math.sin(share * angle) * b) / math.sin(angle)
    return math.asin(max(-1.0, min(1.0, float(mixed[2])))), math.atan2(float(mixed[1]), float(mixed[0]))
