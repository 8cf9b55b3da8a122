"""What does not hold of a way home on jets, each with the number that would do."""

from __future__ import annotations

import math

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home.failing import too_little
from wetmass.flight.home.jet_plan import (
    TAKES_OVER,
    Cruise,
    Plan,
    ground_of,
    lifted,
    needed_by,
    plan_of,
    rest_height,
    scale_that_would_do,
)
from wetmass.flight.home.legs import Body, engines
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.digits import fixed
from wetmass.record.finding import Finding, Weight
from wetmass.record.homecoming import Released, Way


def findings_of(released: Released, way: Way, plan: Plan, needed: float | None, made: Body) -> list[Finding]:
    """What does not hold of a plan; `needed` is the fuel that would do [kg], None where none would."""
    jets = way.jets
    assert jets is not None
    findings: list[Finding] = []
    weight = released.dry_mass * STANDARD_GRAVITY
    if not plan.stopped:
        scale = scale_that_would_do(released, way, made)
        would = (
            "A rocket burst for the stop, or more jets"
            if scale is None
            else (
                f"{fixed(scale * jets.static_thrust / 1e3)} kN of static thrust would do, "
                f"{scale:.2f} times as much; or a rocket burst for the stop"
            )
        )
        findings.append(
            Finding(
                "jets too weak to stop the fall",
                Weight.FAILS,
                released.name,
                f"{fixed(jets.static_thrust / 1e3)} kN static, "
                f"{jets.static_thrust / weight:.2f} of the dry weight",
                f"a stop {rest_height(released, way) - ground_of(way):.0f} m over the ground, lit at or "
                "below the ceiling",
                would,
                "flown by this program",
            )
        )
    left = released.dry_mass + max(0.0, (needed or released.propellant) - plan.used)
    if jets.static_thrust < TAKES_OVER * left * STANDARD_GRAVITY and plan.stopped:
        wanted = TAKES_OVER * left * STANDARD_GRAVITY
        findings.append(
            Finding(
                "jets too weak to hover",
                Weight.FAILS if not jets.burst or way.place else Weight.NOTE,
                released.name,
                f"{fixed(jets.static_thrust / 1e3)} kN static",
                f"at least {fixed(wanted / 1e3)} kN, {TAKES_OVER:g} times the weight",
                f"{fixed(wanted / 1e3)} kN would do",
                "from memory",
            )
        )
    if plan.cruise is not None and plan.cruise.thrust > plan.cruise.available:
        findings.append(
            Finding(
                "jets too weak to cruise",
                Weight.FAILS,
                released.name,
                f"{fixed(plan.cruise.available / 1e3)} kN at the height of the cruise",
                f"at least {fixed(plan.cruise.thrust / 1e3)} kN",
                f"{fixed(jets.static_thrust * plan.cruise.thrust / plan.cruise.available / 1e3)} kN static "
                "would do",
                "physics of `wetmass.physics.jets`",
            )
        )
    which = engines(released) if jets.burst else None
    if which is not None and released.ignitions_used + 1 > which.ignitions:
        findings.append(
            Finding(
                "too few ignitions",
                Weight.FAILS,
                released.name,
                f"{which.ignitions}",
                f"at least {released.ignitions_used + 1}: one on the way home",
                f"Say ignitions: {released.ignitions_used + 1}",
                "flown by this program",
            )
        )
    if needed is not None and needed > released.propellant + 0.5:
        findings.append(too_little(released, needed))
    return findings


def out_of_reach(released: Released, way: Way, made: Body, plan: Plan, cruise: Cruise) -> Finding:
    """How far it could fly with what it has, and the lift to drag that would bring it all the way."""
    jets = way.jets
    assert jets is not None
    mass = float(plan.flown.state[at.MASS])
    left = max(0.0, mass - released.dry_mass - plan.hover_fuel)
    over = cruise.speed - jets.headwind
    reach = (
        over * cruise.lift_to_drag / (cruise.fuel_flow * STANDARD_GRAVITY) * math.log(mass / (mass - left))
    )
    would = "No lift to drag up to 30 would do"
    ratios = [float(ratio) for ratio in np.geomspace(max(cruise.lift_to_drag, 0.5), 30.0, 24)]
    for ratio in ratios:
        if plan_of(released, lifted(way, ratio), made).used <= released.propellant:
            would = f"A lift to drag of {ratio:.1f} would do with this fuel"
            break
    else:
        for ratio in ratios:
            fuel, _ = needed_by(released, lifted(way, ratio), made)
            if fuel is not None:
                would = f"A lift to drag of {ratio:.1f} with {fixed(fuel)} kg of fuel would do"
                break
    return Finding(
        "place out of reach on jets",
        Weight.FAILS,
        released.name,
        f"{fixed(reach / 1e3)} km with the fuel left, at a lift to drag of {cruise.lift_to_drag:.2f}",
        f"{fixed(cruise.distance / 1e3)} km to fly into {jets.headwind:g} m/s",
        f"{would}; or stage lower and slower, or land downrange",
        "Breguet, `wetmass.physics.gliding`",
    )
