"""What one unit more of each number is worth: the exchange rates of a concept, from its best answer.

"1 t more of first, dry mass costs 185 kg of payload."  Slopes come from the prices at the best answer
(`wetmass.closing.rates`): two flights a number, everything made best anew to first order.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from wetmass.closing import Answer, Homeward
from wetmass.closing.rates import Rates, rates
from wetmass.closing.spread import effect, keeping
from wetmass.concept import dimensions as d
from wetmass.concept.guesses import Guess, guesses
from wetmass.concept.model import Concept
from wetmass.concept.names import Input, find, inputs
from wetmass.concept.quantity import Quantity
from wetmass.concept.reading import loads
from wetmass.record.refusal import Complaint, Refusal
from wetmass.study.crew import Crew, Told, run
from wetmass.study.point import base_from, kept_home, settled_home
from wetmass.study.store import Store

SLOPE_STEP = 1e-4  # of the value, either way
SMALLEST = 2e-7  # of the aim for 1 % of the value: less is no effect
BENDS = 0.1  # both sides of the value differ by more than this share: a corner, or strong curvature
_LEFT_OUT = ("site/", "/tanks/", "/engine layout/", "/parts/")


@dataclass(frozen=True)
class Exchange:
    """What one step more of a number is worth.

    step     in SI, and in words: "1 t"
    change   of the aim for one step more, on the straight line through the stated value [kg]
    percent  of the aim for one percent more of the number [%]
    bends    the slope is not the same on both sides of the value
    checked  the same change from two closings of their own, one step more and one less; None where not asked
    """

    input: Input
    step: float
    step_words: str
    change: float
    percent: float
    bends: bool
    checked: float | None = None

    @property
    def sentence(self) -> str:
        """ "1 t more of first, dry mass costs 185 kg"."""
        from wetmass.record.say import said

        verb = "gains" if self.change > 0.0 else "costs"
        return f"{self.step_words} more of {self.input.words} {verb} {said(abs(self.change), 'kg', 3)}"


@dataclass(frozen=True)
class Worth:
    """Exchange rates of a concept, the number that matters most for 1 % first."""

    name: str
    aim: str  # "payload" or "lift-off mass"
    value: float  # kg
    exchanges: tuple[Exchange, ...]
    without: tuple[str, ...]  # numbers that change nothing, to first order
    untold: tuple[str, ...]  # numbers whose effect is not to be had by a small change
    guesses: tuple[tuple[Guess, float], ...]  # each guess with the effect of one standard deviation [kg]
    unbalanced: float  # of the optimum's slopes: far below 1 where it is one
    kept: Mapping[str, float]  # kg by stage that come home, as stated


def worth(
    concept: Concept,
    names: Sequence[str] = (),
    *,
    check: bool = False,
    more: Sequence[str] = (),
    crew: Crew | None = None,
    store: Store | None = None,
    told: Told = lambda done, of, left: None,
    said: Callable[[str], None] = lambda words: None,
) -> Worth:
    """The exchange rates of a concept, for the numbers named or for all that are stated.

    check  close the concept anew one step more and one less of each, beside the slope; arguments as for `crew.run`
    more   guesses beside those of the file

    Raises Refusal when the concept does not close, or has nothing that is made best.
    """
    said("looking for the best answer")
    answer, home = settled_home(concept)
    found = rates(answer)
    if found is None:
        raise Refusal(
            Complaint(
                "concept", answer.reason or "nothing open and nothing asked", "one that closes, with something made best",
                "wetmass fly says more; open a value, or loosen what is asked",
            )
        )  # fmt: skip
    listed = [find(concept, name) for name in names] or list(_stated(concept))
    made, without, untold = [], [], []
    for place, one in enumerate(listed):
        said(f"{one.words} ({place + 1} of {len(listed)})")
        exchange = _exchange(concept, found, one, home)
        if exchange is None:
            untold.append(one.words)
        elif not names and abs(exchange.percent) < 100.0 * SMALLEST:
            without.append(one.words)
        else:
            made.append(exchange)
    made.sort(key=lambda e: -abs(e.percent))
    if check:
        made = _checked(concept, answer, home, found, made, crew, store, told)
    spread = tuple((guess, effect(concept, found, guess, home)) for guess in guesses(concept, more))
    return Worth(
        concept.name, found.aim, found.value, tuple(made), tuple(without), tuple(untold), spread, found.worth.unbalanced,
        kept_home(answer.vehicle),
    )  # fmt: skip


def _stated(concept: Concept) -> Iterator[Input]:
    """Quantities that the file states and a flight can feel, those that belong together as one."""
    document = concept.document
    assert document is not None
    listed = [
        one
        for one in inputs(concept)
        if isinstance(one.stated, Quantity)
        and one.value != 0.0
        and not any(part in path for part in _LEFT_OUT for path in one.paths)
        and all(document.get(path) is not None for path in one.paths)
    ]
    mission = [one for one in listed if one.words == "orbit height"]
    circular = bool(mission) and len({value.value for value in mission[0].values}) == 1
    groups = [one for one in listed if len(one.paths) > 1 and (circular or one.words != "orbit height")]
    taken = {path for one in groups for path in one.paths}
    short: dict[str, Input] = {}
    for one in listed:
        path = one.paths[0]
        if one in groups or path not in taken:
            short[path] = min((short.get(path, one), one), key=lambda known: len(known.words))
    yield from short.values()


def step_of(one: Input) -> tuple[float, str]:
    """A step people think in, in SI and in words: 1 s of specific impulse, 1 t of a large mass, 1 % of a share."""
    stated = one.stated
    assert isinstance(stated, Quantity)
    factor, unit = stated.unit.factor, stated.unit.text
    if unit in ("%", "percent"):
        return 0.01, "1 point (1 %)"
    shown = abs(stated.value / factor)
    if stated.dimension == d.FORCE:
        return 0.01 * abs(stated.value), "1 %"
    if stated.dimension in (d.TIME, d.ANGLE):
        return factor, f"1 {unit}"
    step = 10.0 ** math.floor(math.log10(0.2 * shown)) if shown > 0.0 else 1.0
    return step * factor, f"{step:g} {unit}".strip()


def changed(concept: Concept, one: Input, value: float) -> Concept:
    """The concept with one number put to `value` (SI).  Raises Refusal when that makes no concept."""
    document = concept.document
    assert document is not None
    return loads(document.with_values(one.written(value)), document.name)


def _exchange(concept: Concept, found: Rates, one: Input, home: Homeward) -> Exchange | None:
    value = one.value
    if value is None or not isinstance(one.stated, Quantity):
        return None
    h = SLOPE_STEP * abs(value) or SLOPE_STEP * step_of(one)[0]
    try:
        up, down = (found.change(changed(concept, one, value + sign * h)) for sign in (1.0, -1.0))
    except Refusal:
        return None
    if not (math.isfinite(up) and math.isfinite(down)):
        return None
    bends = abs(up + down) > BENDS * max(abs(up), abs(down)) and abs(up + down) > 1e-6 * abs(found.value)
    slope = up / h if bends else (up - down) / (2.0 * h)  # at a corner: that of more
    step, words = step_of(one)
    kept = keeping(concept, found, lambda steps: one.written(value + steps * step), home)
    slope += kept / step
    return Exchange(one, step, words, slope * step, slope * value / found.value, bends)


def _checked(
    concept: Concept, answer: Answer, home: Homeward, found: Rates, made: list[Exchange], crew: Crew | None,
    store: Store | None, told: Told,
) -> list[Exchange]:  # fmt: skip
    base = base_from(concept, answer, home)
    points = [
        e.input.written((e.input.value or 0.0) + sign * e.step) for e in made for sign in (1.0, -1.0)
    ]  # fmt: skip
    outcomes = run(base, points, crew=crew, store=store, told=told)
    out = []
    for place, e in enumerate(made):
        up, down = outcomes[2 * place], outcomes[2 * place + 1]
        change = 0.5 * (up[found.aim] - down[found.aim]) if up.closes and down.closes else math.nan
        out.append(Exchange(e.input, e.step, e.step_words, e.change, e.percent, e.bends, change))
    return out
