"""The most a published launcher carries: its best ascent, with the reserve that the one rule asks for."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from vehicles.build import MAIN_STOPS, PAUSE, Kit, earliest, kit
from vehicles.figures import Case, number
from wetmass.closing.measures import measured
from wetmass.concept.measures import Measure
from wetmass.flight import goal
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, Steering, Trial, Unknown
from wetmass.flight.coasting import both_legs, first_leg
from wetmass.flight.optimum import Optimum, best
from wetmass.flight.program import Program
from wetmass.flight.report import recorded
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.flight import Flight
from wetmass.record.mission import Limits, Orbit, Site
from wetmass.record.vehicle import Moment, Vehicle

USUAL_IDEAL = 9500.0  # m/s, to start the reserve from; the flight's own sum replaces it
TRANSFER_APOGEE = 35_786e3  # m: from here an escape is reached by steps of C3
C3_STEP = 8e6  # m²/s²
BOX = 0.3  # of an unknown's scale, to each side of a known optimum
LOW = 180e3  # m: from here a high orbit is reached by steps
HEATING_PLAY = 1.02  # let go at just that heating: so near it nothing is asked


@dataclass
class Restarted(Ascent):
    """An ascent whose last stage loses propellant in its coast and may burn differently the second time."""

    lost: float = 0.0  # kg at the end of the coast, however long it was, beside what boils off
    least_coast: float = 0.0  # s
    again: tuple[float, float] | None = None  # thrust [N] and Isp [s] of the second burn, where they differ

    def _ready(self, steering: list[Unknown]) -> None:
        super()._ready([
            replace(u, low=max(u.low, self.least_coast)) if u.name == "coast" else u for u in steering
        ])  # fmt: skip

    def lay_out(self, x: np.ndarray, vehicle: Vehicle) -> Program:
        laid = super().lay_out(x, vehicle)
        if self.coasting:
            laid.segments[-2, at.DROPPED] += self.lost
            laid.segments[-1, at.END_VALUE] -= self.lost
            if self.again is not None:
                thrust, isp = self.again
                laid.segments[-1, at.THROTTLED_THRUST] = thrust
                flow = thrust / (isp * STANDARD_GRAVITY)
                laid.segments[-1, [at.THROTTLED_FLOW, at.THROTTLED_COUNTED]] = flow
        return laid


@dataclass(frozen=True, slots=True)
class Flown:
    """A case flown."""

    case: Case
    kit: Kit
    ascent: Ascent
    optimum: Optimum
    payload: float  # kg
    ideal: float  # m/s, all burns
    reserve_speed: float  # m/s
    times: Mapping[str, float] = field(default_factory=dict)  # pieces that went by the clock

    @property
    def met(self) -> bool:
        return self.optimum.met

    @property
    def error(self) -> float:
        """Predicted over published, less 1."""
        return self.payload / self.case.published - 1.0

    def recorded(self) -> Flight:
        """The flight written down."""
        return recorded(self.ascent, self.optimum.x)


@dataclass
class Question:
    """How much a case carries, with some figures changed and a reserve rule chosen."""

    case: Case
    fraction: float | None = None  # of the total ideal speed kept; the file's rule where None
    kept: float | None = None  # kg of propellant kept in the last stage instead
    drag: Mapping[str, float] = field(default_factory=lambda: {"typical": 1.0})  # curves and their shares
    steering: Steering = field(default_factory=Steering)
    times: Mapping[str, float] = field(
        default_factory=dict
    )  # pieces let go by the clock instead of by heating

    def __post_init__(self) -> None:
        if self.fraction is None:
            self.fraction = number(self.case.rules["reserve"]["fraction_of_total_ideal_velocity"])
        made = kit(self.case, self.drag)
        pieces = [
            replace(p, moment=Moment.TIME, value=self.times[p.name]) if p.name in self.times else p
            for p in made.bare.let_go
        ]
        self.kit = replace(made, bare=replace(made.bare, let_go=tuple(pieces)))

    def ascent(self, reserve_speed: float) -> Ascent:
        """The ascent with the reserve at `reserve_speed`; unknowns: what may be chosen, then the payload."""
        restarted = two_burns(self.case)
        scale = self.case.published
        names = self.kit.chosen
        made = self.kit

        def build(found) -> Vehicle:
            choice = dict(zip(names, map(float, found), strict=False))
            if self.kept is not None:
                last = made.bare.stages[-1]
                p = last.propellant
                last = replace(last, propellant=replace(p, burns=p.burns - self.kept, reserve=self.kept))
                return replace(made.bare, stages=(*made.bare.stages[:-1], last), payload=float(found[-1]))
            return made.vehicle(float(found[-1]), reserve_speed, choice)

        open_unknowns = [self._chosen(name) for name in names]
        last = made.bare.stages[-1]
        least = -0.6 * (
            last.dry_mass + last.propellant.residuals
        )  # a flight short of the orbit has a mass, too
        open_unknowns.append(Unknown("payload", 0.3 * scale, least, 10.0 * scale, scale))
        extra = _spent_in_coast(self.case, last.propellant.load) if restarted else {}
        if restarted and "c3_km2_s2" in self.case.mission["orbit"]:
            extra["least_coast"] = number(self.case.rules["coast_before_escape"]["seconds"])
        return Restarted(
            site=_site(self.case), orbit=_orbit(self.case), limits=_limits(self.case), steering=self.steering,
            build=build, open_unknowns=tuple(open_unknowns), conditions=_conditions(self.case),
            score=lambda vehicle, trial: -vehicle.payload / scale, coasting=restarted, **extra,
        )  # fmt: skip

    def _chosen(self, name: str) -> Unknown:
        if name == PAUSE:
            climb = 0.4 * self.case.mission["orbit"]["apogee_km"]  # s, at some 2.5 km/s upwards
            return Unknown(PAUSE, 100.0, 1.0, 1500.0, climb)
        last = self.kit.bare.stages[-1]
        full = last.propellant.burns / last.flow
        assert name == MAIN_STOPS
        return Unknown(MAIN_STOPS, 0.1 * full, 0.3 * full, 0.999 * full, 0.9 * full)


def most(
    question: Question, start: np.ndarray | None = None, speed: float | None = None, *, rounds: int = 6
) -> Flown:
    """The most payload; the reserve's speed is brought to the flight's own ideal sum by repetition.

    start   unknowns to search from; from nothing where None    speed  reserve to begin with [m/s]
    rounds  repetitions at most; 1 leaves the reserve at `speed`
    """
    assert question.fraction is not None
    speed = question.fraction * USUAL_IDEAL if speed is None else speed
    for _ in range(rounds):
        ascent = question.ascent(speed)
        optimum = _near(ascent, start) if start is not None else _from_nothing(ascent)
        vehicle = ascent.build(ascent.open_values(optimum.x))
        ideal = _ideal(vehicle, optimum.trial)
        before, speed = speed, question.fraction * ideal
        if not optimum.met or not math.isfinite(speed):
            break
        start = optimum.x
        if abs(speed - before) < 0.05 or question.kept is not None:
            break
    flown = Flown(
        question.case, question.kit, ascent, optimum, vehicle.payload, ideal, before, question.times
    )
    return _not_too_early(question, flown)


def _ideal(vehicle: Vehicle, trial: Trial) -> float:
    """Ideal speed of all burns [m/s]: integrated where engines burn side by side, else from the masses."""
    if not trial.laid.plain:
        return float(trial.state[at.IDEAL])
    return measured(Measure.IDEAL_DELTA_V, None, vehicle, trial)


def _not_too_early(question: Question, flown: Flown) -> Flown:
    """A piece that would go before the file allows goes by the clock instead."""
    if not flown.met:
        return flown
    late = {}
    for name, since in earliest(question.case).items():
        if name in question.times:
            continue
        index = next(i for i, p in enumerate(question.kit.bare.let_go) if p.name == name)
        piece = question.kit.bare.let_go[index]
        laid = flown.optimum.trial.laid
        gone = flown.optimum.trial.marks[len(laid.segments) + index, 0]
        first = laid.stage_of.index(piece.stage)
        begins = 0.0 if first == 0 else flown.optimum.trial.marks[first - 1, 0]
        if gone < begins + since:
            late[name] = since
    if not late:
        return flown
    again = replace(question, times={**question.times, **late})
    return most(again, flown.optimum.x, flown.reserve_speed)


def _from_nothing(ascent: Ascent) -> Optimum:
    """The optimum without any start; where the orbit is not found at once, by way of easier ones."""
    if not ascent.coasting:
        found = best(ascent)
        return found if found.met else _by_steps(ascent)
    ellipse = replace(ascent, orbit=_easy(ascent.orbit))
    leg = replace(first_leg(ellipse), conditions=_nothing_more)
    found = _surely(ellipse, both_legs(ellipse, _from_nothing(leg).x))
    wanted = goal.energy(ascent.orbit)
    c3 = goal.energy(ellipse.orbit)  # from that transfer ellipse on, faster and faster
    while c3 < wanted:
        c3 = min(wanted, c3 + C3_STEP)
        found = _surely(replace(ascent, orbit=_faster(ascent.orbit, c3)), found.x)
    return found


def _surely(ascent: Ascent, x: np.ndarray) -> Optimum:
    """The optimum from `x`, by small steps first; freely where those do not get there."""
    found = _near(ascent, x)
    return found if found.met else best(ascent, x)


def _near(ascent: Ascent, x: np.ndarray) -> Optimum:
    """The optimum near `x`: searched for in a box around it, which moves along while it is in the way."""
    whole = ascent.unknowns
    x = np.clip(x, [u.low for u in whole], [u.high for u in whole])
    for _ in range(8):
        ascent.unknowns = tuple(
            replace(u, low=max(u.low, float(v) - BOX * u.scale), high=min(u.high, float(v) + BOX * u.scale))
            for u, v in zip(whole, x, strict=True)
        )
        found = best(ascent, x)
        edge = any(
            min(abs(v - u.low), abs(u.high - v)) < 1e-6 * u.scale
            and min(v - w.low, w.high - v) > 1e-6 * u.scale
            for u, w, v in zip(ascent.unknowns, whole, found.x, strict=True)
        )
        ascent.unknowns = whole
        if not edge:
            break
        x = found.x
    return found


def _by_steps(ascent: Ascent) -> Optimum:
    """From a low orbit upwards, each the start of the next; a lighter payload first where that fails too."""
    low = replace(ascent.orbit, perigee=min(ascent.orbit.perigee, LOW), apogee=min(ascent.orbit.apogee, LOW))
    for share in (1.0, 0.5, 0.2, 0.05):
        found = best(replace(ascent, orbit=low, open_unknowns=_lighter(ascent, share), place=""))
        if found.met:
            break
    for part in (0.2, 0.4, 0.6, 0.8, 1.0):
        orbit = replace(
            ascent.orbit,
            perigee=low.perigee + part * (ascent.orbit.perigee - low.perigee),
            apogee=low.apogee + part * (ascent.orbit.apogee - low.apogee),
        )
        found = best(replace(ascent, orbit=orbit, place=""), found.x)
    return found


def _lighter(ascent: Ascent, share: float) -> tuple[Unknown, ...]:
    *others, payload = ascent.open_unknowns
    return (*others, replace(payload, start=share * payload.start))


def _nothing_more(vehicle: Vehicle, trial: Trial) -> tuple[list[float], list[float]]:
    return [], []


def _easy(orbit: Orbit) -> Orbit:
    """The same plane and parking circle, with an ellipse no further out than a transfer orbit's."""
    if orbit.c3 is None:
        return replace(orbit, apogee=min(orbit.apogee, TRANSFER_APOGEE))
    return replace(orbit, apogee=TRANSFER_APOGEE, c3=None)


