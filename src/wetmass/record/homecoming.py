"""How a stage is to come down, and what became of it; SI throughout, angles in radians."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import StrEnum

from wetmass.record.finding import Finding
from wetmass.record.flight import Column, Event, Peak, Trajectory
from wetmass.record.mission import Site
from wetmass.record.vehicle import EngineGroup


class By(StrEnum):
    """The way down."""

    BALLISTIC = "ballistic"
    PARACHUTES = "parachutes"
    POWERED = "powered landing"
    JETS = "jets"
    GLIDE = "glide"


class Posture(StrEnum):
    """How a body lies in the air."""

    END_ON = "base first"
    BROADSIDE = "broadside"
    TUMBLING = "tumbling"


@dataclass(frozen=True, slots=True)
class Canopies:
    """One set of parachutes, all alike, opened together."""

    name: str  # "drogue", "mains"
    drag_area: float  # m², of all of them, fully open
    height: float  # m, opened at or below this height
    count: int = 1
    reefed: tuple[tuple[float, float], ...] = ()  # (share of the drag area, s until the next) before full
    filling: float = 2.0  # s to fill at each step
    opening_factor: float = 1.05  # force at opening over steady drag
    let_go: float = 0.0  # kg that leaves as it opens, such as a nose part or the set before


@dataclass(frozen=True, slots=True)
class Jets:
    """Jets that bring a stage home; figures are those of all of them together."""

    static_thrust: float  # N, at sea level
    jet_speed: float  # m/s, static thrust over air flow
    static_fuel_flow: float  # kg/s
    ceiling: float = 7600.0  # m, relit at or below (common practice for windmilling starts)
    relight_mach: float = 0.8  # relit at or below
    spool_time: float = 1.67  # s, time constant
    speed: float | None = None  # m/s of the cruise; None: whatever takes the least fuel
    cruise_height: float = 1500.0  # m
    lift_to_drag: float | None = None  # None: thrust carries the weight
    headwind: float = 10.0  # m/s
    hover: float = 30.0  # s over the landing place
    burst: bool = False  # rocket engines lit for the stop


@dataclass(frozen=True, slots=True)
class Wings:
    """Wings to glide home on."""

    area: float  # m²
    lift_to_drag: float  # the best one
    best_lift: float = 0.5  # lift coefficient there
    most_lift: float = 1.2
    bank: float = math.radians(60.0)  # of the turn
    load: float = 3.0 * 9.80665  # m/s², greatest lift over mass


@dataclass(frozen=True, slots=True)
class Way:
    """How one stage is to come down: what was stated, and the usual where nothing was."""

    by: By
    place: Site | None = None  # where to; None: wherever it comes down
    place_name: str = "downrange"  # "downrange", "back to site", or the place's name
    from_orbit: bool = False  # a burn out of the orbit comes first
    posture: Posture = Posture.TUMBLING
    length: float | None = None  # m, of the stage
    nose_radius: float | None = None  # m; None: that of a circle as wide as the stage
    # powered landing
    pressure_limit: float = 80e3  # Pa, dynamic
    acceleration_limit: float = 8.0 * 9.80665  # m/s², felt
    heating_limit: float = math.inf  # W/m², stagnation point
    turn_around: float = 10.0  # s from separation to the first burn
    landing_engines: float | None = None  # lit for the landing; None: whatever takes the least
    other_engines: float | None = None  # lit for turning back and braking; None: likewise
    throttle: float = 0.9  # most of the landing burn: the rest of the thrust is the ignition margin
    landing_load: float = 3.0  # most thrust over weight of the landing burn
    touch_down_speed: float = 2.0  # m/s
    drag_behind_flame: float = 0.0  # share of the drag that is left while engines burn against the wind
    landing_height: float = 0.0  # m above the ellipsoid, where no place says so
    margin: float = 0.0  # of the propellant needed, kept on top
    # others
    canopies: tuple[Canopies, ...] = ()
    splash_limit: float | None = None  # m/s, most at touch-down under them; None: what boosters survived
    jets: Jets | None = None
    wings: Wings | None = None
    entry_angle: float = math.radians(2.0)  # below the horizon at 120 km, from orbit


@dataclass(frozen=True, slots=True)
class Released:
    """A stage at the moment it is let go."""

    name: str
    time: float  # s since lift-off
    state: tuple[float, ...]  # x, y, z [m], vx, vy, vz [m/s]: Earth-centred, not turning, see `flight.layout`
    dry_mass: float  # kg, with all that cannot be used
    propellant: float  # kg left that can be used to come home
    diameter: float  # m
    length: float  # m
    engines: tuple[EngineGroup, ...] = ()
    ignitions_used: int = 1

    @property
    def mass(self) -> float:
        """As it is let go [kg]."""
        return self.dry_mass + self.propellant


@dataclass(frozen=True, slots=True)
class Burn:
    """One burn on the way home."""

    what: str  # "turn-back burn", "braking burn", "landing burn", "burn out of orbit"
    engines: float  # lit
    throttle: float
    time: float  # s, ignition
    height: float  # m, ignition
    air_speed: float  # m/s, ignition
    duration: float  # s
    propellant: float  # kg
    speed_given: float  # m/s, ideal
    thrust_to_weight_start: float
    thrust_to_weight_end: float


@dataclass(frozen=True, slots=True)
class ThrottleStep:
    """Thrust over weight just before touch-down, with so many engines at that throttle."""

    engines: float
    throttle: float
    thrust_to_weight: float


@dataclass(frozen=True, slots=True)
class ComeDown:
    """Where and how it met the ground or the sea."""

    time: float  # s
    latitude: float  # rad, geodetic
    longitude: float  # rad
    distance: float  # m, along the ground from the site of lift-off
    missed_by: float  # m, along the ground from the place asked for; 0 where none was
    speed: float  # m/s, over the ground
    sinking: float  # m/s


@dataclass(frozen=True, slots=True)
class ImpactPoint:
    """Where a flight would meet the ground if everything stopped at one moment, air left out."""

    time: float  # s since lift-off, of the moment
    falls_for: float  # s from then to the ground
    latitude: float  # rad, geodetic
    longitude: float  # rad


@dataclass(frozen=True, slots=True)
class Spread:
    """Where it may come down: many flights with what is not known drawn by chance."""

    flights: int
    seed: int
    latitude: float  # rad, of the middle
    longitude: float  # rad
    along: float  # m, one standard deviation along the longer axis
    across: float  # m, along the shorter
    heading: float  # rad, of the longer axis, from north over east
    inside_99: float  # the factor on both that holds 99 % of these flights
    points: tuple[tuple[float, float], ...]  # latitude, longitude of each [rad]
    assumed: tuple[str, ...]  # what was drawn, with its spread


HOME_COLUMNS: tuple[Column, ...] = (
    Column("time", "time since lift-off", "s"),
    Column("leg", "leg of the way home, counted from 1", ""),
    Column("height", "height above the WGS-84 ellipsoid", "m"),
    Column("latitude", "geodetic latitude", "deg"),
    Column("longitude", "longitude, east positive", "deg"),
    Column("downrange", "distance along the ground from the site", "m"),
    Column("air_speed", "speed relative to the turning Earth", "m/s"),
    Column("speed", "speed in axes that do not turn", "m/s"),
    Column("path_angle", "angle of the air speed above the horizon", "deg"),
    Column("heading", "heading of the air speed, from north over east", "deg"),
    Column("mass", "mass", "kg"),
    Column("thrust", "thrust", "N"),
    Column("drag", "drag", "N"),
    Column("felt_acceleration", "acceleration felt aboard", "m/s²"),
    Column("dynamic_pressure", "dynamic pressure", "Pa"),
    Column("mach", "Mach number", ""),
    Column("heating", "stagnation heating, indicative", "W/m²"),
    Column("molecular_heating", "free-molecular heating ½ρv³", "W/m²"),
    Column("heat_load", "heat taken up by the stagnation point", "J/m²"),
    Column("x", "place, Earth-centred axes that do not turn", "m"),
    Column("y", "place", "m"),
    Column("z", "place, to the north pole", "m"),
    Column("vx", "speed in those axes", "m/s"),
    Column("vy", "speed", "m/s"),
    Column("vz", "speed", "m/s"),
)


@dataclass(frozen=True, slots=True)
class Homecoming:
    """What became of one stage after it was let go.

    `trajectory` has the columns `HOME_COLUMNS` and begins where the ascent's ends for this stage: same clock,
    same axes.  Its column `leg` counts from 1 and names itself through `legs`; `events` are its timeline.
    """

    stage: str
    way: Way  # what it was asked to do
    comes_home: bool  # it came down as asked, with what it had
    events: tuple[Event, ...]
    trajectory: Trajectory
    legs: tuple[str, ...]  # names of the legs of the trajectory
    apogee: Peak
    dynamic_pressure: Peak  # Pa
    felt_acceleration: Peak  # m/s²
    heating: Peak  # W/m², stagnation point: indicative
    molecular_heating: Peak  # W/m², ½ρv³, in the thin air above 100 km; 0: it never is there
    heat_load: float  # J/m², stagnation point
    down: ComeDown
    burns: tuple[Burn, ...] = ()
    used: float = 0.0  # kg of propellant or fuel
    reserve: float = 0.0  # kg there was
    needed: float | None = None  # kg that would do, margin counted; None: not asked, or none would
    throttle_steps: tuple[ThrottleStep, ...] = ()
    hovers: bool | None = None  # thrust can be brought down to the weight; None: no engines lit at the end
    ignition_margin: float | None = None  # s the landing burn may be lit late at full thrust
    opening_forces: tuple[tuple[str, float], ...] = ()  # (which parachutes, N)
    findings: tuple[Finding, ...] = ()
    assumed: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    count: int = 1  # stages alike that come down this way, such as strap-ons
    spread: Spread | None = None  # of the place of coming down; None: it steers, or was not asked for
    flights: int = 0  # flown to find it
    unknowns: tuple[float, ...] = field(default=(), repr=False)  # for a later search to start from

    @property
    def left(self) -> float:
        """Propellant left, below 0 where it lacked [kg]."""
        return self.reserve - self.used

    def __repr__(self) -> str:
        how = "comes home" if self.comes_home else "does not come home"
        if self.way.by is By.BALLISTIC:
            return f"<Homecoming of {self.stage}: falls, {self.down.distance / 1e3:,.0f} km out>"
        return f"<Homecoming of {self.stage}: {how} by {self.way.by}, {self.down.distance / 1e3:,.0f} km out>"
