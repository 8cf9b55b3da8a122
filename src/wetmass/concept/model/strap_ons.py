"""Stages that burn beside another: what they hang on, and the keys that are theirs alone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.concept.measures import Measure, Objective
from wetmass.concept.wording import shown
from wetmass.record.refusal import Complaint

if TYPE_CHECKING:
    from wetmass.concept.model.concept import Concept


def beside(concept: Concept) -> Iterator[Complaint]:
    """Strap-ons hang on a stage that is none, and keys of theirs stand nowhere else."""
    core = [stage.name for stage in concept.stages if stage.strapped_to is None]
    for number, stage in enumerate(concept.stages, 1):
        at = f"stages / {number}"
        strapped = stage.strapped_to is not None
        if strapped and stage.strapped_to not in core and stage.strapped_to != stage.name:
            accepted = f"a stage that is not strapped to another: {', '.join(core)}"
            yield Complaint(f"{at} / strapped to", shown(stage.strapped_to), accepted, "write one of these")
        for key, value in (
            ("lit after", stage.lit_after), ("let go after", stage.let_go_after),
            ("crossfeed", stage.crossfeed or None),
        ):  # fmt: skip
            if value is not None and not strapped:
                remedy = 'add "strapped to", or delete this key'
                yield Complaint(f"{at} / {key}", shown(value), "only for strap-ons", remedy)
        for key, value in (
            ("hot staging", stage.hot_staging or None), ("let go above", stage.let_go_above),
            ("pause before ignition", stage.pause_before_ignition),
        ):  # fmt: skip
            if value is not None and strapped:
                yield Complaint(f"{at} / {key}", shown(value), "not for strap-ons", "delete this key")
        solids = [group for group in stage.engines if group.trace is not None]
        if solids and len(solids) < len(stage.engines):
            accepted = "a thrust trace for every group of the stage, or for none"
            yield Complaint(
                f"{at} / engines", f"{len(solids)} with a trace", accepted, "give each a trace, or none"
            )
        if not strapped:
            continue
        for position, group in enumerate(stage.engines, 1):
            staggered = group.stops_after is not None and len(stage.engines) > 1
            if group.breathes or group.rules_of_its_own or group.out or staggered:
                accepted = "rockets that burn to the end: strap-ons with rules or jets are not flown yet"
                what = shown(group.kind) if group.breathes else "a rule of its own"
                yield Complaint(
                    f"{at} / engines / {position}", what, accepted, "drop the rule, or make it a stage"
                )
        if solids and len(stage.engines) > 1:
            yield Complaint(
                f"{at} / engines", "several traces", "one group with a trace", "make them one group"
            )
        if stage.crossfeed and any(group.kind == "solid" for group in stage.engines):
            yield Complaint(
                f"{at} / crossfeed", '"yes"', "liquids alone: a solid feeds nothing", "delete this key"
            )


_NOT_OF_STRAP_ONS = (Measure.DELTA_V, Measure.MASS_RATIO, Measure.THRUST_TO_WEIGHT)


def asked_of_strap_ons(concept: Concept) -> Iterator[Complaint]:
    """Some measures belong to a stage that carries all above it; strap-ons do not."""
    strapped = {stage.name for stage in concept.stages if stage.strapped_to is not None}
    for key, entries in (("require", concept.require), ("claims", concept.claims)):
        for number, entry in enumerate(entries, 1):
            if (
                not isinstance(entry, Objective)
                and entry.stage in strapped
                and entry.measure in _NOT_OF_STRAP_ONS
            ):
                accepted = f"no {entry.measure} of strap-ons: they push together with the stage beside them"
                yield Complaint(f"{key} / {number}", f'"{entry}"', accepted, "ask it of that stage")
