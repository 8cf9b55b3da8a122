"""How far the predicted payload may be off by the spread of what is published."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from vehicles.figures import TOGETHER, Case, number, uncertain
from vehicles.flying import Flown, Question, most
from wetmass.closing.prices import Prices, change_of_score, prices

SMALL = 0.005  # of the payload: below this the first order is as good as a search
PART = 1e-4  # of the way to an end, for first-order effects
ABSURD = 0.6  # of the payload: no single input of these does that; such a difference is of another flight
STRAYED = 0.5  # of the first-order effect: further off than this is another ascent, or none


@dataclass(frozen=True, slots=True)
class Effect:
    """One input put to its ends, everything else at its best value, steering made best again."""

    what: str
    low: float  # kg of payload more or less at the low end
    high: float  # and at the high end


@dataclass(frozen=True, slots=True)
class Band:
    """Payload changes by input, and their root-sum-squares upwards and downwards [kg]."""

    effects: tuple[Effect, ...]
    first_order: tuple[str, ...]  # inputs whose effect is to first order only: the new search strayed
    unbalanced: float  # of the optimum's slopes: far below 1 where it is one

    @property
    def up(self) -> float:
        return math.sqrt(sum(max(e.low, e.high, 0.0) ** 2 for e in self.effects))

    @property
    def down(self) -> float:
        return math.sqrt(sum(min(e.low, e.high, 0.0) ** 2 for e in self.effects))

    def covers(self, flown: Flown) -> bool:
        """Whether the published payload, or one of its rivals in print, lies inside."""
        entry = flown.case.mission["payload_kg"]
        low, high = (
            (entry.get("lo", entry["v"]), entry.get("hi", entry["v"]))
            if isinstance(entry, dict)
            else (entry,) * 2
        )
        return low <= flown.payload + self.up and high >= flown.payload - self.down

    def covers_best(self, flown: Flown) -> bool:
        """Whether the published payload compared against lies inside."""
        return -self.down <= flown.case.published - flown.payload <= self.up


def band(question: Question, flown: Flown, *, search: bool = True) -> Band:
    """Vary each input with two ends alone.

    The effect is taken from the multipliers of the optimum first; where it is more than `SMALL` of the
    payload the best ascent is found again, from the old one, and that answer stands if it is near the
    first-order one (a search that strayed is not: then the first-order one stands, and the input is named
    in `first_order`).

    search  False takes every effect to first order: a minute in place of many
    """
    effects, first_order = [], []
    worth = prices(flown.ascent, flown.optimum.x)
    for what, ends in _varied(question):
        changes = []
        for towards in ends:
            near = _first_order(towards(PART), flown, worth)
            gain = near
            if near is None and not search:
                first_order.append(f"{what}, left out")
                gain = 0.0
            elif search and (near is None or abs(near) > SMALL * flown.payload):
                there = most(towards(1.0), flown.optimum.x, flown.reserve_speed, rounds=1)
                gain = there.payload - flown.payload
                strayed = near is not None and abs(gain - near) > STRAYED * abs(near)
                lost = not there.met or abs(gain) > ABSURD * flown.payload
                if lost or strayed:
                    found = "" if lost else f" ({gain / flown.payload:+.0%} by search)"
                    first_order.append(f"{what}{found}" if near is not None else f"{what}, left out")
                    gain = near or 0.0
            changes.append(gain)
        if len(changes) > 2:
            changes = [min(changes), max(changes)]
        effects.append(Effect(what, changes[0], changes[-1] if len(changes) > 1 else 0.0))
    return Band(tuple(effects), tuple(first_order), worth.unbalanced)


def _first_order(changed: Question, flown: Flown, worth: Prices) -> float | None:
    """Payload change per whole way to an end [kg]; None where it is another flight."""
    before = flown.optimum.trial
    ascent = changed.ascent(flown.reserve_speed)
    if len(
        ascent.lay_out(flown.optimum.x, ascent.build(ascent.open_values(flown.optimum.x))).segments
    ) != len(before.laid.segments):
        return None
    trial = ascent.trial(flown.optimum.x, before)  # with the steps of the best one: smooth
    change = -flown.case.published * change_of_score(worth, before, trial) / PART
    return change if abs(change) < ABSURD * flown.payload else None


def _varied(question: Question) -> Iterator[tuple[str, list[Callable[[float], Question]]]]:
    """(words, for each end: the question with a share of the way to that end) of every input with ends."""
    case = question.case

    def one(path: tuple, end: float) -> Callable[[float], Question]:
        best = number(case.figure(path))
        return lambda share: replace(question, case=case.changed(path, best + share * (end - best)))

    for path, low, high in uncertain(case):
        yield _words(case, path), [one(path, low), one(path, high)]
    if case.vehicle["id"] in TOGETHER:
        index, sets = TOGETHER[case.vehicle["id"]]
        at = ("vehicle", "stages", index)

        def both(ends: tuple[float, float]) -> Callable[[float], Question]:
            def part(share: float) -> Question:
                changed = case
                for key, end in zip(("propellant_kg", "dry_kg"), ends, strict=True):
                    best = number(case.figure((*at, key)))
                    changed = changed.changed((*at, key), best + share * (end - best))
                return replace(question, case=changed)

            return part

        yield (
            f"{case.vehicle['stages'][index]['name']}: propellant and dry mass",
            [both(ends) for ends in sets],
        )

    def curve(which: str) -> Callable[[float], Question]:
        return lambda share: replace(question, drag={"typical": 1.0 - share, which: share})

    yield "drag curve", [curve("low"), curve("high")]


def _words(case: Case, path: tuple) -> str:
    if path[0] == "rules":
        return {"residual": "residual rule"}.get(path[1], f"{path[1]} rule, {path[2].replace('_', ' ')}")
    name = case.vehicle["stages"][path[2]]["name"] if path[1] == "stages" else ""
    rest = [str(step) for step in (path[3:] if name else path[1:]) if not isinstance(step, int)]
    return f"{name}: {' '.join(rest)}" if name else " ".join(rest)


def reserve_sensitivity(question: Question, flown: Flown) -> tuple[float, float]:
    """Payload change with the reserve at the low and at the high end of its rule, to first order [kg]."""
    assert question.fraction is not None
    rule = question.case.rules["reserve"]["fraction_of_total_ideal_velocity"]
    worth = prices(flown.ascent, flown.optimum.x)
    found = []
    for end in (number(rule["lo"]), number(rule["hi"])):
        speed = flown.reserve_speed * (1.0 + PART * (end / question.fraction - 1.0))
        trial = question.ascent(speed).trial(flown.optimum.x, flown.optimum.trial)
        found.append(-question.case.published * change_of_score(worth, flown.optimum.trial, trial) / PART)
    return found[0], found[1]
