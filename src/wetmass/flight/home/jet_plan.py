"""One way home on jets: the fall, the stop, the cruise and the hover; what it takes, and how strong jets must be."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.legs import Body, Flown, Flyer, engines, leg, lit
from wetmass.flight.home.report import Legs
from wetmass.physics.atmosphere import air
from wetmass.physics.entry import BROADSIDE_DRAG, BROADSIDE_MACH
from wetmass.physics.jets import jet_fuel, jet_thrust
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.homecoming import Jets, Posture, Released, Way

STAND_OFF = 30.0  # m above the ground at which it comes to rest before it is set down: ours
SET_DOWN = 2.0  # m/s, from there: ours
TAKES_OVER = 1.05  # thrust over weight needed to hover with control: from memory


@dataclass(frozen=True, slots=True)
class Cruise:
    """The way from where the fall was stopped to the place."""

    distance: float  # m
    speed: float  # m/s through the air
    fuel_flow: float  # kg/(N·s)
    lift_to_drag: float  # or weight over thrust
    fuel: float  # kg
    time: float  # s
    thrust: float  # N at the start
    available: float  # N


@dataclass(frozen=True, slots=True)
class Plan:
    """One way home on jets, flown."""

    flyer: Flyer
    legs: Legs
    start: tuple[float, np.ndarray]
    stopped: bool
    lit_at: float  # m
    flown: Flown
    cruise: Cruise | None
    hover_fuel: float  # kg, with setting down
    used: float  # kg of everything


def ground_of(way: Way) -> float:
    return way.place.height if way.place is not None else way.landing_height


def hovers_on(released: Released, way: Way) -> bool:
    """Whether the jets alone can hold the dry stage over the ground."""
    assert way.jets is not None
    return way.jets.static_thrust >= TAKES_OVER * released.dry_mass * STANDARD_GRAVITY


def rest_height(released: Released, way: Way) -> float:
    """Where the fall is stopped: the height of the cruise, just over the ground, or the ground itself [m]."""
    assert way.jets is not None
    if way.place is not None:
        return max(way.jets.cruise_height, ground_of(way) + STAND_OFF)
    return ground_of(way) + (STAND_OFF if hovers_on(released, way) or not way.jets.burst else 0.0)


def jet_row(row: np.ndarray, jets: Jets, spooling: bool, aim: int = at.AGAINST) -> np.ndarray:
    """The leg with the jets lit."""
    row[at.JET_THRUST], row[at.JET_SPEED], row[at.JET_FUEL] = (
        jets.static_thrust,
        jets.jet_speed,
        jets.static_fuel_flow,
    )
    row[at.JET_TIME] = jets.spool_time if spooling else 0.0
    row[at.AIM] = aim
    return row


def _legs(made: Body, way: Way, lit_at: float, released: Released, burst_at: float) -> Legs:
    jets = way.jets
    assert jets is not None
    legs = Legs()
    legs.add("coast", leg(made, Posture.END_ON, at.APEX), "apogee")
    legs.add("fall", leg(made, Posture.END_ON, at.FALLEN, lit_at), "jets relit")
    if jets.burst:
        row = jet_row(leg(made, Posture.END_ON, at.FALLEN, burst_at), jets, True)
        legs.add("on jets", row, "rocket burst begins")
        which = engines(released)
        assert which is not None
        row = jet_row(leg(made, Posture.END_ON, at.SLOWED, way.touch_down_speed), jets, False)
        count = way.landing_engines or 1.0
        lit(row, which, count, max(way.throttle, which.least_throttle), at.AGAINST, way.drag_behind_flame)
        legs.add("rocket burst", row, "at rest", ("rocket burst", count))
        return legs
    row = jet_row(leg(made, Posture.END_ON, at.SLOWED, way.touch_down_speed), jets, True)
    legs.add("on jets", row, "at rest")
    return legs


def _latest(flyer: Flyer, way: Way, made: Body, released: Released, relit: float, top: float):
    """Height of relighting, or of the burst, that just stops at the rest height; None if none does."""
    rest = rest_height(released, way)
    jets = way.jets
    assert jets is not None
    start = (released.time, flyer.start())

    def stop(height: float) -> float:
        legs = _legs(made, way, relit if jets.burst else height, released, height)
        flown = flyer.fly(legs.rows, start=start, ground=rest - 3000.0, tolerance=1e-8)
        if flown.status == at.ARRIVED:
            return places.over_ground(flown.state, flown.time)[2] - rest
        return -3000.0 - float(np.linalg.norm(places.ground_velocity(flown.state))) ** 2 / 20.0

    low, high = rest + 1.0, top
    at_high = stop(high)
    if at_high < 0.0:
        return None
    at_low = stop(low)
    if at_low >= 0.0:
        return low
    from scipy.optimize import brentq

    return float(brentq(stop, low, high, xtol=1e-3))


def _relit_height(flyer: Flyer, way: Way, made: Body, released: Released) -> float:
    """Height at or below which the jets may be lit: below their ceiling and slow enough."""
    jets = way.jets
    assert jets is not None
    row = leg(made, Posture.END_ON, at.FALLEN, jets.ceiling)
    slow = leg(made, Posture.END_ON, at.SUBSONIC, jets.relight_mach)
    legs = [leg(made, Posture.END_ON, at.APEX), row, slow]
    flown = flyer.fly(legs, start=(released.time, flyer.start()), ground=ground_of(way), tolerance=1e-8)
    return places.over_ground(flown.state, flown.time)[2]


def plan_of(released: Released, way: Way, made: Body, scale: float = 1.0) -> Plan:
    jets = way.jets
    assert jets is not None
    if scale != 1.0:
        jets = dataclasses.replace(
            jets, static_thrust=scale * jets.static_thrust, static_fuel_flow=scale * jets.static_fuel_flow
        )
        way = dataclasses.replace(way, jets=jets)
    flyer = Flyer(released, made.curves, ground=ground_of(way))
    top = _relit_height(flyer, way, made, released)
    found = None
    relit = top
    if jets.burst:
        tries = []
        for share in (1.0, 0.8, 0.6, 0.45, 0.3):
            height = rest_height(released, way) + share * (top - rest_height(released, way))
            burst = _latest(flyer, way, made, released, height, height - 1.0)
            if burst is not None:
                flown = _fly(flyer, way, made, released, height, burst)
                tries.append((-float(flown.state[at.MASS]), height, burst))
        if tries:
            _, relit, found = min(tries)
    else:
        found = _latest(flyer, way, made, released, top, top)
        relit = found if found is not None else top
    stopped = found is not None
    burst_at = found if found is not None else rest_height(released, way) + 500.0
    legs = _legs(made, way, relit, released, burst_at)
    flown = _fly(flyer, way, made, released, relit, burst_at)
    mass = float(flown.state[at.MASS])
    cruise = _cruise(way, made, flown, mass) if way.place is not None and stopped else None
    mass -= cruise.fuel if cruise else 0.0
    seconds = jets.hover + STAND_OFF / SET_DOWN if rest_height(released, way) > ground_of(way) else 0.0
    if way.place is not None:
        seconds += (
            max(0.0, rest_height(released, way) - ground_of(way) - STAND_OFF) / 20.0
        )  # down at 20 m/s on thrust
    specific = jets.static_fuel_flow / jets.static_thrust
    hover = mass * -math.expm1(-specific * STANDARD_GRAVITY * seconds)
    used = released.mass - mass + hover
    return Plan(flyer, legs, (released.time, flyer.start()), stopped, relit, flown, cruise, hover, used)


def _fly(flyer: Flyer, way: Way, made: Body, released: Released, relit: float, burst: float) -> Flown:
    legs = _legs(made, way, relit, released, burst)
    return flyer.fly(
        legs.rows, start=(released.time, flyer.start()), ground=rest_height(released, way) - 3000.0
    )


def _cruise(way: Way, made: Body, flown: Flown, mass: float) -> Cruise:
    """The way to the place at the speed that takes the least fuel, or the speed stated."""
    jets, place = way.jets, way.place
    assert jets is not None and place is not None
    here = places.over_ground(flown.state, flown.time)
    far = places.distance(here[:2], (place.latitude, place.longitude))
    warm, pressure, density, sound = air(jets.cruise_height)
    weight = mass * STANDARD_GRAVITY

    def at_speed(speed: float) -> Cruise:
        mach = speed / sound
        if jets.lift_to_drag is not None:
            ratio = jets.lift_to_drag
        else:  # thrust carries the weight and pushes against the drag of the body broadside
            coefficient = float(np.interp(mach, BROADSIDE_MACH, BROADSIDE_DRAG))
            side = made.area * 4.0 / math.pi * (way.length or 0.0) / (2.0 * math.sqrt(made.area / math.pi))
            push = 0.5 * density * speed**2 * coefficient * side
            ratio = weight / math.hypot(weight, push)
        available = jet_thrust(jets.static_thrust, jets.jet_speed, mach, pressure, warm)
        flow = jet_fuel(jets.static_fuel_flow, mach, pressure, warm) / max(available, 1.0)
        over = speed - jets.headwind
        sped_up = mass * math.exp(-flow * speed)  # from rest, at the fuel flow over thrust of the cruise
        exponent = far * flow * STANDARD_GRAVITY / (over * ratio) if over > 0.0 else math.inf
        return Cruise(
            far,
            speed,
            flow,
            ratio,
            mass - sped_up * math.exp(-exponent),
            far / over if over > 0.0 else math.inf,
            weight / ratio,
            available,
        )

    if jets.speed is not None:
        return at_speed(jets.speed)
    tried = [at_speed(speed) for speed in np.linspace(jets.headwind + 5.0, 0.8 * sound, 60)]
    flyable = [one for one in tried if one.thrust <= one.available] or tried
    return min(flyable, key=lambda one: one.fuel)


def lifted(way: Way, ratio: float) -> Way:
    """The same way with a lift to drag."""
    assert way.jets is not None
    return dataclasses.replace(way, jets=dataclasses.replace(way.jets, lift_to_drag=ratio))


def too_weak(released: Released, way: Way, made: Body) -> bool:
    return not plan_of(released, way, made).stopped


def needed_by(released: Released, way: Way, made: Body) -> tuple[float | None, Plan]:
    """Fuel that would just do: what is used with that much aboard (repeated until it stands still) [kg]."""
    guess = released.propellant
    plan = plan_of(released, way, made)
    for _ in range(25):
        plan = plan_of(dataclasses.replace(released, propellant=guess), way, made)
        wanted = plan.used / (1.0 - way.margin)
        if not plan.stopped or not math.isfinite(wanted):
            return None, plan
        if abs(wanted - guess) < 0.1 + 1e-5 * guess:
            return wanted, plan
        guess = wanted
        if guess > 20.0 * released.dry_mass:
            return None, plan
    return guess, plan


def scale_that_would_do(released: Released, way: Way, made: Body) -> float | None:
    """How much stronger the jets would have to be to stop the fall, up to 30 times."""
    low, high = 1.0, 1.0
    while high < 30.0:
        high *= 1.5
        if plan_of(released, way, made, high).stopped:
            break
        low = high
    else:
        return None
    for _ in range(12):
        middle = 0.5 * (low + high)
        if plan_of(released, way, made, middle).stopped:
            high = middle
        else:
            low = middle
    return high
