"""The working of what is left to do at the destination."""

from __future__ import annotations

from wetmass.closing.adding import total
from wetmass.concept.arrival import burns, mass_that_arrives
from wetmass.concept.model import Mission
from wetmass.concept.targets import GEOSTATIONARY
from wetmass.physics import orbits, rocket, transfers
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.physics.pattern import exp
from wetmass.record.expression import Symbol
from wetmass.record.step import Put, Step


def arrival_steps(mission: Mission, latitude: float, payload: float) -> list[Step]:
    """Burn by burn, their sum, and what arrives; none where the ascent ends the journey.

    latitude  of the site [rad]   payload  at the end of the ascent [kg]
    """
    left = burns(mission, latitude)
    if not left:
        return []
    assert mission.perigee is not None
    low = mission.perigee.value + EARTH_RADIUS_WGS84
    made = _geostationary(mission, low, latitude) if mission.to == GEOSTATIONARY else _moon(mission, low)
    if len(left) > 1:
        landing = left[1]
        made.append(Step("Δv_land", landing.words, None, (), landing.speed, "m/s", landing.source))
        made.append(
            total("Δv_left", "left to do at the destination", [
                ("Δv_in", left[0].words, left[0].speed), ("Δv_land", landing.words, landing.speed),
            ], unit="m/s")
        )  # fmt: skip
    if mission.arrival is not None and mission.arrival.by == "payload" and mission.arrival.isp is not None:
        isp, speed = mission.arrival.isp.value, sum(burn.speed for burn in left)
        exhaust = rocket.effective_exhaust_speed.step(
            words="exhaust speed of the payload's engine", isp_s=isp
        )
        formula = Symbol("m_payload") * exp(-Symbol("Δv_left") / Symbol("v_e"))
        puts = (
            Put("m_payload", "payload at the end of the ascent", payload, "kg"),
            Put("Δv_left", "left to do at the destination", speed, "m/s"),
            Put("v_e", "exhaust speed of the payload's engine", exhaust.result, "m/s"),
        )
        there = mass_that_arrives(payload, speed, isp)
        made += [
            exhaust,
            Step("m_there", "mass that arrives, tanks and engine counted", formula, puts, there, "kg",
                 "rocket equation"),
        ]  # fmt: skip
    return made


def _geostationary(mission: Mission, low: float, latitude: float) -> list[Step]:
    high = transfers.GEOSTATIONARY_HEIGHT + EARTH_RADIUS_WGS84
    turn = abs(latitude) if mission.inclination is None else mission.inclination.value
    before = orbits.orbit_speed.step(
        words="speed at apogee", radius=high, perigee_radius=low, apogee_radius=high, gm=GM
    )
    circle = orbits.circular_speed.step(words="speed of the geostationary orbit", radius=high, gm=GM)
    return [
        before,
        circle,
        orbits.turned_speed_change.step(
            words="burn at apogee, which turns the plane as well",
            speed=before.result, other_speed=circle.result, angle=turn,
        ),
    ]  # fmt: skip


def _moon(mission: Mission, low: float) -> list[Step]:
    assert mission.c3 is not None
    round_earth = orbits.circular_speed.step(
        words="speed of the Moon round the Earth", radius=transfers.MOON_DISTANCE, gm=GM + transfers.GM_MOON
    )
    met = transfers.meeting_speed.step(
        c3=mission.c3.value, perigee_radius=low, distance=transfers.MOON_DISTANCE,
        body_speed=round_earth.result, gm=GM,
    )  # fmt: skip
    into = transfers.capture_burn.step(
        words="burn into a circle 100 km above the Moon",
        speed=met.result, radius=transfers.MOON_RADIUS + transfers.MOON_ORBIT, gm=transfers.GM_MOON,
    )  # fmt: skip
    return [round_earth, met, into]
