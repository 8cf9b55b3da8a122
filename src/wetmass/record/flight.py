"""What a flight did; SI throughout, angles in radians."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wetmass.record.vehicle import Vehicle

if TYPE_CHECKING:
    import numpy as np


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a recorded flight."""

    key: str
    words: str
    unit: str


COLUMNS: tuple[Column, ...] = (
    Column("time", "time since lift-off", "s"),
    Column("stage", "stage at work, counted from 1", ""),
    Column("height", "height above the WGS-84 ellipsoid", "m"),
    Column("latitude", "geodetic latitude", "deg"),
    Column("longitude", "longitude, east positive", "deg"),
    Column("downrange", "distance along the ground from the site", "m"),
    Column("air_speed", "speed relative to the turning Earth", "m/s"),
    Column("speed", "speed in axes that do not turn", "m/s"),
    Column("path_angle", "angle of the air speed above the horizon", "deg"),
    Column("heading", "heading of the air speed, from north over east", "deg"),
    Column("pitch", "angle of the thrust above the horizon", "deg"),
    Column("angle_of_attack", "angle between thrust and air speed", "deg"),
    Column("mass", "mass", "kg"),
    Column("throttle", "throttle of the engines that can", ""),
    Column("thrust", "thrust", "N"),
    Column("drag", "drag", "N"),
    Column("felt_acceleration", "acceleration felt aboard", "m/s²"),
    Column("dynamic_pressure", "dynamic pressure", "Pa"),
    Column("mach", "Mach number", ""),
    Column("q_alpha", "dynamic pressure times angle of attack", "Pa·deg"),
    Column("heating", "free-molecular heating ½ρv³", "W/m²"),
)


@dataclass(frozen=True, slots=True)
class Trajectory:
    """A recorded flight: a row for each step of the integration and each event."""

    columns: tuple[Column, ...]
    values: np.ndarray  # (rows, columns)

    def __getitem__(self, key: str) -> np.ndarray:
        """The column `key`; KeyError names those there are."""
        for i, column in enumerate(self.columns):
            if column.key == key:
                return self.values[:, i]
        raise KeyError(f"no column {key!r}; there are {', '.join(c.key for c in self.columns)}")

    def __len__(self) -> int:
        return len(self.values)

    def __repr__(self) -> str:
        return f"<Trajectory {len(self)} rows, {', '.join(c.key for c in self.columns)}>"


@dataclass(frozen=True, slots=True)
class Event:
    """One line of the timeline: values just as the event comes."""

    what: str  # "lift-off", "first burns out", "fairing let go", …
    time: float  # s
    height: float  # m
    air_speed: float  # m/s, relative to the turning Earth
    speed: float  # m/s, in axes that do not turn
    path_angle: float  # rad, of the air speed above the horizon
    downrange: float  # m
    mass: float  # kg, before anything is let go
    dynamic_pressure: float  # Pa
    felt_acceleration: float  # m/s²


@dataclass(frozen=True, slots=True)
class Losses:
    """Where the ideal speed went.  ideal − losses = gained, as an identity; all in m/s.

    Losses are counted along the speed relative to the turning Earth; what the Earth's turning adds at
    the end is the rotation gain.
    """

    ideal: float  # Σ ∫ F_vac/m dt
    gravity: float  # weight along the path, less the centrifugal part
    drag: float
    steering: float  # thrust not along the path, F/m·(1 − cos)
    back_pressure: float  # thrust lost to the air's pressure
    air_speed_gained: float  # from rest on the pad
    rotation_gain: float  # inertial less air speed at the end

    @property
    def gap(self) -> float:
        """What the identity misses, over the ideal speed [-]; a check of the integration."""
        left = self.ideal - self.gravity - self.drag - self.steering - self.back_pressure
        return (left - self.air_speed_gained) / self.ideal if self.ideal else 0.0


@dataclass(frozen=True, slots=True)
class StageShare:
    """What one stage did."""

    name: str
    ideal: float  # ideal speed gain, vacuum thrust [m/s]
    burn_time: float  # s
    thrust_to_weight: float  # at its ignition, at the pressure there [-]
    burnout_air_speed: float  # m/s
    burnout_speed: float  # m/s, inertial
    burnout_height: float  # m
    burnout_downrange: float  # m
    burnout_time: float  # s
    burnout_path_angle: float  # rad
    losses: Losses  # in the time this stage was at work


@dataclass(frozen=True, slots=True)
class ReachedOrbit:
    """Elements osculating at the end; heights above 6378.137 km."""

    perigee: float  # m
    apogee: float  # m, infinite when unbound
    eccentricity: float
    inclination: float  # rad
    argument_of_perigee: float  # rad
    node: float  # rad, of the ascending node east of Greenwich at lift-off


@dataclass(frozen=True, slots=True)
class SteeringUsed:
    """The law that was flown; it stands beside every payload."""

    law: str  # in words
    heading: float  # rad, of the tilt, from north over east
    tilt: float  # rad, from the vertical
    free_from_time: float  # s
    free_from_height: float  # m
    free_from_pressure: float  # Pa


@dataclass(frozen=True, slots=True)
class Peak:
    """The greatest value of something, and when."""

    value: float
    time: float  # s
    height: float  # m


@dataclass(frozen=True, slots=True)
class Flight:
    """One ascent, from lift-off to the end of the last burn."""

    vehicle: Vehicle
    events: tuple[Event, ...]
    trajectory: Trajectory
    losses: Losses
    stages: tuple[StageShare, ...]
    orbit: ReachedOrbit
    steering: SteeringUsed
    dynamic_pressure: Peak  # Pa
    felt_acceleration: Peak  # m/s²
    q_alpha: Peak  # Pa·rad
    heating: Peak  # W/m², free-molecular form, low down only an index
    accuracy: float  # relative difference of the end from a flight with far smaller steps [-]
    jet_fuel: float = 0.0  # kg of the propellant burnt by jets
    exposed_heating: Peak | None = None  # W/m², once the fairing is gone; None: nothing is let go

    @property
    def duration(self) -> float:
        """From lift-off to the end of the last burn [s]."""
        return self.events[-1].time

    def __repr__(self) -> str:
        orbit = self.orbit
        return (
            f"<Flight of {self.vehicle.name}: {self.vehicle.payload:,.0f} kg to "
            f"{orbit.perigee / 1e3:.0f} × {orbit.apogee / 1e3:.0f} km in {self.duration:.0f} s>"
        )
