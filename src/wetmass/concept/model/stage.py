"""One stage, or strap-ons of one kind."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Judged, complain
from wetmass.concept.fields import AtMost, Choice, StageName, YesNo
from wetmass.concept.model import dry_mass as dry
from wetmass.concept.model import stage_engines, stage_tanks
from wetmass.concept.model.drag import Drag
from wetmass.concept.model.dry_mass import DryMass, Part, StructuralFraction
from wetmass.concept.model.engine import EngineGroup
from wetmass.concept.model.engine_layout import EngineLayout
from wetmass.concept.model.home import Home, without_engines
from wetmass.concept.model.propellant import Propellant
from wetmass.concept.model.tank import Tank
from wetmass.concept.model.values import Count, Diameter, Length, Name, RuleHeight, Time
from wetmass.concept.pairs import parts_of
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.wording import shown
from wetmass.physics.propellants import density, mass_ratio
from wetmass.physics.stages_flown import MATURITIES
from wetmass.record.refusal import Complaint


class Stage(Judged):
    """One stage.  Either its dry mass or its structural fraction is stated, or where it comes from."""

    needs_too = ("dry mass",)

    name: Name = Field(description="what to call it; requirements and claims use the name")
    diameter: Diameter = Field(description="outer diameter of its body")
    length: Length | None = Field(
        default=None, description="from the engine exits to the top of its tanks; what they need otherwise"
    )
    dry_mass: DryMass | None = Field(
        default=None,
        description="everything but propellant: a mass; by parts, added up from published relations; like a "
        "stage that flew; find goes with a structural fraction",
    )
    structural_fraction: StructuralFraction | None = Field(
        default=None, description="dry mass over dry mass and propellant of the stage"
    )
    parts: Annotated[tuple[Part, ...], AtMost(60)] = Field(
        default=(), description="parts of the dry mass that are known"
    )
    maturity: Annotated[str, Choice(*MATURITIES)] | None = Field(
        default=None, description="how far its design is: what by parts grows by until it flies"
    )
    growth: (
        Annotated[Quantity, Reads(d.NUMBER, at_least="0 %", at_most="100 %", spread=False, example="20 %")]
        | None
    ) = Field(default=None, description="the allowance for growth on every part, instead of the maturity's")
    propellant: Propellant = Field(description="what it burns")
    engine_layout: EngineLayout = Field(
        default=EngineLayout.model_construct(), description="how the engines stand under it"
    )
    engines: Annotated[tuple[EngineGroup, ...], AtMost(20)] = Field(
        description="its engines, one entry for each group of a kind"
    )
    pause_before_ignition: Time | None = Field(
        default=None, description="from the cut-off of the stage below to this ignition"
    )
    tanks: Annotated[tuple[Tank, ...], AtMost(40)] = Field(default=(), description="its tanks, from the top")
    drag: Drag = Field(default=Drag.model_construct(), description="drag while this stage burns")
    count: Count = Field(default=1, description="how many alike, for strap-ons")
    strapped_to: Annotated[str, StageName()] | None = Field(
        default=None, description="the stage it burns beside, for strap-ons"
    )
    lit_after: Time | None = Field(
        default=None,
        description="for strap-ons: how long after the beginning of the stage they burn beside; at once else",
    )
    let_go_after: Time | None = Field(
        default=None,
        description="for strap-ons: how long after they have burnt out they are let go; at once else",
    )
    let_go_above: RuleHeight | None = Field(
        default=None,
        description="cut off and let go at this height, if it comes before burn-out: a stage that only lifts",
    )
    crossfeed: Annotated[bool, YesNo()] = Field(
        default=False, description="whether strap-ons feed the engines of their stage"
    )
    hot_staging: Annotated[bool, YesNo()] = Field(
        default=False, description="lit 1 s before the stage below is let go, which has just burnt out"
    )
    home: Home | None = Field(default=None, description="how it comes down; none: it is not brought home")

    @classmethod
    def judge(cls, data: dict[str, Any]) -> tuple[list[Complaint], dict[str, Any]]:
        complaints = dry.of_keys(data, {str(field.alias) for field in cls.model_fields.values()})
        return complaints, data if data.get("dry mass") is not None else {**data, "dry mass": "find"}

    @model_validator(mode="after")
    def _sound(self) -> Stage:
        tanks = stage_tanks.complaints(self)  # the chamber needs their temperatures
        complaints = [*tanks, *stage_engines.complaints(self, sound_tanks=not tanks), *dry.of_parts(self)]
        complaints += without_engines(self.home, self.engines) if self.home is not None else []
        if self.count > 1 and self.strapped_to is None:
            remedy = 'add "strapped to" with the stage they burn beside, or delete the count'
            complaints.append(
                Complaint("count", f'"{self.count}"', "1, unless the stage is strapped to another", remedy)
            )
        if self.strapped_to == self.name:
            complaints.append(
                Complaint("strapped to", shown(self.strapped_to), "another stage", "name the stage beside it")
            )
        complain(*complaints)
        return self

    def held(self, name: str) -> str:
        """A propellant of this stage by its own name, where a tank says oxidiser or fuel."""
        parts = parts_of(self.propellant.pair)
        return {"oxidiser": parts[0], "fuel": parts[-1]}.get(name, name)

    def loaded_density(self, name: str) -> float:
        """Density of a propellant of this stage as loaded [kg/m³]: at the temperature a tank states."""
        at = [tank.at.value for tank in self.tanks if tank.at is not None and self.held(tank.holds) == name]
        return density(name, at[0] if at else None)

    @property
    def mixture_ratio(self) -> float | None:
        """Oxidiser to fuel by mass, None for a single propellant; from one by volume by the densities."""
        p = self.propellant
        if p.mixture_ratio is not None:
            return p.mixture_ratio.value
        if p.mixture_ratio_by_volume is None:
            return None
        oxidiser, fuel = (self.loaded_density(part) for part in parts_of(p.pair))
        return mass_ratio(p.mixture_ratio_by_volume.value, oxidiser, fuel)
