"""Is the dry mass what its parts and stages that flew would make it?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.physics import masses as known
from wetmass.record.closed import Closed
from wetmass.record.digits import readable
from wetmass.record.finding import Finding, Weight
from wetmass.record.parts import StageMasses
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_SOURCE = (
    "mass-estimating relations: D. L. Akin, ENAE 791 (2016), and others named with each part; they scatter "
    "by tens of percent"
)
HELD_AGAINST = (
    "Held against 17 liquid stages that flew, such sums come out 27\u00a0% light in the middle without growth and "
    "6\u00a0% light with 28\u00a0% of it, 12 of the 17 within 30\u00a0%."
)
_SCATTER = 0.3  # of a sum of such relations with its growth: HELD_AGAINST
_FAIRING = 0.5  # a single relation scatters more


def beside_its_parts(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The dry mass used, beside the sum of its parts and the nearest stage that flew."""
    for table in closed.masses:
        if not table.parts or not table.by_parts > 0.0:
            continue
        others = [] if table.way == "by parts" else [_by_parts(table)]
        if table.analogy is not None and not table.way.startswith("like"):
            flown = table.analogy
            others.append(f"like {flown.name}: {said(flown.mass, 'kg', 3)} ({_off(flown.mass, table.used)})")
        if not others:
            continue
        got = f"{said(table.used, 'kg', 4)} {_how(table)}; " + "; ".join(others)
        low, high = (1.0 - _SCATTER) * table.by_parts, (1.0 + _SCATTER) * table.by_parts
        weight, remedy = Weight.NOTE, "They agree as well as such relations do."
        accepted = f"{said(low, 'kg', 3)} to {said(high, 'kg', 3)}, the sum of the parts ±\u00a030\u00a0%"
        if table.way == "by parts":
            accepted, remedy = "", "A stage that flew says how far such sums may be off."
        elif table.used < low:
            flown_lighter = table.analogy is not None and table.analogy.mass <= table.used * 1.1
            if flown_lighter:
                remedy = "Lighter than its parts, though not than a stage that flew: keep a margin."
            else:
                weight = Weight.DOUBT
                remedy = "Lighter than its parts: say what makes it so, or take a heavier one."
        elif table.used > high:
            remedy = "Heavier than its parts; on the safe side, unless something is counted twice."
        yield Finding("dry mass beside its parts", weight, table.stage, got, accepted, remedy, _SOURCE)


def _how(table: StageMasses) -> str:
    return "by its structural fraction" if table.way == "structural fraction" else table.way


def _by_parts(table: StageMasses) -> str:
    ends = f"{said(table.least, 'kg', 3)} to {said(table.most, 'kg', 3)}"
    return f"by parts {said(table.by_parts, 'kg', 4)} ({ends}; {_off(table.by_parts, table.used)})"


def _off(other: float, used: float) -> str:
    share = other / used - 1.0
    sign = "+" if share >= 0.0 else "−"
    return f"{sign}{readable(100.0 * abs(share), 2)}\u00a0%"


def engines_for_nothing(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """An open engine count or scale in a stage whose dry mass does not grow with its engines."""
    from wetmass.concept.derived import ByParts
    from wetmass.concept.find import Find

    tables = {table.stage: table for table in closed.masses}
    for stage in concept.stages:
        if isinstance(stage.dry_mass, ByParts):
            continue
        opened = [g for g in stage.engines if isinstance(g.count, Find) or isinstance(g.scale, Find)]
        if not opened:
            continue
        table = tables.get(stage.name)
        one = [p.step.result for p in table.parts if p.step and p.part.startswith("engines")] if table else []
        weighs = f", and one weighs about {said(max(one), 'kg', 2)}" if one else ""
        what = "count" if isinstance(opened[0].count, Find) else "scale"
        kept = str(stage.dry_mass) if not isinstance(stage.dry_mass, Find) else "its structural fraction"
        yield Finding(
            "engines that weigh nothing", Weight.DOUBT, stage.name,
            f"engine {what} found with a dry mass of {kept}{weighs}",
            "a dry mass that grows with its engines",
            "More thrust costs nothing as it stands: write “dry mass: by parts”, or state the count.",
            "mass balance",
        )  # fmt: skip


def beyond_reach(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Parts of a dry mass by parts whose relation is used outside the hardware it comes from."""
    stated = {stage.name: stage for stage in concept.stages}
    for table in closed.masses:
        if table.way != "by parts":
            continue
        ramjets = [g for g in stated[table.stage].engines if g.kind == "ramjet"]
        if ramjets and not any(part.name.startswith("engines") for part in stated[table.stage].parts):
            yield Finding(
                "engines without a mass", Weight.DOUBT, table.stage, "ramjets have no mass in the sum",
                "a mass for every engine",
                "We know no relation for them: state it, parts: [{name: engines, mass: …}].",
                "mass balance",
            )  # fmt: skip
        far = [f"{p.part}: {note}" for p in table.parts for note in p.notes if "lies outside" in note]
        if far:
            yield Finding(
                "mass relations beyond their reach", Weight.DOUBT, table.stage, "; ".join(far),
                "the sizes such data come from", "State the mass of that part: parts: [{name: …, mass: …}].",
                _SOURCE,
            )  # fmt: skip


def growth(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """How a dry mass by parts allows for growth, and how near such sums come to stages that flew."""
    stated = {stage.name: stage for stage in concept.stages}
    for table in closed.masses:
        if table.way != "by parts":
            continue
        grown = sum(part.growth for part in table.parts)
        one = stated[table.stage]
        remedy = HELD_AGAINST
        if one.maturity is None and one.growth is None:
            remedy = "State “maturity: preliminary” or “growth: 20 %” to replace it. " + HELD_AGAINST
        yield Finding(
            "growth of the dry mass", Weight.NOTE, table.stage, f"{said(grown, 'kg', 3)} for growth", "",
            remedy, table.growth_words,
        )  # fmt: skip


def fairing(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The mass of the fairing beside the relation for shells of its wall area."""
    if closed.geometry is None or closed.geometry.fairing is None or concept.fairing is None:
        return
    area, stated = closed.geometry.fairing.area, concept.fairing.mass
    by_area = known.shroud(area)
    if abs(stated.value / by_area - 1.0) <= _FAIRING:
        return
    light = stated.value < by_area
    yield Finding(
        "fairing mass", Weight.DOUBT if light else Weight.NOTE, "fairing",
        f"{stated}, {said(stated.value / area, 'kg/m²', 2)}",
        f"about {said(by_area, 'kg', 2)} for {said(area, 'm²', 3)} of wall",
        "Lighter than such shells are: check it." if light else "Heavier than such shells are.",
        known.shroud.source,
    )  # fmt: skip
