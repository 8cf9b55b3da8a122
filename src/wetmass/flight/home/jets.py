"""Home on jets: relit below their ceiling, spooled up, stopped in time, cruised home, hovered, set down.

The jets are lit at the last height at which they still stop the fall at the height of the cruise (or just
over the ground); the cruise and the hover are closed forms (Breguet with headwind).  With `burst` the rocket
engines do the last of the stop, and jets weaker than the weight will do.
"""

from __future__ import annotations

import dataclasses

from wetmass.flight.home.fall import drag_words
from wetmass.flight.home.jet_cruise import with_cruise
from wetmass.flight.home.jet_findings import findings_of, out_of_reach
from wetmass.flight.home.jet_plan import (
    SET_DOWN,
    STAND_OFF,
    Plan,
    ground_of,
    hovers_on,
    needed_by,
    plan_of,
    rest_height,
    too_weak,
)
from wetmass.flight.home.legs import body
from wetmass.flight.home.report import homecoming, loads
from wetmass.record.finding import Weight
from wetmass.record.homecoming import Homecoming, Posture, Released, Way
from wetmass.record.mission import Site

LOWER = (0.5, 0.2, 0.0)  # of the height of the cruise that was asked for


def on_jets(released: Released, way: Way, site: Site) -> Homecoming:
    """The stage comes home on its jets; `way.jets` says which."""
    if way.jets is None:
        raise ValueError("way.jets must say which jets bring the stage home, got none")
    made = body(released, way)
    for share in LOWER:  # a cruise lower down where the fall cannot be stopped high up
        if not too_weak(released, way, made) or way.place is None:
            break
        height = max(ground_of(way) + STAND_OFF, share * way.jets.cruise_height)
        lower = dataclasses.replace(way, jets=dataclasses.replace(way.jets, cruise_height=height))
        if not too_weak(released, lower, made):
            way = lower
    if not too_weak(released, way, made):
        needed, plan = needed_by(released, way, made)
    else:
        needed, plan = None, plan_of(released, way, made)
    short = needed is not None and needed > released.propellant + 0.5
    if short:  # show the flight that would do
        plan = plan_of(dataclasses.replace(released, propellant=needed), way, made)
    else:
        plan = plan_of(released, way, made)
    return _result(released, way, site, plan, needed)


def _result(released: Released, way: Way, site: Site, plan: Plan, needed: float | None) -> Homecoming:
    jets = way.jets
    assert jets is not None
    made = body(released, way)
    findings = findings_of(released, way, plan, needed, made)
    if needed is None and plan.stopped and plan.cruise is not None:
        findings.append(out_of_reach(released, way, made, plan, plan.cruise))
        here = dataclasses.replace(way, place=None)  # show it set down where its fall is stopped
        shown = _result(released, here, site, plan_of(released, here, made), None)
        return dataclasses.replace(shown, way=way, comes_home=False, findings=(*findings, *shown.findings))
    plan.flyer.ground = rest_height(released, way) - 1.0 if plan.stopped else ground_of(way)
    result = homecoming(
        plan.flyer,
        plan.legs,
        way,
        site,
        start=plan.start,
        needed=needed,
        comes_home=not any(one.weight is Weight.FAILS for one in findings),
        findings=tuple(findings),
        hovers=hovers_on(released, way),
        assumed=(
            drag_words(dataclasses.replace(way, posture=Posture.END_ON)),
            f"jets relit at or below {jets.ceiling / 1e3:.1f} km and Mach {jets.relight_mach:g}, "
            f"spooled up with a time constant of {jets.spool_time:.3g} s",
            f"hover {jets.hover:g} s, then set down from {STAND_OFF:g} m at {SET_DOWN:g} m/s, "
            "at the fuel flow over thrust of the test stand",
            *(
                (
                    f"cruise at {jets.cruise_height:.0f} m into a headwind of {jets.headwind:g} m/s (Breguet), "
                    + (
                        f"lift to drag {jets.lift_to_drag:g} at every speed"
                        if jets.lift_to_drag is not None
                        else "thrust carrying the weight"
                    )
                    + "; the fuel to gain its speed is counted",
                )
                if way.place is not None
                else ()
            ),
        ),
    )
    after = plan.stopped and rest_height(released, way) > ground_of(way)
    return dataclasses.replace(
        with_cruise(loads(result), released, way, site, plan) if after else loads(result),
        used=plan.used,
        reserve=released.propellant,
    )
