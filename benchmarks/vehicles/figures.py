"""The figures of `tests/data/vehicles_flyable.yaml`: cases, single numbers, and what is uncertain in them."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

FILE = Path(__file__).parents[2] / "tests" / "data" / "vehicles_flyable.yaml"

# for comparison only, or bound to another figure by the rules at the head of the file: never varied alone
_NOT_INPUTS = {
    "burn_time_s",
    "thrust_max_kN",
    "thrust_sl_kN",
    "isp_sl_s",
    "lift_off_mass_kg_for_check",
    "payload_kg",
    "thrust_growth",
    "mass_kg_for_check",
}

# Sets that belong together (their notes say so): stage, then (propellant, dry mass) of the other printed sets
TOGETHER = {
    "saturn_ib": (0, ((403_300.0, 41_594.0), (409_000.0, 45_267.0))),
    "zenit_2": (0, ((325_700.0, 28_600.0),)),
}


# fractions that one rule gives for all launchers
RULED = (
    ("residual", "fraction"),
    ("hydrogen", "start_fraction"),
    ("hydrogen", "boil_off_fraction_per_hour"),
    ("ground_start", "share_of_flow"),
    ("ground_start", "seconds"),
    ("coast_before_escape", "seconds"),
)


@dataclass(frozen=True, slots=True)
class Case:
    """One launcher to one orbit, as published."""

    vehicle: dict[str, Any]
    mission: dict[str, Any]
    rules: dict[str, Any]

    @property
    def key(self) -> str:
        return f"{self.vehicle['id']}: {self.mission['name']}"

    @property
    def fair(self) -> bool:
        return self.mission["table"] == "fair"

    @property
    def published(self) -> float:
        return number(self.mission["payload_kg"])

    def figure(self, path: tuple[Any, ...]) -> Any:
        """The entry at `path`, as `uncertain` gives it."""
        place: Any = {"vehicle": self.vehicle, "mission": self.mission, "rules": self.rules}
        for step in path:
            place = place[step]
        return place

    def changed(self, path: tuple[Any, ...], value: float) -> Case:
        """The same case with one figure replaced; `path` as `uncertain` gives it."""
        made = copy.deepcopy({"vehicle": self.vehicle, "mission": self.mission, "rules": self.rules})
        place: Any = made
        for step in path[:-1]:
            place = place[step]
        if isinstance(place[path[-1]], dict):
            place[path[-1]]["v"] = value
        else:
            place[path[-1]] = value
        return Case(**made)


@cache
def _file() -> dict[str, Any]:
    from ruamel.yaml import YAML

    return YAML(typ="safe").load(FILE.read_text(encoding="utf-8"))


def cases() -> tuple[Case, ...]:
    """Every launcher and mission of the file, in its order."""
    data = _file()
    return tuple(
        Case({k: v for k, v in vehicle.items() if k != "missions"}, mission, data["rules"])
        for vehicle in data["vehicles"]
        for mission in vehicle["missions"]
    )


def case(key: str) -> Case:
    """The case called "launcher: mission"; KeyError names those there are."""
    for found in cases():
        if found.key == key:
            return found
    raise KeyError(f"no case {key!r}; there are {', '.join(c.key for c in cases())}")


def number(entry: Any, missing: float | None = None) -> float:
    """The best value of an entry: a bare number or {v: …}."""
    if entry is None and missing is not None:
        return missing
    return float(entry["v"] if isinstance(entry, dict) else entry)


def uncertain(case: Case) -> Iterator[tuple[tuple[Any, ...], float, float]]:
    """(path, low, high) of each input that has two ends in print; those of one set only once, elsewhere."""
    together = TOGETHER.get(case.vehicle["id"])

    def walk(node: Any, path: tuple[Any, ...]) -> Iterator[tuple[tuple[Any, ...], float, float]]:
        if isinstance(node, list):
            for place, item in enumerate(node):
                yield from walk(item, (*path, place))
        elif isinstance(node, dict):
            if {"v", "lo", "hi"} <= node.keys():
                bound = together is not None and path[1:3] == ("stages", together[0])
                if not (bound and path[-1] in ("propellant_kg", "dry_kg")) and node["lo"] < node["hi"]:
                    yield path, float(node["lo"]), float(node["hi"])
                return
            for key, item in node.items():
                if key not in _NOT_INPUTS:
                    yield from walk(item, (*path, key))

    yield from walk(case.vehicle, ("vehicle",))
    for rule, key in RULED:
        fraction = case.rules[rule][key]
        yield ("rules", rule, key), float(fraction["lo"]), float(fraction["hi"])


def remembered(case: Case) -> tuple[int, int]:
    """(from memory, all) of the numbers that this case is flown with, the mission's included."""
    memory = total = 0

    def walk(node: Any, key: str) -> None:
        nonlocal memory, total
        if isinstance(node, list):
            for item in node:
                walk(item, key)
        elif isinstance(node, dict):
            if "v" in node and "s" in node:
                total += 1
                memory += node["s"] == "MEM"
                return
            for name, item in node.items():
                if name not in _NOT_INPUTS:
                    walk(item, name)

    walk(case.vehicle, "")
    walk(case.mission, "")
    return memory, total
