"""What the printed inputs allow, by hand: no trajectory, the rocket equation and the losses of flown launchers.

The ideal speed of all burns, less the reserve, is held against the speed of the orbit and the least and the most that
published flights lost on the way.  A published payload above the first answer cannot come of these inputs, however
they are flown; one below the second holds a margin, or the inputs are too good.
"""

from __future__ import annotations

import math

from vehicles.build import MAIN_STOPS, PAUSE, Kit, kit
from vehicles.figures import Case, number
from vehicles.flying import two_burns
from wetmass.physics.earth import EARTH_RADIUS_WGS84, OMEGA
from wetmass.physics.orbits import circular_speed, injection_speed, orbit_speed, turned_speed_change
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.vehicle import Moment, Stage, Vehicle

# m/s, gravity, drag and steering together: Delta 7925 and Saturn V, the ends of six flown launchers (Humble, Henry and
# Larson, table in chapter 2; tests/data/flights.yaml, loss_budgets: gravity and drag seen quoted, steering from memory);
# back-pressure as in our own flights
LEAST_LOST, MOST_LOST = 1319.0 + 75.0, 1817.0 + 125.0
WEAK, HIGH = 0.6, 300.0  # thrust over weight, km
LOW = 185e3  # m: they were flown to about such a circle; what lies above it is reached by impulses


def allowed(case: Case) -> tuple[float, float] | None:
    """Payload [kg] with the most and with the least lost of what flew; None where those do not tell.

    No launcher of that table flew one burn straight to a high circle, or lifted a low orbit's load with a last
    stage of less than `WEAK` times its weight.
    """
    made = kit(case, {"typical": 1.0})
    if "c3_km2_s2" not in case.mission["orbit"] and case.mission["orbit"]["apogee_km"] < 5000.0:
        vehicle = made.vehicle(case.published, 0.0, _half_way(made))
        last = vehicle.stages[-1]
        pull = sum(g.count * g.vacuum_thrust for g in last.engines)
        weak = pull < WEAK * STANDARD_GRAVITY * vehicle.mass_above(len(vehicle.stages) - 1)
        if weak or (
            case.mission["orbit"]["perigee_km"] > HIGH and not two_burns(case) and PAUSE not in made.chosen
        ):
            return None
    return _payload(case, made, MOST_LOST), _payload(case, made, LEAST_LOST)


def _payload(case: Case, made: Kit, lost: float) -> float:
    """By halving: the ideal speed falls as payload grows."""
    fraction = number(case.rules["reserve"]["fraction_of_total_ideal_velocity"])
    need = needed(case) + lost
    low, high = -0.5 * made.bare.stages[-1].dry_mass, 20.0 * case.published
    for _ in range(60):
        payload = 0.5 * (low + high)
        if ideal(made, payload) * (1.0 - fraction) >= need:
            low = payload
        else:
            high = payload
    return low


def needed(case: Case) -> float:
    """Speed to be gained over the turning Earth with nothing lost [m/s]."""
    orbit = case.mission["orbit"]
    inclination = math.radians(orbit.get("parking_inclination_deg", orbit["inclination_deg"]))
    site = {**case.vehicle["site"], **case.mission.get("site", {})}
    steepest = max(inclination, math.radians(abs(site["latitude_deg"])))  # reached without a turn
    turned = steepest - inclination if inclination < steepest else 0.0
    helped = OMEGA * EARTH_RADIUS_WGS84 * math.cos(steepest)
    start = LOW + EARTH_RADIUS_WGS84
    if "c3_km2_s2" in orbit:
        low = 1e3 * orbit.get("parking_km", 185.0) + EARTH_RADIUS_WGS84
        return (
            _up_to(start, low) + injection_speed(1e6 * orbit["c3_km2_s2"], low) - circular_speed(low) - helped
        )
    low, high = (1e3 * orbit[k] + EARTH_RADIUS_WGS84 for k in ("perigee_km", "apogee_km"))
    there = low if high > 2.0 * low else high  # where the last impulse is given
    last = turned_speed_change(circular_speed(there), orbit_speed(there, low, high), turned)
    return _up_to(start, there) + math.copysign(last, low + high - 2.0 * there) - helped


def _up_to(start: float, there: float) -> float:
    """Speed to a circle by way of a lower one, each impulse along the speed [m/s]; at or below it, its own."""
    first = circular_speed(min(start, there))
    if there <= start:
        return first
    up = orbit_speed(start, start, there) - first
    return first + up + circular_speed(there) - orbit_speed(there, start, there)


def ideal(made: Kit, payload: float) -> float:
    """Ideal speed of all burns [m/s], strap-ons and their stage burning together."""
    vehicle = made.vehicle(payload, 0.0, _half_way(made))
    mass, total = vehicle.lift_off_mass, 0.0
    for index, stage in enumerate(vehicle.stages):
        mass -= 0.0 if index == 0 else stage.propellant.start_loss
        for burned, isp, dropped in _pieces(vehicle, index, stage):
            total += isp * STANDARD_GRAVITY * math.log(mass / (mass - burned))
            mass -= burned + dropped
        mass -= stage.dry_mass + stage.propellant.kept if index < len(vehicle.stages) - 1 else 0.0
    return total


def _pieces(vehicle: Vehicle, index: int, stage: Stage) -> list[tuple[float, float, float]]:
    """(burned [kg], Isp [s], let go afterwards [kg]) of a stage in order; fairings go half-way through it."""
    left, isp = stage.propellant.burns, stage.vacuum_isp
    made = []
    for strap in (s for s in vehicle.strap_ons if s.beside == index):
        one, n = strap.stage, strap.count
        seconds = one.propellant.burns / one.flow
        core = min(seconds * stage.flow, left)
        flow = n * one.propellant.burns + core
        both = (n * one.propellant.burns * one.vacuum_isp + core * isp) / flow
        made.append((flow, both, n * (one.dry_mass + one.propellant.kept)))
        left -= core
    for piece in (p for p in vehicle.let_go if p.stage == index):
        timed = piece.moment is Moment.TIME
        part = min(left, max(piece.value - stage.pause, 0.0) * stage.flow if timed else 0.5 * left)
        made.append((part, isp, piece.mass))
        left -= part
    return [*made, (left, isp, 0.0)]


def _half_way(made: Kit) -> dict[str, float]:
    """What the mission may choose, by rule of thumb: the main engine stops with a tenth of the load left."""
    last = made.bare.stages[-1]
    return {
        name: 0.9 * last.propellant.burns / last.flow if name == MAIN_STOPS else 100.0
        for name in made.chosen
        if name in (MAIN_STOPS, PAUSE)
    }
