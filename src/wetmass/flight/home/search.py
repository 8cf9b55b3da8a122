"""The least propellant that lands a stage on its engines: the search, over whole flights.

Unknowns: the speed the turning burn gives (where there is a place to go to), the height and the speed of
the braking burn, the height at which the landing burn is lit, and, where it is asked for, the propellant
carried.  Conditions: at rest just at the ground, at the place, within the limits, and with nothing left.  A
scan that needs no first guess starts a sequential quadratic programme (scipy).
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass, field

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.legs import Body, Engines, Flyer, leg, lit
from wetmass.flight.home.report import Legs
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.homecoming import Posture, Released, Way
from wetmass.record.mission import Site

DEEP = 4000.0  # m below the ground: a burn lit too late may end there, for the search only
MET = 1e-3  # a condition counts as met: 1 m of height, 10 m of place, a thousandth of a limit
_DIFFERENCE = 3e-3  # of a scaled unknown, for derivatives: well above the grain of a peak between steps
_TOLERANCE = 1e-9
_SETTLED = 2e-5  # relative: the propellant stands still
_LONGEST = 1.0  # s: how finely peaks are sampled


@dataclass(frozen=True, slots=True)
class Choice:
    """How many engines are lit when, and how hard the landing burn is."""

    turning: float
    braking: float
    landing: float
    throttle: float  # of the landing burn
    gently: float = 1.0  # throttle of the other burns


@dataclass(frozen=True, slots=True)
class Tried:
    """One way home: what it took, and what it put the stage through."""

    propellant: float  # kg burnt
    carried: float  # kg
    stop: float  # m above the ground where it came to rest
    misses: tuple[float, float]  # m north and east of the place
    pressure: float  # Pa
    felt: float  # m/s²
    heating: float  # W/m²
    mass: float  # kg, at the end


@dataclass
class Search:
    """The search for one stage and one choice of engines."""

    released: Released
    way: Way
    made: Body
    which: Engines
    choice: Choice
    find_reserve: bool = False
    prefix: list[np.ndarray] = field(default_factory=list)  # legs before all others
    prefix_mass: float = 1.0  # kg, for which they were laid out
    flyer: Flyer = field(init=False)

    def __post_init__(self) -> None:
        ground = self.way.place.height if self.way.place is not None else self.way.landing_height
        self.flyer = Flyer(self.released, self.made.curves, ground=ground)
        self.axes = places.frame(np.array(self.released.state))
        self.turning = 3 if self.way.place is not None else 0
        self.exhaust = self.which.thrust / self.which.flow
        turn = [100.0] * self.turning
        self.scale = np.array([*turn, 10e3, 100.0, 1e3, *([self.released.dry_mass] * self.find_reserve)])
        self._kept: dict[bytes, Tried] = {}

    @property
    def ground(self) -> float:
        return self.flyer.ground

    @property
    def site(self) -> Site | None:
        return self.way.place

    def carried(self, x: np.ndarray) -> float:
        """Propellant to come home with [kg]."""
        return float(x[-1]) if self.find_reserve else self.released.propellant

    @property
    def count(self) -> int:
        """Of unknowns."""
        return len(self.scale)

    # ── legs of unknowns ──

    def legs(self, x: np.ndarray) -> Legs:
        """The legs of unknowns (SI): turning burn's speed north, east, up; height and speed of the braking
        burn; height of ignition for landing; propellant carried."""
        made, end_on, choice = self.made, Posture.END_ON, self.choice
        mass = self.released.dry_mass + self.carried(x)
        legs = Legs()
        for row in self.prefix:
            burns = row[at.THRUST] > 0.0
            name = "burn out of orbit" if burns else "in orbit"
            ends = "burn out of orbit ends" if burns else "burn out of orbit begins"
            if burns:  # the same speed from the mass there is
                row = row.copy()
                row[at.END_VALUE] *= mass / self.prefix_mass
            legs.add(name, row, ends, (name, choice.turning) if burns else None)
            mass -= row[at.THROTTLE] * row[at.FLOW] * row[at.END_VALUE] if burns else 0.0
        if self.turning:
            legs.add("turns round", leg(made, end_on, at.TIME, self.way.turn_around), "turning burn begins")
            speed = float(np.linalg.norm(x[:3]))
            burn = leg(made, end_on, at.TIME, self._duration(mass, speed, choice.turning))
            lit(burn, self.which, choice.turning, choice.gently, at.FIXED, 1.0)
            burn[at.AIM_X : at.AIM_Z + 1] = sum(
                part * axis for part, axis in zip(x[:3], self.axes, strict=True)
            ) / max(speed, 1e-9)
            mass *= math.exp(-speed / self.exhaust)
            legs.add("turning burn", burn, "turning burn ends", ("turning burn", choice.turning))
        height, speed, light_at = x[self.turning : self.turning + 3]
        legs.add("coast", leg(made, end_on, at.APEX), "apogee")
        braking = speed > 0.0
        legs.add("fall", leg(made, end_on, at.FALLEN, height), "braking burn begins" if braking else "")
        brake = leg(made, end_on, at.TIME, self._duration(mass, max(speed, 0.0), choice.braking))
        lit(brake, self.which, choice.braking, choice.gently, at.AGAINST, self.way.drag_behind_flame)
        brake[at.OTHER_END], brake[at.OTHER_VALUE] = at.SLOWED, 30.0
        legs.add(
            "braking burn", brake, "braking burn ends" if braking else "", ("braking burn", choice.braking)
        )
        legs.add("fall", leg(made, end_on, at.FALLEN, light_at), "landing burn begins")
        land = leg(made, end_on, at.SLOWED, self.way.touch_down_speed)
        lit(land, self.which, choice.landing, choice.throttle, at.AGAINST, self.way.drag_behind_flame)
        legs.add("landing burn", land, "touch-down", ("landing burn", choice.landing))
        return legs

    def _duration(self, mass: float, speed: float, count: float) -> float:
        return mass * -math.expm1(-speed / self.exhaust) / (count * self.choice.gently * self.which.flow)

    def start(self, x: np.ndarray) -> tuple[float, np.ndarray]:
        """Time and state at which the flight begins, with the propellant carried."""
        y = self.flyer.start()
        y[at.MASS] = self.released.dry_mass + self.carried(x)
        return self.released.time, y

    # ── one flight ──

    def tried(self, x: np.ndarray) -> Tried:
        """Fly the unknowns."""
        key = x.tobytes()
        found = self._kept.get(key)
        if found is None:
            if len(self._kept) > 200:
                self._kept.clear()
            found = self._kept[key] = self._fly(x)
        return found

    def _fly(self, x: np.ndarray) -> Tried:
        flown = self.flyer.fly(
            self.legs(x).rows,
            start=self.start(x),
            ground=self.ground - DEEP,
            tolerance=_TOLERANCE,
            longest=_LONGEST,
        )
        s, state = flown.summary, flown.state
        missed = (0.0, 0.0) if self.site is None else places.miss(state, flown.time, self.site)
        mass = float(state[at.MASS])
        carried = self.carried(x)
        return Tried(
            self.released.dry_mass + carried - mass,
            carried,
            self.stop(flown),
            missed,
            float(s[at.PEAK_PRESSURE]),
            float(s[at.PEAK_FELT]),
            float(s[at.PEAK_HEATING]),
            mass,
        )

    def stop(self, flown) -> float:
        """Height above the ground at which it came to rest; far below zero where it did not [m]."""
        if flown.status == at.ARRIVED:
            return places.over_ground(flown.state, flown.time)[2] - self.ground
        speed = float(np.linalg.norm(places.ground_velocity(flown.state)))
        return -DEEP - speed * speed / 20.0

    def conditions(self, x: np.ndarray) -> tuple[np.ndarray, np.ndarray, float]:
        """(zero where met, zero or more where met, what is made least), scaled."""
        tried, way = self.tried(x), self.way
        dry = self.released.dry_mass
        equal = [tried.stop / 1e3, *([miss / 10e3 for miss in tried.misses] * bool(self.turning))]
        if self.find_reserve:
            equal.append((tried.mass - dry - way.margin * tried.carried) / (0.1 * dry))
        at_least = [
            1.0 - tried.pressure / way.pressure_limit,
            1.0 - tried.felt / way.acceleration_limit,
            1.0 - tried.heating / way.heating_limit,
        ]
        return (
            np.array(equal),
            np.array(at_least),
            (tried.carried if self.find_reserve else tried.propellant) / dry,
        )

    def worst(self, x: np.ndarray) -> float:
        """Greatest breach of a condition."""
        equal, at_least, _ = self.conditions(x)
        return max(float(np.max(np.abs(equal))), float(np.max(-at_least)))

    # ── the search ──

    def best(self, start: np.ndarray | None = None) -> tuple[np.ndarray, bool]:
        """Unknowns with the least propellant, and whether every condition is met; from `start`, else from
        nothing."""
        starts = [start] if start is not None else self.starts()
        found: list[tuple[bool, float, np.ndarray]] = []
        for first in starts:
            x = self._polish(first)
            worst = self.worst(x)
            for _ in range(2):
                if not MET <= worst < 0.3:
                    break
                x = self._polish(x)  # a search that ended in a corner goes on from there
                worst = self.worst(x)
            found.append((worst >= MET, worst if worst >= MET else self.conditions(x)[2], x))
            if len(found) > 1 and not min(f[0] for f in found) and len(starts) - len(found) > 0:
                break
        broken, _, x = min(found, key=lambda one: one[:2])
        return x, not broken

    def bounds(self) -> list[tuple[float, float]]:
        """Of the scaled unknowns."""
        return [
            *[(-90.0, 90.0)] * self.turning,
            ((self.ground + 1500.0) / 10e3, 12.0),
            (0.0, 40.0),
            ((self.ground + 1.0) / 1e3, 40.0),
            *[(1e-3, 30.0)] * self.find_reserve,
        ]

    def _polish(self, first: np.ndarray) -> np.ndarray:
        from scipy.optimize import minimize

        scale, bounds = self.scale, self.bounds()
        low, high = (np.array([bound[i] for bound in bounds]) for i in (0, 1))
        slopes: dict[bytes, tuple] = {}

        def slope(s: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
            key = s.tobytes()
            if key not in slopes:
                slopes.clear()
                here = self.conditions(s * scale)
                columns = []
                for i in range(len(s)):
                    step = _DIFFERENCE if s[i] + _DIFFERENCE <= high[i] else -_DIFFERENCE
                    beside = s.copy()
                    beside[i] += step
                    there = self.conditions(beside * scale)
                    columns.append(
                        [(np.asarray(b) - np.asarray(a)) / step for a, b in zip(here, there, strict=True)]
                    )
                slopes[key] = tuple(np.array([c[j] for c in columns]).T for j in range(3))
            return slopes[key]

        settled = {"last": math.inf, "still": 0}

        def watch(s: np.ndarray) -> None:
            score = self.conditions(s * scale)[2]
            quiet = abs(score - settled["last"]) < _SETTLED * abs(score) and self.worst(s * scale) < 0.5 * MET
            settled["still"] = settled["still"] + 1 if quiet else 0
            settled["last"] = score
            if settled["still"] >= 2:
                raise StopIteration

        answer = minimize(
            lambda s: self.conditions(s * scale)[2],
            np.clip(first / scale, low, high),
            jac=lambda s: slope(s)[2],
            bounds=bounds,
            constraints=[
                {"type": "eq", "fun": lambda s: self.conditions(s * scale)[0], "jac": lambda s: slope(s)[0]},
                {
                    "type": "ineq",
                    "fun": lambda s: self.conditions(s * scale)[1],
                    "jac": lambda s: slope(s)[1],
                },
            ],
            method="SLSQP",
            callback=watch,
            options={"maxiter": 80, "ftol": 1e-7},
        )
        return np.clip(answer.x, low, high) * scale

    # ── from nothing ──

    def starts(self) -> list[np.ndarray]:
        """First guesses: the two best of a scan, brought to the ground and to the place."""
        top = self.top()
        scored = []
        for turn in self.turns() if self.turning else [np.zeros(0)]:
            for share in (0.4, 0.7):
                height = self.ground + share * (
                    min(top + 10.0 * float(np.linalg.norm(turn)), 90e3) - self.ground
                )
                for speed in (0.0, 100.0, 500.0, 1000.0, 1600.0):
                    x = np.array([*turn, height, speed, self.ground + 3000.0])
                    if self.find_reserve:
                        spent = float(np.linalg.norm(turn)) + speed + 600.0
                        x = np.append(x, self.released.dry_mass * math.expm1(spent / self.exhaust))
                    x = self.lit_right(x)
                    equal, at_least, score = self.conditions(x)
                    breach = float(np.sum(np.maximum(0.0, -at_least)))
                    far = math.hypot(*self.tried(x).misses) / 1e5
                    scored.append((score * (1.0 + min(breach, 5.0) + far) + 10.0 * (equal[0] < -1.0), x))
        scored.sort(key=lambda one: one[0])
        chosen = [scored[0][1]]
        for _, x in scored[1:]:
            if abs(x[self.turning] - chosen[0][self.turning]) > 5e3 or (
                self.turning and abs(x[2] - chosen[0][2]) > 100.0
            ):
                chosen.append(x)
                break
        return [self.lit_right(self.reached(x)) for x in chosen]

    def lit_right(self, x: np.ndarray) -> np.ndarray:
        """`x` with the landing burn lit about where it stops at the ground (secant on whole flights)."""
        x = x.copy()
        place = self.turning + 2
        last: tuple[float, float] | None = None
        for _ in range(12):
            stop = self.tried(x).stop
            if abs(stop) < 20.0:
                break
            slope = 1.0 if last is None or last[0] == x[place] else (stop - last[1]) / (x[place] - last[0])
            last = (float(x[place]), stop)
            move = -stop / min(max(slope, 0.5), 4.0)
            x[place] = min(max(x[place] + max(-5e3, min(move, 5e3)), self.ground + 1.0), 35e3)
        return x

    def top(self) -> float:
        """Greatest height without a burn [m]."""
        flown = self.flyer.fly([*self.prefix, leg(self.made, Posture.END_ON, at.APEX)], ground=-DEEP)
        return places.over_ground(flown.state, flown.time)[2]

    def turns(self) -> list[np.ndarray]:
        """Speeds north, east, up to begin with: what would carry it to the place without air."""
        assert self.site is not None
        state = np.array(self.released.state)
        here = places.over_ground(state, self.released.time)
        over = places.ground_velocity(state)
        north, east, up = (float(over @ axis) for axis in self.axes)
        there = (self.site.latitude, self.site.longitude)
        far, to = places.distance(here[:2], there), places.bearing(here[:2], there)
        g, made = STANDARD_GRAVITY, []
        for lift in (0.0, 300.0, 700.0):
            rise = up + lift
            aloft = (rise + math.sqrt(rise * rise + 2.0 * g * max(here[2], 100.0))) / g
            made.append(
                np.array([far * math.cos(to) / aloft - north, far * math.sin(to) / aloft - east, lift])
            )
        return made

    def reached(self, x: np.ndarray) -> np.ndarray:
        """`x` with the level part of its turning burn changed so that the place is reached (Newton)."""
        if not self.turning:
            return x
        x = x.copy()
        for _ in range(8):
            here = np.array(self.tried(x).misses)
            if np.linalg.norm(here) < 500.0:
                break
            slope = np.zeros((2, 2))
            for i in range(2):
                beside = x.copy()
                beside[i] += 1.0
                slope[:, i] = np.array(self.tried(beside).misses) - here
            if abs(np.linalg.det(slope)) < 1.0:
                break
            move = -np.linalg.solve(slope, here)
            x[:2] += move * min(1.0, 600.0 / max(float(np.linalg.norm(move)), 1e-9))
        return x

    def settled(self, x: np.ndarray) -> np.ndarray:
        """`x` with the last metres of the ignition height taken out at full accuracy."""
        x = x.copy()
        place = self.turning + 2
        for _ in range(6):
            stop = self.tried(x).stop
            if abs(stop) < 1e-3:
                break
            beside = x.copy()
            beside[place] += 1.0
            slope = self.tried(beside).stop - stop
            x[place] -= stop / min(max(slope, 0.3), 6.0)
        return x

    def with_choice(self, choice: Choice) -> Search:
        """The same search with other engines lit."""
        if choice == self.choice:
            return self
        return Search(
            self.released, self.way, self.made, self.which, choice, self.find_reserve, self.prefix,
            self.prefix_mass,
        )  # fmt: skip

    def with_propellant(self, propellant: float) -> Search:
        """The same search with so much propellant aboard, none of it to be found."""
        there = dataclasses.replace(self.released, propellant=propellant)
        return Search(
            there, self.way, self.made, self.which, self.choice, False, self.prefix, self.prefix_mass
        )
