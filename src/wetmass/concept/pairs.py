"""Propellants by name, as a concept file names them: those of `wetmass.physics.propellants`."""

from __future__ import annotations

from wetmass.concept.fields import Reader
from wetmass.concept.wording import nearest, wrong
from wetmass.physics.propellants import PAIRS, PROPELLANTS, Pair, propellant

SINGLES = ("solid", "LH2", "RP-1", "kerosene", "H2O2", "hydrazine")
"""Propellants a stage may burn alone: solid motors, nuclear heat, air-breathing, decomposition."""


def pair_of(name: str) -> Pair | None:
    """The pair of an oxidiser and a fuel, None for a propellant that is burnt alone."""
    return PAIRS.get(name)


def parts_of(name: str) -> tuple[str, ...]:
    """What the tanks of a stage may hold, oxidiser first.

    >>> parts_of("LOX/LCH4"), parts_of("solid")
    (('LOX', 'LCH4'), ('solid',))
    """
    pair = PAIRS.get(name)
    return (pair.oxidiser.name, pair.fuel.name) if pair else (name,)


class PairName(Reader):
    """A pair, or a single propellant, by any of its names; the value is the name it is shown by."""

    example = "LOX/LCH4"

    def words(self) -> str:
        return " | ".join((*PAIRS, *SINGLES)) + " (oxidiser first)"

    def read(self, text: str, info: object) -> str:
        names = [canonical(half) for half in text.split("/")]
        name = "/".join(names)
        if name in PAIRS or name in SINGLES:
            return name
        turned = "/".join(reversed(names))
        near = turned if turned in PAIRS else nearest(name, (*PAIRS, *SINGLES)) if text.strip() else None
        raise wrong(text, self.words(), f'write "{near}", if that is meant' if near else "write one of these")


class PropellantName(Reader):
    """One propellant by any of its names, or "oxidiser" or "fuel" for that part of the pair."""

    example = "LOX"

    def words(self) -> str:
        return "a propellant of the stage, or oxidiser, or fuel"

    def read(self, text: str, info: object) -> str:
        if not text.strip():
            raise wrong(text, self.words(), self.give())
        return canonical(text)


def canonical(name: str) -> str:
    """The name a propellant is shown by; any other word as it is.

    >>> canonical("liquid methane"), canonical("fuel")
    ('LCH4', 'fuel')
    """
    words = " ".join(name.split())
    if words.casefold() in ("solid", "oxidiser", "fuel"):
        return words.casefold()
    try:
        return propellant(words).name
    except ValueError:
        return words


def other_names(name: str) -> tuple[str, ...]:
    """What else a propellant may be called."""
    return PROPELLANTS[name].aliases if name in PROPELLANTS else ()
