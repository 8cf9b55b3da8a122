"""What a concept file can say: one model a block, every field described, every wrong value refused.

Models are frozen.  Keys in the file are the attribute names with spaces for underscores, except where
an alias is given.  `docs/concept-file.md` is written from these classes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, PrivateAttr, ValidationInfo, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block, Judged
from wetmass.concept.block import complain as _complain
from wetmass.concept.coming_home import Home, NamedPlace, without_engines
from wetmass.concept.derived import ByParts, FromTanks, Like, ReadsDryMass, ReadsLoad
from wetmass.concept.fields import (
    AtMost,
    Choice,
    Find,
    Line,
    ReadBy,
    Reads,
    ReadsBearing,
    ReadsSpan,
    StageName,
    Whole,
    YesNo,
    nearest,
    shown,
    wrong,
)
from wetmass.concept.measures import Claim, Objective, Requirement, read_claim, read_requirement
from wetmass.concept.mission import Mission
from wetmass.concept.pairs import PairName, PropellantName, pair_of, parts_of
from wetmass.concept.points import rising_pairs
from wetmass.concept.quantity import Quantity, Span, parse_quantity
from wetmass.concept.tank_shapes import SIZES, shape_of
from wetmass.physics.chamber import USUAL_EFFICIENCY, ideal_engine
from wetmass.physics.jets import MOST_REHEATED_BYPASS
from wetmass.physics.materials import MATERIALS
from wetmass.physics.propellants import boil_off_per_day, density, mass_ratio
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE
from wetmass.physics.stages_flown import MATURITIES
from wetmass.record.refusal import Complaint, Place, Refusal

MOST_STAGES = 12


# ── values ───────────────────────────────────────────────────────────────────────────────────────

_HEAVY = "100 000 t"
Mass = Annotated[Quantity, Reads(d.MASS, at_least="0 kg", at_most=_HEAVY, example="400 kg")]
PartMass = Annotated[
    Quantity, Reads(d.MASS, at_least="1 kg", at_most=_HEAVY, why="g alone is a gram here", example="600 kg")
]
OpenMass = Annotated[
    Quantity | Find,
    Reads(d.MASS, at_least="1 kg", at_most=_HEAVY, why="g alone is a gram here", find=True, example="9.4 t"),
]
DryMass = Annotated[
    Quantity | Find | ByParts | Like,
    ReadsDryMass(
        d.MASS, at_least="1 kg", at_most=_HEAVY, why="g alone is a gram here", find=True, example="9.4 t"
    ),
]
Load = Annotated[
    Quantity | Find | FromTanks,
    ReadsLoad(
        d.MASS, at_least="1 kg", at_most=_HEAVY, why="g alone is a gram here", find=True, example="68 t"
    ),
]
OpenPayload = Annotated[
    Quantity | Find, Reads(d.MASS, at_least="0 kg", at_most="10 000 t", find=True, example="1.2 t")
]
Diameter = Annotated[Quantity, Reads(d.LENGTH, at_least="0.05 m", at_most="50 m", example="3.1 m")]
Length = Annotated[Quantity, Reads(d.LENGTH, at_least="0.05 m", at_most="200 m", example="8 m")]
OpenLength = Annotated[
    Quantity | Find,
    Reads(d.LENGTH, at_least="0.01 m", at_most="200 m", spread=False, find=True, example="3.1 m"),
]
Room = Annotated[Quantity, Reads(d.LENGTH, at_least="0 m", at_most="50 m", spread=False, example="0.1 m")]
Area = Annotated[Quantity, Reads(d.AREA, above="0 m²", at_most="2000 m²", example="1.2 m²")]
Time = Annotated[Quantity, Reads(d.TIME, at_least="0 s", at_most="30 day", example="4 s")]
Share = Annotated[Quantity, Reads(d.NUMBER, at_least="0 %", below="100 %", example="5 %")]
ShareOrMass = Annotated[Quantity, Reads(d.NUMBER, d.MASS, at_least="0", example="0.6 %")]
StructuralFraction = Annotated[
    Quantity, Reads(d.NUMBER, above="0", below="1", example="8 %", why="dry over dry and propellant")
]
MixtureRatio = Annotated[Quantity, Reads(d.NUMBER, above="0", at_most="1000", example="3.4")]
Force = Annotated[Quantity, Reads(d.FORCE, above="0 N", at_most="1 GN", example="210 kN")]
Seconds = Annotated[Quantity, Reads(d.TIME, at_least="20 s", at_most="20 000 s", example="309 s")]
Throttle = Annotated[Quantity, Reads(d.NUMBER, at_least="1 %", at_most="100 %", example="45 %")]
Scale = Annotated[Quantity | Find, Reads(d.NUMBER, at_least="0.01", at_most="100", find=True, example="1.2")]
Count = Annotated[int, Whole(1, 200)]
OpenCount = Annotated[int | Find, Whole(1, 200, find=True)]
Name = Annotated[str, Line(40, name=True)]


# ── blocks ───────────────────────────────────────────────────────────────────────────────────────


class AirLaunch(Block):
    """Let go from a carrier in flight above the site, heading as the ascent does."""

    height: Annotated[
        Quantity, Reads(d.LENGTH, at_least="1 km", at_most="40 km", spread=False, example="11 km")
    ] = Field(description="height at which it is let go")
    speed: Annotated[
        Quantity, Reads(d.SPEED, at_least="20 m/s", at_most="2 km/s", spread=False, example="220 m/s")
    ] = Field(description="speed through the air at that moment")
    path_angle: Annotated[
        Quantity, Reads(d.ANGLE, at_least="-10 deg", at_most="80 deg", spread=False, example="25 deg")
    ] = Field(default=parse_quantity("0 deg", d.ANGLE), description="angle of that speed above the horizon")


class Site(Block):
    """Where it is launched from."""

    latitude: Annotated[Quantity, ReadsBearing("90 deg", "N", "S", "14.2 deg N")] = Field(
        description="geodetic latitude of the pad, north above zero"
    )
    longitude: Annotated[Quantity, ReadsBearing("180 deg", "E", "W", "40 deg W")] = Field(
        description="longitude of the pad, east above zero"
    )
    height: Annotated[
        Quantity, Reads(d.LENGTH, at_least="-500 m", at_most="9 km", spread=False, example="20 m")
    ] = Field(default=parse_quantity("0 m", d.LENGTH), description="height of the pad above the ellipsoid")
    headings: Annotated[Span, ReadsSpan(d.ANGLE, "-360 deg", "360 deg", "0 to 200 deg")] | None = Field(
        default=None,
        description="headings the site allows, clockwise from north; all where nothing is said",
    )
    launch: AirLaunch | None = Field(
        default=None, description="from the air, above this place; from the pad where nothing is said"
    )


class Fairing(Judged):
    """The shell over the payload.  One of the three `drop` keys says when it goes."""

    mass: PartMass = Field(description="mass of the whole fairing")
    diameter: Diameter | None = Field(
        default=None, description="outer diameter; that of the last stage where nothing is said"
    )
    length: Length | None = Field(default=None, description="length with the nose")
    nose: Length | None = Field(
        default=None, description="length of the rounded nose; 1.2 diameters where nothing is said"
    )
    drop_heating: Annotated[
        Quantity, Reads(d.HEAT_FLUX, above="0 W/m²", at_most="1 MW/m²", example="1135 W/m²")
    ] | None = Field(
        default=None,
        description="dropped once free-molecular heating ½ρv³ has fallen below this; 1135 W/m² where "
        "no key says when (common practice)",
    )  # fmt: skip
    drop_height: Annotated[
        Quantity, Reads(d.LENGTH, at_least="1 km", at_most="1000 km", example="110 km")
    ] | None = Field(default=None, description="dropped at this height")  # fmt: skip
    drop_time: Time | None = Field(default=None, description="dropped at this time after lift-off")

    @classmethod
    def judge(cls, data: dict[str, Any]) -> tuple[list[Complaint], dict[str, Any]]:
        given = [key for key in ("drop heating", "drop height", "drop time") if key in data]
        if not given:
            return [], {**data, "drop heating": "1135 W/m²"}
        accepted = f'one rule for the drop; "{given[0]}" is stated already'
        return [
            Complaint(key, shown(data[key]), accepted, "keep one of the two, delete the other")
            for key in given[1:]
        ], data


class Dropped(Block):
    """A part that is let go on the way, such as an escape tower or an interstage ring."""

    name: Name = Field(description="what it is")
    mass: PartMass = Field(description="its mass")
    after_ignition_of: Annotated[str, StageName()] = Field(
        description="the stage whose ignition starts the clock"
    )
    time: Time = Field(
        default=parse_quantity("0 s", d.TIME), description="how long after that ignition it goes"
    )


class Propellant(Block):
    """What a stage burns.  What stays unused, what goes before lift-off and after cut-off are apart."""

    pair: Annotated[str, PairName()] = Field(description="oxidiser and fuel, or a single propellant")
    mixture_ratio: MixtureRatio | None = Field(
        default=None, description="oxidiser to fuel by mass; none for a single propellant"
    )
    mixture_ratio_by_volume: MixtureRatio | None = Field(
        default=None, description="oxidiser to fuel by volume, instead: the densities as loaded convert it"
    )
    mass: Load = Field(description="all that is loaded: residuals and start loss are part of it")
    extra_fuel: Mass | None = Field(
        default=None,
        description="fuel in that load beyond the mixture ratio, for jets on the same tank; what they burn "
        "where nothing is said",
    )
    residuals: ShareOrMass | None = Field(
        default=None,
        description="unusable, still aboard after cut-off: a share of the mass loaded, or a mass",
    )
    start_loss: Mass | None = Field(
        default=None, description="used before the stage moves: chill, start, hold-down"
    )
    shut_down_loss: Mass | None = Field(
        default=None,
        alias="shut-down loss",
        description="leaves the engines after cut-off without counted thrust",
    )

    @model_validator(mode="after")
    def _sound(self) -> Propellant:
        _complain(self._ratio(), self._left(), *self._losses())
        return self

    def _ratio(self) -> Complaint | None:
        pair, ratio, volumes = pair_of(self.pair), self.mixture_ratio, self.mixture_ratio_by_volume
        key = "mixture ratio" if volumes is None else "mixture ratio by volume"
        stated = ratio if volumes is None else volumes
        if pair is None:
            if stated is None:
                return None
            accepted = f"no {key}: {self.pair} is a single propellant"
            return Complaint(key, shown(stated), accepted, "delete this key")
        if ratio is not None and volumes is not None:
            accepted = f"a ratio by mass or one by volume, not both (by mass {ratio})"
            return Complaint(key, shown(volumes), accepted, "delete one of the two")
        low, high = (float(f"{end:.2g}") for end in pair.accepted)
        usual = f"{pair.usual[0]:g} to {pair.usual[1]:g}"
        band = f"{low:g} to {high:g} for {pair.name}, oxidiser to fuel by mass (usual: {usual})"
        if volumes is not None:
            dense = pair.oxidiser.density / pair.fuel.density
            if low <= volumes.value * dense <= high:
                return None
            band = f"{low / dense:.2g} to {high / dense:.2g} for {pair.name}, oxidiser to fuel by volume"
            return Complaint(key, shown(volumes), band, "check the number, and that it is by volume")
        if ratio is None:
            advice = f'add "mixture ratio: {pair.typical:.1f}" or what is meant'
            return Complaint("mixture ratio", "nothing", band, advice)
        reader = Reads(d.NUMBER, at_least=f"{low:g}", at_most=f"{high:g}")
        ends = (ratio.spread.low, ratio.spread.high) if ratio.spread else (ratio.value,)
        if all(map(reader.inside, ends)):
            return None
        turned = 1.0 / ratio.value
        if pair.usual[0] <= turned <= pair.usual[1]:
            advice = f"give oxidiser to fuel, not fuel to oxidiser; did you mean {turned:.2f}?"
        else:
            advice = reader.slipped(ratio) or "check the number"
        return Complaint("mixture ratio", shown(ratio), band, advice)

    def _left(self) -> Complaint | None:
        left = self.residuals
        if left is None:
            return None
        if left.dimension == d.NUMBER and not left.value <= 0.2:
            advice = (
                f'check it; did you mean "{left.number} %"?' if not left.unit.text else "check the number"
            )
            return Complaint("residuals", shown(left), "at most 20 % of the propellant", advice)
        if (
            left.dimension == d.MASS
            and isinstance(self.mass, Quantity)
            and left.value > 0.2 * self.mass.value
        ):
            return Complaint(
                "residuals", shown(left), f"at most 20 % of the propellant, {self.mass}", "check the unit"
            )
        return None

    def _losses(self) -> list[Complaint]:
        if not isinstance(self.mass, Quantity):
            return []
        pairs = (
            ("start loss", self.start_loss), ("shut-down loss", self.shut_down_loss),
            ("extra fuel", self.extra_fuel),
        )  # fmt: skip
        return [
            Complaint(key, shown(loss), f"at most 20 % of the propellant, {self.mass}", "check the unit")
            for key, loss in pairs
            if loss is not None and loss.value > 0.2 * self.mass.value
        ]


def _two_figures(data: Any) -> Any:
    if isinstance(data, str) and data.strip():
        accepted = "a figure at sea level, in vacuum, or both"
        raise wrong(data, accepted, f"say where it holds: {{sea level: {data}}} or {{vacuum: {data}}}")
    return data


class Thrust(Block):
    """Thrust of one engine at full throttle; at least one of the two figures."""

    sea_level: Force | None = Field(default=None, description="at sea level, 101 325 Pa")
    vacuum: Force | None = Field(default=None, description="in vacuum")

    _where = model_validator(mode="before")(_two_figures)

    @model_validator(mode="after")
    def _ordered(self) -> Thrust:
        _check_figures(self.sea_level, self.vacuum, "thrust", "210 kN")
        return self


class SpecificImpulse(Block):
    """Specific impulse; at least one of the two figures."""

    sea_level: Seconds | None = Field(default=None, description="at sea level, 101 325 Pa")
    vacuum: Seconds | None = Field(default=None, description="in vacuum")

    _where = model_validator(mode="before")(_two_figures)

    @model_validator(mode="after")
    def _ordered(self) -> SpecificImpulse:
        _check_figures(self.sea_level, self.vacuum, "specific impulse", "309 s")
        return self


def _check_figures(ground: Quantity | None, vacuum: Quantity | None, what: str, example: str) -> None:
    if ground is None and vacuum is None:
        raise wrong(
            "",
            f"{what} at sea level, in vacuum, or both",
            f'add "vacuum: {example}" or "sea level: {example}"',
        )
    if ground is not None and vacuum is not None and not ground.value < vacuum.value:
        accepted = f"less than in vacuum, {vacuum}: the air outside pushes back on the nozzle"
        raise wrong(ground, accepted, "swap the two figures, or check them", "sea level")


@dataclass(frozen=True, slots=True)
class Failure:
    """Engines that fail."""

    count: int
    time: Quantity  # after the stage is lit

    def __str__(self) -> str:
        return f"{self.count} at {self.time}"


def _failure(value: Any) -> Failure:
    if isinstance(value, Failure):
        return value
    match = re.fullmatch(r"(\d{1,3})\s+at\s+(.+)", value.strip()) if isinstance(value, str) else None
    if match is None or not 1 <= int(match[1]) <= 200:
        raise wrong(value, "how many fail, and when after the stage is lit", 'write it as in "1 at 60 s"')
    return Failure(int(match[1]), _FAILURE_TIME(match[2], None))


_FAILURE_TIME = Reads(d.TIME, at_least="0 s", at_most="1 day", spread=False, example="60 s")
_SHARE_OF_MEAN = Reads(d.NUMBER, at_least="0", at_most="20", spread=False, example="1.1")
_TRACE_TIME = Reads(d.TIME, at_least="0 s", at_most="1 h", spread=False, example="20 s")


def _trace(value: Any) -> tuple[tuple[float, float], ...]:
    if not isinstance(value, (list, tuple)) or len(value) < 3:
        accepted = "at least 3 points [time, share of the mean thrust], time rising from 0 s"
        raise wrong(value, accepted, "write [[0 s, 0], [1 s, 1.1], [90 s, 0.9], [94 s, 0]]")
    points: list[tuple[float, float]] = []
    for time, share in rising_pairs(
        value, (_TRACE_TIME, _SHARE_OF_MEAN), pair="a point [time, share]", example="[20 s, 1.1]",
        above=lambda before: f"a time after the one before, {before:g} s", remedy="sort the points",
    ):  # fmt: skip
        if not points and time.value != 0.0:
            raise wrong(time, "0 s, the ignition, for the first point", 'begin with "[0 s, 0]"', "1")
        points.append((time.value, share.value))
    if not sum(share for _, share in points) > 0.0:
        raise wrong(value, "thrust somewhere", "give shares above 0")
    return tuple(points)


RuleHeight = Annotated[
    Quantity, Reads(d.LENGTH, at_least="100 m", at_most="2000 km", spread=False, example="90 km")
]
RuleMach = Annotated[Quantity, Reads(d.NUMBER, at_least="0.1", at_most="10", spread=False, example="1.6")]


Trace = Annotated[tuple[tuple[float, float], ...], ReadBy(lambda value, info: _trace(value))]


class EngineGroup(Block):
    """Engines of one kind.  Thrust and specific impulse are those of one engine."""

    name: Name | None = Field(default=None, description="what to call the group")
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
    stops_with: Annotated[
        Quantity, Reads(d.NUMBER, d.MASS, at_least="0", example="20 %")
    ] | None = Field(
        default=None, description="cut off with this much of the stage's propellant left: a share or a mass"
    )  # fmt: skip
    out: Annotated[Failure, ReadBy(lambda value, info: _failure(value))] | None = Field(
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
        missing = self._figures()
        exits = [] if missing or self.from_chamber else self._exit()
        _complain(*missing, *exits, self._fan(), *self._of_kind(), *self._chamber())
        return self

    @property
    def from_chamber(self) -> bool:
        """Whether its specific impulse and exit follow from its chamber and area ratio."""
        return self.area_ratio is not None

    def _chamber(self) -> list[Complaint]:
        """Keys of an engine from its chamber, and those that follow from them."""
        if self.area_ratio is None:
            if self.efficiency is None:
                return []
            accepted = "only with an area ratio and a chamber pressure, which give an ideal exhaust speed"
            return [Complaint("efficiency", shown(self.efficiency), accepted, 'add "area ratio: 25"')]
        if self.kind != "rocket":
            remedy = "delete this key, or say the kind"
            return [Complaint("area ratio", shown(self.area_ratio), "only with kind: rocket", remedy)]
        found = []
        if self.chamber_pressure is None:
            accepted = "pressure in the chamber, which an engine with an area ratio needs"
            found.append(Complaint("chamber pressure", "nothing", accepted, 'add "chamber pressure: 10 MPa"'))
        follows = f"nothing: it follows from the chamber and the area ratio, {self.area_ratio}"
        found += [
            Complaint(key, "a value" if key == "isp" else shown(value), follows, "delete one of the two")
            for key, value in (
                ("isp", self.isp), ("exit area", self.exit_area), ("exit diameter", self.exit_diameter),
            )
            if value is not None
        ]  # fmt: skip
        if self.thrust is not None and self.thrust.sea_level is not None and self.thrust.vacuum is not None:
            remedy = "delete one of the two"
            accepted = "thrust at sea level or in vacuum: the other follows from the chamber"
            found.append(Complaint("thrust", "two figures", accepted, remedy))
        return found

    @property
    def breathes(self) -> bool:
        """Whether it burns air."""
        return self.kind in ("turbofan", "turbojet", "ramjet")

    def _figures(self) -> list[Complaint]:
        """What a group of its kind cannot do without."""
        if self.kind == "ramjet":
            if self.intake_area is not None:
                return []
            accepted = "area of the air one ramjet takes in, which every ramjet needs"
            return [Complaint("intake area", "nothing", accepted, 'add "intake area: 1.2 m²"')]
        found = [
            Complaint(
                key, "nothing", f"{words}, which every group of engines needs", f'add "{key}: {{{example}}}"'
            )
            for key, words, example, value in (
                ("thrust", "thrust of one engine at full throttle", "sea level: 210 kN", self.thrust),
                ("isp", "specific impulse", "vacuum: 341 s", self.isp),
            )
            if value is None and not (key == "isp" and self.from_chamber)
        ]  # fmt: skip
        if not found and self.breathes and self.isp is not None:
            for key, figures in (("thrust", self.thrust), ("isp", self.isp)):
                if figures.sea_level is None or figures.vacuum is not None:  # type: ignore[union-attr]
                    accepted = "the figure at sea level alone: there is no air in vacuum"
                    found.append(
                        Complaint(key, "a figure in vacuum", accepted, f'write "{key}: {{sea level: …}}"')
                    )
        return found

    def _of_kind(self) -> list[Complaint]:
        """Keys that only one kind of engine knows."""
        jets, rockets = ("turbofan", "turbojet"), ("rocket", "nuclear")
        adapting = self.nozzle == "altitude-adapting"
        found = [
            Complaint(
                key, shown(value), f"only with kind: {' or '.join(kinds)}", "delete this key, or say the kind"
            )
            for key, value, kinds in (
                ("trace", self.trace, ("solid",)), ("spool up", self.spool_up, jets),
                ("intake diameter", self.intake_diameter, jets),
                ("intake doors", self.intake_doors or None, jets),
                ("afterburner", self.afterburner or None, jets),
                ("intake area", self.intake_area, ("ramjet",)),
                ("burner temperature", self.burner_temperature, ("ramjet",)),
                ("start up", self.start_up, ("nuclear",)),
                ("minimum throttle", None if self.kind in rockets else self.minimum_throttle, rockets),
            )
            if value is not None and self.kind not in kinds
        ]  # fmt: skip
        if self.afterburner and self.kind == "turbofan":
            bypass = self.bypass_ratio
            if bypass is None or bypass.value > MOST_REHEATED_BYPASS:
                accepted = f"a bypass ratio of at most {MOST_REHEATED_BYPASS:g} where air is burnt again"
                remedy = 'add "bypass ratio: 0.5" or what is meant, or delete afterburner'
                found.append(
                    Complaint("bypass ratio", shown(bypass) if bypass else "nothing", accepted, remedy)
                )
        if self.lit_above is not None and self.lit_above_mach is not None:
            accepted = f"one rule for lighting it; lit above {self.lit_above} is stated already"
            found.append(
                Complaint("lit above mach", shown(self.lit_above_mach), accepted, "keep one of the two")
            )
        if self.lit_after is not None and (self.lit_above is not None or self.lit_above_mach is not None):
            accepted = "one rule for lighting it"
            found.append(Complaint("lit after", shown(self.lit_after), accepted, "keep one of the two"))
        for key, value, example in (
            ("chamber pressure", self.chamber_pressure, "10 MPa"), ("adapts", self.adapts, "80 %"),
        ):  # fmt: skip
            if adapting and value is None:
                accepted = f"{key}, which an altitude-adapting nozzle needs"
                found.append(Complaint(key, "nothing", accepted, f'add "{key}: {example}"'))
        if self.adapts is not None and not adapting:
            remedy = 'delete this key, or add "nozzle: altitude-adapting"'
            found.append(
                Complaint("adapts", shown(self.adapts), "only with an altitude-adapting nozzle", remedy)
            )
        if adapting and self.rules_of_its_own:
            accepted = "a fixed nozzle on engines with rules of their own: their gain is not computed"
            found.append(Complaint("nozzle", shown(self.nozzle), accepted, "drop the rule, or the nozzle"))
        if self.out is not None and isinstance(self.count, int) and not self.out.count < self.count:
            accepted = f"fewer engines out than the {self.count} there are"
            found.append(Complaint("out", f'"{self.out}"', accepted, "leave one that burns"))
        return found

    @property
    def rules_of_its_own(self) -> bool:
        """Whether it is lit or stopped apart from its stage."""
        rules = (
            self.lit_after, self.lit_above, self.lit_above_mach, self.stops_above, self.stops_above_mach,
            self.stops_with,
        )  # fmt: skip
        return any(rule is not None for rule in rules)

    def _exit(self) -> list[Complaint]:
        if self.exit_area is not None and self.exit_diameter is not None:
            accepted = f"exit area or exit diameter, not both (area {self.exit_area})"
            return [Complaint("exit diameter", shown(self.exit_diameter), accepted, "delete one of the two")]
        if self.breathes or self.exit_area is not None or self.exit_diameter is not None:
            return []
        thrust, isp = self.thrust, self.isp
        both = (thrust.sea_level and thrust.vacuum) or (isp.sea_level and isp.vacuum)
        if both or (thrust.vacuum and isp.vacuum):
            return []
        where = {True: "in vacuum", False: "at sea level"}
        have = f"thrust {where[bool(thrust.vacuum)]} and isp {where[bool(isp.vacuum)]} alone"
        accepted = (
            "figures that give thrust at every height: both of thrust or isp, both in vacuum, or an exit area"
        )
        return [Complaint("thrust", have, accepted, 'add the missing figure, or "exit diameter: 0.9 m"')]

    def _fan(self) -> Complaint | None:
        if self.bypass_ratio is None or self.kind == "turbofan":
            return None
        return Complaint(
            "bypass ratio",
            shown(self.bypass_ratio),
            "only with kind: turbofan",
            "delete this key, or say the kind",
        )


class Tank(Judged):
    """One tank, or several alike.  Sizes are of the inside; one that is left out follows from its load."""

    holds: Annotated[str, PropellantName()] = Field(
        description="what is in it: a part of the pair, or oxidiser, fuel"
    )
    shape: Annotated[str, Choice(*SIZES)] = Field(
        description="shape of its body; a ring is the room between two upright cylinders"
    )
    diameter: OpenLength | None = Field(
        default=None,
        description="outer diameter, at the bottom of a frustum; the stage's where nothing is said, or the "
        "greatest with which several stand side by side in it",
    )
    top_diameter: OpenLength | None = Field(default=None, description="diameter at the top of a frustum")
    inner_diameter: OpenLength | None = Field(
        default=None, description="free circle through the middle of a ring or a torus"
    )
    tube_diameter: OpenLength | None = Field(default=None, description="of the tube of a torus")
    length: OpenLength | None = Field(
        default=None,
        description="straight part of a cylinder, frustum or ring; from pole to pole of an ellipsoid",
    )
    domes: Annotated[str, Choice("ellipsoidal", "hemispherical", "flat")] = Field(
        default="ellipsoidal",
        description="shape of its ends; ellipsoidal ones are 1/√2 of their radius high",
    )
    dome_height: OpenLength | None = Field(default=None, description="height of its ends instead")
    volume: (
        Annotated[Quantity, Reads(d.VOLUME, above="0 m³", at_most="20 000 m³", example="75 m³")] | None
    ) = Field(default=None, description="inside volume of one, instead of a size")
    shares_bulkhead: Annotated[bool, YesNo()] = Field(
        default=False, description="its upper dome is shared with the tank before it in the list"
    )
    beside: Annotated[bool, YesNo()] = Field(
        default=False,
        description="it stands at the height of the tank before it in the list: beside it, or round it",
    )
    inside: Annotated[str, PropellantName()] | None = Field(
        default=None, description="what the tank holds that this one is built into"
    )
    count: Count = Field(default=1, description="how many alike, side by side")
    centre: Annotated[bool, YesNo()] = Field(
        default=False, description="one of them stands in the middle of the others"
    )
    gap: Room | None = Field(default=None, description="free room between those side by side")
    stands_at: Room | None = Field(
        default=None,
        description="its lowest point above the engine exits; where nothing is said tanks are stacked",
    )
    ullage: Share | None = Field(default=None, description="share of the volume left to gas")
    at: Annotated[Quantity, Reads(d.TEMPERATURE, above="0 K", at_most="500 K", example="66 K")] | None = (
        Field(default=None, description="temperature as loaded; boiling for cryogens where nothing is said")
    )
    boil_off: Annotated[
        Quantity, Reads(d.MASS_FLOW, d.FREQUENCY, d.POWER, example="20 kg/day")
    ] | None = Field(
        default=None,
        alias="boil-off",
        description="what boils away: a mass or a share of the load in a time, or the heat leaking in",
    )  # fmt: skip
    pressure: Annotated[
        Quantity, Reads(d.PRESSURE, above="0 bar", at_most="500 bar", spread=False, example="3 bar")
    ] | None = Field(
        default=None, description="greatest gas pressure over that outside, for its walls"
    )  # fmt: skip
    material: Annotated[str, Choice(*MATERIALS)] | None = Field(
        default=None, description="what its walls are made of"
    )

    @classmethod
    def judge(cls, data: dict[str, Any]) -> tuple[list[Complaint], dict[str, Any]]:
        shape = " ".join(str(data.get("shape", "")).split())
        taken = SIZES.get(shape)
        if taken is None:  # told by its reader
            return [], data
        complaints = []
        every = {name for names in SIZES.values() for name in names}
        for key in data:
            if key in every and key not in taken:
                accepted = f"the sizes of a {shape}: {', '.join(taken)}"
                complaints.append(
                    Complaint(key, shown(data[key]), accepted, "delete this key, or check the shape")
                )
        if shape not in ("cylinder", "frustum"):
            complaints += [
                Complaint(key, shown(data[key]), "only with a cylinder or a frustum", "delete this key")
                for key in ("domes",)
                if key in data
            ]
        if "domes" in data and "dome height" in data:
            accepted = "domes or dome height, not both"
            complaints.append(Complaint("dome height", shown(data["dome height"]), accepted, "delete one"))
        if "tube diameter" in data and "inner diameter" in data and "diameter" in data:
            accepted = "two of diameter, tube diameter and inner diameter: they follow from each other"
            complaints.append(
                Complaint("inner diameter", shown(data["inner diameter"]), accepted, "delete one")
            )
        opened = [
            key
            for key in taken
            if isinstance(data.get(key), Find) or str(data.get(key)).strip()[:4] == "find"
        ]
        for key in opened[1:]:
            accepted = f"one size to be found; {opened[0]} is open already"
            complaints.append(Complaint(key, shown(data[key]), accepted, "give one of the two"))
        return complaints, data

    @model_validator(mode="after")
    def _sound(self) -> Tank:
        complaints = []
        if self.boil_off is not None and not self.boil_off.value >= 0.0:
            complaints.append(Complaint("boil-off", shown(self.boil_off), "0 or more", "check the sign"))
        if self.shares_bulkhead and self.shape != "cylinder":
            accepted = "only between cylinders of one diameter"
            complaints.append(Complaint("shares bulkhead", '"yes"', accepted, "delete this key"))
        if self.shares_bulkhead and (self.beside or self.inside or self.stands_at or self.count > 1):
            accepted = "only with one tank that stands under the one before it"
            complaints.append(Complaint("shares bulkhead", '"yes"', accepted, "delete one of the keys"))
        if self.centre and self.count < 3:
            accepted = "3 or more, with one in the middle of the others"
            complaints.append(
                Complaint("count", f'"{self.count}"', accepted, "delete centre, or give the count")
            )
        if self.inside is not None and (self.count > 1 or self.beside):
            complaints.append(
                Complaint("inside", shown(self.inside), "one tank that stands in another", "delete one key")
            )
        if self.count > 1 and self.shape in ("torus", "ring"):
            accepted = f"1: a {self.shape} goes round the axis, several stand above each other"
            complaints.append(Complaint("count", f'"{self.count}"', accepted, "make an entry for each"))
        _complain(*complaints)
        return self


class Drag(Block):
    """Drag of everything that flies while this stage burns."""

    diameter: Diameter | None = Field(
        default=None, description="of the circle the coefficient refers to; the stage's where nothing is said"
    )
    area: Area | None = Field(default=None, description="the area instead")
    curve: Annotated[str | tuple[tuple[float, float], ...], ReadBy(lambda value, info: _curve(value))] = (
        Field(
            default="typical",
            description="typical | low | high, or a list of [Mach, coefficient], Mach rising",
        )
    )

    @model_validator(mode="after")
    def _one_size(self) -> Drag:
        if self.diameter is not None and self.area is not None:
            raise wrong(
                self.area,
                f"a diameter or an area, not both (diameter {self.diameter})",
                "delete one of the two",
                "area",
            )
        return self


_CURVES = Choice("typical", "low", "high")
_MACH = Reads(d.NUMBER, at_least="0", at_most="50", spread=False, example="0.8")
_COEFFICIENT = Reads(d.NUMBER, at_least="0", at_most="5", spread=False, example="0.3")


def _curve(value: Any) -> Any:
    if isinstance(value, str):
        return _CURVES.read(value, None)
    if not isinstance(value, (list, tuple)) or len(value) < 4:
        accepted = "typical | low | high, or at least 4 points [Mach, coefficient]"
        raise wrong(
            value, accepted, "write [[0, 0.3], [0.8, 0.35], [1.1, 0.6], [3, 0.3]] or one of the words"
        )
    points = rising_pairs(
        value, (_MACH, _COEFFICIENT), pair="a point [Mach, coefficient]", example="[0.8, 0.35]",
        above=lambda before: f"a Mach number above the one before, {before:g}", remedy="sort the points",
    )  # fmt: skip
    return tuple((mach.value, coefficient.value) for mach, coefficient in points)


class Part(Block):
    """A part of a stage whose mass is known: it takes the place of our estimate of that name, or is added."""

    name: Name = Field(description="what it is, such as landing legs, engines, avionics")
    mass: Mass = Field(description="its mass, all of them together")


class EngineLayout(Block):
    """How the engines stand under a stage; groups stand outside one another in the order of the list."""

    way: Annotated[str, Choice("tightest", "ring", "centre and ring")] = Field(
        default="tightest", description="how those of the first group stand"
    )
    gimbal: (
        Annotated[Quantity, Reads(d.ANGLE, at_least="0 deg", at_most="45 deg", spread=False, example="5 deg")]
        | None
    ) = Field(
        default=None,
        description="greatest swing either way; room is kept for two that swing towards each other",
    )
    pivot_to_exit: Length | None = Field(
        default=None,
        description="from the pivot of an engine to its exit; its whole length where nothing is said",
    )
    gap: Room | None = Field(
        default=None, description="free room between two exits at rest, beside the swing"
    )
    engine_length: Length | None = Field(
        default=None, description="of the longest engine; 1.8 exit diameters where nothing is said"
    )
    ring_diameter: Diameter | None = Field(
        default=None, description="of the circle on which the axes of the first group's ring stand"
    )


class Stage(Judged):
    """One stage.  Either its dry mass or its structural fraction is stated, or where it comes from."""

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
        stated, fraction = data.get("dry mass"), data.get("structural fraction")
        opened = isinstance(stated, Find) or (isinstance(stated, str) and stated.strip().startswith("find"))
        complaints = []
        if stated is None and fraction is None:
            if not any(
                nearest(key, _DRY) for key in data if key not in _STAGE_KEYS
            ):  # a mistyped key is told
                remedy = 'add "dry mass: 9.4 t" or "structural fraction: 8 %"'
                complaints.append(
                    Complaint("", "nothing of its dry mass", "a dry mass or a structural fraction", remedy)
                )
        elif opened and fraction is None:
            accepted = "find only beside a structural fraction, which sizes it"
            remedy = 'add "structural fraction: 8 %", or give a mass'
            complaints.append(Complaint("dry mass", shown(stated), accepted, remedy))
        elif stated is not None and not opened and fraction is not None:
            accepted = f"a dry mass or a structural fraction, not both (dry mass {shown(stated)})"
            remedy = 'delete one of the two, or write "dry mass: find"'
            complaints.append(Complaint("structural fraction", shown(fraction), accepted, remedy))
        return complaints, data if stated is not None else {**data, "dry mass": "find"}

    @model_validator(mode="after")
    def _sound(self) -> Stage:
        complaints: list[Complaint] = []
        if not self.engines:
            complaints.append(
                Complaint("engines", "an empty list", "at least one group of engines", "add one")
            )
        complaints += self._held() or [
            *self._liquids(),
            *self._shapes(),
            *self._neighbours(),
            *self._load(),
            *self._chambers(),
        ]
        complaints += self._masses()
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
        _complain(*complaints)
        return self

    def _held(self) -> list[Complaint]:
        parts = parts_of(self.propellant.pair)
        known = {"oxidiser": parts[0], "fuel": parts[-1], **{part: part for part in parts}}
        complaints = []
        for number, tank in enumerate(self.tanks, 1):
            for key, held in (("holds", tank.holds), ("inside", tank.inside)):
                if held is not None and held not in known:
                    near = nearest(held, known)
                    accepted = f"a part of {self.propellant.pair}: {', '.join(known)}"
                    remedy = f'write "{near}"' if near else "write one of these"
                    complaints.append(Complaint(f"tanks / {number} / {key}", shown(held), accepted, remedy))
        return complaints

    def _shapes(self) -> list[Complaint]:
        """Sizes of a tank that cannot go together."""
        complaints = []
        for number, tank in enumerate(self.tanks, 1):
            below = self.tanks[number].shares_bulkhead if number < len(self.tanks) else False
            try:
                shape_of(tank, self.diameter.value, shared_below=below)
            except ValueError as error:
                got = ", ".join(
                    f"{name} {value}" for name in SIZES[tank.shape]
                    if (value := getattr(tank, name.replace(" ", "_"))) is not None
                )  # fmt: skip
                accepted = f"sizes of a {tank.shape} that go together ({error})"
                complaints.append(
                    Complaint(f"tanks / {number}", got or "no size", accepted, "change one of them")
                )
        return complaints

    def _liquids(self) -> list[Complaint]:
        """A temperature at which the density is not known, an ullage or heat leak without meaning."""
        complaints = []
        for number, tank in enumerate(self.tanks, 1):
            name = self.held(tank.holds)
            if tank.ullage is not None and tank.ullage.value > 0.9:
                advice = f'check it; did you mean "{tank.ullage.number} %"?'
                complaints.append(
                    Complaint(f"tanks / {number} / ullage", shown(tank.ullage), "90 % at most", advice)
                )
            try:
                if tank.at is not None:
                    density(name, tank.at.value)
            except ValueError as error:
                advice = "give a temperature in that range, or delete this key"
                complaints.append(Complaint(f"tanks / {number} / at", shown(tank.at), str(error), advice))
            if tank.boil_off is not None and tank.boil_off.dimension == d.POWER:
                try:
                    boil_off_per_day(name, tank.boil_off.value)
                except ValueError as error:
                    advice = "give a mass or a share in a time, such as 20 kg/day"
                    complaints.append(
                        Complaint(f"tanks / {number} / boil-off", shown(tank.boil_off), str(error), advice)
                    )
        return complaints

    def _neighbours(self) -> list[Complaint]:
        """What a tank says of another that is not there, or does not suit."""
        complaints = []
        for number, tank in enumerate(self.tanks, 1):
            before = self.tanks[number - 2] if number > 1 else None
            for key, said in (("shares bulkhead", tank.shares_bulkhead), ("beside", tank.beside)):
                if said and (before is None or before.inside is not None):
                    accepted = "only with a tank before it in the list, that stands by itself"
                    complaints.append(
                        Complaint(
                            f"tanks / {number} / {key}",
                            '"yes"',
                            accepted,
                            "delete this key, or sort the list",
                        )
                    )
            if tank.shares_bulkhead and before is not None and before.inside is None:
                same = before.shape == "cylinder" and before.count == 1 and before.stands_at is None
                across = [
                    one.value if isinstance(one, Quantity) else self.diameter.value if one is None else None
                    for one in (tank.diameter, before.diameter)
                ]
                alike = (tank.domes, str(tank.dome_height)) == (before.domes, str(before.dome_height))
                alike = alike and not isinstance(tank.dome_height, Find)
                if not same or before.beside or across[0] is None or across[0] != across[1] or not alike:
                    accepted = (
                        "a cylinder of the same stated diameter and the same domes before it in the list"
                    )
                    complaints.append(
                        Complaint(f"tanks / {number} / shares bulkhead", '"yes"', accepted,
                                  "give both the same diameter and domes, or delete this key")
                    )  # fmt: skip
            if tank.inside is not None:
                around = [
                    one for one in self.tanks if one.inside is None and self._same(one.holds, tank.inside)
                ]
                if len(around) != 1 or around[0].count > 1:
                    accepted = f"one tank of the list that holds {tank.inside}, by itself"
                    complaints.append(
                        Complaint(
                            f"tanks / {number} / inside", shown(tank.inside), accepted, "check the list"
                        )
                    )
        return complaints

    def _same(self, one: str, other: str) -> bool:
        return self.held(one) == self.held(other)

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

    def _chambers(self) -> list[Complaint]:
        """Engines from their chamber, beyond what is known of the pair."""
        complaints = []
        for number, group in enumerate(self.engines, 1):
            if group.area_ratio is None or group.chamber_pressure is None:
                continue
            at, ratio = f"engines / {number}", self.mixture_ratio
            efficiency = USUAL_EFFICIENCY if group.efficiency is None else group.efficiency.value
            if ratio is None:
                accepted = f"an oxidiser and a fuel: no performance is known of {self.propellant.pair} alone"
                remedy = "give isp instead of the area ratio"
                complaints.append(Complaint(f"{at} / area ratio", shown(group.area_ratio), accepted, remedy))
                continue
            try:
                made = ideal_engine(
                    self.propellant.pair, group.chamber_pressure.value, ratio, group.area_ratio.value,
                    efficiency,
                )  # fmt: skip
            except ValueError as error:
                key = str(error).split()[0].strip(":").replace("_", " ")
                got = {"chamber pressure": group.chamber_pressure, "mixture ratio": f"{ratio:.4g}"}
                field = f"{at} / {key}" if key == "chamber pressure" else f"propellant / {key}"
                remedy = "stay within it, or give isp instead of the area ratio"
                complaints.append(
                    Complaint(field, shown(got.get(key, self.propellant.pair)), str(error), remedy)
                )
                continue
            ground = made.speed_in_air(SEA_LEVEL_PRESSURE)
            if group.thrust is not None and group.thrust.sea_level is not None and not ground > 0.0:
                accepted = "thrust in vacuum: at sea level the air outside takes more than this nozzle gives"
                remedy = f'write "vacuum: {group.thrust.sea_level}", or take a smaller area ratio'
                complaints.append(
                    Complaint(f"{at} / thrust / sea level", shown(group.thrust.sea_level), accepted, remedy)
                )
        return complaints

    def _load(self) -> list[Complaint]:
        """A load from tanks needs all their sizes."""
        if not isinstance(self.propellant.mass, FromTanks):
            return []
        complaints = []
        lacking = set(parts_of(self.propellant.pair)) - {self.held(tank.holds) for tank in self.tanks}
        if lacking:
            accepted = f"a tank for each of {', '.join(parts_of(self.propellant.pair))}"
            got = f'"from tanks", without a tank for {", ".join(sorted(lacking))}'
            complaints.append(Complaint("propellant / mass", got, accepted, "add it, or give the mass"))
        for number, tank in enumerate(self.tanks, 1):
            try:
                shape = shape_of(tank, self.diameter.value)
            except ValueError:
                continue  # told already
            if shape.open and tank.volume is None:
                accepted = "every size, or a volume: the propellant mass follows from the tanks"
                complaints.append(
                    Complaint(f"tanks / {number}", f"no {shape.open}", accepted, f'add "{shape.open}: 4.2 m"')
                )
        return complaints

    def _masses(self) -> list[Complaint]:
        complaints = []
        if self.maturity is not None and self.growth is not None:
            accepted = f"maturity or growth, not both (maturity {self.maturity})"
            complaints.append(Complaint("growth", shown(self.growth), accepted, "delete one of the two"))
        seen: set[str] = set()
        for number, part in enumerate(self.parts, 1):
            if part.name.casefold() in seen:
                complaints.append(
                    Complaint(f"parts / {number} / name", shown(part.name), "each part once", "add them up")
                )
            seen.add(part.name.casefold())
        if isinstance(self.dry_mass, Quantity):
            total = sum(part.mass.value for part in self.parts)
            if total > self.dry_mass.value:
                got = f"parts of {total:g} kg together"
                accepted = f"no more than the dry mass, {self.dry_mass}"
                complaints.append(Complaint("parts", got, accepted, "lower one, or raise the dry mass"))
        return complaints


_DRY = ("dry mass", "structural fraction")
_STAGE_KEYS = {str(field.alias) for field in Stage.model_fields.values()}


class Limits(Block):
    """What the flight may not exceed."""

    felt_acceleration: Annotated[
        Quantity, Reads(d.ACCELERATION, at_least="1 g", at_most="100 g", spread=False,
                        why="a vehicle on its pad feels 1 g")
    ] | None = Field(
        default=None, description="greatest felt acceleration; engines throttle to keep it"
    )  # fmt: skip
    dynamic_pressure: Annotated[
        Quantity, Reads(d.PRESSURE, at_least="1 kPa", at_most="500 kPa", spread=False)
    ] | None = Field(default=None, description="greatest dynamic pressure ½ρv²")  # fmt: skip
    q_alpha: Annotated[
        Quantity, Reads(d.Q_ALPHA, above="0 kPa·deg", at_most="5000 kPa·deg", spread=False)
    ] | None = Field(
        default=None, alias="q-alpha", description="greatest dynamic pressure times angle of attack"
    )  # fmt: skip
    heating: Annotated[
        Quantity, Reads(d.HEAT_FLUX, above="0 W/m²", at_most="100 MW/m²", spread=False)
    ] | None = Field(
        default=None, description="greatest free-molecular heating ½ρv³ after the fairing is gone"
    )  # fmt: skip


def _one_key(value: Any, what: str) -> tuple[str, Any]:
    if not isinstance(value, dict) or len(value) != 1:
        got = f"{len(value)} keys in one entry" if isinstance(value, dict) else shown(value)
        raise Refusal(
            Complaint(
                "", got, f"one {what} an entry", f'write each behind its own "-", such as {_ENTRY[what]}'
            )
        )
    return next(iter(value.items()))


_ENTRY = {"requirement": "- {lift-off mass: at most 210 t}", "claim": "- {first burn-out speed: 2.4 km/s}"}


def _requirement(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, (Requirement, Objective)):
        return value
    name, text = _one_key(value, "requirement")
    return read_requirement(name, text, (info.context or {}).get("stage names", ()))


def _claim(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, Claim):
        return value
    name, text = _one_key(value, "claim")
    return read_claim(name, text, (info.context or {}).get("stage names", ()))


class Concept(Block):
    """A whole launch vehicle, as stated: what is known, what is open, and what is asked."""

    name: Annotated[str, Line(80, name=True, example="Dunlin")] = Field(
        description="what the vehicle is called"
    )
    story: Annotated[str, Line(2000, example="Two-stage methane launcher for weather satellites.")] = Field(
        default="", description="what it is for, in a sentence or two"
    )
    site: Site = Field(description="where it is launched from")
    places: Annotated[tuple[NamedPlace, ...], AtMost(30)] = Field(
        default=(), description="places a stage may come home to, beside the site"
    )
    mission: Mission = Field(description="where to: an orbit, an escape, a destination by name, or a height")
    payload: OpenPayload = Field(description="mass to be delivered")
    fairing: Fairing | None = Field(default=None, description="the shell over the payload")
    also_dropped: Annotated[tuple[Dropped, ...], AtMost(50)] = Field(
        default=(), description="other parts let go on the way"
    )
    stages: Annotated[tuple[Stage, ...], AtMost(MOST_STAGES)] = Field(
        description="the stages, the one lit on the ground first"
    )
    performance_reserve: Annotated[
        Quantity, Reads(d.SPEED, at_least="0 m/s", at_most="3 km/s", spread=False, example="100 m/s")
    ] | None = Field(
        default=None, description="delta-v kept in the last stage at the target orbit"
    )  # fmt: skip
    require: Annotated[tuple[Annotated[Requirement | Objective, ReadBy(_requirement)], ...], AtMost(60)] = (
        Field(
            default=(),
            description="what must hold (at least, at most, exactly), and at most one objective",
        )
    )
    limits: Limits = Field(default=Limits.model_construct(), description="what the flight may not exceed")
    claims: Annotated[tuple[Annotated[Claim, ReadBy(_claim)], ...], AtMost(100)] = Field(
        default=(), description="what someone says of it, to be checked"
    )

    _document: Any = PrivateAttr(default=None)

    @model_validator(mode="after")
    def _whole(self) -> Concept:
        from wetmass.concept.whole import complaints

        _complain(*complaints(self))
        return self

    @property
    def requirements(self) -> tuple[Requirement, ...]:
        """The requirements, without the objective."""
        return tuple(entry for entry in self.require if isinstance(entry, Requirement))

    @property
    def objective(self) -> Objective | None:
        """What is made best of the freedom left, None where nothing was named."""
        return next((entry for entry in self.require if isinstance(entry, Objective)), None)

    def open_values(self) -> tuple[Any, ...]:
        """The values to be found, as records of `wetmass.concept.whole.Open`."""
        from wetmass.concept.whole import open_values

        return open_values(self)

    def not_yet_computed(self) -> tuple[tuple[str, str], ...]:
        """Stated and checked, but without effect on the result yet: (path, why) of each."""
        from wetmass.concept.whole import not_yet_computed

        return not_yet_computed(self)

    @property
    def document(self) -> Any:
        """The file this was read from (`wetmass.concept.document.Document`), None when made in Python."""
        return self._document

    def place(self, path: str) -> Place | None:
        """Where a field stands in the file, such as "stages/first/dry mass", or else its block."""
        return self._document.place(path) if self._document is not None else None

    def __repr__(self) -> str:
        stages = ", ".join(stage.name for stage in self.stages)
        return f"<Concept {self.name}: payload {self.payload}, stages {stages}>"

    __str__ = __repr__
