"""What can be required, made best or claimed: the measures of a vehicle and of its stages."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from wetmass.concept import dimensions as d
from wetmass.concept.dimensions import Dimension, dimension_name, example, usual_units
from wetmass.concept.quantity import Quantity
from wetmass.concept.statement import parse_quantity
from wetmass.concept.wording import WrongKey, nearest, wrong
from wetmass.record.refusal import Complaint, Refusal


class Measure(StrEnum):
    """A named number of the vehicle, or of one stage (then its name stands before it)."""

    LIFT_OFF_THRUST_TO_WEIGHT = "lift-off thrust to weight"
    LIFT_OFF_MASS = "lift-off mass"
    IDEAL_DELTA_V = "ideal delta-v"
    PAYLOAD = "payload"
    PAYLOAD_FRACTION = "payload fraction"
    TIME_TO_ORBIT = "time to orbit"
    GRAVITY_LOSS = "gravity loss"
    DRAG_LOSS = "drag loss"
    STEERING_LOSS = "steering loss"
    GREATEST_DYNAMIC_PRESSURE = "greatest dynamic pressure"
    GREATEST_FELT_ACCELERATION = "greatest felt acceleration"
    THRUST_TO_WEIGHT = "thrust to weight"
    BURN_OUT_SPEED = "burn-out speed"
    BURN_OUT_HEIGHT = "burn-out height"
    BURN_TIME = "burn time"
    DELTA_V = "delta-v"
    DRY_MASS = "dry mass"
    PROPELLANT_MASS = "propellant mass"
    STRUCTURAL_FRACTION = "structural fraction"
    MASS_RATIO = "mass ratio"


class Relation(StrEnum):
    """How a requirement binds."""

    EXACTLY = "exactly"
    AT_LEAST = "at least"
    AT_MOST = "at most"


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a measure measures, of what, whether it can be required, and in words."""

    dimension: Dimension
    of_stage: bool
    required: bool
    words: str


MEASURES: dict[Measure, Meaning] = {
    Measure.LIFT_OFF_THRUST_TO_WEIGHT: Meaning(
        d.NUMBER, False, True, "thrust at sea level over weight at lift-off"
    ),
    Measure.LIFT_OFF_MASS: Meaning(
        d.MASS, False, True, "everything that leaves the ground, payload included"
    ),
    Measure.IDEAL_DELTA_V: Meaning(d.SPEED, False, True, "rocket equation summed over the stages, in vacuum"),
    Measure.PAYLOAD: Meaning(d.MASS, False, True, "mass delivered to the orbit"),
    Measure.PAYLOAD_FRACTION: Meaning(d.NUMBER, False, True, "payload over lift-off mass"),
    Measure.TIME_TO_ORBIT: Meaning(d.TIME, False, False, "from lift-off to the last cut-off"),
    Measure.GRAVITY_LOSS: Meaning(d.SPEED, False, False, "speed lost to gravity on the way up"),
    Measure.DRAG_LOSS: Meaning(d.SPEED, False, False, "speed lost to drag on the way up"),
    Measure.STEERING_LOSS: Meaning(d.SPEED, False, False, "speed lost by thrust across the path"),
    Measure.GREATEST_DYNAMIC_PRESSURE: Meaning(d.PRESSURE, False, False, "largest ½ρv² of the ascent"),
    Measure.GREATEST_FELT_ACCELERATION: Meaning(
        d.ACCELERATION, False, False, "largest thrust less drag over mass"
    ),
    Measure.THRUST_TO_WEIGHT: Meaning(
        d.NUMBER, True, True, "thrust over weight when the stage is lit, weight at g₀"
    ),
    Measure.BURN_OUT_SPEED: Meaning(
        d.SPEED, True, True, "speed over the rotating Earth when the stage burns out"
    ),
    Measure.BURN_OUT_HEIGHT: Meaning(d.LENGTH, True, False, "height when the stage burns out"),
    Measure.BURN_TIME: Meaning(d.TIME, True, True, "from ignition to cut-off"),
    Measure.DELTA_V: Meaning(d.SPEED, True, True, "ideal speed gain of the stage in vacuum"),
    Measure.DRY_MASS: Meaning(d.MASS, True, True, "the stage without its propellant"),
    Measure.PROPELLANT_MASS: Meaning(d.MASS, True, True, "propellant loaded"),
    Measure.STRUCTURAL_FRACTION: Meaning(
        d.NUMBER, True, True, "dry mass over dry mass and propellant of the stage"
    ),
    Measure.MASS_RATIO: Meaning(
        d.NUMBER, True, True, "mass at ignition over mass at burn-out, with all above"
    ),
}


