"""Where the vehicle is aimed: an orbit, an escape, a named destination, or a height to climb to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, PrivateAttr, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block, complain
from wetmass.concept.fields import Choice, ReadBy
from wetmass.concept.measures import Relation
from wetmass.concept.model.mission_rules import complaints
from wetmass.concept.model.orbit_angles import AT_THE_EQUATOR, SUN_SYNCHRONOUS, ReadsAngleOr
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.statement import parse_quantity
from wetmass.concept.targets import NAMED, TOWARDS, named_keys
from wetmass.concept.wording import wrong
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.physics.orbits import sun_synchronous_inclination
from wetmass.record.refusal import Complaint
from wetmass.record.say import said

Altitude = Annotated[
    Quantity,
    Reads(d.LENGTH, at_least="100 km", at_most="400 000 km", spread=False, example="520 km",
          why="below 100 km air ends an orbit within one turn"),
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bound:
    """A value asked for, and how it binds."""

    relation: Relation  # exactly, or at least
    quantity: Quantity

    def __str__(self) -> str:
        return str(self.quantity) if self.relation is Relation.EXACTLY else f"{self.relation} {self.quantity}"


_BOUND_SPEED = Reads(d.SPEED, above="0 m/s", at_most="12 km/s", spread=False, example="0.4 km/s")


def _bound(value: Any) -> Bound:
    if isinstance(value, Bound):
        return value
    if not isinstance(value, str):
        raise wrong(value, "a speed, or at least a speed", 'write it as in "at least 0.4 km/s"')
    text = value.strip()
    for relation in (Relation.AT_LEAST, Relation.EXACTLY):
        if text.startswith(f"{relation} "):
            return Bound(relation, _BOUND_SPEED(text[len(relation) :].strip(), None))
    return Bound(Relation.EXACTLY, _BOUND_SPEED(text, None))


class Arrival(Block):
    """What is left to do beyond the ascent, and who does it: the burn at apogee, at the Moon, down to it."""

    by: Annotated[str, Choice("payload", "last stage")] = Field(
        default="payload",
        description="whose propellant it takes; the last stage keeps some of its own, and needs the ignitions",
    )
    isp: Annotated[
        Quantity, Reads(d.TIME, at_least="20 s", at_most="20 000 s", spread=False, example="320 s")
    ] | None = Field(
        default=None, description="specific impulse of the payload's own engine: says what arrives"
    )  # fmt: skip


class Mission(Block):
    """Where to: an orbit, an escape, a named destination, or a height to climb to.

    An orbit is said by perigee and apogee (heights above 6378.137 km), an escape by its C3, a destination
    by its name, a climb by its height, which counts from the ellipsoid.
    """

    to: Annotated[str, Choice(*NAMED)] | None = Field(
        default=None,
        description="a destination by its name; it fills in the keys that are not stated beside it",
    )
    perigee: Altitude | None = Field(default=None, description="lowest height of the orbit or of the way out")
    apogee: Altitude | None = Field(default=None, description="greatest height of the orbit")
    c3: Annotated[
        Quantity,
        Reads(d.SPECIFIC_ENERGY, at_least="-60 km²/s²", at_most="400 km²/s²", spread=False,
              example="10 km²/s²"),
    ] | None = Field(
        default=None, alias="C3",
        description="twice the energy per mass of the way out, in place of the apogee; 0 just escapes",
    )  # fmt: skip
    height: Annotated[
        Quantity, Reads(d.LENGTH, at_least="500 m", at_most="2000 km", spread=False, example="12 km")
    ] | None = Field(
        default=None, description="height to climb to, instead of an orbit; the payload is let go there"
    )  # fmt: skip
    at: Annotated[str, Choice("cut-off", "apex")] | None = Field(
        default=None,
        description="whether that height is reached at the last cut-off, or coasting up after it",
    )
    speed: Annotated[Bound, ReadBy(lambda value, info: _bound(value))] | None = Field(
        default=None,
        description="speed over the turning Earth at the cut-off of a climb, as in “at least 0.4 km/s”",
    )
    path_angle: Annotated[
        Quantity, Reads(d.ANGLE, at_least="0 deg", at_most="89 deg", spread=False, example="40 deg")
    ] | None = Field(
        default=None,
        description="angle above the horizon at the cut-off of a climb; straight up where nothing is said",
    )  # fmt: skip
    heading: (
        Annotated[
            Quantity, Reads(d.ANGLE, at_least="0 deg", at_most="360 deg", spread=False, example="90 deg")
        ]
        | None
    ) = Field(default=None, description="which way a climb with a path angle goes; east else")
    inclination: Annotated[
        Quantity | str, ReadsAngleOr(SUN_SYNCHRONOUS, "180 deg", "97.5 deg")
    ] | None = Field(
        default=None,
        description="inclination; sun-synchronous: the one whose plane keeps up with the sun, by the heights; "
        "where nothing is said, the one the Earth's turning helps most",
    )  # fmt: skip
    argument_of_perigee: Annotated[
        Quantity | str, ReadsAngleOr(AT_THE_EQUATOR, "360 deg", "178 deg")
    ] | None = Field(
        default=None,
        description="angle from the ascending node to the perigee; at the equator: at either node, "
        "so that the apogee is over the equator, too",
    )  # fmt: skip
    declination: Annotated[
        Quantity, Reads(d.ANGLE, at_least="-90 deg", at_most="90 deg", spread=False, example="-12 deg")
    ] | None = Field(
        default=None,
        description="latitude in the sky that the way out heads for (below escape: of the apogee)",
    )  # fmt: skip
    going: Annotated[str, Choice("north", "south")] | None = Field(
        default=None, description="which of the two headings to the inclination is flown"
    )
    parking: Altitude | None = Field(
        default=None, description="height of the circle to coast on; chosen for most payload where left out"
    )
    insertion: Annotated[str, Choice("direct", "with coast", "best")] = Field(
        default="direct",
        description="one burn of the last stage, or two with a coast between (then it needs 2 ignitions); "
        "best: whichever is better, if it has the ignitions. A named destination takes best",
    )
    stay_in_orbit: Annotated[
        Quantity, Reads(d.TIME, at_least="0 s", at_most="1000 day", spread=False, example="3 day")
    ] | None = Field(
        default=None,
        description="time after the last cut-off in which the last stage still keeps its propellant: what "
        "boils off then is loaded beside the reserve",
    )  # fmt: skip
    arrival: Arrival | None = Field(
        default=None, description="who does what is left to do at a geostationary orbit or at the Moon"
    )

    _sun_synchronous: bool = PrivateAttr(default=False)

    @property
    def climbs(self) -> bool:
        """Whether it asks for a height, not an orbit."""
        return self.height is not None

    @property
    def leaves(self) -> bool:
        """Whether it is said by the energy of a way out, not by an apogee."""
        return self.c3 is not None

    @property
    def apogee_height(self) -> float:
        """Above 6378.137 km [m]; infinite for an escape."""
        if self.apogee is not None:
            return self.apogee.value
        assert self.c3 is not None
        assert self.perigee is not None
        if self.c3.value >= 0.0:
            return math.inf
        return -2.0 * GM / self.c3.value - self.perigee.value - 2.0 * EARTH_RADIUS_WGS84

    def way_out(self) -> str:
        """The way out in words: "a way out to Mars with a C3 of 8.67 km²/s²"."""
        assert self.c3 is not None
        towards = TOWARDS.get(self.to or "", "")
        return f"a way out{towards} with a C3 of {said(self.c3.value / 1e6, 'km²/s²', 3)}"

    @property
    def sun_synchronous(self) -> bool:
        """Whether the inclination came from the heights."""
        return self._sun_synchronous

    @model_validator(mode="before")
    @classmethod
    def _named(cls, data: Any) -> Any:
        """The keys that a destination's name stands for, where they are not stated."""
        return named_keys(data) if isinstance(data, dict) else data

    @model_validator(mode="after")
    def _orbit(self) -> Mission:
        complain(*complaints(self))
        if self.inclination == SUN_SYNCHRONOUS:
            self._put("inclination", self._with_the_sun())
            self._sun_synchronous = True
        return self

    def _put(self, name: str, value: Any) -> None:
        self.__dict__[name] = value

    def _with_the_sun(self) -> Quantity:
        assert self.perigee is not None
        low, high = (h + EARTH_RADIUS_WGS84 for h in (self.perigee.value, self.apogee_height))
        try:
            angle = sun_synchronous_inclination(0.5 * (low + high), (high - low) / (high + low))
        except ValueError:
            accepted = "heights below some 5 980 km, where an orbit's plane can still keep up with the sun"
            complain(Complaint("inclination", SUN_SYNCHRONOUS, accepted, "lower the orbit, or give an angle"))
            raise
        return parse_quantity(f"{math.degrees(angle):.4f} deg", (d.ANGLE,))
