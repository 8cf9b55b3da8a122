"""What boils away of a stage: before its engines are lit, and after the last cut-off.

On the pad tanks are topped up.  While engines burn, what boils is a trifle beside what they draw and is left out.
Between two burns of the last stage the flight itself takes it off (`wetmass.flight.program`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wetmass.concept.model import Concept
from wetmass.concept.model import Stage as Stated
from wetmass.physics.propellants import SECONDS_A_DAY
from wetmass.record.vehicle import Stage
from wetmass.vehicle.geometry.contents import boil_off, entries, masses


class Boiling:
    """The boil-off stated in a concept, made ready."""

    def __init__(self, concept: Concept, core: Sequence[Stated]) -> None:
        self.stated = {
            index: (stage, entries(stage))
            for index, stage in enumerate(core)
            if any(tank.boil_off is not None for tank in stage.tanks)
        }
        stay = concept.mission.stay_in_orbit
        self.stay = stay.value if stay is not None else 0.0
        self.assumed = [
            f"{stage.name}: boils off from lift-off to its ignition, over the burn times at full thrust (ours)"
            for index, (stage, _) in self.stated.items()
            if index > 0
        ]

    def taken_off(self, stages: Sequence[Stage]) -> list[Stage]:
        """The stages, bottom first, with what boils away taken out of what could burn."""
        made, passed = [], 0.0  # s since lift-off
        for index, stage in enumerate(stages):
            passed += stage.pause
            if index in self.stated:
                last = index == len(stages) - 1
                stage = self._boiled(index, stage, passed if index else 0.0, self.stay if last else 0.0)
            made.append(stage)
            flow = stage.flow + sum(g.count * g.jet.static_fuel_flow for g in stage.engines if g.jet)
            passed += max(stage.propellant.burns, 0.0) / flow if flow > 0.0 else 0.0
        return made

    def _boiled(self, index: int, stage: Stage, before: float, after: float) -> Stage:
        stated, every = self.stated[index]
        p = stage.propellant
        held = masses(stated, p.load, stated.mixture_ratio or 1.0, every)
        day = sum(boil_off(entry, mass) or 0.0 for entry, mass in zip(every, held, strict=True))
        rate = day / SECONDS_A_DAY
        gone, later = min(rate * before, p.burns), min(rate * after, p.burns)
        burns = p.burns - gone - later
        return replace(
            stage, boil_rate=rate,
            propellant=replace(p, burns=burns, boil_off=gone, boil_off_in_orbit=later),
        )  # fmt: skip