@dataclass(frozen=True, slots=True)
class Requirement:
    """One requirement: a measure, of which stage ("" for the vehicle), how it binds, and the bound."""

    measure: Measure
    stage: str
    relation: Relation
    quantity: Quantity
    name: str  # as typed

    def __str__(self) -> str:
        return f"{self.name}: {self.relation} {self.quantity}"


@dataclass(frozen=True, slots=True)
class Objective:
    """What is made best of the freedom left."""

    sense: str  # "most" or "least"
    measure: Measure

    def __str__(self) -> str:
        return f"{self.sense} {self.measure}"


@dataclass(frozen=True, slots=True)
class Claim:
    """A number someone states, to be checked against the result."""

    measure: Measure
    stage: str
    quantity: Quantity
    name: str  # as typed

    def __str__(self) -> str:
        return f"{self.name}: {self.quantity}"


OBJECTIVES = (Objective("most", Measure.PAYLOAD), Objective("least", Measure.LIFT_OFF_MASS))

_STATEMENT = re.compile(r"(at least|at most|exactly)\s+(.+)", re.DOTALL)


def read_requirement(name: str, text: object, stages: Sequence[str]) -> Requirement | Objective:
    """One entry of `require`.  Raises Refusal (WrongKey where the name is at fault)."""
    if name in ("most", "least"):
        return _objective(name, text)
    measure, stage = named(name, stages)
    if not MEASURES[measure].required:
        can = ", ".join(known for known, meaning in MEASURES.items() if meaning.required)
        raise WrongKey(
            Complaint(name, f'"{name}"', f"what a requirement can bind: {can}", _use_limits(measure))
        )
    if not isinstance(text, str):
        raise wrong(text, _accepted(measure), _say(measure), name)
    match = _STATEMENT.fullmatch(text.strip())
    if match is None:
        raise wrong(text, _accepted(measure), _say(measure), name)
    quantity = parse_quantity(match[2], MEASURES[measure].dimension, name, spread=False)
    _sensible(measure, quantity, name)
    return Requirement(measure, stage, Relation(match[1]), quantity, name)


def read_claim(name: str, text: object, stages: Sequence[str]) -> Claim:
    """One entry of `claims`.  Raises Refusal (WrongKey where the name is at fault)."""
    measure, stage = named(name, stages)
    kind = MEASURES[measure].dimension
    if not isinstance(text, str):
        raise wrong(
            text, f"{dimension_name(kind)} ({usual_units(kind)})", f'give it as in "{example(kind)}"', name
        )
    return Claim(measure, stage, parse_quantity(text, kind, name), name)


