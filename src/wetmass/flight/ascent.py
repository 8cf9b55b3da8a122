"""The ascent as a problem of a few unknowns: steering, coast, and whatever the vehicle leaves open.

One trial is one flight: unknowns → vehicle and steering → flown state → how far from the orbit, how
near the limits, and what is made best.  `flight.optimum` finds the unknowns.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from wetmass.flight import goal
from wetmass.flight import layout as at
from wetmass.flight.motion import angle_from_vertical
from wetmass.flight.program import Program, Restart, program
from wetmass.flight.propagate import fly
from wetmass.physics.earth import OMEGA, cartesian
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.mission import Climb, Limits, Orbit, Site
from wetmass.record.vehicle import Vehicle

TIME_SCALE = 300.0  # s: the primer's rates are counted per this time
RISE_ABOVE_PAD = 100.0  # m of vertical rise before the tilt at least (common practice: clear the tower)
RISE_SPEED = (
    50.0  # m/s, and until this is reached: a zero-lift turn from a slower start topples a heavy vehicle
)
TILT_RATE = math.radians(1.0)  # rad/s while tilting, of heavy launchers (common practice)
TILT_SPARE = 0.4  # thrust over weight, less 1, up to which that is the rate: ours
PULL_UP_RATE = math.radians(3.0)  # rad/s after a launch from the air: ours
PULL_UP_LEAD = math.radians(40.0)  # held steeper than the path wanted, until the path has it: ours
STRAIGHT_UP = 1e9  # m: a vertical rise without end
NO_LIMIT = 1e12
FIRST_OF_COAST, COAST_UNKNOWNS = 7, 5  # place among the unknowns, and number, of what the coast adds
WORST = 1e3  # a condition of a flight that came to nothing


@dataclass(frozen=True, slots=True)
class Unknown:
    """One number to be found: where to look, and how much of it matters."""

    name: str
    scale: float
    low: float
    high: float
    start: float


@dataclass(frozen=True, slots=True)
class Trial:
    """What one flight with one set of unknowns came to."""

    equal: np.ndarray  # conditions that must be 0
    at_least: np.ndarray  # conditions that must be 0 or more
    score: float  # what is made least
    state: np.ndarray  # at the end (STEERED,)
    marks: np.ndarray  # (segments + let-go masses, 1 + STEERED), time and state at each one's end
    summary: np.ndarray
    time: float
    steps: np.ndarray  # taken, for flights beside it
    laid: Program


@dataclass
class Steering:
    """The law of steering that is asked for; the same words stand in the result."""

    round_earth: bool = True  # primer follows the round Earth's gravity; False: linear-tangent law
    q_alpha: float = math.radians(120.0) * 1e3  # Pa·rad at the most, whatever the limits say
    free_pressure: float = 5e3  # Pa: zero lift until the dynamic pressure has fallen to this
    free_height: float = 80e3  # m, … or above this height

    def words(self) -> str:
        """The law in one sentence."""
        after = (
            "free steering along the primer vector over the round Earth"
            if self.round_earth
            else "the linear-tangent law"
        )
        return (
            f"vertical rise, tilt, zero-lift turn until the dynamic pressure has fallen to "
            f"{self.free_pressure / 1e3:g} kPa, then {after}"
        )


@dataclass
class Ascent:
    """An ascent to be optimised.

    build(open_values) gives the vehicle for the values of the open unknowns, in their order.
    conditions(vehicle, trial) gives the requirements' (equal, at_least) lists; score gives what is
    made least, from (vehicle, trial).
    """

    site: Site
    orbit: Orbit | Climb
    limits: Limits
    steering: Steering
    build: Callable[[Sequence[float]], Vehicle]
    open_unknowns: tuple[Unknown, ...]
    conditions: Callable[[Vehicle, Trial], tuple[list[float], list[float]]]
    score: Callable[[Vehicle, Trial], float]
    coasting: bool = False
    place: str = ""
    tolerance: float = 1e-10
    tally: list[int] = field(default_factory=lambda: [0])  # flights so far; what is made of it counts with it
    unknowns: tuple[Unknown, ...] = field(init=False)
    _last: tuple[tuple[bytes, bytes], tuple[Vehicle, Program]] | None = field(init=False, default=None)

    @property
    def flights(self) -> int:
        """Flights flown so far, those of easier problems made from this one among them."""
        return self.tally[0]

    def __post_init__(self) -> None:
        if isinstance(self.orbit, Climb):
            self._climbing(self.orbit)
            return
        self.place = self.place or goal.insertion_place(self.orbit, self.coasting)
        tilt = Unknown("tilt", 0.02, 2e-4, 1.2, 0.02)
        if self.site.launch is not None:
            tilt = Unknown("tilt", 0.1, 0.05, 1.45, 0.7)
        steering = [
            tilt,
            Unknown("azimuth", 0.1, *self._azimuth_bounds(), self.launch_heading()),
            Unknown("off pitch", 0.2, -1.2, 1.2, 0.05),
            Unknown("off yaw", 0.2, -0.8, 0.8, 0.0),
            Unknown("rate up", 1.0, -20.0, 20.0, -0.3),
            Unknown("rate side", 1.0, -10.0, 10.0, 0.0),
            Unknown("rate along", 1.0, -20.0, 20.0, 0.0),
        ]
        if self.coasting:
            steering += [
                Unknown("first share", 0.1, 0.001, 0.9995, 0.9),
                Unknown("coast", 1000.0, 5.0, 30_000.0, 2000.0),
                Unknown("second pitch", 0.2, -1.0, 1.0, 0.0),
                Unknown("second pitch rate", 0.002, -0.01, 0.01, 0.0),
                Unknown("second yaw", 0.2, -2.0, 2.0, 0.0),
            ]
        self._ready(steering)

    def _climbing(self, climb: Climb) -> None:
        self.place = self.place or "at the height"
        steering = [] if climb.path_angle is None else [Unknown("tilt", 0.02, 2e-4, 1.2, 0.05)]
        self._ready(steering)

    def _ready(self, steering: list[Unknown]) -> None:
        self.unknowns = (*steering, *self.open_unknowns)
        self._place = {unknown.name: i for i, unknown in enumerate(self.unknowns)}
        self._y0 = start_state(self.site)

    def law(self) -> str:
        """How it is steered, in one sentence."""
        if isinstance(self.orbit, Climb):
            if self.orbit.path_angle is None:
                return "straight up all the way"
            return "vertical rise, tilt, then a zero-lift turn to the end"
        if self.site.launch is not None:
            return "pulls up at 3°/s, 40° steeper than its path, then " + self.steering.words().removeprefix(
                "vertical rise, tilt, "
            )
        return self.steering.words()

    # ── headings and inclination ──

    def launch_heading(self) -> float:
        """Heading over the turning Earth to the inclination asked for, within the site's [rad]."""
        low, high = self._azimuth_bounds()
        if isinstance(self.orbit, Climb):
            wanted = math.pi / 2.0 if self.orbit.heading is None else self.orbit.heading
            return min(max(wanted, low), high)
        candidates = self.headings()
        for heading in candidates:
            if low <= heading <= high:
                return heading
        return min(max(candidates[0], low), high)

    def headings(self) -> list[float]:
        """Both headings (north- and southbound, as asked) to the inclination [rad]."""
        inclination = self.orbit.inclination
        speed = math.sqrt(goal.GM / (goal.EARTH_RADIUS_WGS84 + self.orbit.perigee))
        if inclination is None:
            inclination = abs(self.site.latitude)
        ratio = math.cos(inclination) / math.cos(self.site.latitude)
        inertial = math.asin(max(-1.0, min(1.0, ratio)))
        found = []
        for azimuth in (inertial, math.pi - inertial):
            north = speed * math.cos(azimuth)
            east = speed * math.sin(azimuth) - OMEGA * goal.EARTH_RADIUS_WGS84 * math.cos(self.site.latitude)
            found.append(math.atan2(east, north) % (2.0 * math.pi))
        north_first = sorted(found, key=lambda a: -math.cos(a))
        if self.orbit.going == "north":
            return north_first[:1]
        if self.orbit.going == "south":
            return north_first[1:]
        return north_first

    def _azimuth_bounds(self) -> tuple[float, float]:
        return self.site.heading_from, self.site.heading_to

    def path_angle_after_first_stage(self, x: np.ndarray) -> float:
        """Path angle when the first stage has burnt out, zero lift all the way [rad]."""
        vehicle = self.build(self.open_values(x))
        laid = self.lay_out(x, vehicle)
        count = sum(1 for stage in laid.stage_of if stage == 0)
        control = self.control(x, vehicle)
        control[at.FREE_HEIGHT], control[at.FREE_PRESSURE] = 1e9, 1e9
        y = self.started(control, laid, at.STEERED)
        summary, marks = np.zeros(at.SUMMARY_WIDTH), np.zeros((count + len(laid.let_go), 1 + at.STEERED))
        self.tally[0] += 1
        fly(
            0.0,
            laid.segments[:count],
            laid.let_go,
            control,
            laid.curves,
            y,
            summary,
            marks,
            _NO_ROWS,
            _NO_STEPS,
            False,
            at.STEERED,
            laid.groups,
            laid.traces,
        )
        return math.pi / 2.0 - angle_from_vertical(marks[count - 1, 1:])

    def path_angle_after_turn(self, x: np.ndarray) -> float:
        """Path angle where the zero-lift turn ends, or the first stage's burn if that comes first [rad]."""
        vehicle = self.build(self.open_values(x))
        laid = self.lay_out(x, vehicle)
        count = max(1, sum(1 for stage in laid.stage_of if stage == 0))
        control = self.control(x, vehicle)
        y = self.started(control, laid, at.STEERED)
        summary, marks = np.zeros(at.SUMMARY_WIDTH), np.zeros((laid.mark_rows(), 1 + at.STEERED))
        rows = np.zeros((400, at.ROW_WIDTH))
        self.tally[0] += 1
        _, written = fly(
            0.0, laid.segments[:count], laid.let_go, control, laid.curves, y, summary, marks, rows,
            _NO_STEPS, False, at.STEERED, laid.groups, laid.traces,
        )  # fmt: skip
        free = np.flatnonzero(rows[:written, at.ROW_EVENT] == at.FREE_BEGINS)
        row = rows[free[0] if len(free) else written - 1]
        return math.pi / 2.0 - angle_from_vertical(row[at.ROW_STATE : at.ROW_STATE + at.STEERED])

    # ── one trial ──

    def value(self, x: np.ndarray, name: str) -> float:
        return float(x[self._place[name]])

    def open_values(self, x: np.ndarray) -> np.ndarray:
        return x[len(self.unknowns) - len(self.open_unknowns) :]

    def control(self, x: np.ndarray, vehicle: Vehicle | None = None) -> np.ndarray:
        """The steering program of a set of unknowns, as the compiled flight reads it."""
        c = np.zeros(at.CONTROL_WIDTH)
        vehicle = vehicle or self.build(self.open_values(x))
        c[at.RISE_HEIGHT] = self.site.height + rise(vehicle)
        c[at.ROUND] = 1.0 if self.steering.round_earth else 0.0
        c[at.ACCELERATION_LIMIT] = min(self.limits.acceleration, NO_LIMIT)
        c[at.PRESSURE_LIMIT] = min(self.limits.pressure, NO_LIMIT)
        c[at.TOLERANCE], c[at.LONGEST_STEP] = self.tolerance, 1e4
        c[at.TILT_RATE] = tilt_rate(vehicle)
        launch = self.site.launch
        if launch is not None:
            c[at.TILT_FROM], c[at.TILT_RATE] = math.pi / 2.0 - launch.path_angle, PULL_UP_RATE
            c[at.LEAD] = PULL_UP_LEAD
        if isinstance(self.orbit, Climb):
            c[at.FREE_HEIGHT], c[at.FREE_PRESSURE] = STRAIGHT_UP, NO_LIMIT  # never free
            c[at.AZIMUTH] = self.launch_heading()
            if self.orbit.path_angle is None:
                c[at.RISE_HEIGHT] = STRAIGHT_UP
            else:
                c[at.TILT] = self.value(x, "tilt")
            return c
        c[at.TILT], c[at.AZIMUTH] = x[0], x[1]
        c[at.FREE_HEIGHT], c[at.FREE_PRESSURE] = self.steering.free_height, self.steering.free_pressure
        c[at.OFF_PITCH], c[at.OFF_YAW] = x[2], x[3]
        c[at.RATE_UP], c[at.RATE_SIDE], c[at.RATE_ALONG] = (
            x[4] / TIME_SCALE,
            x[5] / TIME_SCALE,
            x[6] / TIME_SCALE,
        )
        return c

    def started(self, control: np.ndarray, laid: Program, n: int) -> np.ndarray:
        """State (n,) as the flight begins: on the pad, or let go in the air, heading as in `control`."""
        y = np.zeros(n)
        y[: at.STEERED] = self._y0
        y[at.MASS] = laid.lift_off_mass
        launch = self.site.launch
        if launch is not None:
            place = y[:3].copy()
            up = np.array([
                math.cos(self.site.latitude) * math.cos(self.site.longitude),
                math.cos(self.site.latitude) * math.sin(self.site.longitude),
                math.sin(self.site.latitude),
            ])  # fmt: skip
            east = np.array([-math.sin(self.site.longitude), math.cos(self.site.longitude), 0.0])
            north = np.cross(up, east)
            a = control[at.AZIMUTH]
            level = math.cos(a) * north + math.sin(a) * east
            way = math.cos(launch.path_angle) * level + math.sin(launch.path_angle) * up
            y[3:6] = launch.speed * way + np.array([-OMEGA * place[1], OMEGA * place[0], 0.0])
        return y

    def lay_out(self, x: np.ndarray, vehicle: Vehicle) -> Program:
        restart = Restart(self.value(x, "first share"), self.value(x, "coast")) if self.coasting else None
        to_apex = isinstance(self.orbit, Climb) and self.orbit.at_apex
        laid = program(vehicle, restart, to_apex=to_apex)
        if restart is not None:
            again = laid.segments[-1]
            again[at.PITCH_0], again[at.PITCH_RATE] = (
                self.value(x, "second pitch"),
                self.value(x, "second pitch rate"),
            )
            again[at.YAW_0] = self.value(x, "second yaw")
        return laid

    def laid(self, x: np.ndarray) -> tuple[Vehicle, Program]:
        """Vehicle and program of `x`; those of the last unknowns again where only the steering differs."""
        opened = self.open_values(x)
        key = (opened.tobytes(), x[FIRST_OF_COAST : len(x) - len(opened)].tobytes())
        if self._last is None or self._last[0] != key:
            vehicle = self.build(opened)
            self._last = key, (vehicle, self.lay_out(x, vehicle))
        return self._last[1]

    def trial(self, x: np.ndarray, beside: Trial | None = None) -> Trial:
        """Fly the unknowns `x` (unscaled); with the steps of the flight `beside` it, for derivatives."""
        vehicle, laid = self.laid(x)
        n = (
            at.STEERED if laid.plain else at.ACCOUNTED
        )  # the ideal gain of others is known by integration only
        control = self.control(x, vehicle)
        if not laid.plain:
            control[at.TOLERANCE] *= 0.1  # curves of jets and traces bend more
        y = self.started(control, laid, n)
        summary, marks = np.zeros(at.SUMMARY_WIDTH), np.zeros((laid.mark_rows(), 1 + n))
        self.tally[0] += 1
        steps = np.zeros((600, at.STEP_WIDTH)) if beside is None else beside.steps
        time, _ = fly(
            0.0, laid.segments, laid.let_go, control, laid.curves, y, summary, marks, _NO_ROWS,
            steps, beside is not None, n, laid.groups, laid.traces,
        )  # fmt: skip
        if summary[at.STATUS] != at.DONE or not y[at.MASS] > 0.0 or not np.isfinite(y).all():
            # a flight that came to nothing: as far from the orbit as the pad is
            summary[at.STATUS], y[:6] = max(float(summary[at.STATUS]), float(at.FELL)), self._y0[:6]
        trial = Trial(np.empty(0), np.empty(0), 0.0, y, marks, summary, time, steps, laid)
        if isinstance(self.orbit, Climb):
            equal, at_least = goal.climb_conditions(trial, self.orbit)
        else:
            equal, at_least = self._in_orbit(y, summary, laid, self.orbit)
            equal += self._on_the_way(marks, laid, self.orbit)
        more_equal, more_at_least = self.conditions(vehicle, trial)
        return Trial(
            _finite(equal + more_equal, WORST),
            _finite(at_least + more_at_least, -WORST),
            self.score(vehicle, trial),
            y,
            marks,
            summary,
            time,
            steps,
            laid,
        )

    def _in_orbit(
        self, y: np.ndarray, summary: np.ndarray, laid: Program, orbit: Orbit
    ) -> tuple[list[float], list[float]]:
        equal = goal.shape_conditions(y, orbit, self.place)
        if self.coasting and orbit.c3 is not None:
            equal = equal[:1]  # the perigee of a way out binds nobody: the coast has been lower
        equal += goal.turned_conditions(y, orbit)
        at_least = []
        wanted = orbit.inclination
        if wanted is not None:
            cosine = goal.cosine_of_inclination(y)
            if abs(wanted - abs(self.site.latitude)) > goal.SAME_AS_LATITUDE:
                equal.append(100.0 * (cosine - math.cos(wanted)))
            else:
                at_least.append(100.0 * (cosine - math.cos(wanted + goal.INCLINATION_PLAY)))
        most = min(self.steering.q_alpha, self.limits.q_alpha)
        at_least.append(1.0 - summary[at.SWITCH_Q_ALPHA] / most)
        if self.site.launch is None or self.limits.q_alpha < math.inf:  # pulling up takes more than is usual
            at_least.append(1.0 - summary[at.GREATEST_Q_ALPHA] / most)
        if self.limits.heating < math.inf:  # falls by powers of ten with height, so its logarithm is asked
            covers = laid.let_go[laid.let_go[:, at.LET_GO_COVERS] > 0.0]
            waits = (
                (covers[:, at.LET_GO_WHEN] == at.WHEN_HEATING)
                & (covers[:, at.LET_GO_VALUE] <= self.limits.heating)
            )  # what waits for a heating within the limit keeps it as it goes; held to that, nothing has a slope
            which = at.RISEN_HEATING if waits.all() else at.EXPOSED_HEATING
            warm = max(float(summary[which]), 1e-3 * self.limits.heating)
            at_least.append(5.0 * math.log10(self.limits.heating / warm))
        return equal, at_least

    def _on_the_way(self, marks: np.ndarray, laid: Program, orbit: Orbit) -> list[float]:
        """Conditions on the circle it coasts on, at the cut-off before the coast."""
        if not self.coasting or orbit.parking is None:
            return []
        first = marks[len(laid.segments) - 3, 1:]
        if not np.any(first[:3]):
            return [WORST] * 3  # it ended before: nothing was written here
        return goal.circle_conditions(first, orbit.parking)


