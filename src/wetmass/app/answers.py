"""What comes of a concept, for the page: numbers in people's units, tables, pictures, markup of the lesson's."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from wetmass.app.saying import say, seconds, state
from wetmass.findings.claims import compare
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.closed import Closed, Found
from wetmass.record.digits import adding_up, fixed
from wetmass.record.finding import Weight
from wetmass.record.say import NO_BREAK, duration, sentence

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


# m/s that a search leaves open where the best is flat: no change is told within it
_FLAT = 1.0
_FLATTER = 5.0


def numbers(concept: Concept, closed: Closed) -> list[dict[str, Any]]:
    """The numbers that stay in sight: key, label, SI value and unit.

    `more` tells which way is better (1, −1, 0 neither), `noise` how small a change is none.
    """
    vehicle, flight = closed.vehicle, closed.flight
    listed = [("payload", "payload", closed.payload, "kg", 1, 0.0)]
    if closed.payload_asked is not None and closed.most_payload is not None:
        listed.append(("most payload", "it could carry", closed.most_payload, "kg", 1, 0.0))
    weight = vehicle.lift_off_mass * STANDARD_GRAVITY
    listed.append(("lift-off mass", "mass at lift-off", vehicle.lift_off_mass, "kg", -1, 0.0))
    if weight > 0.0:
        ratio = vehicle.lift_off_thrust(SEA_LEVEL_PRESSURE) / weight
        listed.append(("thrust to weight", "thrust to weight", ratio, "", 0, 0.0))
    if flight is not None:
        loss, share = flight.losses, flight.stages[0]
        listed.append(("ideal", "ideal speed gain", loss.ideal, "m/s", 0, _FLAT))
        listed.append(("lost", "lost on the way", loss.ideal - loss.air_speed_gained, "m/s", -1, _FLAT))
        listed.append(("burnout", f"{share.name} burns out at", share.burnout_air_speed, "m/s", 0, _FLATTER))
    return [
        {"key": key, "label": label, "value": value, "unit": unit, "more": better, "noise": noise}
        for key, label, value, unit, better, noise in listed
        if math.isfinite(value)
    ]


def verdict(concept: Concept, closed: Closed, system: str) -> str:
    """The answer in a sentence."""
    name, reached = closed.name, _where_to(concept, closed, system)
    payload = say(closed.payload, "kg", system)
    if closed.short_by > 0.0:
        lacks = say(closed.short_by, "m/s", system, 3)
        most = closed.most_payload
        would = f", and would carry {say(most, 'kg', system)}" if most and 0.0 < most < closed.payload else ""
        return f"{name} does not reach {reached} with {payload}: it is {lacks} short{would}."
    if not closed.closes:
        return f"{name} does not close: {(closed.reason or 'no values meet all that is asked').rstrip('.')}."
    verb = "lifts" if concept.mission.climbs else "carries"
    text = f"{name} {verb} {payload} {'to' if concept.mission.climbs else 'into'} {reached}"
    if closed.flight is not None:
        text += f", {duration(closed.flight.duration)} after lift-off"
    unmet = [one.what for one in closed.held if not one.met]
    return f"{text}." + (f" Not kept: {', '.join(unmet)}." if unmet else "")


def _where_to(concept: Concept, closed: Closed, system: str) -> str:
    mission = concept.mission
    if mission.climbs:
        return f"a height of {say(mission.height.value, 'm', system)}"
    if mission.leaves:
        words = mission.way_out()
    else:
        low, high = (say(one.value, "m", system) for one in (mission.perigee, mission.apogee))
        words = f"an orbit {low} high" if low == high else f"an orbit from {low} to {high} high"
    inclination = mission.inclination.value if mission.inclination is not None else None
    if inclination is None and closed.flight is not None:
        inclination = closed.flight.orbit.inclination
    return words + (f", inclined {say(inclination, 'rad', system)}" if inclination is not None else "")


def brief(concept: Concept, closed: Closed, system: str, kept: Mapping[str, float]) -> dict[str, Any]:
    """What a quick answer tells; `kept` is what stages keep to come home, by path [kg]."""
    return {
        "closes": closed.closes,
        "verdict": verdict(concept, closed, system),
        "numbers": numbers(concept, closed),
        "found": [
            *(_found(concept, one, system) for one in closed.found),
            *(_found(concept, Found(path, value, "kg"), system) for path, value in kept.items()),
        ],
        "held": [_held(one, system) for one in closed.held],
        "claims": [_claim(one) for one in compare(concept, closed)],
    }


def _found(concept: Concept, one: Any, system: str) -> dict[str, Any]:
    """A value that was open: where it stands in the file, as steps of a path, and what it is."""
    steps: list[Any] = list(one.where.split("/"))
    if steps[0] == "stages":
        names = [stage.name for stage in concept.stages]
        steps[1] = names.index(steps[1])
        if len(steps) > 3 and steps[2] == "engines":
            steps[3] = int(steps[3]) - 1
    value = one.value if math.isfinite(one.value) else None
    text = (
        say(one.value, one.unit, system) if one.unit else fixed(one.value, 0 if steps[-1] == "count" else 3)
    )
    return {"path": steps, "text": text, "value": value, "unit": one.unit, "bound": one.bound}


def _held(one: Any, system: str) -> dict[str, Any]:
    unit = "" if one.unit == "1" else one.unit
    return {
        "what": one.what, "relation": one.relation, "asked": say(one.asked, unit, system),
        "got": say(one.got, unit, system), "outcome": "broken" if not one.met else "binds" if one.active else "kept",
    }  # fmt: skip


def _claim(one: Any) -> dict[str, Any]:
    off = one.off
    return {
        "name": one.name, "claimed": one.claimed_text, "found": one.found_text if one.found is not None else "",
        "agrees": one.agrees, "off": None if off is None else f"{fixed(100.0 * off, 1)}{NO_BREAK}%",
    }  # fmt: skip


def spread(closed: Closed, system: str) -> dict[str, Any] | None:
    """How far the answer may be off by the guesses of the file, and which of them matters most."""
    one = closed.spread
    if one is None or not math.isfinite(one.sigma):
        return None
    return {
        "key": {"payload": "payload", "lift-off mass": "lift-off mass"}.get(one.aim, one.aim),
        "text": f"± {say(2.0 * one.sigma, 'kg', system, 2)}",
        "parts": [[each.where, each.stated, say(abs(each.effect), "kg", system, 2)] for each in one.parts],
    }


def tables(closed: Closed, system: str) -> dict[str, Any]:
    """Masses, timeline, losses and findings, ready to be laid out."""
    return {
        "masses": _masses(closed, system),
        "events": _events(closed, system),
        "findings": [
            {
                "rule": one.rule, "weight": one.weight.value, "part": one.part, "got": one.got,
                "accepted": one.accepted, "remedy": one.remedy, "source": one.source,
            }
            for one in closed.findings
            if one.weight is not Weight.CAUTION
        ],
        "cautions": [
            f"{sentence(one.got)} {sentence(one.remedy)}" for one in closed.findings if one.weight is Weight.CAUTION
        ],
        "steering": closed.flight.steering.law if closed.flight is not None else "",
    }  # fmt: skip


def _masses(closed: Closed, system: str) -> list[list[str]]:
    listed = closed.vehicle.mass_table()
    if not all(math.isfinite(item.mass) for item in listed):
        return []
    whole = sum(item.mass for item in listed)
    rounded = adding_up([item.mass for item in listed])
    rows = [
        [
            item.part,
            item.item,
            say(mass, "kg", system, exact=True),
            f"{fixed(100.0 * item.mass / whole, 1)} %",
        ]
        for item, mass in zip(listed, rounded, strict=True)
    ]
    return [*rows, ["", "on the pad", say(sum(rounded), "kg", system, exact=True), "100.0 %"]]


def _events(closed: Closed, system: str) -> list[list[str]]:
    if closed.flight is None:
        return []
    return [
        [str(number), one.what, seconds(one), *state(one, system)]
        for number, one in enumerate(closed.flight.events, 1)
    ]
