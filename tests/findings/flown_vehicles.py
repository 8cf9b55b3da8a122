"""Thrust to weight, share lost to the air and mass ratio of launchers in vehicles_flyable.yaml."""

from pathlib import Path

from ruamel.yaml import YAML

G = 9.80665
DATA = Path(__file__).parent.parent / "data" / "vehicles_flyable.yaml"
SOLID = ("HTPB", "PBAN", "CTPB")


def best(entry, default=0.0):
    if isinstance(entry, dict):
        return float(entry["v"])
    return float(entry) if entry is not None else default


def vehicles():
    return YAML(typ="safe").load(DATA.read_text(encoding="utf-8"))["vehicles"]


def is_solid(stage):
    return any(word in stage["propellants"] for word in SOLID)


def lift_off():
    """{name: (thrust to weight, any solid)} at sea level."""
    found = {}
    for vehicle in vehicles():
        first = vehicle["stages"][0]
        ground = [
            s
            for s in vehicle["stages"]
            if s is first or "burns_with" in s or s["name"] == first.get("burns_with")
        ]
        thrust = sum(best(s["thrust_sl_kN"]) * s.get("count", 1) for s in ground) * 1e3
        check = vehicle.get("lift_off_mass_kg_for_check")
        mass = best(check) if check else float(vehicle["start"]["mass_kg_for_check"])
        found[vehicle["id"]] = (thrust / (mass * G), any(map(is_solid, ground)))
    return found


def _drops(stage):
    return sum(best(drop["mass_kg"]) for drop in stage.get("drops", ()))


def upper():
    """{(vehicle, stage): (thrust to weight, mass ratio, solid)} of stages lit above the ground."""
    found = {}
    for vehicle in vehicles():
        stages = vehicle["stages"]
        if vehicle["id"] == "saturn_v":
            continue  # its stages are kept as phases; see the source for S-II and S-IVB
        payload = max(best(mission["payload_kg"]) for mission in vehicle["missions"])
        lit_later = [s for s in stages[1:] if s["name"] != stages[0].get("burns_with")]
        for i, stage in enumerate(lit_later):
            above = lit_later[i:]
            mass = payload + sum(
                best(s["propellant_kg"]) + best(s["dry_kg"]) + best(s.get("carried_kg")) + _drops(s)
                for s in above
            )
            burnt = best(stage["propellant_kg"])
            ratio = mass / (mass - burnt)
            found[vehicle["id"], stage["name"]] = (
                best(stage["thrust_vac_kN"]) * 1e3 / (mass * G),
                ratio,
                is_solid(stage),
            )
    return found


def first_ratio():
    """{vehicle: mass ratio of the first burn} of launchers without strap-ons."""
    found = {}
    for vehicle in vehicles():
        first = vehicle["stages"][0]
        if "burns_with" in first:
            continue
        check = vehicle.get("lift_off_mass_kg_for_check")
        mass = best(check) if check else float(vehicle["start"]["mass_kg_for_check"])
        found[vehicle["id"]] = (mass / (mass - best(first["propellant_kg"])), is_solid(first))
    return found


def sea_level_share():
    """{(vehicle, stage): thrust lost to the air at sea level over thrust in vacuum}."""
    return {
        (vehicle["id"], stage["name"]): 1.0 - best(stage["thrust_sl_kN"]) / best(stage["thrust_vac_kN"])
        for vehicle in vehicles()
        for stage in vehicle["stages"]
        if "thrust_sl_kN" in stage
    }
