"""The reference page of the concept file, written from the models."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

from pydantic import BaseModel

from wetmass.concept.dimensions import dimension_name
from wetmass.concept.fields import Reader
from wetmass.concept.measures import MEASURES, OBJECTIVES
from wetmass.concept.model import Concept
from wetmass.concept.pairs import SINGLES, other_names
from wetmass.concept.units import TABLE
from wetmass.physics.propellants import PAIRS


def reader_of(annotation: Any, metadata: Any = ()) -> Reader | None:
    """The reader of a field, wherever its annotation holds it."""
    for entry in (*metadata, *getattr(annotation, "__metadata__", ())):
        if isinstance(entry, Reader):
            return entry
    for part in get_args(annotation):
        found = reader_of(part)
        if found is not None:
            return found
    return None


def blocks() -> list[type[BaseModel]]:
    """All models of the concept file, outermost first."""
    found: list[type[BaseModel]] = []

    def visit(model: type[BaseModel]) -> None:
        if model in found:
            return
        found.append(model)
        for field in model.model_fields.values():
            for below in _below(field.annotation):
                visit(below)

    visit(Concept)
    return found


def _below(annotation: Any) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for part in get_args(annotation):
        yield from _below(part)


def example_of(field: Any) -> str:
    """One value of a field, as it is written."""
    reader = reader_of(field.annotation, field.metadata)
    if reader is not None:
        return reader.example
    below = next(_below(field.annotation), None)
    if below is None:
        return "…"
    inner = "{" + smallest(below) + "}"
    return f"[{inner}]" if "tuple" in str(field.annotation) else inner


def entry_of(field: Any) -> str:
    """One entry of a list, as it is written behind its "-"."""
    below = next(_below(field.annotation), None)
    return "{" + smallest(below) + "}" if below is not None else _LISTS[str(field.alias)][1].strip("`- ")


def smallest(model: type[BaseModel]) -> str:
    """The keys a block cannot do without, with an example each."""
    too = getattr(model, "needs_too", ())
    needed = [field for field in model.model_fields.values() if field.is_required() or field.alias in too]
    if not needed:
        needed = list(model.model_fields.values())[:1]
    return ", ".join(f"{field.alias}: {example_of(field)}" for field in needed)


def page() -> str:
    """docs/concept-file.md, whole."""
    return (
        _HEAD.replace("{smallest}", SMALLEST)
        + "".join(_section(model) for model in blocks())
        + _measures()
        + _pairs()
        + _units()
    )


SMALLEST = """\
name: Smallest
site: {latitude: 14.2 deg N, longitude: 40 deg W}
mission: {perigee: 300 km, apogee: 300 km}
payload: find
stages:
  - name: first
    diameter: 2 m
    dry mass: 3 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.5, mass: 40 t}
    engines: [{count: 3, thrust: {sea level: 220 kN}, isp: {sea level: 270 s, vacuum: 300 s}}]
  - name: second
    diameter: 2 m
    dry mass: 700 kg
    propellant: {pair: LOX/RP-1, mixture ratio: 2.5, mass: 8 t}
    engines: [{thrust: {vacuum: 120 kN}, isp: {vacuum: 340 s}}]
"""

_HEAD = """\
# The concept file

*This page is written from the code (`python -m wetmass.concept.reference`); a test fails when the two part.*

A concept is said in YAML. Every value is written as people write it, a number with its unit; every key
below says what it accepts. A wrong value, a mistyped key, a key said twice: all are told at once, each with
file, line and column. [`examples/dunlin.yaml`](../examples/dunlin.yaml) is a whole one to start from.

How a value may be written:

| written | read as |
| --- | --- |
| `250 t`, `12 500 kg`, `12,500 kg`, `1.2e6 N` | one number with one unit; a decimal comma is refused |
| `9.4 t ± 8 %`, `9 m +/- 5 cm` | a guess, and how far it may be off either way |
| `8 to 10 t` | a guess known only as a range; its middle is used |
| `9.4 t (8 to 11 t)` | the likeliest value, and the least and the most it may be |
| `find`, `find from 100 t to 300 t`, `find at most 40 t` | an open value, found to meet the requirements |
| `60 %` | 0.60; `±` on a percentage is refused, write `60 % (57 to 63 %)` |

The smallest concept that can be flown, and what it leaves out is what the tables below give as chosen
where nothing is said:

```yaml
{smallest}```