def _faster(orbit: Orbit, c3: float) -> Orbit:
    return orbit if c3 == goal.energy(orbit) else replace(orbit, c3=c3)


def _spent_in_coast(case: Case, load: float) -> dict:
    """What `Restarted` takes off in the coast: as flown, or by the rule for hydrogen stages."""
    last = case.vehicle["stages"][-1]
    if case.vehicle["id"] == "saturn_v":
        again = last["burns"][1]
        return {
            "lost": number(last["coast_loss_kg"]),
            "again": (1e3 * again["thrust_vac_kN"], float(again["isp_vac_s"])),
        }
    if last["propellants"] != "LOX/LH2":
        return {}
    return {"lost": number(case.rules["hydrogen"]["start_fraction"]) * load}


# ── the mission ──────────────────────────────────────────────────────────────────────────────────


def two_burns(case: Case) -> bool:
    """Whether the last stage burns twice: where it can, and the orbit is not a low one reached at once."""
    orbit = case.mission["orbit"]
    last = case.vehicle["stages"][-1]
    if case.vehicle["id"] == "saturn_v":
        return "c3_km2_s2" in orbit
    if last.get("burns") != "at most 2":
        return False
    return "c3_km2_s2" in orbit or orbit["apogee_km"] > 400


def _site(case: Case) -> Site:
    site = {**case.vehicle["site"], **case.mission.get("site", {})}
    return Site(
        math.radians(site["latitude_deg"]),
        math.radians(site["longitude_deg"]),
        float(site.get("height_m", 0.0)),
    )


