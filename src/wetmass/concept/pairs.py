"""Propellant pairs by name, and the mixture ratios that can be meant."""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.concept.fields import Reader, nearest, wrong


@dataclass(frozen=True, slots=True)
class Pair:
    """One pair, or a single propellant.

    name                  as it is shown, oxidiser first
    parts                 what tanks may hold, oxidiser first
    least, most           mixture ratios read for it, oxidiser to fuel by mass; both 0 where there is none
    other_names           also read
    """

    name: str
    parts: tuple[str, ...]
    least: float = 0.0
    most: float = 0.0
    other_names: tuple[str, ...] = ()


def _pair(oxidiser: str, fuel: str, stoichiometric: float, *other_names: str) -> Pair:
    # what can be meant, not what is usual (findings judge that): from a quarter of the ratio that
    # burns completely to half as much again; outside lies a slip of the decimal point or of o/f for f/o
    least, most = (float(f"{stoichiometric * share:.2g}") for share in (0.25, 1.5))
    return Pair(f"{oxidiser}/{fuel}", (oxidiser, fuel), least, most, other_names)


# Stoichiometric ratios by mass from the reaction and molar masses (IUPAC 2021 standard atomic
# weights: H 1.008, C 12.011, N 14.007, O 15.999); kerosene taken as CH₁.₉₅,
# UH 25 as three parts UDMH to one of hydrazine hydrate.
PAIRS: tuple[Pair, ...] = (
    _pair("LOX", "LCH4", 3.99, "LOX/CH4", "LOX/methane", "LOX/liquid methane", "LOX/LNG"),
    _pair("LOX", "RP-1", 3.41, "LOX/RP1", "LOX/kerosene", "LOX/kerosine"),
    _pair("LOX", "LH2", 7.94, "LOX/H2", "LOX/hydrogen", "LOX/liquid hydrogen"),
    _pair("LOX", "ethanol", 2.08, "LOX/alcohol"),
    _pair("N2O4", "UDMH", 3.06, "NTO/UDMH"),
    _pair("N2O4", "MMH", 2.50, "NTO/MMH"),
    _pair("N2O4", "A-50", 2.25, "N2O4/Aerozine-50", "N2O4/Aerozine 50", "NTO/A-50", "NTO/Aerozine 50"),
    _pair("N2O4", "UH 25", 2.53, "N2O4/UH25", "NTO/UH 25"),
    _pair("HTP", "RP-1", 7.25, "HTP/kerosene", "H2O2/RP-1"),
    Pair("solid", ("solid",), other_names=("HTPB", "APCP", "solid propellant")),
    Pair("LH2", ("LH2",), other_names=("hydrogen", "liquid hydrogen")),
    Pair("RP-1", ("RP-1",), other_names=("kerosene", "jet fuel", "Jet A")),
    Pair("HTP", ("HTP",), other_names=("hydrogen peroxide", "H2O2")),
    Pair("hydrazine", ("hydrazine",), other_names=("N2H4",)),
)

BY_NAME: dict[str, Pair] = {pair.name: pair for pair in PAIRS}
_ANY = {name.casefold(): pair for pair in PAIRS for name in (pair.name, *pair.other_names)}


class PairName(Reader):
    """A propellant pair by one of its names; the value is the name it is shown by."""

    example = "LOX/LCH4"

    def words(self) -> str:
        return " | ".join(BY_NAME)

    def read(self, text: str, info: object) -> str:
        typed = " ".join(text.split())
        pair = _ANY.get(typed.casefold()) or _ANY.get(typed.replace(" / ", "/").casefold())
        if pair is not None:
            return pair.name
        turned = _ANY.get("/".join(reversed(typed.split("/"))).casefold())
        near = turned.name if turned else nearest(typed, _ANY)
        near = _ANY[near.casefold()].name if near else None
        advice = f'write "{near}", oxidiser first' if near else "write one of these, oxidiser first"
        raise wrong(text, self.words(), advice)
