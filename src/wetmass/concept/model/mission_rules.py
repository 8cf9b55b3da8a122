"""What the keys of a mission ask of one another."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wetmass.concept.model.orbit_angles import SUN_SYNCHRONOUS
from wetmass.concept.targets import ARRIVALS, BODIES
from wetmass.concept.wording import shown
from wetmass.record.refusal import Complaint
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model.mission import Mission

_BESIDE_PARKING = 30e3  # m between parking circle and perigee that one burn still joins (ours)


def complaints(mission: Mission) -> list[Complaint]:
    """What contradicts itself in where it is aimed, and what is lacking."""
    return _climb(mission) if mission.climbs else _ellipse(mission)


def _ellipse(mission: Mission) -> list[Complaint]:
    low, high = mission.perigee, mission.apogee
    missing = [
        Complaint(key, "nothing", f"{words}, which every mission to an orbit needs", f'add "{key}: 520 km"')
        for key, words, value in (
            ("perigee", "lowest height of the orbit", low),
            ("apogee", "greatest height of the orbit, or a C3", high or mission.c3),
        )
        if value is None
    ]
    if low is not None and high is not None and low.value > high.value:
        accepted = f"a perigee not above the apogee, {high}"
        missing.append(Complaint("perigee", shown(low), accepted, "swap the two"))
    if high is not None and mission.c3 is not None:
        accepted = "an apogee or a C3, not both: each says how far it goes"
        missing.append(Complaint("C3", shown(mission.c3), accepted, "keep one of them"))
    if low is not None and mission.c3 is not None and high is None and mission.apogee_height < low.value:
        accepted = f"an energy above that of a circle at the perigee, {low}"
        missing.append(Complaint("C3", shown(mission.c3), accepted, "raise it, or lower the perigee"))
    return (
        missing
        + _ways_out(mission)
        + [
            Complaint(key, shown(value), "only beside a height to climb to",
                      "delete it, or say the height")
            for key, value in (
                ("at", mission.at), ("speed", mission.speed), ("path angle", mission.path_angle),
                ("heading", mission.heading),
            )
            if value is not None
        ]
    )  # fmt: skip


def _ways_out(mission: Mission) -> list[Complaint]:
    """What belongs to a way out, an ellipse or an arrival, and stands where there is none."""
    found = []
    circle = (
        mission.apogee is not None
        and mission.perigee is not None
        and mission.apogee.value == mission.perigee.value
    )
    if mission.declination is not None and mission.c3 is None:
        found.append(Complaint("declination", shown(mission.declination), "only beside a C3",
                               "delete it, or say the C3 of the way out"))  # fmt: skip
    if mission.argument_of_perigee is not None and (circle or mission.c3 is not None):
        why = "a circle has no perigee" if circle else "a way out is turned by its declination"
        found.append(Complaint("argument of perigee", shown(mission.argument_of_perigee),
                               f"only for an ellipse: {why}", "delete it"))  # fmt: skip
    if mission.declination is not None and mission.inclination is not None and not isinstance(
        mission.inclination, str
    ):  # fmt: skip
        steepest = min(mission.inclination.value, math.pi - mission.inclination.value)
        if abs(mission.declination.value) > steepest + 1e-9:
            found.append(
                Complaint("declination", shown(mission.declination),
                          f"{said(-steepest, 'rad')} to {said(steepest, 'rad')}: a plane inclined "
                          f"{mission.inclination} holds no other direction",
                          "give another inclination, or leave it out")
            )  # fmt: skip
    if mission.inclination == SUN_SYNCHRONOUS and mission.c3 is not None:
        found.append(Complaint("inclination", SUN_SYNCHRONOUS, "only for an orbit with an apogee",
                               "give an angle, or leave it out"))  # fmt: skip
    if mission.parking is not None and mission.insertion == "direct":
        found.append(Complaint("parking", shown(mission.parking), "only for an insertion with coast, or best",
                               'add "insertion: with coast", or delete this key'))  # fmt: skip
    apart = (
        0.0
        if mission.parking is None or mission.perigee is None
        else mission.parking.value - mission.perigee.value
    )
    if mission.apogee is not None and abs(apart) > _BESIDE_PARKING:
        found.append(Complaint("parking", shown(mission.parking),
                               f"the height of the perigee, {mission.perigee}, within 30 km: one burn leaves "
                               "the circle there", "make the two agree, or leave the parking circle open"))  # fmt: skip
    if mission.arrival is not None and mission.to not in ARRIVALS:
        found.append(Complaint("arrival", "a block of keys",
                               f"only for a destination with one: {', '.join(ARRIVALS)}",
                               "delete it, or name the destination"))  # fmt: skip
    if mission.to in BODIES and mission.apogee is not None:
        found.append(Complaint("apogee", shown(mission.apogee), f"no apogee on the way to {mission.to}",
                               "delete it; a C3 says more energy than the least"))  # fmt: skip
    return found


def _climb(mission: Mission) -> list[Complaint]:
    found = [
        Complaint(key, shown(value), f"no {key} beside a height, {mission.height}", "keep one of them")
        for key, value in (
            ("to", mission.to), ("perigee", mission.perigee), ("apogee", mission.apogee), ("C3", mission.c3),
            ("inclination", mission.inclination), ("argument of perigee", mission.argument_of_perigee),
            ("declination", mission.declination), ("going", mission.going), ("parking", mission.parking),
            ("arrival", mission.arrival), ("stay in orbit", mission.stay_in_orbit),
        )
        if value is not None
    ]  # fmt: skip
    if mission.insertion != "direct":
        accepted = "a climb without a coast; say at: apex to coast up to the height"
        found.append(Complaint("insertion", shown(mission.insertion), accepted, "delete this key"))
    if mission.heading is not None and mission.path_angle is None:
        remedy = 'add "path angle: 40 deg", or delete the heading'
        found.append(Complaint("heading", shown(mission.heading), "only with a path angle", remedy))
    return found
