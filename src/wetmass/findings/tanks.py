"""Do the tanks hold what they should, stand in their stage, and do the engines fit under it?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings.ranges import COMMON, MEMORY, Range
from wetmass.physics.walls import CAUTION
from wetmass.record.closed import Closed
from wetmass.record.digits import readable
from wetmass.record.finding import Finding, Weight
from wetmass.record.geometry import EnginePlan, StageGeometry, TankGeometry
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.concept.model import Tank as Stated

_EXACT = "geometry, exact"
_SAME = 1e-6  # relative: sizes that differ by less are the same
_AGREES = 0.01  # of a volume: stated volumes and sizes are rounded
_SPARE = 0.02  # of a tank: room beyond the ullage that is worth a word
ULLAGE = Range(0.01, 0.10, "%", f"share of a tank left to gas, 2 to 5 % are usual: {COMMON}, {MEMORY}")
SLENDER = Range(4.0, 20.0, "", f"height over greatest diameter of launchers that flew: {MEMORY}")


def _laid(closed: Closed) -> tuple[StageGeometry, ...]:
    return closed.geometry.stages if closed.geometry is not None else ()


def _name(tank: TankGeometry) -> str:
    return f"{tank.count} {tank.holds} tanks" if tank.count > 1 else f"{tank.holds} tank"


def cannot_be(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Tanks that no open size makes hold their load, that overlap, or that do not fit into one another."""
    for stage in _laid(closed):
        yield from stage.troubles


