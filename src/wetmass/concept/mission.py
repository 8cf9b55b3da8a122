"""Where the vehicle is aimed: an orbit, an escape, a named destination, or a height to climb to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, PrivateAttr, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block, complain
from wetmass.concept.fields import Choice, ReadBy, Reads, shown, wrong
from wetmass.concept.measures import Relation
from wetmass.concept.quantity import Quantity, parse_quantity
from wetmass.concept.targets import ARRIVALS, BODIES, NAMED, TOWARDS, named_keys
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.physics.orbits import sun_synchronous_inclination
from wetmass.record.refusal import Complaint
from wetmass.record.say import said

SUN_SYNCHRONOUS, AT_THE_EQUATOR = "sun-synchronous", "at the equator"

_BESIDE_PARKING = 30e3  # m between parking circle and perigee that one burn still joins (ours)

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


class ReadsAngleOr(Reads):
    """An angle, or one word that stands for the angle that has a certain effect."""

    def __init__(self, word: str, at_most: str, example: str) -> None:
        super().__init__(d.ANGLE, at_least="0 deg", at_most=at_most, spread=False, example=example)
        self.word = word

    def takes(self, value: Any) -> bool:
        return super().takes(value) or value == self.word

    def words(self) -> str:
        return f"{super().words()}; or {self.word}"

    def read(self, text: str, info: Any) -> Any:
        return self.word if text.strip() == self.word else super().read(text, info)


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
        complain(*(self._climb() if self.climbs else self._ellipse()))
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

    def _ellipse(self) -> list[Complaint]:
        low, high = self.perigee, self.apogee
        missing = [
            Complaint(
                key, "nothing", f"{words}, which every mission to an orbit needs", f'add "{key}: 520 km"'
            )
            for key, words, value in (
                ("perigee", "lowest height of the orbit", low),
                ("apogee", "greatest height of the orbit, or a C3", high or self.c3),
            )
            if value is None
        ]
        if low is not None and high is not None and low.value > high.value:
            accepted = f"a perigee not above the apogee, {high}"
            missing.append(Complaint("perigee", shown(low), accepted, "swap the two"))
        if high is not None and self.c3 is not None:
            accepted = "an apogee or a C3, not both: each says how far it goes"
            missing.append(Complaint("C3", shown(self.c3), accepted, "keep one of them"))
        if low is not None and self.c3 is not None and high is None and self.apogee_height < low.value:
            accepted = f"an energy above that of a circle at the perigee, {low}"
            missing.append(Complaint("C3", shown(self.c3), accepted, "raise it, or lower the perigee"))
        return (
            missing
            + self._ways_out()
            + [
                Complaint(key, shown(value), "only beside a height to climb to",
                          "delete it, or say the height")
                for key, value in (
                    ("at", self.at), ("speed", self.speed), ("path angle", self.path_angle),
                    ("heading", self.heading),
                )
                if value is not None
            ]
        )  # fmt: skip

    def _ways_out(self) -> list[Complaint]:
        """What belongs to a way out, an ellipse or an arrival, and stands where there is none."""
        found = []
        circle = (
            self.apogee is not None and self.perigee is not None and self.apogee.value == self.perigee.value
        )
        if self.declination is not None and self.c3 is None:
            found.append(Complaint("declination", shown(self.declination), "only beside a C3",
                                   "delete it, or say the C3 of the way out"))  # fmt: skip
        if self.argument_of_perigee is not None and (circle or self.c3 is not None):
            why = "a circle has no perigee" if circle else "a way out is turned by its declination"
            found.append(Complaint("argument of perigee", shown(self.argument_of_perigee),
                                   f"only for an ellipse: {why}", "delete it"))  # fmt: skip
        if self.declination is not None and self.inclination is not None and not isinstance(
            self.inclination, str
        ):  # fmt: skip
            steepest = min(self.inclination.value, math.pi - self.inclination.value)
            if abs(self.declination.value) > steepest + 1e-9:
                found.append(
                    Complaint("declination", shown(self.declination),
                              f"{said(-steepest, 'rad')} to {said(steepest, 'rad')}: a plane inclined "
                              f"{self.inclination} holds no other direction",
                              "give another inclination, or leave it out")
                )  # fmt: skip
        if self.inclination == SUN_SYNCHRONOUS and self.c3 is not None:
            found.append(Complaint("inclination", SUN_SYNCHRONOUS, "only for an orbit with an apogee",
                                   "give an angle, or leave it out"))  # fmt: skip
        if self.parking is not None and self.insertion == "direct":
            found.append(Complaint("parking", shown(self.parking), "only for an insertion with coast, or best",
                                   'add "insertion: with coast", or delete this key'))  # fmt: skip
        apart = (
            0.0 if self.parking is None or self.perigee is None else self.parking.value - self.perigee.value
        )
        if self.apogee is not None and abs(apart) > _BESIDE_PARKING:
            found.append(Complaint("parking", shown(self.parking),
                                   f"the height of the perigee, {self.perigee}, within 30 km: one burn leaves "
                                   "the circle there", "make the two agree, or leave the parking circle open"))  # fmt: skip
        if self.arrival is not None and self.to not in ARRIVALS:
            found.append(Complaint("arrival", "a block of keys",
                                   f"only for a destination with one: {', '.join(ARRIVALS)}",
                                   "delete it, or name the destination"))  # fmt: skip
        if self.to in BODIES and self.apogee is not None:
            found.append(Complaint("apogee", shown(self.apogee), f"no apogee on the way to {self.to}",
                                   "delete it; a C3 says more energy than the least"))  # fmt: skip
        return found

    def _climb(self) -> list[Complaint]:
        found = [
            Complaint(key, shown(value), f"no {key} beside a height, {self.height}", "keep one of them")
            for key, value in (
                ("to", self.to), ("perigee", self.perigee), ("apogee", self.apogee), ("C3", self.c3),
                ("inclination", self.inclination), ("argument of perigee", self.argument_of_perigee),
                ("declination", self.declination), ("going", self.going), ("parking", self.parking),
                ("arrival", self.arrival), ("stay in orbit", self.stay_in_orbit),
            )
            if value is not None
        ]  # fmt: skip
        if self.insertion != "direct":
            accepted = "a climb without a coast; say at: apex to coast up to the height"
            found.append(Complaint("insertion", shown(self.insertion), accepted, "delete this key"))
        if self.heading is not None and self.path_angle is None:
            remedy = 'add "path angle: 40 deg", or delete the heading'
            found.append(Complaint("heading", shown(self.heading), "only with a path angle", remedy))
        return found
