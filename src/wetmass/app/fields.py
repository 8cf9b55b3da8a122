"""What the page needs to know of a field to show it, and to let it be changed: from the models' own readers."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import Any

from pydantic import BaseModel

from wetmass.concept import dimensions as d
from wetmass.concept.derived import ReadsDryMass, ReadsLoad
from wetmass.concept.dimensions import Dimension
from wetmass.concept.fields import Choice, Line, Reader, StageName, Whole, YesNo
from wetmass.concept.measures import MEASURES, named
from wetmass.concept.model import Concept
from wetmass.concept.pairs import SINGLES, PairName, PropellantName
from wetmass.concept.reads import Reads, ReadsBearing, ReadsSpan
from wetmass.concept.reference import _below, example_of, reader_of
from wetmass.concept.units import unit
from wetmass.physics.propellants import PAIRS
from wetmass.record.refusal import Refusal

UNITS: dict[Dimension, tuple[str, ...]] = {
    d.LENGTH: ("m", "km", "ft", "nmi"), d.MASS: ("t", "kg", "lb"), d.TIME: ("s", "min", "h"),
    d.TEMPERATURE: ("K",), d.ANGLE: ("deg", "rad"), d.AREA: ("m²", "ft²"), d.VOLUME: ("m³", "L", "ft³"),
    d.SPEED: ("m/s", "km/s", "ft/s"), d.ACCELERATION: ("g", "m/s²"), d.FORCE: ("kN", "MN", "N", "lbf"),
    d.PRESSURE: ("kPa", "bar", "MPa", "psi"), d.NUMBER: ("", "%"), d.Q_ALPHA: ("kPa·deg", "Pa·rad"),
    d.HEAT_FLUX: ("W/m²", "kW/m²"), d.MASS_FLOW: ("kg/day", "kg/s"), d.POWER: ("W", "kW"),
}  # fmt: skip
_RELATION = re.compile(r"(at least|at most|exactly)\s+(.*)", re.DOTALL)
_NUMBER = re.compile(
    r"([+\-−]?(?:\d{1,3}(?:[ \u2009,]\d{3})+|\d+)?(?:\.\d+)?(?:[eE][+-]?\d+)?)\s*(.*)", re.DOTALL
)


@cache
def field_of(model: type[BaseModel], key: str) -> Any:
    """The model's field a key names, None where it has none."""
    return next((one for one in model.model_fields.values() if one.alias == key), None)


def model_at(path: Sequence[str | int]) -> type[BaseModel] | None:
    """The model of the block at a path; None for a value, or where none is known."""
    model: type[BaseModel] = Concept
    for part in path:
        if isinstance(part, int):
            continue
        field = field_of(model, part)
        below = next(iter(_below(field.annotation)), None) if field is not None else None
        if below is None:
            return None
        model = below
    return model


@cache
def _described(model: type[BaseModel], key: str) -> dict[str, Any]:
    """What is the same for every value of a field."""
    field = field_of(model, key)
    if field is None:
        return {"kind": "text", "accepted": "", "words": key}
    reader = reader_of(field.annotation, field.metadata)
    about = _of_reader(reader)
    about["words"] = field.description or key
    about["needed"] = field.is_required()
    return about


