"""An engine group of the concept as an SI record."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass, replace

from wetmass.concept import dimensions as d
from wetmass.concept.model import EngineGroup as Stated
from wetmass.concept.quantity import Quantity
from wetmass.physics.chamber import ideal_engine
from wetmass.physics.engines import Engine, engine
from wetmass.physics.jets import (
    LEAST_PRESSURE,
    MOST_MACH_FAN,
    MOST_MACH_JET,
    REHEATED_SPEED,
    SPOOL_TIME,
    fan_diameter,
    jet_speed,
)
from wetmass.physics.nozzle import adapting_thrust, exit_pressure_ratio, thrust_coefficient
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.vehicle import Adapting, EngineGroup, Jet, Kind, Ramjet, Rules
from wetmass.vehicle.chamber import chamber_of, engine_from

USUAL_GAMMA = 1.2  # isentropic exponent of exhaust, where no table of the pair reaches: from memory
JET_CEILING = 13_000.0  # m: engines of the published table are rated to 13.7 km (from memory), a little below
assert LEAST_PRESSURE < 16_500.0  # Pa, the pressure at that height
USUAL_BYPASS = 5.0  # of a turbofan, where nothing is said: common practice
BURNER_TEMPERATURE = 2200.0  # K, of a ramjet: from memory
FUEL_HEAT = {"RP-1": 42.8e6, "LCH4": 50.0e6, "LH2": 120.0e6, "propane": 46.4e6}  # J/kg, lower: from memory
OTHER_HEAT = 42.8e6  # J/kg
RAMJET_MACH = 5.0  # the reach of the ramjet relation
SPILLAGE = {"turbofan": 0.92, "turbojet": 0.25}  # jet over flight speed when off, as in `windmill_drag`


@dataclass(frozen=True, slots=True)
class Made:
    """One engine of a group at the scale 1."""

    rocket: Engine | None
    rules: Rules | None = None
    jet: Jet | None = None
    ramjet: Ramjet | None = None
    adapting: Adapting | None = None

    @property
    def vacuum_thrust(self) -> float:
        """As a rocket; 0 for engines that breathe [N]."""
        return self.rocket.vacuum_thrust if self.rocket is not None else 0.0

    @property
    def mass_flow(self) -> float:
        """As a rocket; 0 for engines that breathe [kg/s]."""
        return self.rocket.mass_flow if self.rocket is not None else 0.0

    def thrust(self, ambient_pressure: float) -> float:
        """At rest in air of that pressure [Pa], see `EngineGroup.thrust` [N]."""
        total = self.rocket.thrust(ambient_pressure) if self.rocket is not None else 0.0
        if self.jet is not None:
            total += self.jet.static_thrust * ambient_pressure / SEA_LEVEL_PRESSURE
        if self.adapting is not None:
            total += self.adapting.sea_level_gain * ambient_pressure / SEA_LEVEL_PRESSURE
        return total


def si(quantity: Quantity | None) -> float | None:
    """The SI value, None where nothing was stated."""
    return None if quantity is None else quantity.value


def one_engine(stated: Stated, pair: str = "", mixture_ratio: float = math.nan) -> Made:
    """One engine of the group at the scale 1, from the figures stated."""
    if stated.kind == "ramjet":
        assert stated.intake_area is not None
        fuel = pair.rpartition("/")[2]
        return Made(None, rules(stated), ramjet=Ramjet(
            stated.intake_area.value, si(stated.burner_temperature) or BURNER_TEMPERATURE,
            FUEL_HEAT.get(fuel, OTHER_HEAT),
        ))  # fmt: skip
    if stated.kind in ("turbofan", "turbojet"):
        return Made(None, rules(stated), jet=_jet(stated))
    ideal = chamber_of(stated, pair, mixture_ratio)
    rocket = _by_figures(stated) if ideal is None else engine_from(ideal, stated)
    if stated.nozzle != "altitude-adapting":
        return Made(rocket, rules(stated))
    assert stated.chamber_pressure is not None
    assert stated.adapts is not None
    return Made(
        rocket,
        rules(stated),
        adapting=adapting(rocket, stated.chamber_pressure.value, stated.adapts.value, pair, mixture_ratio),
    )


def _by_figures(stated: Stated) -> Engine:
    """A rocket engine from its stated thrust, specific impulse and exit."""
    assert stated.thrust is not None
    assert stated.isp is not None
    area = si(stated.exit_area)
    if area is None and stated.exit_diameter is not None:
        area = math.pi / 4.0 * stated.exit_diameter.value**2
    return engine(
        vacuum_thrust=si(stated.thrust.vacuum),
        sea_level_thrust=si(stated.thrust.sea_level),
        vacuum_isp_s=si(stated.isp.vacuum),
        sea_level_isp_s=si(stated.isp.sea_level),
        exit_area=area,
    )


def _jet(stated: Stated) -> Jet:
    static = stated.thrust.sea_level.value  # type: ignore[union-attr]
    fuel = static / (stated.isp.sea_level.value * STANDARD_GRAVITY)  # type: ignore[union-attr]
    usual = 0.0 if stated.kind == "turbojet" else USUAL_BYPASS
    speed = (
        REHEATED_SPEED
        if stated.afterburner
        else jet_speed(usual if stated.bypass_ratio is None else min(stated.bypass_ratio.value, 12.0))
    )
    across = si(stated.intake_diameter) or fan_diameter(static, speed)
    spool = SPOOL_TIME if stated.spool_up is None else stated.spool_up.value / math.log(20.0)
    return Jet(static, fuel, speed, spool, 0.0 if stated.intake_doors else across, SPILLAGE[stated.kind])


@functools.lru_cache(maxsize=64)
def adapting(
    rocket: Engine, chamber_pressure: float, efficiency: float, pair: str, mixture_ratio: float
) -> Adapting:
    """The nozzle as the flight needs it: its area ratio is the one that gives this thrust and exit area.

    The isentropic exponent is that of the pair's table where it reaches, else `USUAL_GAMMA`.
    """
    wanted = max(rocket.exit_area, 1e-6) * chamber_pressure / rocket.vacuum_thrust
    gamma = USUAL_GAMMA
    for _ in range(2):  # the exponent and the area ratio hang on each other a little
        low, high = 1.5, 400.0
        for _ in range(60):
            ratio = math.sqrt(low * high)
            fall = exit_pressure_ratio(ratio, gamma)
            if ratio / thrust_coefficient(gamma, fall, ratio, 0.0) < wanted:
                low = ratio
            else:
                high = ratio
        try:
            gamma = ideal_engine(pair, chamber_pressure, mixture_ratio, ratio, 1.0).expansion_gamma
        except ValueError:
            break
    fall = exit_pressure_ratio(ratio, gamma)
    outside = min(SEA_LEVEL_PRESSURE / chamber_pressure, 0.5)
    bell, best = (
        adapting_thrust(rocket.vacuum_thrust, gamma, fall, outside, share) for share in (0.0, efficiency)
    )
    return Adapting(gamma, fall, chamber_pressure, efficiency, best - bell)


def group(stated: Stated, made: Made, name: str, count: float, scale: float) -> EngineGroup:
    """The group with its number and scale known; thrust, flow and exit area grow with the scale."""
    common = {
        "name": name,
        "count": count,
        "ignitions": stated.ignitions,
        "stops_after": si(stated.stops_after),
        "kind": Kind(stated.kind),
        "rules": made.rules,
    }
    if made.rocket is None:
        jet, ramjet = made.jet, made.ramjet
        if jet is not None:
            jet = replace(
                jet, static_thrust=jet.static_thrust * scale, static_fuel_flow=jet.static_fuel_flow * scale,
                intake_diameter=jet.intake_diameter * math.sqrt(scale),
            )  # fmt: skip
        if ramjet is not None:
            ramjet = replace(ramjet, capture_area=ramjet.capture_area * scale)
        isp = stated.isp.sea_level.value if stated.isp is not None else 1.0  # type: ignore[union-attr]
        return EngineGroup(vacuum_thrust=0.0, exit_area=0.0, vacuum_isp=isp, jet=jet, ramjet=ramjet, **common)  # type: ignore[arg-type]
    nozzle = made.adapting
    if nozzle is not None:
        nozzle = replace(nozzle, sea_level_gain=nozzle.sea_level_gain * scale)
    return EngineGroup(
        vacuum_thrust=made.rocket.vacuum_thrust * scale,
        exit_area=made.rocket.exit_area * scale,
        vacuum_isp=made.rocket.vacuum_isp_s,
        least_throttle=1.0 if stated.minimum_throttle is None else stated.minimum_throttle.value,
        adapting=nozzle,
        trace=stated.trace,
        **common,  # type: ignore[arg-type]
    )


def with_failure(stated: Stated, made: EngineGroup) -> tuple[EngineGroup, ...]:
    """The group, and those of its engines that fail as a group that stops then."""
    failed = stated.out
    if failed is None:
        return (made,)
    when = failed.time.value
    stops = when if made.stops_after is None else min(when, made.stops_after)
    return (
        replace(made, count=made.count - failed.count),
        replace(made, name=f"{made.name} that fail", count=failed.count, stops_after=stops),
    )


def rules(stated: Stated) -> Rules | None:
    """When it is lit and stops; engines that breathe have the bounds of their relations."""
    above, mach = si(stated.stops_above), si(stated.stops_above_mach)
    lit_mach = si(stated.lit_above_mach)
    if stated.kind in ("turbofan", "turbojet"):
        above = min(above or JET_CEILING, JET_CEILING)
        slow = stated.kind == "turbofan" and not stated.afterburner
        most = MOST_MACH_FAN if slow else MOST_MACH_JET
        mach = min(mach or most, most)
    elif stated.kind == "ramjet":
        mach = min(mach or RAMJET_MACH, RAMJET_MACH)
        if lit_mach is None and stated.lit_above is None and stated.lit_after is None:
            lit_mach = 1.5  # below it a ramjet hardly pushes
    left = stated.stops_with
    made = Rules(
        lit_after=si(stated.lit_after) or 0.0,
        lit_above=si(stated.lit_above),
        lit_above_mach=lit_mach,
        stops_above=above,
        stops_above_mach=mach,
        stops_with=None if left is None or left.dimension == d.NUMBER else left.value,
    )
    return None if made == Rules() and left is None else made


def with_load(made: EngineGroup, stated: Stated, burns: float) -> EngineGroup:
    """The group once its stage's propellant is known: rules in shares of it, a solid's mean thrust."""
    left = stated.stops_with
    if made.rules is not None and left is not None and left.dimension == d.NUMBER:
        made = replace(made, rules=replace(made.rules, stops_with=left.value * burns))
    return made


def solid_thrust(made: EngineGroup, burns: float, motors: float) -> EngineGroup:
    """A solid with a thrust trace pushes what its propellant and specific impulse give over that time."""
    if made.trace is None:
        return made
    mean = burns / motors * made.vacuum_isp * STANDARD_GRAVITY / made.trace[-1][0]
    return replace(made, vacuum_thrust=mean)
