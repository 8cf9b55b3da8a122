"""A flight flown once more with everything recorded: timeline, trajectory, losses, peaks."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.program import Program
from wetmass.flight.propagate import fly
from wetmass.physics.atmosphere import air_kernel
from wetmass.physics.earth import AXIS_RATIO_SQUARED, EARTH_RADIUS_WGS84, OMEGA, geodetic, ground_distance
from wetmass.physics.orbits import elements
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.flight import (
    COLUMNS,
    Event,
    Flight,
    Losses,
    Peak,
    ReachedOrbit,
    StageShare,
    SteeringUsed,
    Trajectory,
)
from wetmass.record.mission import Climb
from wetmass.record.vehicle import Vehicle

LONGEST_STEP = 4.0  # s between rows
RECORDED = 1e-11  # tolerance of the recorded flight
FINE = 1e-13  # and of the flight it is compared with
_ACCOUNT = slice(at.ROW_STATE + at.IDEAL, at.ROW_STATE + at.GRAVITY + 1)
_COLUMN = {column.key: i for i, column in enumerate(COLUMNS)}


def recorded(ascent: Ascent, x: np.ndarray) -> Flight:
    """The flight of the unknowns `x` of `ascent`, recorded."""
    vehicle = ascent.build(ascent.open_values(x))
    laid = ascent.lay_out(x, vehicle)
    control = ascent.control(x, vehicle)
    control[at.TOLERANCE] = RECORDED
    rows = _fly(ascent, laid, control, LONGEST_STEP)
    fine = control.copy()
    fine[at.TOLERANCE] = FINE
    reference = _fly(ascent, laid, fine, 1e4)
    place = slice(at.ROW_STATE, at.ROW_STATE + 6)
    accuracy = _difference(rows[-1, place], reference[-1, place])
    values = np.array([_row(row, laid, ascent) for row in rows])
    losses = _losses(np.zeros(5), rows[-1], values[-1], values[0])
    return Flight(
        vehicle=vehicle,
        events=_events(rows, values, vehicle, laid, not isinstance(ascent.orbit, Climb)),
        trajectory=Trajectory(COLUMNS, values),
        losses=losses,
        stages=_stages(rows, values, vehicle, laid),
        orbit=_orbit(rows[-1]),
        steering=_steering(rows, values, control, ascent),
        dynamic_pressure=_peak(values, "dynamic_pressure"),
        felt_acceleration=_greatest_felt(rows, values),
        q_alpha=_peak(values, "q_alpha", math.radians(1.0)),
        heating=_peak(values, "heating"),
        exposed_heating=_exposed(rows, values),
        accuracy=accuracy,
        jet_fuel=float(rows[-1, at.ROW_STATE + at.JET_FUEL]),
    )


def _fly(ascent: Ascent, laid: Program, control: np.ndarray, longest: float) -> np.ndarray:
    """Rows of the flight, with the losses kept."""
    control = control.copy()
    control[at.LONGEST_STEP] = longest
    y = ascent.started(control, laid, at.ACCOUNTED)
    summary = np.zeros(at.SUMMARY_WIDTH)
    marks = np.zeros((laid.mark_rows(), 1 + at.ACCOUNTED))
    rows, steps = np.zeros((5000, at.ROW_WIDTH)), np.zeros((0, at.STEP_WIDTH))
    _, count = fly(
        0.0, laid.segments, laid.let_go, control, laid.curves, y, summary, marks, rows, steps, False,
        at.ACCOUNTED, laid.groups, laid.traces,
    )  # fmt: skip
    return rows[:count]


def _difference(state: np.ndarray, reference: np.ndarray) -> float:
    place = np.linalg.norm(state[:3] - reference[:3]) / np.linalg.norm(reference[:3])
    speed = np.linalg.norm(state[3:] - reference[3:]) / np.linalg.norm(reference[3:])
    return float(max(place, speed))


def _row(row: np.ndarray, laid: Program, ascent: Ascent) -> list[float]:
    """One row of the trajectory, in the order of COLUMNS."""
    t = row[at.ROW_TIME]
    y = row[at.ROW_STATE : at.ROW_STATE + at.ACCOUNTED]
    place, speed = y[0:3], y[3:6]
    air = speed - np.array([-OMEGA * place[1], OMEGA * place[0], 0.0])
    latitude, longitude, height = geodetic(*map(float, place))
    longitude = math.remainder(longitude - OMEGA * t, 2.0 * math.pi)
    _, _, density, sound = air_kernel(max(height, -1000.0))
    air_speed = float(np.linalg.norm(air))
    up = place * np.array([1.0, 1.0, AXIS_RATIO_SQUARED])
    up /= np.linalg.norm(up)
    ahead = air / air_speed if air_speed > 1e-3 else up
    thrust_direction = row[at.ROW_DIRECTION : at.ROW_DIRECTION + 3]
    east = np.array([-up[1], up[0], 0.0]) / math.hypot(up[0], up[1])
    # up × east, written out: np.cross takes longer than all the rest of the row
    north = np.array([-up[2] * east[1], up[2] * east[0], up[0] * east[1] - up[1] * east[0]])
    path = math.asin(max(-1.0, min(1.0, float(ahead @ up))))
    heading = math.degrees(math.atan2(float(ahead @ east), float(ahead @ north))) % 360.0
    pitch = math.asin(max(-1.0, min(1.0, float(thrust_direction @ up))))
    burning = row[at.ROW_BURNING] > 0.0
    along = max(-1.0, min(1.0, float(thrust_direction @ ahead)))
    attack = math.degrees(math.acos(along)) if burning and air_speed > 1.0 else 0.0
    mach = air_speed / sound
    q = 0.5 * density * air_speed**2
    drag, throttle, thrust = row[at.ROW_DRAG], row[at.ROW_THROTTLE], row[at.ROW_THRUST]
    mass = y[at.MASS]
    felt = float(np.linalg.norm(thrust * thrust_direction - drag * ahead)) / mass if burning else drag / mass
    site = ascent.site
    return [
        t, laid.stage_of[int(row[at.ROW_SEGMENT])] + 1.0, height, math.degrees(latitude),
        math.degrees(longitude),
        ground_distance(site.latitude, site.longitude, latitude, longitude),
        air_speed, float(np.linalg.norm(speed)), math.degrees(path), heading, math.degrees(pitch), attack,
        mass, throttle if burning else 0.0, thrust if burning else 0.0, drag, felt, q, mach, q * attack,
        q * air_speed,
    ]  # fmt: skip


def _losses(before: np.ndarray, row: np.ndarray, values: np.ndarray, first: np.ndarray) -> Losses:
    """Losses from a row whose account stood at `before` to `row`."""
    ideal, back, steer, drag, gravity = row[_ACCOUNT] - before
    gained = values[_COLUMN["air_speed"]] - first[_COLUMN["air_speed"]]
    turned = values[_COLUMN["speed"]] - values[_COLUMN["air_speed"]]
    return Losses(
        float(ideal), float(gravity), float(drag), float(steer), float(back), float(gained), float(turned)
    )


def _event(what: str, values: np.ndarray, shed: float = 0.0) -> Event:
    """An event; `shed` is the mass let go at it [kg]."""
    v = {key: float(values[i]) for key, i in _COLUMN.items()}
    return Event(
        what, v["time"], v["height"], v["air_speed"], v["speed"], math.radians(v["path_angle"]),
        v["downrange"], v["mass"] + float(shed), v["dynamic_pressure"], v["felt_acceleration"],
    )  # fmt: skip


def _events(
    rows: np.ndarray, values: np.ndarray, vehicle: Vehicle, laid: Program, in_orbit: bool
) -> tuple[Event, ...]:
    """The timeline.  The row of an event stands after it; the mass shown is that before."""
    found: list[Event] = []
    for i, row in enumerate(rows):
        words = _words(row, vehicle, laid, in_orbit)
        found += [_event(what, values[i], row[at.ROW_SHED]) for what in words]
        if words and words[0].endswith("burns out"):
            found[-len(words)] = replace(found[-len(words)], felt_acceleration=float(row[at.ROW_FELT_BEFORE]))
    pressed = int(np.argmax(values[:, _COLUMN["dynamic_pressure"]]))
    found.append(_event("greatest dynamic pressure", values[pressed]))
    return tuple(sorted(found, key=lambda event: event.time))


def _words(row: np.ndarray, vehicle: Vehicle, laid: Program, in_orbit: bool) -> list[str]:
    """What the event of a row is called; a segment's end may be the next one's beginning as well."""
    kind, index = int(row[at.ROW_EVENT]), int(row[at.ROW_EVENT_INDEX])
    segment = int(row[at.ROW_SEGMENT])
    if kind == at.LIFT_OFF:
        return ["lift-off"]
    if kind == at.TILT_BEGINS:
        return ["tilt begins"]
    if kind == at.TURN_BEGINS:
        return ["zero-lift turn begins"]
    if kind == at.FREE_BEGINS:
        return ["free steering begins"]
    if kind == at.LET_GO:
        return [f"{vehicle.let_go[index].name} let go"]
    if kind == at.LIMIT_CHANGES:
        words = ("full throttle again", "throttles for felt acceleration", "throttles for dynamic pressure")
        return [words[index]]
    if kind == at.FLIGHT_ENDS:
        if laid.segments[-1, at.END] == at.ENDS_AT_APEX:
            return ["top of the climb"]
        return ["in orbit: last cut-off" if in_orbit else "at the height: last cut-off"]
    if kind == at.SEGMENT_ENDS:
        ended = segment - 1
        stage, next_stage = laid.stage_of[ended], laid.stage_of[segment]
        name, next_name = vehicle.stages[stage].name, vehicle.stages[next_stage].name
        if laid.names[segment] == "strap-ons alone":
            return [f"{name} burns out"]
        if laid.names[ended] == "hot start":
            return [f"{vehicle.stages[stage - 1].name} let go"]
        if laid.names[ended] == "coast" and laid.burns[ended]:
            return [f"{next_name} lights"]
        if laid.burns[ended] and laid.burns[segment] and stage == next_stage:
            return [f"{name}: some engines stop"]
        if laid.segments[segment, at.END] == at.ENDS_AT_APEX:
            return [f"{name} burns out"]
        if laid.burns[ended] and stage == next_stage:
            return [f"{name} stops to coast"]
        words = [f"{name} burns out"] if laid.burns[ended] else []
        again = any(laid.burns[s] for s in range(segment) if laid.stage_of[s] == next_stage)
        if laid.burns[segment]:
            words.append(f"{next_name} lights{' again' if again else ''}")
        return words
    if kind in (at.GROUP_LIT, at.GROUP_OUT, at.GROUP_LET_GO):
        return _group_words(kind, index, vehicle, laid)
    return []


def _group_words(kind: int, index: int, vehicle: Vehicle, laid: Program) -> list[str]:
    name, strapped = laid.group_names[index], laid.strap_on_of[index] is not None
    if kind == at.GROUP_LIT:
        return [f"{name} light"]
    if kind == at.GROUP_OUT:
        return [f"{name} burn out" if strapped else f"{name} stop"]
    at_once = laid.groups[index, of.DROP_AFTER] <= 0.0
    return [f"{name} burn out and are let go" if at_once else f"{name} let go"]


def _stages(rows: np.ndarray, values: np.ndarray, vehicle: Vehicle, laid: Program) -> tuple[StageShare, ...]:
    shares = []
    before, first = np.zeros(5), values[0]
    for index, stage in enumerate(vehicle.stages):
        segments = [s for s, owner in enumerate(laid.stage_of) if owner == index]
        burning = [s for s in segments if laid.burns[s]]
        here = [i for i, row in enumerate(rows) if int(row[at.ROW_SEGMENT]) in segments]
        last = here[-1]
        if last + 1 < len(rows) and int(rows[last + 1][at.ROW_EVENT]) == at.SEGMENT_ENDS:
            last += 1  # the row just after the cut-off has its state, with the dropped mass gone
        lit = next(i for i in here if int(rows[i][at.ROW_SEGMENT]) == burning[0])
        ends = _event("", values[last])
        burn_time = sum(_time_span(rows, s) for s in burning)
        start_mass = float(values[lit, _COLUMN["mass"]])
        pressure = float(air_kernel(max(values[lit, _COLUMN["height"]], 0.0))[1])
        losses = _losses(before, rows[last], values[last], first)
        shares.append(
            StageShare(
                stage.name,
                losses.ideal,
                burn_time,
                (stage.thrust(pressure) if laid.plain else float(values[lit, _COLUMN["thrust"]]))
                / (start_mass * STANDARD_GRAVITY),
                ends.air_speed,
                ends.speed,
                ends.height,
                ends.downrange,
                ends.time,
                ends.path_angle,
                losses,
            )
        )
        before, first = rows[last, _ACCOUNT], values[last]
    return tuple(shares)


def _time_span(rows: np.ndarray, segment: int) -> float:
    """How long a segment lasted [s]: to the row in which the next one begins."""
    inside = np.flatnonzero(rows[:, at.ROW_SEGMENT] == segment)
    end = min(inside[-1] + 1, len(rows) - 1)
    return float(rows[end, at.ROW_TIME] - rows[inside[0], at.ROW_TIME])


def _orbit(row: np.ndarray) -> ReachedOrbit:
    y = row[at.ROW_STATE : at.ROW_STATE + 6]
    e = elements(tuple(map(float, y[:3])), tuple(map(float, y[3:])))
    return ReachedOrbit(
        e.perigee_radius - EARTH_RADIUS_WGS84,
        e.apogee_radius - EARTH_RADIUS_WGS84,
        e.eccentricity,
        e.inclination,
        e.perigee_argument,
        math.remainder(e.node, 2.0 * math.pi),
    )


def _steering(rows: np.ndarray, values: np.ndarray, control: np.ndarray, ascent: Ascent) -> SteeringUsed:
    free = next((i for i, row in enumerate(rows) if int(row[at.ROW_EVENT]) == at.FREE_BEGINS), len(rows) - 1)
    v = {key: float(values[free, i]) for key, i in _COLUMN.items()}
    return SteeringUsed(
        ascent.law(), float(control[at.AZIMUTH]) % (2.0 * math.pi), float(control[at.TILT]),
        v["time"], v["height"], v["dynamic_pressure"],
    )  # fmt: skip


def _exposed(rows: np.ndarray, values: np.ndarray) -> Peak | None:
    """The greatest heating once the fairing is gone, None where none is let go."""
    bare = values[rows[:, at.ROW_EXPOSED] > 0.0]
    return _peak(bare, "heating") if len(bare) else None


def _greatest_felt(rows: np.ndarray, values: np.ndarray) -> Peak:
    """The greatest felt acceleration, most often just as a stage burns out: the row of that stands after it."""
    after = _peak(values, "felt_acceleration")
    i = int(np.argmax(rows[:, at.ROW_FELT_BEFORE]))
    before = float(rows[i, at.ROW_FELT_BEFORE])
    if before <= after.value:
        return after
    return Peak(before, float(values[i, 0]), float(values[i, _COLUMN["height"]]))


def _peak(values: np.ndarray, key: str, scale: float = 1.0) -> Peak:
    column = values[:, _COLUMN[key]]
    i = int(np.argmax(column))
    return Peak(float(column[i]) * scale, float(values[i, 0]), float(values[i, _COLUMN["height"]]))