def _orbit(case: Case) -> Orbit:
    orbit = case.mission["orbit"]
    inclination = math.radians(orbit["inclination_deg"])
    if "c3_km2_s2" in orbit:
        low = orbit.get("parking_km") or 0.5 * (orbit["parking_perigee_km"] + orbit["parking_apogee_km"])
        going, c3 = orbit.get("going", ""), 1e6 * orbit["c3_km2_s2"]
        return Orbit(1e3 * low, math.inf, inclination, going, c3=c3, parking=1e3 * low)
    going = "south" if inclination > math.radians(89.0) and case.vehicle["id"] != "vega" else ""
    at_equator = orbit.get("argument_of_perigee_deg") == 180
    return Orbit(
        1e3 * orbit["perigee_km"], 1e3 * orbit["apogee_km"], inclination, going, perigee_at_equator=at_equator
    )


def _limits(case: Case) -> Limits:
    """Felt acceleration where one is known, and no more heating than lets a fairing go once it is gone."""
    limit = math.inf
    for entry in case.vehicle["stages"]:
        stated = (entry.get("reach_limits") or {}).get("felt_acceleration_g")
        if stated is not None:
            limit = min(limit, number(stated) * STANDARD_GRAVITY)
    bare = number(case.rules["fairing_release"]["heat_flux_W_m2"])
    return Limits(acceleration=limit, heating=HEATING_PLAY * bare)


def _conditions(case: Case) -> Callable[[Vehicle, Trial], tuple[list[float], list[float]]]:
    orbit = case.mission["orbit"]

    def conditions(vehicle: Vehicle, trial: Trial) -> tuple[list[float], list[float]]:
        if "parking_inclination_deg" not in orbit:
            return [], []
        parked = trial.marks[len(trial.laid.segments) - 3, 1:]
        if not np.any(parked[:3]):  # the flight ended before: nothing was written here
            return [1e3], []
        wanted = math.cos(math.radians(orbit["parking_inclination_deg"]))
        return [100.0 * (goal.cosine_of_inclination(parked) - wanted)], []

    return conditions
