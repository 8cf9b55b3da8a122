"""All rules, in the order they are tried, and the findings they give."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from wetmass.findings import (
    accuracy,
    allowances,
    arrival,
    cautions,
    chambers,
    claims,
    engines,
    fluids,
    held,
    homecoming,
    left_out,
    loads,
    losses,
    masses,
    orbit,
    parts,
    tanks,
    thrust,
    trim,
)
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

Rule = Callable[["Concept", Closed], Iterable[Finding]]

RULES: tuple[Rule, ...] = (
    orbit.does_not_close,
    orbit.short_of_orbit,
    orbit.beside_the_orbit,
    orbit.inclination_below_latitude,
    held.not_met,
    masses.not_adding_up,
    thrust.lift_off,
    thrust.ignition,
    masses.structural_fraction,
    masses.engines_and_tanks,
    masses.mass_ratio,
    parts.beside_its_parts,
    parts.engines_for_nothing,
    parts.beyond_reach,
    parts.growth,
    parts.fairing,
    tanks.cannot_be,
    tanks.wider_than_stage,
    tanks.longer_than_stage,
    tanks.volumes_and_masses,
    tanks.stated_volumes,
    tanks.without_tank,
    tanks.engines_fit,
    tanks.engines_too_close,
    trim.gimbal,
    tanks.ullage,
    fluids.boil_off,
    fluids.boil_off_unsaid,
    fluids.jets_fuel,
    tanks.slenderness,
    engines.specific_impulse,
    engines.mixture_ratio,
    engines.figures_disagree,
    engines.sea_level_share,
    chambers.flow_separates,
    loads.felt_acceleration,
    loads.dynamic_pressure,
    loads.q_alpha,
    loads.separation,
    losses.implausible,
    homecoming.of_each_stage,
    homecoming.not_settled,
    claims.compared,
    orbit.low_perigee,
    arrival.left_to_do,
    arrival.a_restart_may_pay,
    accuracy.not_reached,
    allowances.reserve,
    allowances.residuals,
    chambers.from_chamber,
    left_out.not_yet,
    left_out.assumed,
    tanks.assumed,
    tanks.walls,
    cautions.stage_falls,
    cautions.study,
)

_HEAVIEST_FIRST = {weight: place for place, weight in enumerate(Weight)}


def find(concept: Concept, closed: Closed) -> tuple[Finding, ...]:
    """What the rules find in a result, the heaviest first."""
    found = [finding for rule in RULES for finding in rule(concept, closed)]
    return tuple(sorted(found, key=lambda finding: _HEAVIEST_FIRST[finding.weight]))


def judge(concept: Concept, closed: Closed) -> Closed:
    """The same result with its findings, the heaviest first; those it came with are kept."""
    both = [*closed.findings, *(f for f in find(concept, closed) if f not in closed.findings)]
    both.sort(key=lambda finding: _HEAVIEST_FIRST[finding.weight])
    return dataclasses.replace(closed, findings=tuple(both))
