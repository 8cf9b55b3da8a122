"""What the tanks of a stage ask of one another, and of what the stage burns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.concept import dimensions as d
from wetmass.concept.derived import FromTanks
from wetmass.concept.find import Find
from wetmass.concept.pairs import parts_of
from wetmass.concept.quantity import Quantity
from wetmass.concept.tank_shapes import SIZES, shape_of
from wetmass.concept.wording import a, nearest, plainly, shown
from wetmass.physics.propellants import boil_off_per_day, density
from wetmass.record.refusal import Complaint

if TYPE_CHECKING:
    from wetmass.concept.model.stage import Stage


def complaints(stage: Stage) -> list[Complaint]:
    """What does not go together; the rest is asked only where every tank holds a part of the pair."""
    return _held(stage) or [*_liquids(stage), *_shapes(stage), *_neighbours(stage), *_load(stage)]


def _held(stage: Stage) -> list[Complaint]:
    parts = parts_of(stage.propellant.pair)
    known = {"oxidiser": parts[0], "fuel": parts[-1], **{part: part for part in parts}}
    complaints = []
    for number, tank in enumerate(stage.tanks, 1):
        for key, held in (("holds", tank.holds), ("inside", tank.inside)):
            if held is not None and held not in known:
                near = nearest(held, known)
                accepted = f"a part of {stage.propellant.pair}: {', '.join(known)}"
                remedy = f'write "{near}"' if near else "write one of these"
                complaints.append(Complaint(f"tanks / {number} / {key}", shown(held), accepted, remedy))
    return complaints


def _shapes(stage: Stage) -> list[Complaint]:
    """Sizes of a tank that cannot go together."""
    complaints = []
    for number, tank in enumerate(stage.tanks, 1):
        below = stage.tanks[number].shares_bulkhead if number < len(stage.tanks) else False
        try:
            shape_of(tank, stage.diameter.value, shared_below=below)
        except ValueError as error:
            got = ", ".join(
                f"{name} {value}" for name in SIZES[tank.shape]
                if (value := getattr(tank, name.replace(" ", "_"))) is not None
            )  # fmt: skip
            accepted = f"sizes of {a(tank.shape)} that go together ({plainly(error)})"
            complaints.append(
                Complaint(f"tanks / {number}", got or "no size", accepted, "change one of the sizes")
            )
    return complaints


def _liquids(stage: Stage) -> list[Complaint]:
    """A temperature at which the density is not known, an ullage or heat leak without meaning."""
    complaints = []
    for number, tank in enumerate(stage.tanks, 1):
        name = stage.held(tank.holds)
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
            complaints.append(Complaint(f"tanks / {number} / at", shown(tank.at), plainly(error), advice))
        if tank.boil_off is not None and tank.boil_off.dimension == d.POWER:
            try:
                boil_off_per_day(name, tank.boil_off.value)
            except ValueError as error:
                advice = "give a mass or a share in a time, such as 20 kg/day"
                complaints.append(
                    Complaint(f"tanks / {number} / boil-off", shown(tank.boil_off), plainly(error), advice)
                )
    return complaints


def _neighbours(stage: Stage) -> list[Complaint]:
    """What a tank says of another that is not there, or does not suit."""
    complaints = []
    for number, tank in enumerate(stage.tanks, 1):
        before = stage.tanks[number - 2] if number > 1 else None
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
                one.value if isinstance(one, Quantity) else stage.diameter.value if one is None else None
                for one in (tank.diameter, before.diameter)
            ]
            alike = (tank.domes, str(tank.dome_height)) == (before.domes, str(before.dome_height))
            alike = alike and not isinstance(tank.dome_height, Find)
            if not same or before.beside or across[0] is None or across[0] != across[1] or not alike:
                accepted = "a cylinder of the same stated diameter and the same domes before it in the list"
                complaints.append(
                    Complaint(f"tanks / {number} / shares bulkhead", '"yes"', accepted,
                              "give both the same diameter and domes, or delete this key")
                )  # fmt: skip
        if tank.inside is not None:
            around = [
                one
                for one in stage.tanks
                if one.inside is None and stage.held(one.holds) == stage.held(tank.inside)
            ]
            if len(around) != 1 or around[0].count > 1:
                accepted = f"one tank of the list that holds {tank.inside}, by itself"
                complaints.append(
                    Complaint(f"tanks / {number} / inside", shown(tank.inside), accepted, "check the list")
                )
    return complaints


def _load(stage: Stage) -> list[Complaint]:
    """A load from tanks needs all their sizes."""
    if not isinstance(stage.propellant.mass, FromTanks):
        return []
    complaints = []
    lacking = set(parts_of(stage.propellant.pair)) - {stage.held(tank.holds) for tank in stage.tanks}
    if lacking:
        accepted = f"a tank for each of {', '.join(parts_of(stage.propellant.pair))}"
        got = f'"from tanks", without a tank for {", ".join(sorted(lacking))}'
        complaints.append(Complaint("propellant / mass", got, accepted, "add it, or give the mass"))
    for number, tank in enumerate(stage.tanks, 1):
        try:
            shape = shape_of(tank, stage.diameter.value)
        except ValueError:
            continue  # told already
        if shape.open and tank.volume is None:
            accepted = "every size, or a volume: the propellant mass follows from the tanks"
            complaints.append(
                Complaint(f"tanks / {number}", f"no {shape.open}", accepted, f'add "{shape.open}: 4.2 m"')
            )
    return complaints
