"""A group of engines of one kind on a stage."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block, complain
from wetmass.concept.fields import Choice, Line, Whole, YesNo
from wetmass.concept.find import Find
from wetmass.concept.model.engine_rules import complaints
from wetmass.concept.model.failure import Out
from wetmass.concept.model.figures import SpecificImpulse, Thrust
from wetmass.concept.model.thrust_trace import Trace
from wetmass.concept.model.values import Area, Diameter, RuleHeight, RuleMach, Time
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads, ReadsShareOrMass

Throttle = Annotated[Quantity, Reads(d.NUMBER, at_least="1 %", at_most="100 %", example="45 %")]
Scale = Annotated[Quantity | Find, Reads(d.NUMBER, at_least="0.01", at_most="100", find=True, example="1.2")]
OpenCount = Annotated[int | Find, Whole(1, 200, find=True)]


class EngineGroup(Block):
    """Engines of one kind.  Thrust and specific impulse are those of one engine."""

    called, needs_too = "group of engines", ("thrust", "isp")

    name: Annotated[str, Line(40, name=True, example="rockets")] | None = Field(
        default=None, description="what to call the group"
    )
    kind: Annotated[
        str, Choice("rocket", "solid", "nuclear", "turbofan", "turbojet", "ramjet")
    ] = Field(default="rocket", description="how it makes thrust")  # fmt: skip
    count: OpenCount = Field(default=1, description="how many, a whole number")
    thrust: Thrust | None = Field(
        default=None,
        description="thrust of one engine at full throttle, a solid's mean; jets: at rest at sea level; "
        "ramjets have none",
    )
    isp: SpecificImpulse | None = Field(
        default=None,
        description="specific impulse; of jets that of the fuel at rest at sea level, 3600 s over the "
        "consumption in lb/(lbf·h)",
    )
    exit_area: Area | None = Field(
        default=None, description="area of one nozzle exit; follows from two figures"
    )
    exit_diameter: Diameter | None = Field(
        default=None, description="diameter of one nozzle exit, instead of its area"
    )
    nozzle: Annotated[str, Choice("fixed", "altitude-adapting")] = Field(
        default="fixed", description="whether the nozzle suits itself to the pressure outside"
    )
    bypass_ratio: Annotated[Quantity, Reads(d.NUMBER, at_least="0", at_most="20", example="5")] | None = (
        Field(default=None, description="air past the core to air through it, turbofans only")
    )
    scale: Scale | None = Field(
        default=None, description="the same engine made larger or smaller: thrust and flow times this"
    )
    minimum_throttle: Throttle | None = Field(
        default=None, description="least thrust, as a share of full; none: it cannot be throttled"
    )
    ignitions: Annotated[int, Whole(1, 50)] = Field(default=1, description="how often it can be lit")
    chamber_pressure: Annotated[
        Quantity, Reads(d.PRESSURE, at_least="1 bar", at_most="600 bar", example="10 MPa")
    ] | None = Field(
        default=None, description="in the chamber: for engines from the chamber, and nozzles that adapt"
    )  # fmt: skip
    area_ratio: Annotated[
        Quantity, Reads(d.NUMBER, at_least="4", at_most="400", spread=False, example="25")
    ] | None = Field(
        default=None,
        description="exit over throat area: with the chamber pressure and the mixture ratio it gives the "
        "specific impulse and the exit, which are left out then",
    )  # fmt: skip
    efficiency: Annotated[
        Quantity, Reads(d.NUMBER, at_least="50 %", at_most="100 %", example="96 %")
    ] | None = Field(
        default=None,
        description="of an engine from its chamber: delivered over ideal exhaust speed in vacuum; 95 % where "
        "nothing is said (common practice)",
    )  # fmt: skip
    adapts: Annotated[
        Quantity, Reads(d.NUMBER, at_least="0 %", at_most="100 %", spread=False, example="80 %")
    ] | None = Field(
        default=None,
        description="how far an altitude-adapting nozzle comes from its fixed bell to ideal expansion",
    )  # fmt: skip
    trace: Trace | None = Field(
        default=None,
        description="thrust of a solid over time, a list of [time, share of the mean]; its scale "
        "follows from propellant and specific impulse",
    )  # fmt: skip
    lit_after: Time | None = Field(default=None, description="lit this long after its stage is")
    lit_above: RuleHeight | None = Field(default=None, description="lit once it is above this height")
    lit_above_mach: RuleMach | None = Field(default=None, description="lit above this Mach number")
    stops_after: Time | None = Field(
        default=None, description="cut off this long after the stage is lit; none: burns to the end"
    )
    stops_above: RuleHeight | None = Field(
        default=None, description="cut off above this height; turbofans and turbojets at 13 km at the latest"
    )
    stops_above_mach: RuleMach | None = Field(
        default=None,
        description="cut off above this Mach number; turbofans at 0.9, turbojets and afterburners at 2, "
        "ramjets at 5 at the latest",
    )
    stops_with: Annotated[Quantity, ReadsShareOrMass(example="20 %")] | None = Field(
        default=None, description="cut off with this much of the stage's propellant left: a share or a mass"
    )  # fmt: skip
    out: Out | None = Field(
        default=None, description="engines that fail, and when after the stage is lit: “1 at 60 s”"
    )
    afterburner: Annotated[bool, YesNo()] = Field(
        default=False,
        description="whether thrust and isp are those with its afterburner burning; turbojets, and turbofans "
        "of little bypass",
    )
    spool_up: Annotated[
        Quantity, Reads(d.TIME, at_least="0.5 s", at_most="60 s", spread=False, example="5 s")
    ] | None = Field(
        default=None, description="time a jet lit in flight takes from nothing to 95 %; 5 s (from memory)"
    )  # fmt: skip
    intake_diameter: Diameter | None = Field(
        default=None, description="of one jet; follows from thrust and bypass ratio"
    )
    intake_doors: Annotated[bool, YesNo()] = Field(
        default=False, description="whether doors close the intakes of jets that are off; else they windmill"
    )
    intake_area: Area | None = Field(default=None, description="of the air one ramjet takes in")
    burner_temperature: Annotated[
        Quantity, Reads(d.TEMPERATURE, at_least="1000 K", at_most="2600 K", spread=False, example="2200 K")
    ] | None = Field(default=None, description="of a ramjet's gas; 2200 K (from memory)")  # fmt: skip
    start_up: Annotated[
        Quantity, Reads(d.TIME, at_least="0 s", at_most="600 s", spread=False, example="30 s")
    ] | None = Field(
        default=None,
        description="time to full thrust of a nuclear engine, its propellant counted; 30 s (from memory)",
    )  # fmt: skip

    @model_validator(mode="after")
    def _sound(self) -> EngineGroup:
        complain(*complaints(self))
        return self

    @property
    def from_chamber(self) -> bool:
        """Whether its specific impulse and exit follow from its chamber and area ratio."""
        return self.area_ratio is not None

    @property
    def breathes(self) -> bool:
        """Whether it burns air."""
        return self.kind in ("turbofan", "turbojet", "ramjet")

    @property
    def rules_of_its_own(self) -> bool:
        """Whether it is lit or stopped apart from its stage."""
        rules = (
            self.lit_after, self.lit_above, self.lit_above_mach, self.stops_above, self.stops_above_mach,
            self.stops_with,
        )  # fmt: skip
        return any(rule is not None for rule in rules)
