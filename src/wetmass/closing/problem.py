"""A concept's open values, requirements and objective as unknowns, conditions and score of an ascent."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from wetmass.closing.guess import Guess
from wetmass.closing.measures import measured
from wetmass.concept.measures import Measure, Objective, Relation, Requirement
from wetmass.concept.model import Concept, Open
from wetmass.flight.ascent import Ascent, Steering, Trial, Unknown
from wetmass.record.mission import Climb, Limits, Orbit, Site
from wetmass.record.vehicle import Vehicle
from wetmass.vehicle import Assembly

USED = "share of the last stage's propellant used"  # the unknown when nothing else can give way
MOST_PAYLOAD = Objective("most", Measure.PAYLOAD)
_FLOWN = (Measure.BURN_OUT_SPEED, Measure.BURN_TIME, Measure.IDEAL_DELTA_V, Measure.DELTA_V)
LEAST_MASS = Objective("least", Measure.LIFT_OFF_MASS)


@dataclass(frozen=True, slots=True)
class Problem:
    """What is to be found, held and made best; `fixed` are open values held at a number for now."""

    concept: Concept
    assembly: Assembly
    site: Site
    orbit: Orbit | Climb
    limits: Limits
    guess: Guess
    freedoms: tuple[Open, ...]  # found together with the steering
    fixed: Mapping[str, float]
    objective: Objective | None  # None: use as little of the last stage's propellant as will do

    @property
    def uses_share(self) -> bool:
        """Whether the share of the last stage's propellant is itself an unknown: on a climb it always is."""
        return isinstance(self.orbit, Climb) or not self.gives

    @property
    def gives(self) -> bool:
        """Whether the payload or a propellant is open, so that it can give way to what is asked."""
        return any(f.what in ("payload", "propellant mass") for f in self.freedoms)

    def unknowns(self) -> tuple[Unknown, ...]:
        """The open values as unknowns; the one that gives way to reach the orbit comes last."""
        made = [self._unknown(f) for f in sorted(self.freedoms, key=_gives_way)]
        if self.uses_share:
            low, high = (0.02, 1.0) if self.gives else (0.2, 4.0)
            if isinstance(self.orbit, Climb):
                low = 0.02
            made.append(Unknown(USED, 0.05, low, high, 0.98 if self.gives else 1.0))
        return tuple(made)

    def with_engines(self, numbers: Mapping[str, float]) -> Problem:
        """The problem with so many engines of each group whose count is open, by path."""
        rest = tuple(f for f in self.freedoms if f.path not in numbers)
        fixed = {**self.fixed, **{path: float(number) for path, number in numbers.items()}}
        whole = replace(self, freedoms=rest, fixed=fixed)
        return whole if whole.gives else replace(whole, objective=None)

    def _unknown(self, freedom: Open) -> Unknown:
        start = self.guess.values[freedom.path]
        low, high = freedom.find.low, freedom.find.high
        if freedom.what == "payload":
            # below zero says by how much the orbit is missed; not so far that nothing of the last stage is left
            last = self.assembly.vehicle({**self.guess.values, **self.fixed}).stages[-1]
            least = -min(3.0 * start, 0.8 * last.dry_mass) if low is None else low
            return Unknown(freedom.path, 0.3 * start, least, high or 30.0 * start, start)
        if freedom.what == "engine count":
            return Unknown(freedom.path, 0.2 * start, low or 1.0, high or 60.0, start)
        return Unknown(freedom.path, 0.2 * start, low or 0.02 * start, high or 40.0 * start, start)

    def values(self, found: Sequence[float]) -> dict[str, float]:
        """Every open value by path, from the unknowns in order."""
        names = [u.name for u in self.unknowns()]
        return {**self.fixed, **{name: float(v) for name, v in zip(names, found, strict=True)}}

    def vehicle(self, values: Mapping[str, float]) -> Vehicle:
        """The vehicle; a share used below 1 leaves propellant aboard, above 1 shows what lacks."""
        vehicle = self.assembly.vehicle(values)
        share = values.get(USED, 1.0)
        return vehicle if share == 1.0 else with_share(vehicle, share)

    def requirements(self) -> list[tuple[Requirement, int | str | None]]:
        """Each requirement with the position of its stage, or the name of its strap-ons."""
        names = [stage.name for stage in self.assembly.core]
        return [
            (r, None if not r.stage else names.index(r.stage) if r.stage in names else r.stage)
            for r in self.concept.requirements
        ]

    def decided(self, requirement: Requirement) -> bool:
        """Whether nothing that is open can change what the requirement binds: a check, not a condition."""
        return not self.freedoms and requirement.measure not in _FLOWN

    def ascent(self, steering: Steering, coasting: bool) -> Ascent:
        """The ascent to optimise."""
        unknowns = self.unknowns()
        names = [u.name for u in unknowns]
        required = [pair for pair in self.requirements() if not self.decided(pair[0])]
        mass_scale = self.assembly.vehicle({**self.fixed, **self.guess.values}).lift_off_mass
        payload_scale = max(self.guess.values.get("payload", 0.0), 1e-3 * mass_scale)

        def build(found: Sequence[float]) -> Vehicle:
            return self.vehicle({**self.fixed, **dict(zip(names, map(float, found), strict=True))})

        def conditions(vehicle: Vehicle, trial: Trial) -> tuple[list[float], list[float]]:
            equal, at_least = [], []
            for requirement, stage in required:
                off = measured(requirement.measure, stage, vehicle, trial) / requirement.quantity.value - 1.0
                if requirement.relation is Relation.EXACTLY:
                    equal.append(10.0 * off)
                else:
                    at_least.append(10.0 * (off if requirement.relation is Relation.AT_LEAST else -off))
            return equal, at_least

        def score(vehicle: Vehicle, trial: Trial) -> float:
            if self.objective == MOST_PAYLOAD:
                return -vehicle.payload / payload_scale
            if self.objective == LEAST_MASS:
                return vehicle.lift_off_mass / mass_scale
            last = vehicle.stages[-1].propellant
            return last.burns / (last.burns + last.reserve)

        return Ascent(
            self.site, self.orbit, self.limits, steering, build, unknowns, conditions, score, coasting
        )


def with_share(vehicle: Vehicle, share: float) -> Vehicle:
    """The vehicle that burns only `share` of its last stage's propellant; what is left stays aboard."""
    last = vehicle.stages[-1]
    p = last.propellant
    kept = replace(p, burns=share * p.burns, reserve=p.reserve + (1.0 - share) * p.burns)
    return replace(vehicle, stages=(*vehicle.stages[:-1], replace(last, propellant=kept)))


def _gives_way(freedom: Open) -> tuple[int, int]:
    """Sorting key: the payload, else the last stage's propellant, reaches the orbit and comes last."""
    rank = {"engine count": 0, "engine scale": 1, "propellant mass": 2, "payload": 3}[freedom.what]
    return rank, freedom.stage or 0
