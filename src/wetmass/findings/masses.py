"""Do the masses add up, and could stages of this mass be built?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings import ranges
from wetmass.findings.ranges import Range
from wetmass.physics.propellants import PAIRS, density
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.physics.stages_flown import STAGES
from wetmass.record.closed import Closed
from wetmass.record.digits import readable
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said
from wetmass.record.vehicle import Stage

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_NOT_STAGES = ("Shuttle External Tank (no engines)",)
_SMALL = 5e3  # kg of propellant; below it guidance and wiring outweigh tanks, and no range is held
_ROUNDING = 1e-12  # of the whole: what adding floats in another order may change


def not_adding_up(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The items of the mass table against the mass on the pad."""
    items = math.fsum(item.mass for item in closed.vehicle.mass_table())
    whole = closed.vehicle.mass_above(0)
    below = [item for item in closed.vehicle.mass_table() if not item.mass >= 0.0]
    if abs(items - whole) > _ROUNDING * abs(whole) or not math.isfinite(items):
        yield Finding(
            "masses that do not add up", Weight.FAILS, "", f"items add up to {said(items, 'kg', 8)}",
            f"the mass on the pad, {said(whole, 'kg', 8)}",
            "This is a defect in the program, please report it.", "a sum",
        )  # fmt: skip
    for item in below:
        yield Finding(
            "mass below zero", Weight.FAILS, item.part, f"{item.item} {said(item.mass, 'kg')}", "0 or more",
            "What is set aside (residuals, reserve, losses) is more than what is loaded: load "
            "more, or set less aside.",
            "a mass",
        )  # fmt: skip


def structural_fraction(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Dry mass over dry mass and propellant, against stages that flew with such propellants."""
    if not closed.closes:
        return  # what the search ended with is no vehicle
    homeward = {one.name for one in concept.stages if one.home is not None and not one.home.expended}
    for stage in closed.vehicle.stages:
        accepted = _flown(stage.propellant.pair)
        fraction = stage.dry_mass / (stage.dry_mass + stage.propellant.load)
        if accepted is None or fraction in accepted:
            continue
        light = fraction < accepted.low
        if not light and stage.propellant.load < _SMALL:
            continue
        if light:
            remedy = "Lighter than any stage of the list: say what makes it so, or take a heavier one."
        else:
            usual = ", and usual for one that comes home" if stage.name in homeward else ""
            remedy = f"Heavier than expendable stages of the list; on the safe side{usual}."
        yield Finding(
            "structural fraction", Weight.DOUBT if light else Weight.NOTE, stage.name,
            said(fraction, "%", 3), str(accepted), remedy, accepted.source,
        )  # fmt: skip


def engines_and_tanks(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Dry mass against the lightest engines and bare tanks alone."""
    if not closed.closes:
        return  # what the search ended with is no vehicle
    for stage in closed.vehicle.stages:
        bare = _bare_tanks(stage)
        if bare is None:
            continue
        engines = stage.vacuum_thrust / (ranges.LIGHTEST_ENGINE * STANDARD_GRAVITY)
        tanks = math.fsum(bare)
        if engines + tanks <= stage.dry_mass:
            continue
        yield Finding(
            "dry mass below its parts", Weight.DOUBT, stage.name, said(stage.dry_mass, "kg"),
            f"more than engines {said(engines, 'kg', 2)} and bare tanks {said(tanks, 'kg', 2)} alone",
            "Nothing is left for structure, guidance and wiring: take a heavier dry "
            "mass.", ranges.PARTS_SOURCE,
        )  # fmt: skip


def mass_ratio(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Mass at ignition over mass at burn-out, with all that is above, against launchers that flew."""
    if not closed.closes or concept.mission.climbs:
        return  # what the search ended with is no vehicle; the published ratios are of launchers to orbit
    for index, stage in enumerate(closed.vehicle.stages):
        start = closed.vehicle.mass_above(index) - stage.propellant.gone_before
        end = start - stage.propellant.burns
        if any(strap.beside == index for strap in closed.vehicle.strap_ons):
            continue  # strap-ons burn beside it: the published ratios are of stages alone
        accepted = ranges.UPPER_MASS_RATIO if index else ranges.FIRST_MASS_RATIO
        ratio = start / end if end > 0.0 else math.inf
        if ratio in accepted:
            continue
        if ratio > accepted.high:
            remedy = (
                "Very much propellant for what it carries: look at the structural fraction, "
                "or at one stage more."
            )
        else:
            remedy = "Little propellant for what it carries: the stage adds little speed for its dry mass."
        yield Finding(
            "mass ratio", Weight.DOUBT, stage.name, readable(ratio, 3), str(accepted), remedy, accepted.source
        )


def _flown(pair: str) -> Range | None:
    """Structural fractions of flown stages with such propellants, None where there are none."""
    if pair == "solid":
        words, rows = "solid motors", [s for s in STAGES.values() if s.propellants == "AP/Al/HTPB"]
    elif pair == "LOX/LH2":
        words, rows = "hydrogen stages", [s for s in STAGES.values() if s.propellants == pair]
    elif pair in PAIRS and not pair.endswith("/LH2"):
        words, rows = (
            "stages with dense propellants",
            [s for s in STAGES.values() if s.propellants not in ("AP/Al/HTPB", "LOX/LH2")],
        )
    else:
        return None
    rows = [s for s in rows if s.name not in _NOT_STAGES and s.propellant >= _SMALL]
    fractions = [s.structural_fraction for s in rows]
    read = sorted({s.status for s in rows})
    return Range(
        min(fractions), max(fractions), "%",
        f"{words} that flew ({', '.join(s.name for s in rows)}): users' guides and agency data, "
        f"{' and '.join(read)}",
    )  # fmt: skip


def _bare_tanks(stage: Stage) -> tuple[float, float] | None:
    """Mass of bare oxidiser and fuel tanks by published slopes [kg]; None for single propellants."""
    pair = PAIRS.get(stage.propellant.pair)
    if pair is None:
        return None
    ratio, load = stage.propellant.mixture_ratio, stage.propellant.load
    slope = ranges.TANK_SLOPE_HYDROGEN if pair.fuel.name == "LH2" else ranges.TANK_SLOPE
    oxidiser, fuel = load * ratio / (1.0 + ratio), load / (1.0 + ratio)
    return (
        ranges.TANK_SLOPE * oxidiser / density(pair.oxidiser.name),
        slope * fuel / density(pair.fuel.name),
    )
