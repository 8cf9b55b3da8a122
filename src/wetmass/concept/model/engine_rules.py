"""What the keys of a group of engines ask of one another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.concept.wording import shown
from wetmass.physics.jets import MOST_REHEATED_BYPASS
from wetmass.record.refusal import Complaint

if TYPE_CHECKING:
    from wetmass.concept.model.engine import EngineGroup


def complaints(group: EngineGroup) -> list[Complaint]:
    """What contradicts itself in a group of engines, and what it lacks."""
    missing = _figures(group)
    exits = [] if missing or group.from_chamber else _exit(group)
    return [*missing, *exits, *_of_kind(group), *_chamber(group)]


def _figures(group: EngineGroup) -> list[Complaint]:
    """What a group of its kind cannot do without."""
    if group.kind == "ramjet":
        if group.intake_area is not None:
            return []
        accepted = "area of the air one ramjet takes in, which every ramjet needs"
        return [Complaint("intake area", "nothing", accepted, 'add "intake area: 1.2 m²"')]
    found = [
        Complaint(
            key, "nothing", f"{words}, which every group of engines needs", f'add "{key}: {{{example}}}"'
        )
        for key, words, example, value in (
            ("thrust", "thrust of one engine at full throttle", "sea level: 210 kN", group.thrust),
            ("isp", "specific impulse", "vacuum: 341 s", group.isp),
        )
        if value is None and not (key == "isp" and group.from_chamber)
    ]  # fmt: skip
    if not found and group.breathes and group.isp is not None:
        for key, figures in (("thrust", group.thrust), ("isp", group.isp)):
            if figures.sea_level is None or figures.vacuum is not None:  # type: ignore[union-attr]
                accepted = "the figure at sea level alone: there is no air in vacuum"
                found.append(
                    Complaint(key, "a figure in vacuum", accepted, f'write "{key}: {{sea level: …}}"')
                )
    return found


def _exit(group: EngineGroup) -> list[Complaint]:
    if group.exit_area is not None and group.exit_diameter is not None:
        accepted = f"exit area or exit diameter, not both (area {group.exit_area})"
        return [Complaint("exit diameter", shown(group.exit_diameter), accepted, "delete one of the two")]
    if group.breathes or group.exit_area is not None or group.exit_diameter is not None:
        return []
    thrust, isp = group.thrust, group.isp
    both = (thrust.sea_level and thrust.vacuum) or (isp.sea_level and isp.vacuum)
    if both or (thrust.vacuum and isp.vacuum):
        return []
    where = {True: "in vacuum", False: "at sea level"}
    have = f"thrust {where[bool(thrust.vacuum)]} and isp {where[bool(isp.vacuum)]} alone"
    accepted = (
        "figures that give thrust at every height: both of thrust or isp, both in vacuum, or an exit area"
    )
    return [Complaint("thrust", have, accepted, 'add the missing figure, or "exit diameter: 0.9 m"')]


def _of_kind(group: EngineGroup) -> list[Complaint]:
    """Keys that only one kind of engine knows."""
    jets, rockets = ("turbofan", "turbojet"), ("rocket", "nuclear")
    adapting = group.nozzle == "altitude-adapting"
    found = [
        Complaint(
            key, shown(value), f"only with kind: {' or '.join(kinds)}", "delete this key, or say the kind"
        )
        for key, value, kinds in (
            ("bypass ratio", group.bypass_ratio, ("turbofan",)), ("trace", group.trace, ("solid",)),
            ("spool up", group.spool_up, jets),
            ("intake diameter", group.intake_diameter, jets),
            ("intake doors", group.intake_doors or None, jets),
            ("afterburner", group.afterburner or None, jets),
            ("intake area", group.intake_area, ("ramjet",)),
            ("burner temperature", group.burner_temperature, ("ramjet",)),
            ("start up", group.start_up, ("nuclear",)),
            ("minimum throttle", None if group.kind in rockets else group.minimum_throttle, rockets),
        )
        if value is not None and group.kind not in kinds
    ]  # fmt: skip
    if group.afterburner and group.kind == "turbofan":
        bypass = group.bypass_ratio
        if bypass is None or bypass.value > MOST_REHEATED_BYPASS:
            accepted = f"a bypass ratio of at most {MOST_REHEATED_BYPASS:g} where air is burnt again"
            remedy = 'add "bypass ratio: 0.5" or what is meant, or delete afterburner'
            found.append(Complaint("bypass ratio", shown(bypass) if bypass else "nothing", accepted, remedy))
    if group.lit_above is not None and group.lit_above_mach is not None:
        accepted = f"one rule for lighting it; lit above {group.lit_above} is stated already"
        found.append(
            Complaint("lit above mach", shown(group.lit_above_mach), accepted, "keep one of the two")
        )
    if group.lit_after is not None and (group.lit_above is not None or group.lit_above_mach is not None):
        accepted = "one rule for lighting it"
        found.append(Complaint("lit after", shown(group.lit_after), accepted, "keep one of the two"))
    for key, value, example in (
        ("chamber pressure", group.chamber_pressure, "10 MPa"), ("adapts", group.adapts, "80 %"),
    ):  # fmt: skip
        if adapting and value is None:
            accepted = f"{key}, which an altitude-adapting nozzle needs"
            found.append(Complaint(key, "nothing", accepted, f'add "{key}: {example}"'))
    if group.adapts is not None and not adapting:
        remedy = 'delete this key, or add "nozzle: altitude-adapting"'
        found.append(
            Complaint("adapts", shown(group.adapts), "only with an altitude-adapting nozzle", remedy)
        )
    if adapting and group.rules_of_its_own:
        accepted = "a fixed nozzle on engines with rules of their own: their gain is not computed"
        found.append(Complaint("nozzle", shown(group.nozzle), accepted, "drop the rule, or the nozzle"))
    if group.out is not None and isinstance(group.count, int) and not group.out.count < group.count:
        accepted = f"fewer engines out than the {group.count} there are"
        found.append(Complaint("out", f'"{group.out}"', accepted, "leave one that burns"))
    return found


def _chamber(group: EngineGroup) -> list[Complaint]:
    """Keys of an engine from its chamber, and those that follow from them."""
    if group.area_ratio is None:
        if group.efficiency is None:
            return []
        accepted = "only with an area ratio and a chamber pressure, which give an ideal exhaust speed"
        return [Complaint("efficiency", shown(group.efficiency), accepted, 'add "area ratio: 25"')]
    if group.kind != "rocket":
        remedy = "delete this key, or say the kind"
        return [Complaint("area ratio", shown(group.area_ratio), "only with kind: rocket", remedy)]
    found = []
    if group.chamber_pressure is None:
        accepted = "pressure in the chamber, which an engine with an area ratio needs"
        found.append(Complaint("chamber pressure", "nothing", accepted, 'add "chamber pressure: 10 MPa"'))
    follows = f"nothing: it follows from the chamber and the area ratio, {group.area_ratio}"
    found += [
        Complaint(key, "figures of it" if key == "isp" else shown(value), follows, "delete one of the two")
        for key, value in (
            ("isp", group.isp), ("exit area", group.exit_area), ("exit diameter", group.exit_diameter),
        )
        if value is not None
    ]  # fmt: skip
    if group.thrust is not None and group.thrust.sea_level is not None and group.thrust.vacuum is not None:
        remedy = "delete one of the two"
        accepted = "thrust at sea level or in vacuum: the other follows from the chamber"
        found.append(Complaint("thrust", "two figures", accepted, remedy))
    return found