def named(name: str, stages: Sequence[str]) -> tuple[Measure, str]:
    """The measure a name means, and its stage ("" for the vehicle).

    >>> named("first-stage burnout speed", ["first", "second"])
    (<Measure.BURN_OUT_SPEED: 'burn-out speed'>, 'first')
    """
    plain = _plain(name)
    for measure, meaning in MEASURES.items():
        if not meaning.of_stage and plain == _plain(measure):
            return measure, ""
    of_stage = {_plain(measure): measure for measure, meaning in MEASURES.items() if meaning.of_stage}
    by_length = sorted(stages, key=len, reverse=True)
    for stage in by_length:
        start = _plain(stage) + " "
        if plain.startswith(start) and plain[len(start) :] in of_stage:
            return of_stage[plain[len(start) :]], stage
    ending = next((measure for word, measure in of_stage.items() if plain.endswith(" " + word)), None)
    if ending is not None and not stages:
        return ending, plain[: -len(_plain(ending))].strip()  # the stages have errors of their own
    known = [str(measure) for measure, meaning in MEASURES.items() if not meaning.of_stage]
    known += [f"{stage} {measure}" for stage in stages for measure in of_stage.values()]
    near = nearest(name, known)
    accepted = (
        f"a measure of the vehicle ({', '.join(known[: len(MEASURES) - len(of_stage)])}) "
        f"or of a stage, its name before it ({', '.join(of_stage.values())})"
    )
    if plain in of_stage and stages:
        near = f"{stages[0]} {of_stage[plain]}"
        accepted = "the name of a stage before its measure"
    elif near and plain[-4:] == _plain(near)[-4:] and ending is not None:
        accepted = f"a stage of this file before the measure: {', '.join(stages)}"
    elif near:
        accepted = "a measure of the vehicle, or of a stage with its name before it (docs/concept-file.md)"
    advice = f'write "{near}", if that is meant' if near else "write one of these"
    raise WrongKey(Complaint(name, f'"{name}"', accepted, advice))


def _plain(name: str) -> str:
    words = re.sub(r"[\s_\-]+", " ", name.casefold()).strip()
    words = words.replace("liftoff", "lift off").replace("burnout", "burn out").replace("delta v", "delta-v")
    words = words.replace("thrust to weight ratio", "thrust to weight").replace("δv", "delta-v")
    return re.sub(r" stage(?= |$)", "", words)


def _objective(sense: str, text: object) -> Objective:
    for objective in OBJECTIVES:
        if isinstance(text, str) and sense == objective.sense and _plain(text) == _plain(objective.measure):
            return objective
    accepted = " or ".join(f"{{{one.sense}: {one.measure}}}" for one in OBJECTIVES)
    raise wrong(text, f"an objective: {accepted}", "write one of these", sense)


def _accepted(measure: Measure) -> str:
    kind = MEASURES[measure].dimension
    return f'"at least", "at most" or "exactly", then {dimension_name(kind)} ({usual_units(kind)})'


def _say(measure: Measure) -> str:
    return f'say how it binds, such as "at least {example(MEASURES[measure].dimension)}"'


def _use_limits(measure: Measure) -> str:
    if measure in (Measure.GREATEST_DYNAMIC_PRESSURE, Measure.GREATEST_FELT_ACCELERATION):
        return "put it under limits, as dynamic pressure or felt acceleration"
    return "state it under claims to have it checked"


def _sensible(measure: Measure, quantity: Quantity, name: str) -> None:
    kind = MEASURES[measure].dimension
    if not quantity.value > 0.0:
        raise wrong(quantity.text, f"{dimension_name(kind)} above zero", "check the number", name)
    fractions = (Measure.PAYLOAD_FRACTION, Measure.STRUCTURAL_FRACTION)
    if measure in fractions and not quantity.value < 1.0:
        raise wrong(quantity.text, "a fraction between 0 and 1", 'write it as "0.08" or "8 %"', name)
    if measure is Measure.MASS_RATIO and not quantity.value > 1.0:
        raise wrong(
            quantity.text, "a mass ratio above 1, ignition over burn-out", "turn the ratio round", name
        )


__all__ = [
    "MEASURES",
    "OBJECTIVES",
    "Claim",
    "Meaning",
    "Measure",
    "Objective",
    "Refusal",
    "Relation",
    "Requirement",
    "named",
    "read_claim",
    "read_requirement",
]  # fmt: skip