def rise(vehicle: Vehicle) -> float:
    """Height of the vertical rise above the pad [m]: to clear the tower, and to reach `RISE_SPEED`."""
    return max(RISE_ABOVE_PAD, RISE_SPEED**2 / (2.0 * STANDARD_GRAVITY * max(_spare(vehicle), 0.05)))


def tilt_rate(vehicle: Vehicle) -> float:
    """How fast it is tilted [rad/s]: at the usual rate, or faster where it leaves the pad faster.

    A vehicle with twice the spare thrust has half the time for its tilt before the air presses; tilted at
    the rate of a heavy one it would fly far too steep.
    """
    return TILT_RATE * max(1.0, _spare(vehicle) / TILT_SPARE)


def _spare(vehicle: Vehicle) -> float:
    return vehicle.lift_off_thrust() / (vehicle.lift_off_mass * STANDARD_GRAVITY) - 1.0


def _finite(values: list[float], lost: float) -> np.ndarray:
    """Conditions within ±`WORST`; `lost` stands for what is no number."""
    return np.array([lost if v != v else min(max(v, -WORST), WORST) for v in values])


_NO_ROWS = np.zeros((0, at.ROW_WIDTH))
_NO_STEPS = np.zeros((0, at.STEP_WIDTH))


def start_state(site: Site) -> np.ndarray:
    """State (STEERED,) at rest on the pad, without its mass; x through Greenwich at lift-off.

    For a launch from the air: at its height, moving with the air (`Ascent.started` adds the speed).
    """
    y = np.zeros(at.STEERED)
    height = site.height if site.launch is None else site.launch.height
    y[0], y[1], y[2] = cartesian(site.latitude, site.longitude, height)
    y[3], y[4] = -OMEGA * y[1], OMEGA * y[0]
    y[at.PX] = 1.0
    return y
