"""How a stage comes down, as a concept file says it: the way, where to, and what each way lets one say."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any

from pydantic import Field

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block, Judged
from wetmass.concept.fields import AtMost, Choice, Line, Whole, YesNo
from wetmass.concept.find import Find
from wetmass.concept.model.parachutes import Parachutes
from wetmass.concept.model.places import DOWNRANGE
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads, ReadsShareOrMass
from wetmass.concept.wording import shown
from wetmass.record.refusal import Complaint

EXPENDED = ("expended", "ballistic")
WAYS = ("expended", "parachutes", "powered landing", "jets", "glide", "ballistic")
_POWERED, _CHUTES, _JETS, _GLIDE = "powered landing", "parachutes", "jets", "glide"

_ONLY: dict[str, tuple[str, ...]] = {
    "posture": (*EXPENDED, _CHUTES),
    "turn around": (_POWERED,), "landing engines": (_POWERED, _JETS), "braking engines": (_POWERED, _JETS),
    "throttle": (_POWERED, _JETS), "touch-down speed": (_POWERED, _JETS), "landing thrust": (_POWERED,),
    "margin": (_POWERED, _JETS),
    "parachutes": (_CHUTES,), "splash speed": (_CHUTES,),
    "cruise speed": (_JETS,), "cruise height": (_JETS,), "headwind": (_JETS,), "hover": (_JETS,),
    "relit below": (_JETS,), "rocket burst": (_JETS,),
    "lift to drag": (_JETS, _GLIDE), "wing area": (_GLIDE,), "best lift": (_GLIDE,), "most lift": (_GLIDE,),
}  # fmt: skip
_WITH_A_PLACE = ("cruise speed", "cruise height", "headwind")

_Share = Annotated[Quantity, Reads(d.NUMBER, at_least="1 %", at_most="100 %", spread=False, example="90 %")]
_Speed = Annotated[Quantity, Reads(d.SPEED, above="0 m/s", at_most="340 m/s", spread=False, example="12 m/s")]
_Wind = Annotated[
    Quantity, Reads(d.SPEED, at_least="0 m/s", at_most="80 m/s", spread=False, example="10 m/s")
]
_Low = Annotated[Quantity, Reads(d.LENGTH, at_least="0 m", at_most="14 km", spread=False, example="1500 m")]
_Area = Annotated[Quantity, Reads(d.AREA, above="0 m²", at_most="20 000 m²", spread=False, example="900 m²")]
_Ratio = Annotated[Quantity, Reads(d.NUMBER, at_least="0.1", at_most="60", spread=False, example="4")]
_Lift = Annotated[Quantity, Reads(d.NUMBER, at_least="0.05", at_most="4", spread=False, example="0.5")]
_Seconds = Annotated[Quantity, Reads(d.TIME, at_least="0 s", at_most="1 h", spread=False, example="10 s")]


class HomeLimits(Block):
    """What the stage may not go through on its way down."""

    felt_acceleration: Annotated[
        Quantity, Reads(d.ACCELERATION, above="1 g", at_most="200 g", spread=False, example="8 g")
    ] | None = Field(default=None, description="greatest felt acceleration; 8 g where nothing is said")  # fmt: skip
    dynamic_pressure: Annotated[
        Quantity, Reads(d.PRESSURE, at_least="1 kPa", at_most="1 MPa", spread=False, example="80 kPa")
    ] | None = Field(default=None, description="greatest dynamic pressure; 80 kPa where nothing is said")  # fmt: skip
    heating: Annotated[
        Quantity, Reads(d.HEAT_FLUX, above="0 W/m²", at_most="100 MW/m²", spread=False, example="200 kW/m²")
    ] | None = Field(
        default=None, description="greatest stagnation heating, indicative; none where nothing is said"
    )  # fmt: skip


class Home(Judged):
    """How a stage comes down.  Most keys belong to one way; all but `by` may be left out."""

    by: Annotated[str, Choice(*WAYS)] = Field(
        description="the way down; ballistic is another word for expended"
    )
    where: Annotated[str, Line(60, example=DOWNRANGE)] = Field(
        default=DOWNRANGE, description="downrange | back to site | the name of one of the places"
    )
    propellant: Annotated[
        Quantity | Find, ReadsShareOrMass(d.MASS, d.NUMBER, find=True, example="4 t")
    ] | None = Field(
        default=None,
        description="homecoming propellant, kept from the ascent: a mass, a share of the load, or find",
    )  # fmt: skip
    margin: Annotated[
        Quantity, Reads(d.NUMBER, at_least="0 %", at_most="100 %", spread=False, example="10 %")
    ] | None = Field(default=None, description="share of that propellant to be left at the end")  # fmt: skip
    limits: HomeLimits = Field(
        default=HomeLimits.model_construct(), description="what it may not go through on its way down"
    )
    from_orbit: Annotated[bool, YesNo()] = Field(
        default=False, description="it is let go in orbit, and a burn out of it comes first"
    )
    entry_angle: Annotated[
        Quantity, Reads(d.ANGLE, at_least="0.3 deg", at_most="20 deg", spread=False, example="2 deg")
    ] | None = Field(
        default=None, description="below the horizon at 120 km, from orbit; 2 deg where nothing is said"
    )  # fmt: skip
    posture: Annotated[str, Choice("tumbling", "base first", "broadside")] | None = Field(
        default=None, description="how it falls without control; tumbling where nothing is said"
    )
    nose_radius: Annotated[
        Quantity, Reads(d.LENGTH, at_least="1 cm", at_most="50 m", spread=False, example="1.5 m")
    ] | None = Field(default=None, description="for its heating; half its diameter where nothing is said")  # fmt: skip
    turn_around: _Seconds | None = Field(
        default=None, description="from letting go to the first burn of a powered landing; 10 s"
    )
    landing_engines: Annotated[int, Whole(1, 60)] | None = Field(
        default=None, description="engines lit to land; whatever takes the least where nothing is said"
    )
    braking_engines: Annotated[int, Whole(1, 60)] | None = Field(
        default=None, description="engines lit to turn back and to brake; likewise"
    )
    throttle: _Share | None = Field(
        default=None,
        description="of the landing burn; the thrust above it is the margin for lighting late; 90 %",
    )
    landing_thrust: Annotated[
        Quantity, Reads(d.NUMBER, at_least="1.05", at_most="20", spread=False, example="3")
    ] | None = Field(default=None, description="most thrust over weight of the landing burn; 3 (ours)")  # fmt: skip
    touch_down_speed: Annotated[
        Quantity, Reads(d.SPEED, at_least="0.1 m/s", at_most="10 m/s", spread=False, example="2 m/s")
    ] | None = Field(default=None, alias="touch-down speed", description="of a powered landing; 2 m/s")  # fmt: skip
    parachutes: Annotated[tuple[Parachutes, ...], AtMost(6)] = Field(
        default=(), description="sets of parachutes; a drogue and three mains, sized for the splash, else"
    )
    splash_speed: _Speed | None = Field(
        default=None,
        description="most speed into the sea under parachutes; 12 m/s, or 25 m/s with sets stated",
    )
    cruise_speed: _Speed | None = Field(
        default=None,
        description="through the air, on jets; whatever takes the least fuel where nothing is said",
    )
    cruise_height: _Low | None = Field(default=None, description="of the cruise on jets; 1500 m (ours)")
    headwind: _Wind | None = Field(default=None, description="against the cruise; 10 m/s (ours)")
    hover: _Seconds | None = Field(
        default=None, description="on jets over the landing place, before it is set down; 30 s (ours)"
    )
    relit_below: _Low | None = Field(
        default=None, description="greatest height at which jets light again; 7.6 km (common practice)"
    )
    rocket_burst: Annotated[bool, YesNo()] = Field(
        default=False, description="whether rocket engines do the last of the stop over jets"
    )
    lift_to_drag: _Ratio | None = Field(
        default=None,
        description="best one, of a glide (4.5 from memory) or a cruise on jets; thrust carries it else",
    )
    wing_area: _Area | None = Field(
        default=None, description="to glide on; 250 kg/m² of the dry stage where nothing is said"
    )
    best_lift: _Lift | None = Field(default=None, description="lift coefficient of the best glide; 0.5")
    most_lift: _Lift | None = Field(default=None, description="greatest lift coefficient; 1.2")

    @classmethod
    def judge(cls, data: dict[str, Any]) -> tuple[list[Complaint], dict[str, Any]]:
        by = " ".join(str(data.get("by", "")).split())
        if by not in WAYS:  # told by its reader
            return [], data
        found = [
            Complaint(
                key,
                _said(data[key]),
                f"only with by: {' or '.join(kinds)}",
                f'delete this key, or change "by: {by}"',
            )
            for key, kinds in _ONLY.items()
            if key in data and by not in kinds
        ]
        from_orbit = str(data.get("from orbit", "")).strip().casefold() in ("yes", "true", "on")
        where = " ".join(str(data.get("where", DOWNRANGE)).split())
        if by == _JETS and from_orbit:
            accepted = "no orbit with by: jets: what they stop has to be slow already"
            found.append(Complaint("from orbit", '"yes"', accepted, 'write "by: glide" or "by: parachutes"'))
        if by in (*EXPENDED, _CHUTES) and where != DOWNRANGE and not from_orbit:
            accepted = f"downrange: what comes by: {by} goes where it falls"
            found.append(Complaint("where", shown(where), accepted, "delete this key, or choose another way"))
        if by in (*EXPENDED, _CHUTES, _GLIDE) and "propellant" in data and not from_orbit:
            accepted = "no propellant: nothing is burnt on this way down"
            found.append(Complaint("propellant", _said(data["propellant"]), accepted, "delete this key"))
        if "entry angle" in data and not from_orbit:
            remedy = 'add "from orbit: yes", or delete this key'
            found.append(Complaint("entry angle", _said(data["entry angle"]), "only from orbit", remedy))
        if by == _JETS and where == DOWNRANGE:
            found += [
                Complaint(
                    key,
                    _said(data[key]),
                    "only where there is a place to fly to",
                    'add "where: back to site"',
                )
                for key in (*_WITH_A_PLACE, "lift to drag")
                if key in data
            ]
        return found, data

    @property
    def expended(self) -> bool:
        """Whether it is left to fall."""
        return self.by in EXPENDED


def _said(value: Any) -> str:
    return f'"{value}"' if isinstance(value, bool) else shown(value)


def without_engines(home: Home, engines: Iterable[Any]) -> list[Complaint]:
    """What a way home lacks on its stage: jets, or rockets that can be lit once more."""
    kinds = [group.kind for group in engines]
    found = []
    if home.by == _JETS and not {"turbofan", "turbojet"} & set(kinds):
        accepted = "jets only on a stage with turbofans or turbojets"
        remedy = 'add them to its engines, or write "by: powered landing"'
        found.append(Complaint("home / by", '"jets"', accepted, remedy))
    rockets = {"rocket", "nuclear"} & set(kinds)
    for key, asked in (
        ("by", home.by == _POWERED), ("from orbit", home.from_orbit), ("rocket burst", home.rocket_burst),
    ):  # fmt: skip
        if asked and not rockets:
            got = shown(home.by) if key == "by" else '"yes"'
            accepted = "this only on a stage with engines that can be lit again: solids and jets cannot do it"
            remedy = 'write "by: parachutes" or "by: expended", or add such engines'
            found.append(Complaint(f"home / {key}", got, accepted, remedy))
    return found