Anchors, aliases, tags and a second document are refused; a file holds 64 KiB at most.
`g` alone is standard gravity where an acceleration is asked for and a gram elsewhere; `g0` is always gravity.
"""


def _section(model: type[BaseModel]) -> str:
    title = "The whole file" if model is Concept else _title(model)
    rows = "".join(_row(field) for field in model.model_fields.values())
    summary = (model.__doc__ or "").strip().split("\n\n")[0].replace("\n", " ")
    head = "| key | what it is | accepted | example |\n| --- | --- | --- | --- |\n"
    return f"\n## {title}\n\n{summary}\n\n{head}{rows}"


def _title(model: type[BaseModel]) -> str:
    words = "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in model.__name__).strip()
    return words.capitalize()


def _row(field: Any) -> str:
    reader = reader_of(field.annotation, field.metadata)
    below = next(_below(field.annotation), None)
    if reader is not None:
        accepted, example = reader.words(), f"`{reader.example}`"
    elif below is not None:
        many = "a list of: " if "tuple" in str(field.annotation) else ""
        accepted, example = f"{many}[{_title(below)}](#{_title(below).lower().replace(' ', '-')})", ""
    elif field.alias in _LISTS:
        accepted, example = _LISTS[str(field.alias)]
    else:
        accepted, example = "see there", ""
    must = "" if not field.is_required() else " (needed)"
    cells = (f"`{field.alias}`{must}", str(field.description), accepted, example)
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |\n"


_LISTS = {
    "require": ("a list, one [measure](#measures) an entry", "`- {lift-off mass: at most 210 t}`"),
    "claims": ("a list, one [measure](#measures) an entry", "`- {first burn-out speed: 2.4 km/s}`"),
    "speed": ("a speed, or at least a speed", "`at least 0.4 km/s`"),
    "trace": ("a list of points, time rising from 0 s", "`[[0 s, 0], [1 s, 1.1], [90 s, 0.9], [94 s, 0]]`"),
    "out": ("how many, and when", "`1 at 60 s`"),
    "curve": ("typical | low | high, or a list of points", "`[[0, 0.3], [0.8, 0.35], [1.1, 0.6], [3, 0.3]]`"),
}


def _measures() -> str:
    rows = "".join(
        f"| `{'<stage> ' if meaning.of_stage else ''}{measure}` | {meaning.words} "
        f"| {dimension_name(meaning.dimension)} | {'require, claims' if meaning.required else 'claims'} |\n"
        for measure, meaning in MEASURES.items()
    )
    best = " or ".join(f"`{{{one.sense}: {one.measure}}}`" for one in OBJECTIVES)
    return (
        "\n## Measures\n\nWhat can be required (`at least`, `at most`, `exactly`) or claimed. The name of "
        "a stage stands before its measure: `first burn-out speed`.\n"
        f"One entry of `require` may name the objective: {best}.\n\n"
        f"| measure | what it is | kind | used in |\n| --- | --- | --- | --- |\n{rows}"
    )


def _pairs() -> str:
    rows = "".join(
        f"| `{pair.name}` | {pair.usual[0]:g} to {pair.usual[1]:g} "
        f"| {pair.accepted[0]:.2g} to {pair.accepted[1]:.2g} |\n"
        for pair in PAIRS.values()
    )
    parts = {part.name for pair in PAIRS.values() for part in (pair.oxidiser, pair.fuel)}
    called = "".join(
        f"- `{name}`: {', '.join(f'`{other}`' for other in other_names(name))}\n"
        for name in sorted(parts)
        if other_names(name)
    )
    alone = ", ".join(f"`{name}`" for name in SINGLES)
    return (
        "\n## Propellant pairs\n\nMixture ratios are oxidiser to fuel by mass. Outside the accepted range\n"
        f"a slip is likelier than a design. Burnt alone, without a mixture ratio: {alone}.\n\n"
        f"| pair | usual | accepted |\n| --- | --- | --- |\n{rows}\nOther names that are read:\n\n{called}"
    )


def _units() -> str:
    kinds: dict[str, list[str]] = {}
    for name, (_, dimension) in TABLE.items():
        kinds.setdefault(dimension_name(dimension), []).append(f"`{name}`")
    rows = "".join(f"| {kind} | {' '.join(names)} |\n" for kind, names in kinds.items())
    return (
        "\n## Units\n\nUnits are joined by `·` (or `*`) and one `/`, powers are written `m²`, `m^2` or `m2`: "
        f"`kg/m³`, `kPa·deg`, `J/(kg·K)`. Capitals matter.\n\n| kind | units |\n| --- | --- |\n{rows}"
    )


if __name__ == "__main__":
    print(page(), end="")
