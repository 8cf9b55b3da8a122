"""Which slip gives the number that was stated: put each in, run the line again, compare digits."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from wetmass.record.working import Slip
from wetmass.working.slips.edits import PAIRED, Context, Edit, edits
from wetmass.working.slips.kinds import KINDS
from wetmass.working.tree import DEGREES, Leaf, Meaning, Node, Op, Unfit, evaluate, number

MOST_SINGLE = 4000
MOST_PAIRS = 2500  # a line
PAGE_PAIRS = 12_000  # a page, so that a page of nonsense is still read quickly
PAIR_WEIGHT = 0.04


@dataclass(frozen=True, slots=True)
class Target:
    """The number that was stated: SI value, half of its last digit, and the number as typed."""

    value: float
    half: float
    typed: float = 0.0
    half_typed: float = 0.0
    bare: bool = False

    def hit(self, value: float, raw: bool = False) -> float:
        """How well a value fits: 1 within the digits stated, less just outside, 0 far off."""
        mine, half = (self.typed, self.half_typed) if raw else (self.value, self.half)
        gap = abs(value - mine)
        room = half * 1.0001 + 1e-12 * abs(mine)
        if gap <= room:
            return 1.0 + 0.4 * (1.0 - gap / room) if room else 1.0
        if gap <= 2.2 * room and gap <= 0.01 * abs(mine):
            return 0.35  # the last digit carried or cut rather than rounded
        if gap <= 0.002 * abs(mine):
            return 0.12
        return 0.0


@dataclass(frozen=True, slots=True)
class Found:
    """A slip that gives the stated number."""

    edit: Edit
    value: float
    right: float
    weight: float
    second: Edit | None = None


def value_of(edit: Edit, meaning: Meaning) -> float | None:
    """What the line comes to with the slip put in."""
    used = edit.meaning if edit.meaning.radians_always else meaning
    try:
        return number(edit.tree, used) * edit.factor
    except Unfit:
        return None


def find(
    bases: Sequence[tuple[Node, Meaning, float]],
    target: Target,
    context: Context,
    forms: Sequence[Edit] = (),
    accept: Callable[[float], bool] | None = None,
) -> list[Found]:
    """Slips of the sound trees `bases` (tree, meaning, weight) that give the target, likeliest first.

    `forms` are ready-made slips, such as the wrong forms of a relation.
    """
    found: list[Found] = []
    for edit in forms:
        value = value_of(edit, DEGREES)
        if value is not None:
            _judge(found, edit, value, None, target, 1.3, Meaning())
    for tree, meaning, base_weight in bases:
        try:
            right = evaluate(tree, meaning).value
        except Unfit:
            continue
        count = 0
        singles: list[tuple[Edit, float]] = []
        for edit in edits(tree, context):
            count += 1
            if count > MOST_SINGLE:
                break
            value = value_of(edit, meaning)
            if value is None or (right and abs(value / right - 1.0) < 1e-9):
                continue
            singles.append((edit, value))
            _judge(found, edit, value, right, target, base_weight, meaning)
        if tree is bases[0][0] and not any(one.weight > 0.02 for one in found):
            _pairs(found, singles, right, target, context, base_weight, meaning)
    return ranked(found)


def _judge(
    found: list[Found],
    edit: Edit,
    value: float,
    right: float | None,
    target: Target,
    weight: float,
    meaning: Meaning,
) -> None:
    hit = target.hit(value, meaning.raw)
    if hit:
        common = KINDS[edit.kind].common * edit.weight * weight * hit
        found.append(Found(edit, value, math.nan if right is None else right, common))


_PAIRABLE = {
    "S01",
    "S02",
    "S03",
    "S04",
    "S05",
    "S07",
    "S08",
    "S09",
    "S11",
    "S13",
    "S17",
    "S19",
    "S22",
    "S23",
    "S24",
    "S29",
    "S30",
    "S31",
    "S35",
    "S37",
    "S39",
    "S40",
    "S45",
    "S51",
    "S32",
    "S26",
    "S53",
}


def _pairs(
    found: list[Found],
    singles: list[tuple[Edit, float]],
    right: float,
    target: Target,
    context: Context,
    base_weight: float,
    meaning: Meaning,
) -> None:
    """Two slips at once: each likely edit of the tree, edited once more."""
    likely = [
        (edit, value)
        for edit, value in singles
        if edit.kind in _PAIRABLE and KINDS[edit.kind].common * edit.weight >= 0.35
    ]
    likely.sort(key=lambda pair: -KINDS[pair[0].kind].common * pair[0].weight)
    factors = {}
    for edit, _ in likely:
        if edit.factor != 1.0:
            factors.setdefault(round(edit.factor, 9), edit)
    tried = 0
    for edit, value in likely[:40]:
        for second in factors.values():
            tried += 1
            if second.kind == edit.kind or second.factor * edit.factor == 1.0:
                continue
            _judge_pair(found, edit, second, value * second.factor, right, target, base_weight, meaning)
    seen = set()
    for edit, _ in [pair for pair in likely if pair[0].factor == 1.0][:10]:
        if edit.tree in seen:
            continue
        seen.add(edit.tree)
        for generator in PAIRED:
            for second in generator(edit.tree, context):
                tried += 1
                if tried > MOST_PAIRS or context.spent["pairs"] > PAGE_PAIRS:
                    return
                context.spent["pairs"] += 1
                if second.kind == edit.kind or second.factor != 1.0 or second.kind not in _PAIRABLE:
                    continue
                value = value_of(second, meaning)
                if value is not None:
                    _judge_pair(found, edit, second, value, right, target, base_weight, meaning)


def _judge_pair(
    found: list[Found],
    edit: Edit,
    second: Edit,
    value: float,
    right: float,
    target: Target,
    weight: float,
    meaning: Meaning,
) -> None:
    if target.hit(value, meaning.raw) < 1.0:
        return
    if abs(value / right - 1.0) < 1e-6 if right else False:
        return
    common = (
        KINDS[edit.kind].common
        * edit.weight
        * KINDS[second.kind].common
        * second.weight
        * PAIR_WEIGHT
        * weight
    )
    found.append(Found(edit, value, right, common, second))


def ranked(found: list[Found]) -> list[Found]:
    """Likeliest first, each deed once."""
    found.sort(key=lambda one: -one.weight)
    kept: list[Found] = []
    seen: set[tuple[str, str]] = set()
    for one in found:
        mark = (one.edit.kind + (one.second.kind if one.second else ""), one.edit.cause)
        if mark not in seen:
            seen.add(mark)
            kept.append(one)
        if len(kept) >= 40:
            break
    return kept


def slips(
    found: Sequence[Found], target: Target, show: Callable[[float], str], right: float
) -> tuple[Slip, ...]:
    """The slips found as records, those that come to the same number gathered into one class."""
    made: list[Slip] = []
    taken: set[str] = set()
    for one in found:
        if one.edit.kind in taken:
            continue
        same = (
            {
                kind
                for other in found
                if other.second is None and math.isclose(other.value, one.value, rel_tol=1e-6)
                for kind in (other.edit.kind, *other.edit.also)
            }
            if one.second is None
            else set()
        )
        if one.second is not None:
            same |= {one.second.kind}
        same |= set(one.edit.also)
        same.discard(one.edit.kind)
        agreement = digits_agreeing(one.value, target.value)
        kind = KINDS[one.edit.kind]
        good = right if math.isnan(one.right) else one.right
        cause = one.edit.cause if one.second is None else f"{one.edit.cause} and {one.second.cause}"
        cure = one.edit.cure if one.second is None else "without the two"
        turn = f"{cure}, it comes to" if cure.endswith(("it", ",")) else f"{cure} it is"
        sentence = (
            f"{show(target.value)} is what comes out when {cause}; {turn.replace(',,', ',')} {show(good)}."
        )
        name = kind.name if one.second is None else f"{kind.name}, and {KINDS[one.second.kind].name}"
        made.append(
            Slip(
                kind.code,
                name,
                sentence,
                one.value,
                good,
                agreement,
                min(one.weight, 1.0),
                tuple(sorted(same)),
            )
        )
        taken.add(one.edit.kind)
        if len(made) == 5:
            break
    return tuple(made)


def digits_agreeing(a: float, b: float) -> float:
    """Significant digits in which two numbers agree, at most 12."""
    if a == b:
        return 12.0
    if a == 0 or b == 0 or (a < 0) != (b < 0):
        return 0.0
    return round(min(12.0, max(0.0, -math.log10(abs(a / b - 1.0)))), 1)


__all__ = ["Context", "Edit", "Found", "Leaf", "Op", "Target", "find", "replace", "slips"]