def _of_reader(reader: Reader | None) -> dict[str, Any]:
    about: dict[str, Any] = {"kind": "text", "accepted": reader.words() if reader else "", "example": ""}
    if reader is None:
        return about
    about["example"] = reader.example
    if isinstance(reader, ReadsSpan):
        about["kind"] = "text"
    elif isinstance(reader, Reads):
        about |= {
            "kind": "quantity",
            "units": _units(reader.dimensions),
            "low": reader.low,
            "high": reader.high,
        }
        about["open"], about["spread"] = reader.find, reader.spread
        if isinstance(reader, ReadsBearing):
            about["open"] = about["spread"] = False
        if isinstance(reader, (ReadsDryMass, ReadsLoad)):
            about["also"] = ["by parts"] if isinstance(reader, ReadsDryMass) else ["from tanks"]
    elif isinstance(reader, Whole):
        about |= {"kind": "whole", "low": reader.least, "high": reader.most, "open": reader.find}
    elif isinstance(reader, YesNo):
        about |= {"kind": "choice", "choices": ["yes", "no"]}
    elif isinstance(reader, Choice):
        about |= {"kind": "choice", "choices": list(reader.choices)}
    elif isinstance(reader, PairName):
        about |= {"kind": "choice", "choices": [*PAIRS, *SINGLES]}
    elif isinstance(reader, (StageName, PropellantName)):
        about["kind"] = "text"
    elif isinstance(reader, Line):
        about["longest"] = reader.longest
    return about


def _units(kinds: Sequence[Dimension]) -> list[list[Any]]:
    """[unit, SI factor] of those offered."""
    names = [name for kind in kinds for name in UNITS.get(kind, ())]
    return [[name, unit(name, d.ACCELERATION if d.ACCELERATION in kinds else None).factor] for name in names]


def field(path: Sequence[str | int], value: str, label: str) -> dict[str, Any]:
    """A value of the file for the page.

    path   where it stands
    value  as typed
    label  what it is, said whole, for those who cannot see where it stands
    """
    model = model_at(path[:-1])
    key = str(path[-1])
    if len(path) == 3 and path[0] in ("require", "claims"):
        about = _asked(str(path[0]), key, value)
    elif model is not None:
        about = dict(_described(model, key))
    else:
        about = {"kind": "text", "accepted": "", "words": key}
    if about["kind"] in ("quantity", "whole"):
        about |= _parts(value)
    return {"path": list(path), "value": value, "label": label, **about}


def _parts(value: str) -> dict[str, Any]:
    """A quantity as typed: what binds, number, unit, and what follows (a spread)."""
    text = value.strip()
    relation = _RELATION.fullmatch(text)
    bound, rest = (relation[1], relation[2]) if relation else ("", text)
    if rest.startswith("find"):
        return {"bound": bound, "found": True}
    match = _NUMBER.match(rest)
    if match is None or not match[1] or re.search(r"(?<!\()\s+to\s+", rest.split("(")[0]):
        return {"bound": bound}
    named_unit = re.match(r"[^\s±(+]*", match[2])
    name = named_unit[0] if named_unit else ""
    return {"bound": bound, "number": match[1], "unit": name, "tail": match[2][len(name) :].rstrip()}


def _asked(where: str, name: str, value: str) -> dict[str, Any]:
    """A requirement, an objective or a claim."""
    if name in ("most", "least"):
        choices = ["payload"] if name == "most" else ["lift-off mass"]
        return {"kind": "choice", "choices": choices, "words": "what is made best of the freedom left",
                "accepted": " | ".join(choices)}  # fmt: skip
    measure = _measure(name)
    about: dict[str, Any] = {"kind": "quantity", "accepted": "", "units": [], "open": False, "words": name}
    about["spread"] = where == "claims"
    about["bounds"] = ["at least", "at most", "exactly"] if where == "require" else []
    if measure is not None:
        meaning = MEASURES[measure]
        about["units"] = _units((meaning.dimension,))
        about["words"] = meaning.words
        about["example"] = d.example(meaning.dimension)
    return about


def _measure(name: str) -> Any:
    """The measure a name means whatever its stage is called; None where it means none."""
    try:
        return named(name, ())[0]
    except Refusal:
        return None


def unsaid(path: Sequence[str | int], said: Sequence[str]) -> list[dict[str, str]]:
    """What else the block at a path could say: key, what it means, and an example to start from."""
    model = model_at(path)
    if model is None:
        return []
    return [
        {"key": str(one.alias), "words": str(one.description or ""), "example": example_of(one)}
        for one in model.model_fields.values()
        if one.alias not in said and one.alias not in ("stages", "claims", "require")
    ]