def wider_than_stage(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The circle round the tanks of a stage against its diameter."""
    for stage in _laid(closed):
        for tank in stage.tanks:
            if tank.envelope <= stage.diameter * (1.0 + _SAME):
                continue
            over = tank.envelope / stage.diameter - 1.0
            yield Finding(
                "tank wider than its stage", Weight.FAILS, stage.name,
                f"{_name(tank)} {said(tank.envelope, 'm')} across",
                f"at most {said(stage.diameter, 'm')}, the stage's diameter",
                f"It is {said(over, '%', 2)} too wide: widen the stage, or narrow the tank and let it "
                "grow longer.",
                _EXACT,
            )  # fmt: skip


def longer_than_stage(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Engines and tanks one above the other against the stated length of the stage."""
    for stage in _laid(closed):
        if stage.stated_length is None or stage.length <= stage.stated_length * (1.0 + _SAME):
            continue
        over = stage.length - stage.stated_length
        yield Finding(
            "tanks longer than their stage", Weight.FAILS, stage.name,
            f"engines and tanks take {said(stage.length, 'm')}",
            f"at most {said(stage.stated_length, 'm')}, the stage's length",
            f"It lacks {said(over, 'm', 3)}: make the stage longer or wider, or let tanks share a bulkhead.",
            _EXACT,
        )  # fmt: skip


def volumes_and_masses(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The volume of tanks of stated size against what their load needs."""
    for stage in _laid(closed):
        for tank in stage.tanks:
            off = tank.volume / tank.needed - 1.0 if tank.needed > 0.0 else 0.0
            got = f"{_name(tank)} of {said(tank.volume, 'm³')}"
            accepted = (
                f"{said(tank.needed, 'm³')}, {said(tank.mass, 'kg')} at {said(tank.density, 'kg/m³')} and "
                f"{said(tank.ullage, '%', 2)} ullage"
            )
            if off < -_SAME:
                short = said(tank.mass * -off, "kg", 3)
                fits = said(tank.volume * tank.density * (1.0 - tank.ullage), "kg")
                yield Finding(
                    "volumes and masses", Weight.FAILS, stage.name, got, f"at least {accepted}",
                    f"It holds {fits} and lacks room for {short}: make it larger, or load less.", _EXACT,
                )  # fmt: skip
            elif off > _SPARE:
                yield Finding(
                    "volumes and masses", Weight.NOTE, stage.name, got, f"as much as {accepted}",
                    f"{said(off, '%', 2)} of the room stays empty: a smaller tank would weigh less, or the "
                    "other propellant sets the load.",
                    _EXACT,
                )  # fmt: skip


def stated_volumes(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """A stated volume against the stated sizes of the same tank."""
    for stage, tank, stated in _pairs(concept, closed):
        if stated.volume is None or tank.found:
            continue
        one = tank.volume / tank.count
        off = stated.volume.value / one - 1.0
        if abs(off) <= _AGREES:
            continue
        yield Finding(
            "volume as stated", Weight.DOUBT, stage.name, f"{_name(tank)}: {stated.volume} stated",
            f"{said(one, 'm³')} by its sizes",
            f"They differ by {said(abs(off), '%', 2)}: check diameter and length, or leave one size open.",
            _EXACT,
        )  # fmt: skip


def ullage(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Share of each tank left to gas against what is usual."""
    for stage in _laid(closed):
        odd = [t for t in stage.tanks if t.ullage not in ULLAGE and t.holds != "solid"]
        if not odd:
            continue
        got = ", ".join(f"{_name(tank)} {said(tank.ullage, '%', 2)}" for tank in odd)
        low = any(tank.ullage < ULLAGE.low for tank in odd)
        remedy = (
            "Liquid swells as it warms and gas must find room: leave 2 to 5 %."
            if low
            else "More than usual: the tank grows with it."
        )
        yield Finding("ullage", Weight.NOTE, stage.name, got, str(ULLAGE), remedy, ULLAGE.source)


def engines_fit(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The circle round all engine exits against the stage's diameter, with room to swing."""
    for stage in _laid(closed):
        if not stage.engines or stage.engines_across <= stage.diameter * (1.0 + _SAME):
            continue
        names = " and ".join(_engines(plan) for plan in stage.engines)
        fit = [plan.most_that_fit for plan in stage.engines]
        most = f" Of these alone {fit[0]} would fit." if len(fit) == 1 and fit[0] is not None else ""
        yield Finding(
            "engines wider than their stage", Weight.DOUBT, stage.name,
            f"{names} take {said(stage.engines_across, 'm')}",
            f"at most {said(stage.diameter, 'm')}, the stage's diameter",
            "Take fewer or smaller nozzles, swing less, widen the stage or give it a skirt." + most,
            stage.engines[0].source,
        )  # fmt: skip


def _engines(plan: EnginePlan) -> str:
    room = f" with {said(plan.clearance, 'm', 2)} between them" if plan.clearance and plan.count > 1 else ""
    return f"{plan.count} × {said(plan.exit_diameter, 'm', 3)}{room}"


def engines_too_close(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Exits on a stated ring against the room they need between them."""
    for stage in _laid(closed):
        for plan in stage.engines:
            points = plan.positions
            gaps = [
                math.dist(a, b) - plan.exit_diameter for i, a in enumerate(points) for b in points[:i]
            ]  # fmt: skip
            if not gaps or min(gaps) >= plan.clearance - _SAME * plan.exit_diameter:
                continue
            ring = plan.ring_radius * (plan.exit_diameter + plan.clearance) / (min(gaps) + plan.exit_diameter)
            yield Finding(
                "engines too close", Weight.DOUBT, stage.name,
                f"{plan.count} exits of {said(plan.exit_diameter, 'm', 3)} on a ring of "
                f"{said(2.0 * plan.ring_radius, 'm')}: {said(min(gaps), 'm', 3)} between them",
                f"at least {said(plan.clearance, 'm', 3)}",
                f"Let them stand on a ring of {said(2.0 * ring, 'm')} or more, or swing less.", _EXACT,
            )  # fmt: skip


def without_tank(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """A propellant that no tank of the list holds."""
    from wetmass.concept.pairs import parts_of

    for stated in concept.stages:
        if not stated.tanks:
            continue
        held = {stated.held(tank.holds) for tank in stated.tanks}
        lacking = [name for name in parts_of(stated.propellant.pair) if name not in held]
        if lacking:
            yield Finding(
                "propellant without a tank", Weight.DOUBT, stated.name, f"no tank for {', '.join(lacking)}",
                f"a tank for each of {stated.propellant.pair}", "Add one to the list of tanks.",
                "the concept file",
            )  # fmt: skip


def slenderness(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Height over greatest diameter against launchers that flew."""
    if closed.geometry is None or closed.geometry.slenderness in SLENDER:
        return
    ratio = closed.geometry.slenderness
    remedy = (
        "Very slender: it bends, and winds aloft limit it. A wider stage would help."
        if ratio > SLENDER.high
        else "Very squat: its drag is more than the usual curve says."
    )
    yield Finding(
        "slenderness", Weight.DOUBT if ratio > SLENDER.high else Weight.NOTE, "",
        f"{said(closed.geometry.height, 'm', 3)} high, {readable(ratio, 3)} times its width", str(SLENDER),
        remedy, SLENDER.source,
    )  # fmt: skip


def walls(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Thickest wall of each tank, with the caution that belongs to it."""
    found = [
        f"{stage.name}, {_name(tank)} {readable(1e3 * max(w.thickness for w in tank.walls.parts), 2)} mm "
        f"of {tank.walls.material}"
        for stage in _laid(closed)
        for tank in stage.tanks
        if tank.walls is not None and tank.walls.parts
    ]
    if found:
        sources = "membrane stress and buckling, NASA SP-8007; material values from memory"
        yield Finding("tank walls", Weight.CAUTION, "", "; ".join(found), "", CAUTION, sources)


def assumed(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """What was taken to lay the vehicle out where the file says nothing."""
    if closed.geometry is not None and closed.geometry.assumed:
        yield Finding(
            "assumed for the layout", Weight.NOTE, "", "; ".join(closed.geometry.assumed), "",
            "State it in the file to replace it.", "this program, as it is now",
        )  # fmt: skip


def _pairs(concept: Concept, closed: Closed) -> Iterator[tuple[StageGeometry, TankGeometry, Stated]]:
    """Every tank laid out, beside the entry it was stated by; stages where one could not be are left out."""
    stated = {stage.name: stage for stage in concept.stages}
    for stage in _laid(closed):
        listed = stated[stage.name].tanks
        if len(listed) == len(stage.tanks):
            yield from ((stage, tank, one) for tank, one in zip(stage.tanks, listed, strict=True))
