"""Are the engines' figures those of engines that fly, and do they agree with one another?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings import ranges
from wetmass.findings.ranges import Range, widened
from wetmass.physics.engines import figures_disagreement
from wetmass.physics.propellants import PAIRS
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.closed import Closed
from wetmass.record.digits import readable
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said
from wetmass.vehicle.chamber import chamber_of

if TYPE_CHECKING:
    from wetmass.concept.model import Concept, EngineGroup, Stage
    from wetmass.concept.quantity import Quantity


def specific_impulse(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Stated specific impulse against what flown engines with the pair deliver."""
    for index, stage in enumerate(concept.stages):
        known = ranges.DELIVERED.get(stage.propellant.pair)
        if known is None:
            continue
        on_ground = index == 0 or stage.strapped_to is not None
        vacuum = known.ground_vacuum if on_ground else known.upper
        for group in stage.engines:
            if group.kind != "rocket":
                continue
            figures = _figures(stage, group)
            yield from _isp(stage, group, "in vacuum", figures[0], vacuum)
            if on_ground:
                yield from _isp(stage, group, "at sea level", figures[1], known.sea_level)


Figure = tuple[float, str]  # s, and as it is said


def _figures(stage: Stage, group: EngineGroup) -> tuple[Figure | None, Figure | None]:
    """Specific impulse in vacuum and at sea level, as stated or from the chamber; None where unknown."""
    if group.isp is not None:
        return _stated(group.isp.vacuum), _stated(group.isp.sea_level)
    ideal = chamber_of(group, stage.propellant.pair, stage.mixture_ratio or math.nan)
    if ideal is None:
        return None, None
    made = [
        speed / STANDARD_GRAVITY for speed in (ideal.vacuum_speed, ideal.speed_in_air(SEA_LEVEL_PRESSURE))
    ]
    return (made[0], said(made[0], "s")), (made[1], said(made[1], "s"))


def _stated(quantity: Quantity | None) -> Figure | None:
    return None if quantity is None else (quantity.value, str(quantity))


def _isp(
    stage: Stage, group: EngineGroup, where: str, figure: Figure | None, published: Range | None
) -> Iterator[Finding]:
    if figure is None or published is None or figure[0] in widened(published):
        return
    high = figure[0] > published.high
    remedy = (
        "More than such engines deliver: say which engine this is, or take a lower figure."
        if high
        else "Less than such engines deliver; on the safe side, if it is meant."
    )
    yield Finding(
        f"specific impulse {where}", Weight.DOUBT if high else Weight.NOTE, _part(stage, group), figure[1],
        f"{published} with {stage.propellant.pair}", remedy, published.source,
    )  # fmt: skip


def mixture_ratio(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Stated mixture ratio against that of flown engines with the pair."""
    for stage in concept.stages:
        pair, ratio = PAIRS.get(stage.propellant.pair), stage.mixture_ratio
        if pair is None or ratio is None or pair.usual[0] <= ratio <= pair.usual[1]:
            continue
        low, high = (readable(end, 3) for end in pair.usual)
        volumes = stage.propellant.mixture_ratio_by_volume
        got = str(stage.propellant.mixture_ratio)
        if volumes is not None:
            got = f"{readable(ratio, 3)}, from {volumes} by volume"
        yield Finding(
            "mixture ratio", Weight.DOUBT, stage.name, got, f"{low} to {high} with {pair.name}",
            "Check that it is oxidiser over fuel by mass, and that the specific impulse was stated for it.",
            pair.source,
        )  # fmt: skip


def figures_disagree(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Sea-level and vacuum figures against one propellant flow and one exit area."""
    for stage in concept.stages:
        for group in stage.engines:
            yield from _one_flow(stage, group)
            yield from _one_exit(stage, group)


def _one_flow(stage: Stage, group: EngineGroup) -> Iterator[Finding]:
    thrust, isp = group.thrust, group.isp
    if thrust is None or isp is None:
        return
    if not (thrust.vacuum and thrust.sea_level and isp.vacuum and isp.sea_level):
        return
    gap = figures_disagreement(
        thrust.vacuum.value, thrust.sea_level.value, isp.vacuum.value, isp.sea_level.value
    )
    if abs(gap) <= ranges.FIGURES_AGREE:
        return
    fitting = isp.vacuum.value * thrust.sea_level.value / thrust.vacuum.value
    yield Finding(
        "sea-level and vacuum figures that disagree", Weight.DOUBT, _part(stage, group),
        f"thrusts and specific impulses {said(abs(gap), '%', 2)} apart",
        f"one propellant flow for both, within {said(ranges.FIGURES_AGREE, '%')}",
        f"With these thrusts and {isp.vacuum} in vacuum, sea level has {said(fitting, 's')}. Give "
        "three of the four.",
        f"thrust over flow is the same flow at every height; {ranges.COMMON} for the tolerance",
    )  # fmt: skip


def _one_exit(stage: Stage, group: EngineGroup) -> Iterator[Finding]:
    area = group.exit_area.value if group.exit_area else None
    if group.exit_diameter:
        area = math.pi / 4.0 * group.exit_diameter.value**2
    thrust = group.thrust
    if area is None or thrust is None or not (thrust.vacuum and thrust.sea_level):
        return
    lost = thrust.vacuum.value - thrust.sea_level.value
    gap = lost / (area * SEA_LEVEL_PRESSURE) - 1.0
    if abs(gap) * area * SEA_LEVEL_PRESSURE <= ranges.FIGURES_AGREE * thrust.vacuum.value:
        return
    fitting = lost / SEA_LEVEL_PRESSURE
    yield Finding(
        "exit area that does not fit the thrusts", Weight.DOUBT, _part(stage, group), said(area, "m²", 3),
        f"{said(fitting, 'm²', 3)}, from the two thrusts", "Leave the exit out, or one of the two thrusts.",
        "back-pressure: vacuum thrust less sea-level thrust is exit area times 101 325 Pa",
    )  # fmt: skip


def sea_level_share(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Thrust lost to the air at sea level, against stages that are lit on the ground."""
    accepted = ranges.SEA_LEVEL_SHARE
    stage = closed.vehicle.stages[0]
    for group in stage.engines:
        if not group.vacuum_thrust > 0.0:
            continue  # a jet
        share = SEA_LEVEL_PRESSURE * group.exit_area / group.vacuum_thrust
        if share in accepted:
            continue
        high = share > accepted.high
        remedy = (
            "A nozzle this wide for its thrust is far over-expanded at sea level, and its flow may separate."
            if high
            else "A nozzle this narrow for its thrust would need an unusual chamber pressure: "
            "check the two figures."
        )
        yield Finding(
            "thrust lost to the air at sea "
            "level", Weight.DOUBT, f"{stage.name}, {group.name}" if group.name else stage.name,
            said(share, "%", 3), str(accepted), remedy, accepted.source,
        )  # fmt: skip


def _part(stage: Stage, group: EngineGroup) -> str:
    return f"{stage.name}, {group.name}" if group.name else stage.name
