"""Home on jets: relit below their ceiling, spooled up, stopped in time, cruised home, hovered, set down.

The jets are lit at the last height at which they still stop the fall at the height of the cruise (or just
over the ground); the cruise and the hover are closed forms (Breguet with headwind).  With `burst` the rocket
engines do the last of the stop, and jets weaker than the weight will do.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.fall import drag_words
from wetmass.flight.home.legs import Body, Flown, Flyer, body, engines, leg, lit
from wetmass.flight.home.report import Legs, event, homecoming, loads
from wetmass.physics.atmosphere import air
from wetmass.physics.entry import BROADSIDE_DRAG, BROADSIDE_MACH
from wetmass.physics.jets import jet_fuel, jet_thrust
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.finding import Finding, Weight
from wetmass.record.flight import Trajectory
from wetmass.record.homecoming import HOME_COLUMNS, Burn, Homecoming, Jets, Posture, Released, Way
from wetmass.record.mission import Site

STAND_OFF = 30.0  # m above the ground at which it comes to rest before it is set down: ours
SET_DOWN = 2.0  # m/s, from there: ours
LOWER = (0.5, 0.2, 0.0)  # of the height of the cruise that was asked for
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


def on_jets(released: Released, way: Way, site: Site) -> Homecoming:
    """The stage comes home on its jets; `way.jets` says which."""
    if way.jets is None:
        raise ValueError("way.jets must say which jets bring the stage home, got none")
    made = body(released, way)
    for share in LOWER:  # a cruise lower down where the fall cannot be stopped high up
        if not _weak(released, way, made) or way.place is None:
            break
        height = max(_ground(way) + STAND_OFF, share * way.jets.cruise_height)
        lower = dataclasses.replace(way, jets=dataclasses.replace(way.jets, cruise_height=height))
        if not _weak(released, lower, made):
            way = lower
    if not _weak(released, way, made):
        needed, plan = _needed(released, way, made)
    else:
        needed, plan = None, _plan(released, way, made)
    short = needed is not None and needed > released.propellant + 0.5
    if short:  # show the flight that would do
        plan = _plan(dataclasses.replace(released, propellant=needed), way, made)
    else:
        plan = _plan(released, way, made)
    return _result(released, way, site, plan, needed)


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


def _ground(way: Way) -> float:
    return way.place.height if way.place is not None else way.landing_height


def _hovers(released: Released, way: Way) -> bool:
    """Whether the jets alone can hold the dry stage over the ground."""
    assert way.jets is not None
    return way.jets.static_thrust >= TAKES_OVER * released.dry_mass * STANDARD_GRAVITY


def _rest_height(released: Released, way: Way) -> float:
    """Where the fall is stopped: the height of the cruise, just over the ground, or the ground itself [m]."""
    assert way.jets is not None
    if way.place is not None:
        return max(way.jets.cruise_height, _ground(way) + STAND_OFF)
    return _ground(way) + (STAND_OFF if _hovers(released, way) or not way.jets.burst else 0.0)


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
    rest = _rest_height(released, way)
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
    flown = flyer.fly(legs, start=(released.time, flyer.start()), ground=_ground(way), tolerance=1e-8)
    return places.over_ground(flown.state, flown.time)[2]


def _plan(released: Released, way: Way, made: Body, scale: float = 1.0) -> Plan:
    jets = way.jets
    assert jets is not None
    if scale != 1.0:
        jets = dataclasses.replace(
            jets, static_thrust=scale * jets.static_thrust, static_fuel_flow=scale * jets.static_fuel_flow
        )
        way = dataclasses.replace(way, jets=jets)
    flyer = Flyer(released, made.curves, ground=_ground(way))
    top = _relit_height(flyer, way, made, released)
    found = None
    relit = top
    if jets.burst:
        tries = []
        for share in (1.0, 0.8, 0.6, 0.45, 0.3):
            height = _rest_height(released, way) + share * (top - _rest_height(released, way))
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
    burst_at = found if found is not None else _rest_height(released, way) + 500.0
    legs = _legs(made, way, relit, released, burst_at)
    flown = _fly(flyer, way, made, released, relit, burst_at)
    mass = float(flown.state[at.MASS])
    cruise = _cruise(way, made, flown, mass) if way.place is not None and stopped else None
    mass -= cruise.fuel if cruise else 0.0
    seconds = jets.hover + STAND_OFF / SET_DOWN if _rest_height(released, way) > _ground(way) else 0.0
    if way.place is not None:
        seconds += (
            max(0.0, _rest_height(released, way) - _ground(way) - STAND_OFF) / 20.0
        )  # down at 20 m/s on thrust
    specific = jets.static_fuel_flow / jets.static_thrust
    hover = mass * -math.expm1(-specific * STANDARD_GRAVITY * seconds)
    used = released.mass - mass + hover
    return Plan(flyer, legs, (released.time, flyer.start()), stopped, relit, flown, cruise, hover, used)


def _fly(flyer: Flyer, way: Way, made: Body, released: Released, relit: float, burst: float) -> Flown:
    legs = _legs(made, way, relit, released, burst)
    return flyer.fly(
        legs.rows, start=(released.time, flyer.start()), ground=_rest_height(released, way) - 3000.0
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


def _weak(released: Released, way: Way, made: Body) -> bool:
    return not _plan(released, way, made).stopped


def _needed(released: Released, way: Way, made: Body) -> tuple[float | None, Plan]:
    """Fuel that would just do: what is used with that much aboard (repeated until it stands still) [kg]."""
    guess = released.propellant
    plan = _plan(released, way, made)
    for _ in range(25):
        plan = _plan(dataclasses.replace(released, propellant=guess), way, made)
        wanted = plan.used / (1.0 - way.margin)
        if not plan.stopped or not math.isfinite(wanted):
            return None, plan
        if abs(wanted - guess) < 0.1 + 1e-5 * guess:
            return wanted, plan
        guess = wanted
        if guess > 20.0 * released.dry_mass:
            return None, plan
    return guess, plan


def _scale_that_would_do(released: Released, way: Way, made: Body) -> float | None:
    """How much stronger the jets would have to be to stop the fall, up to 30 times."""
    low, high = 1.0, 1.0
    while high < 30.0:
        high *= 1.5
        if _plan(released, way, made, high).stopped:
            break
        low = high
    else:
        return None
    for _ in range(12):
        middle = 0.5 * (low + high)
        if _plan(released, way, made, middle).stopped:
            high = middle
        else:
            low = middle
    return high


def _result(released: Released, way: Way, site: Site, plan: Plan, needed: float | None) -> Homecoming:
    jets = way.jets
    assert jets is not None
    findings = []
    weight = released.dry_mass * STANDARD_GRAVITY
    made = body(released, way)
    if not plan.stopped:
        scale = _scale_that_would_do(released, way, made)
        would = (
            "A rocket burst for the stop, or more jets"
            if scale is None
            else (
                f"{scale * jets.static_thrust / 1e3:,.0f} kN of static thrust would do, "
                f"{scale:.2f} times as much; or a rocket burst for the stop"
            )
        )
        findings.append(
            Finding(
                "jets too weak to stop the fall",
                Weight.FAILS,
                released.name,
                f"{jets.static_thrust / 1e3:,.0f} kN static, "
                f"{jets.static_thrust / weight:.2f} of the dry weight",
                f"a stop {_rest_height(released, way) - _ground(way):.0f} m over the ground, lit at or "
                "below the ceiling",
                would,
                "flown by this program",
            )
        )
    left = released.dry_mass + max(0.0, (needed or released.propellant) - plan.used)
    if jets.static_thrust < TAKES_OVER * left * STANDARD_GRAVITY and plan.stopped:
        wanted = TAKES_OVER * left * STANDARD_GRAVITY
        findings.append(
            Finding(
                "jets too weak to hover",
                Weight.FAILS if not jets.burst or way.place else Weight.NOTE,
                released.name,
                f"{jets.static_thrust / 1e3:,.0f} kN static",
                f"at least {wanted / 1e3:,.0f} kN, {TAKES_OVER:g} times the weight",
                f"{wanted / 1e3:,.0f} kN would do",
                "from memory",
            )
        )
    if plan.cruise is not None and plan.cruise.thrust > plan.cruise.available:
        findings.append(
            Finding(
                "jets too weak to cruise",
                Weight.FAILS,
                released.name,
                f"{plan.cruise.available / 1e3:,.0f} kN at the height of the cruise",
                f"at least {plan.cruise.thrust / 1e3:,.0f} kN",
                f"{jets.static_thrust * plan.cruise.thrust / plan.cruise.available / 1e3:,.0f} kN static "
                "would do",
                "physics of `wetmass.physics.jets`",
            )
        )
    which = engines(released) if jets.burst else None
    if which is not None and released.ignitions_used + 1 > which.ignitions:
        findings.append(
            Finding(
                "too few ignitions",
                Weight.FAILS,
                released.name,
                f"{which.ignitions}",
                f"at least {released.ignitions_used + 1}: one on the way home",
                f"Say ignitions: {released.ignitions_used + 1}",
                "flown by this program",
            )
        )
    if needed is not None and needed > released.propellant + 0.5:
        findings.append(
            Finding(
                "too little propellant to come home",
                Weight.FAILS,
                released.name,
                f"{released.propellant:,.0f} kg",
                f"at least {needed:,.0f} kg",
                f"Keep {needed:,.0f} kg, {needed - released.propellant:,.0f} kg more "
                "(the flight shown has it)",
                "flown by this program",
            )
        )
    if needed is None and plan.stopped and plan.cruise is not None:
        findings.append(_out_of_reach(released, way, made, plan, plan.cruise))
        here = dataclasses.replace(way, place=None)  # show it set down where its fall is stopped
        shown = _result(released, here, site, _plan(released, here, made), None)
        return dataclasses.replace(shown, way=way, comes_home=False, findings=(*findings, *shown.findings))
    plan.flyer.ground = _rest_height(released, way) - 1.0 if plan.stopped else _ground(way)
    result = homecoming(
        plan.flyer,
        plan.legs,
        way,
        site,
        start=plan.start,
        needed=needed,
        comes_home=not any(one.weight is Weight.FAILS for one in findings),
        findings=tuple(findings),
        hovers=_hovers(released, way),
        assumed=(
            drag_words(dataclasses.replace(way, posture=Posture.END_ON)),
            f"jets relit at or below {jets.ceiling / 1e3:.1f} km and Mach {jets.relight_mach:g}, "
            f"spooled up with a time constant of {jets.spool_time:.3g} s",
            f"hover {jets.hover:g} s, then set down from {STAND_OFF:g} m at {SET_DOWN:g} m/s, "
            "at the fuel flow over thrust of the test stand",
            *(
                (
                    f"cruise at {jets.cruise_height:.0f} m into a headwind of {jets.headwind:g} m/s (Breguet), "
                    + (
                        f"lift to drag {jets.lift_to_drag:g} at every speed"
                        if jets.lift_to_drag is not None
                        else "thrust carrying the weight"
                    )
                    + "; the fuel to gain its speed is counted",
                )
                if way.place is not None
                else ()
            ),
        ),
    )
    after = plan.stopped and _rest_height(released, way) > _ground(way)
    return dataclasses.replace(
        _with_cruise(loads(result), released, way, site, plan) if after else loads(result),
        used=plan.used,
        reserve=released.propellant,
    )


def _out_of_reach(released: Released, way: Way, made: Body, plan: Plan, cruise: Cruise) -> Finding:
    """How far it could fly with what it has, and the lift to drag that would bring it all the way."""
    jets = way.jets
    assert jets is not None
    mass = float(plan.flown.state[at.MASS])
    left = max(0.0, mass - released.dry_mass - plan.hover_fuel)
    over = cruise.speed - jets.headwind
    reach = (
        over * cruise.lift_to_drag / (cruise.fuel_flow * STANDARD_GRAVITY) * math.log(mass / (mass - left))
    )
    would = "No lift to drag up to 30 would do"
    ratios = [float(ratio) for ratio in np.geomspace(max(cruise.lift_to_drag, 0.5), 30.0, 24)]
    for ratio in ratios:
        if _plan(released, _lifted(way, ratio), made).used <= released.propellant:
            would = f"A lift to drag of {ratio:.1f} would do with this fuel"
            break
    else:
        for ratio in ratios:
            fuel, _ = _needed(released, _lifted(way, ratio), made)
            if fuel is not None:
                would = f"A lift to drag of {ratio:.1f} with {fuel:,.0f} kg of fuel would do"
                break
    return Finding(
        "place out of reach on jets",
        Weight.FAILS,
        released.name,
        f"{reach / 1e3:,.0f} km with the fuel left, at a lift to drag of {cruise.lift_to_drag:.2f}",
        f"{cruise.distance / 1e3:,.0f} km to fly into {jets.headwind:g} m/s",
        f"{would}; or stage lower and slower, or land downrange",
        "Breguet, `wetmass.physics.gliding`",
    )


def _lifted(way: Way, ratio: float) -> Way:
    """The same way with a lift to drag."""
    assert way.jets is not None
    return dataclasses.replace(way, jets=dataclasses.replace(way.jets, lift_to_drag=ratio))


def _with_cruise(result: Homecoming, released: Released, way: Way, site: Site, plan: Plan) -> Homecoming:
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
            made = row(number, (*place, _rest_height(released, way)), over, 0.0, places.bearing(place, to))
            made[column["thrust"]] = mass * STANDARD_GRAVITY / plan.cruise.lift_to_drag
            values.append(made)
        events.append(event("over the place", values[-1]))
        burns.append(
            Burn(
                "cruise on jets",
                1.0,
                plan.cruise.thrust / plan.cruise.available,
                began,
                _rest_height(released, way),
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
            _ground(way) + STAND_OFF,
            0.0,
            jets.hover + STAND_OFF / SET_DOWN,
            plan.hover_fuel,
            0.0,
            1.0,
            1.0,
        )
    )
    high = _rest_height(released, way)
    if high > _ground(way) + STAND_OFF:
        time += (high - _ground(way) - STAND_OFF) / 20.0
        values.append(row(number, (*end, _ground(way) + STAND_OFF), 20.0, -0.5 * math.pi, 0.0))
    time += jets.hover
    values.append(row(number, (*end, _ground(way) + STAND_OFF), 0.0, 0.0, 0.0))
    events.append(event("hover ends", values[-1]))
    time += STAND_OFF / SET_DOWN
    mass -= plan.hover_fuel
    values.append(row(number, (*end, _ground(way)), SET_DOWN, -0.5 * math.pi, 0.0))
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
