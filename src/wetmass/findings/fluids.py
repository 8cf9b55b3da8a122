"""What leaves the tanks beside the engines: boil-off, and the fuel that jets draw from them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.concept.pairs import pair_of, parts_of
from wetmass.physics.propellants import propellant
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said
from wetmass.record.vehicle import Stage

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_MUCH = 0.02  # of the load: boil-off that is worth a doubt, our own choice
_DAY = 86_400.0  # s
_APART = 0.02  # of the extra fuel: stated and burnt agree as well as they are said, our own choice


def boil_off(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """What boils away in a day, and what of it was taken off: before ignition, while coasting, in orbit."""
    flown = {stage.name: stage for stage in closed.vehicle.every_stage()}
    for laid in closed.geometry.stages if closed.geometry is not None else ():
        lost = {tank.holds: tank.boil_off for tank in laid.tanks if tank.boil_off}
        stage = flown.get(laid.name)
        if not lost or stage is None:
            continue
        p = stage.propellant
        got = ", ".join(f"{holds} {said(mass, 'kg', 3)} a day" for holds, mass in lost.items())
        taken = [
            f"{said(mass, 'kg', 3)} {words}"
            for mass, words in (
                (p.boil_off, "before its ignition"), (p.boil_off_coasting, "while it coasts"),
                (p.boil_off_in_orbit, "in orbit"),
            )
            if mass > 0.0
        ]  # fmt: skip
        got += (
            "; taken off " + ", ".join(taken)
            if taken
            else "; nothing is taken off: it is topped up until it is lit"
        )
        share = math.fsum((p.boil_off, p.boil_off_coasting, p.boil_off_in_orbit)) / p.load
        much = share > _MUCH
        remedy = (
            "Insulate better, coast less, or take propellants that keep."
            if much
            else "What boils while engines burn is left out."
        )
        yield Finding(
            "boil-off", Weight.DOUBT if much else Weight.NOTE, laid.name,
            got + (f", {said(share, '%', 2)} of the load" if taken else ""),
            f"at most {said(_MUCH, '%')} of the load" if much else "", remedy,
            "definition of latent heat; the bound is our own",
        )  # fmt: skip


def boil_off_unsaid(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """A stay in orbit with cryogenic propellants of which no boil-off is stated."""
    stay = concept.mission.stay_in_orbit
    if stay is None or not stay.value > 0.0:
        return
    last = [stage for stage in concept.stages if stage.strapped_to is None][-1]
    silent = [
        part
        for part in parts_of(last.propellant.pair)
        if part != "solid" and propellant(part).latent_heat is not None
        and not any(tank.boil_off is not None and last.held(tank.holds) == part for tank in last.tanks)
    ]  # fmt: skip
    if silent:
        yield Finding(
            "boil-off that is not said", Weight.DOUBT, last.name,
            f"{stay} in orbit with {' and '.join(silent)}", "a boil-off for each cryogenic tank",
            "Say it of the tank, such as boil-off: 20 kg/day: none is taken off as it stands.",
            "mass balance",
        )  # fmt: skip


def jets_fuel(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Fuel stated beyond the mixture ratio against what jets burn of it."""
    if closed.flight is None:
        return
    flown = {stage.name: stage for stage in closed.vehicle.stages}
    for stated in concept.stages:
        extra, stage = stated.propellant.extra_fuel, flown.get(stated.name)
        if extra is None or stage is None or pair_of(stated.propellant.pair) is None:
            continue
        burnt = _burnt(concept, closed, stage)
        home = stage.propellant.home if stated.home is not None and stated.home.by == "jets" else 0.0
        needed = burnt + home
        off = extra.value - needed
        if abs(off) <= _APART * max(needed, 1.0):
            continue
        accepted = f"{said(needed, 'kg', 3)} burnt by jets" + (
            ", those of the way home counted" if home else ""
        )
        short = off < 0.0
        remedy = (
            "Rockets run out of fuel before oxidiser: load more of it, or leave the key out."
            if short
            else "The rest stays aboard as ballast: load less of it, or leave the key out."
        )
        yield Finding(
            "extra fuel", Weight.DOUBT, stated.name, str(extra), accepted, remedy, "mass balance"
        )  # fmt: skip


def _burnt(concept: Concept, closed: Closed, stage: Stage) -> float:
    """Fuel burnt by jets of a stage on the way up [kg]: those of the flight, where one stage has any."""
    jets = [s for s in closed.vehicle.stages if any(g.jet or g.ramjet for g in s.engines)]
    assert closed.flight is not None
    return closed.flight.jet_fuel if jets == [stage] else 0.0
