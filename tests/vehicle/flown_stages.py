"""Stages that flew, as concepts with a dry mass by parts: liquid ones with engines of one kind."""

import functools
import re
from pathlib import Path

from ruamel.yaml import YAML

DATA = Path(__file__).parents[1] / "data" / "vehicles.yaml"
PAIRS = {
    "LOX/RP-1": 2.4,
    "LOX/kerosene": 2.4,
    "LOX/LH2": 5.5,
    "NTO/Aerozine-50": 1.9,
    "N2O4/Aerozine-50": 1.9,
}
NEEDED = ("diameter_m", "propellant_kg", "dry_kg", "thrust_vac_kN", "isp_vac_s")
TEXT = """
name: Flown
site: {{latitude: 14 deg N, longitude: 40 deg W}}
mission: {{perigee: 300 km, apogee: 300 km}}
payload: {carried:.0f} kg
stages:
  - name: only
    diameter: {diameter} m
    dry mass: by parts
    propellant: {{pair: {pair}, mixture ratio: {ratio}, mass: {load} kg}}
    engines:
      - {{count: {count}, thrust: {{vacuum: {thrust} kN}}, isp: {{vacuum: {isp} s}}, exit area: {area} m²}}
"""


@functools.cache
def _vehicles():
    return YAML(typ="safe").load(DATA.read_text(encoding="utf-8"))["vehicles"]


def _best(block, key):
    entry = block.get(key)
    return entry.get("v") if isinstance(entry, dict) else entry


def flown_stages():
    """(concept text, published dry mass [kg]) of each stage, with all that stood on it as payload."""
    for vehicle in _vehicles():
        carried = _best(vehicle["cases"][0], "payload_kg") or 0.0
        carried += _best(vehicle.get("fairing") or {}, "mass_kg") or 0.0
        for stage in reversed(vehicle["stages"]):
            engines = re.match(r"(\d+) x", str(stage.get("engines", "")))
            known = all(isinstance(_best(stage, key), (int, float)) for key in NEEDED)
            if known and engines and stage["propellants"] in PAIRS:
                yield _text(stage, int(engines[1]), carried), _best(stage, "dry_kg")
            weight = (_best(stage, "propellant_kg") or 0.0) + (_best(stage, "dry_kg") or 0.0)
            carried += weight * stage.get("count", 1)


def _text(stage, count, carried):
    thrust, ground = _best(stage, "thrust_vac_kN") * 1e3, _best(stage, "thrust_sl_kN")
    whole = (thrust - ground * 1e3) / 101_325.0 if ground else thrust / (7e6 * 1.75) * 60.0
    pair = stage["propellants"].replace("N2O4", "NTO")
    ratio = PAIRS[stage["propellants"]]
    return TEXT.format(
        carried=max(carried, 1.0), diameter=_best(stage, "diameter_m"), pair=pair, ratio=ratio,
        load=_best(stage, "propellant_kg"), count=count, thrust=thrust / count / 1e3,
        isp=_best(stage, "isp_vac_s"), area=whole / count,
    )  # fmt: skip
