"""Out of orbit: a burn against the flight that brings the path down to a stated angle, when it is best."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.failing import too_little
from wetmass.flight.home.fall import drag_words, parachute_legs
from wetmass.flight.home.legs import Body, Engines, Flown, Flyer, body, engines, leg, lit
from wetmass.flight.home.report import DEBRIS, Legs, homecoming
from wetmass.record.digits import fixed
from wetmass.record.finding import Finding, Weight
from wetmass.record.homecoming import By, Homecoming, Posture, Released, Way
from wetmass.record.mission import Site

INTERFACE = 120e3  # m: height at which the angle of entry is stated, common practice
MOVED = range(-900, 150, 30)  # s: moments tried for the burn that leads to a glide: ours
_TURNS = 16  # turns of the Earth's orbit looked at for a burn that leads to the place: about a day


def out_of_orbit(released: Released, way: Way, site: Site) -> Homecoming:
    """The stage leaves its orbit by a burn and comes down as `way.by` says.

    The burn is the least that meets the Earth's air at `way.entry_angle`; where there is a place, the burn
    waits, up to about a day, until its track leads nearest to it, and what is missed sideways is told.
    """
    made = body(released, way)
    which = engines(released)
    if which is None:
        raise ValueError(f"{released.name}: leaving an orbit takes an engine, the stage has none")
    flyer = Flyer(released, made.curves, ground=way.landing_height)
    burn, reached = burn_for_angle(flyer, made, which, way.entry_angle, way.acceleration_limit)
    wait = 0.0
    if way.place is not None:
        wait = waiting(flyer, made, way, burn, way.place)
    prefix = [leg(made, Posture.END_ON, at.TIME, wait), burn]
    burnt = float(burn[at.THROTTLE] * burn[at.FLOW] * burn[at.END_VALUE])
    findings = []
    if not reached:
        findings.append(
            Finding(
                "burn out of orbit",
                Weight.FAILS,
                released.name,
                "no burn up to 2 km/s reaches the angle",
                f"{math.degrees(way.entry_angle):.1f}° at 120 km",
                "Ask for a flatter entry",
                "flown by this program",
            )
        )
    if way.by is By.POWERED:
        from wetmass.flight.home.powered import land

        made_home = land(released, dataclasses.replace(way, place=None), site, prefix=prefix)
        return dataclasses.replace(made_home, way=way, findings=(*findings, *made_home.findings))
    if way.by is By.GLIDE:
        from wetmass.flight.home.glide import glide

        made_home = glide(released, way, site, prefix=prefix)
        return dataclasses.replace(made_home, findings=(*findings, *made_home.findings))
    legs = _fall_legs(made, way, prefix)
    if burnt > released.propellant + 0.5:
        findings.append(too_little(released, burnt, flown=False))
    result = homecoming(
        flyer,
        legs,
        way,
        site,
        comes_home=not findings,
        findings=tuple(findings),
        needed=burnt,
        assumed=(drag_words(way), "the burn is flown against the speed, engines full on"),
        cautions=(DEBRIS,),
    )
    limit = 10e3
    if way.place is not None and result.down.missed_by > limit:
        missed = Finding(
            "place not under the orbit",
            Weight.DOUBT,
            released.name,
            f"comes down {fixed(result.down.missed_by / 1e3)} km beside it at best within a day",
            f"at most {limit / 1e3:.0f} km",
            "Wait longer, or choose a place nearer to the track",
            "flown by this program",
        )
        result = dataclasses.replace(result, findings=(*result.findings, missed))
    return result


def _fall_legs(made: Body, way: Way, prefix: list[np.ndarray]) -> Legs:
    legs = Legs()
    legs.add("in orbit", prefix[0], "burn out of orbit begins")
    legs.add("burn out of orbit", prefix[1], "burn out of orbit ends", ("burn out of orbit", 1.0))
    if way.by is By.PARACHUTES:
        more = parachute_legs(made, way)
        for one in zip(more.names[1:], more.rows[1:], more.ends[1:], strict=True):
            legs.add(*one)
        legs.rows.insert(2, leg(made, Posture.END_ON, at.FALLEN, INTERFACE))
        legs.names.insert(2, "coast")
        legs.ends.insert(2, "meets the air")
        legs.burns.insert(2, None)
    else:
        legs.add("coast", leg(made, Posture.END_ON, at.FALLEN, INTERFACE), "meets the air")
        legs.add("entry", leg(made, way.posture, at.FALLEN, way.landing_height), "impact")
    return legs


def burn_for_angle(
    flyer: Flyer, made: Body, which: Engines, angle: float, limit: float
) -> tuple[np.ndarray, bool]:
    """The shortest burn against the flight after which the path at 120 km points `angle` below the horizon.

    limit  felt acceleration the engines are throttled for [m/s²]
    """
    released = flyer.released
    limit = 0.97 * limit * released.dry_mass / (which.count * which.thrust)
    throttle = min(1.0, max(which.least_throttle, limit))
    exhaust, flow = which.thrust / which.flow, throttle * which.count * which.flow

    def row(speed: float) -> np.ndarray:
        burnt = released.mass * -math.expm1(-speed / exhaust)
        return lit(
            leg(made, Posture.END_ON, at.TIME, burnt / flow), which, which.count, throttle, at.BACKWARD, 1.0
        )

    def steepness(speed: float) -> float:
        """Angle below the horizon at 120 km, below zero where it is never met [rad]."""
        fall = leg(made, Posture.END_ON, at.FALLEN, INTERFACE)
        fall[at.OTHER_END], fall[at.OTHER_VALUE] = at.TIME, 4.0 * 3600.0
        flown = flyer.fly([row(speed), fall], longest=10.0, tolerance=1e-9)
        if places.over_ground(flown.state, flown.time)[2] > INTERFACE + 1.0:
            return -1.0
        over = flown.state[3:6]
        _, _, up = places.frame(flown.state)
        return -math.asin(float(over @ up) / float(np.linalg.norm(over)))

    low, high = 0.0, 50.0
    while high < 2000.0 and steepness(high) < angle:
        low, high = high, 1.5 * high
    if high >= 2000.0:
        return row(2000.0), False
    for _ in range(30):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if steepness(middle) >= angle else (middle, high)
        low, high = min(low, high), max(low, high)
        if high - low < 1e-3:
            break
    return row(high), True


def waiting(flyer: Flyer, made: Body, way: Way, burn: np.ndarray, place: Site) -> float:
    """How long to wait in orbit so that the way down ends nearest to the place [s].

    The arc from the burn to the ground is nearly the same all round the orbit: it is flown once, laid along
    the orbit for a day, and the best moments are flown in full.
    """

    def down_from(wait: float, there: Way) -> Flown:
        before = [leg(made, Posture.END_ON, at.TIME, wait), burn]
        if way.by is By.GLIDE:
            from wetmass.flight.home.glide import glide_legs

            legs = glide_legs(made, there, before)
        else:
            legs = _fall_legs(made, dataclasses.replace(there, by=By.BALLISTIC), before)
        return flyer.fly(legs.rows, longest=10.0, tolerance=1e-8)

    def miss(wait: float) -> float:
        flown = down_from(wait, way)
        return places.distance(
            places.over_ground(flown.state, flown.time)[:2], (place.latitude, place.longitude)
        )

    down = down_from(0.0, dataclasses.replace(way, place=None))
    start = flyer.start()
    a, b = start[:3] / np.linalg.norm(start[:3]), down.state[:3] / np.linalg.norm(down.state[:3])
    normal = np.cross(start[:3], start[3:6])
    normal /= np.linalg.norm(normal)
    arc = math.atan2(float(np.cross(a, b) @ normal), float(a @ b)) % math.tau
    falls_for = down.time - flyer.released.time
    r, v = float(np.linalg.norm(start[:3])), float(np.linalg.norm(start[3:6]))
    rate = v / r
    day = _TURNS * math.tau / rate
    rows = flyer.fly(
        [leg(made, Posture.END_ON, at.TIME, day)], longest=2.0, record=20_000, tolerance=1e-8
    ).rows
    found = []
    for row in rows:
        # turn the place of the orbit onwards by the arc, and the Earth by the time of the fall
        state = row[2:8]
        h = np.cross(state[:3], state[3:6])
        h /= np.linalg.norm(h)
        onward = math.cos(arc) * state[:3] + math.sin(arc) * np.cross(h, state[:3])
        there = places.over_ground(onward, float(row[0]) + falls_for)
        found.append(
            (
                places.distance(there[:2], (place.latitude, place.longitude)),
                float(row[0]) - flyer.released.time,
            )
        )
    _, guess = min(found)
    if (
        way.by is By.GLIDE
    ):  # turning shortens a glide by more than a fall's few seconds: looked for farther off
        guess = min((max(0.0, guess + moved) for moved in MOVED), key=miss)
    from scipy.optimize import minimize_scalar

    answer = minimize_scalar(
        miss, bounds=(max(0.0, guess - 120.0), guess + 120.0), method="bounded", options={"xatol": 0.05}
    )
    return float(answer.x)
