"""Units as people write them, read strictly.

The accepted units are a closed table, so a slip is refused and never guessed at.  Every row is held
against pint in tests/concept/test_units.py; pint itself (0.4 s to start) is only asked at run time
what an unknown word might have meant, for the advice in the error.  See docs/decisions.
"""

from __future__ import annotations

import difflib
import functools
import math
import re
import unicodedata
from dataclasses import dataclass

from wetmass.concept import dimensions as d
from wetmass.concept.dimensions import Dimension
from wetmass.record.constants import FOOT, NAUTICAL_MILE, POUND, STANDARD_GRAVITY
from wetmass.record.refusal import Complaint, Refusal


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: as written, what one of it is in SI, and what it measures."""

    text: str
    factor: float
    dimension: Dimension

    def __str__(self) -> str:
        return self.text


# ── the table ────────────────────────────────────────────────────────────────────────────────────

_PREFIX = {"G": 1e9, "M": 1e6, "k": 1e3, "h": 1e2, "d": 1e-1, "c": 1e-2, "m": 1e-3, "µ": 1e-6, "n": 1e-9}

# SI units, each with the prefixes that are read for it
_PREFIXED: tuple[tuple[str, float, Dimension, str], ...] = (
    ("m", 1.0, d.LENGTH, "k d c m µ"),
    ("g", 1e-3, d.MASS, "M k m"),
    ("s", 1.0, d.TIME, "m µ"),
    ("N", 1.0, d.FORCE, "G M k m"),
    ("Pa", 1.0, d.PRESSURE, "G M k h m"),
    ("bar", 1e5, d.PRESSURE, "m"),
    ("J", 1.0, d.ENERGY, "G M k"),
    ("W", 1.0, d.POWER, "G M k m"),
    ("Hz", 1.0, d.FREQUENCY, "M k"),
    ("K", 1.0, d.TEMPERATURE, ""),
    ("mol", 1.0, d.AMOUNT, "k"),
    ("A", 1.0, d.CURRENT, ""),
    ("rad", 1.0, d.ANGLE, "m"),
)

_PLAIN: dict[tuple[str, ...], tuple[float, Dimension]] = {
    ("t", "tonne", "tonnes"): (1e3, d.MASS),
    ("lb", "lbs", "lbm"): (POUND, d.MASS),
    ("lbf",): (POUND * STANDARD_GRAVITY, d.FORCE),
    ("kgf",): (STANDARD_GRAVITY, d.FORCE),
    ("tf",): (1e3 * STANDARD_GRAVITY, d.FORCE),
    ("psi",): (POUND * STANDARD_GRAVITY / (FOOT / 12.0) ** 2, d.PRESSURE),
    ("psf",): (POUND * STANDARD_GRAVITY / FOOT**2, d.PRESSURE),
    ("atm",): (101_325.0, d.PRESSURE),
    ("ft", "foot", "feet"): (FOOT, d.LENGTH),
    ("in", "inch", "inches"): (FOOT / 12.0, d.LENGTH),
    ("mi", "mile", "miles"): (5280.0 * FOOT, d.LENGTH),
    ("nmi",): (NAUTICAL_MILE, d.LENGTH),
    ("metre", "metres", "meter", "meters"): (1.0, d.LENGTH),
    ("kilometre", "kilometres", "kilometer", "kilometers"): (1e3, d.LENGTH),
    ("kilogram", "kilograms"): (1.0, d.MASS),
    ("sec", "second", "seconds"): (1.0, d.TIME),
    ("min", "minute", "minutes"): (60.0, d.TIME),
    ("h", "hour", "hours"): (3600.0, d.TIME),
    ("day", "days"): (86_400.0, d.TIME),
    ("deg", "°", "degree", "degrees"): (math.pi / 180.0, d.ANGLE),
    ("%", "percent"): (0.01, d.NUMBER),
    ("mph",): (5280.0 * FOOT / 3600.0, d.SPEED),
    ("kn", "knot", "knots"): (NAUTICAL_MILE / 3600.0, d.SPEED),
    ("L", "l", "litre", "litres", "liter", "liters"): (1e-3, d.VOLUME),
    ("g0", "g₀"): (STANDARD_GRAVITY, d.ACCELERATION),
    ("newton", "newtons"): (1.0, d.FORCE),
    ("cal",): (4.184, d.ENERGY),
    ("kcal",): (4184.0, d.ENERGY),
}  # fmt: skip


def _table() -> dict[str, tuple[float, Dimension]]:
    table: dict[str, tuple[float, Dimension]] = {}
    for symbol, factor, dimension, prefixes in _PREFIXED:
        table[symbol] = (factor, dimension)
        for prefix in prefixes.split():
            # 1e3 × 1e-3 must be exactly 1 for kg
            table[prefix + symbol] = (float(f"{factor * _PREFIX[prefix]:.15g}"), dimension)
            if prefix == "µ":
                table["μ" + symbol] = table[prefix + symbol]  # Greek mu is typed as often as the micro sign
    for names, row in _PLAIN.items():
        for name in names:
            table[name] = row
    return table


TABLE: dict[str, tuple[float, Dimension]] = _table()
"""Every accepted unit name with its SI factor and dimension."""

# words that look like units and would be read in two ways, with what to write instead
_TRAPS = {
    "ton": "write t for 1000 kg, or lb: a ton may be 1000 kg, 2000 lb or 2240 lb",
    "nm": "write nmi for nautical miles: nm is a nanometre to some and a nautical mile to others",
    "NM": "write nmi for nautical miles",
    "kt": "write kn for knots, or t: kt is a kilotonne to some and a knot to others",
    "kts": "write kn for knots",
    "°C": "write kelvins, 273.15 more: °C has a zero of its own",
    "C": "write kelvins, 273.15 more than °C",
    "°F": "write kelvins: °F has a zero of its own",
    "F": "write kelvins for a temperature; N or kN for a force",
    "M": "give a Mach number as a pure number; m or km for a length",
    "'": "write ft",
    '"': "write in",
    "e": "finish the power of ten, such as 1e6",
    "isp": "write s",
    "gee": "write g",
    "gees": "write g",
    "gs": "write g",
}
_TRAPS["tons"] = _TRAPS["ton"]

_SUPERSCRIPT = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
_TOKEN = re.compile(
    r"\s*(?:(?P<sign>[·*/()⋅×])|(?P<name>g0|g₀|[A-Za-zµμ°%'\"]+|1(?![0-9]))"
    r"(?P<power>\s?\^\s?-?[0-9]+|\*\*\s?-?[0-9]+|⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+|-?[0-9]+)?)"
)
_LONGEST = 60  # characters; the longest sensible unit is a third of this
_ACCEPTED = "units joined by · or /, such as m/s, kN, kPa·deg, kg/m³, J/(kg·K)"


def unit(text: str, expected: Dimension | None = None) -> Unit:
    """The unit a person wrote.

    text      such as "kN", "m/s²", "kPa·deg", "kg/m^3", "J/(kg·K)", "" for none
    expected  what is wanted, where known; it settles "g" alone: standard gravity where an
              acceleration is expected, gram everywhere else ("g0" is always standard gravity)

    Raises Refusal, with advice, for anything else: units are never guessed.

    >>> unit("km/s").factor
    1000.0
    >>> unit("g", d.ACCELERATION).factor, unit("g").factor
    (9.80665, 0.001)
    """
    return _unit(text, expected == d.ACCELERATION)


@functools.lru_cache(maxsize=4096)
def _unit(text: str, g_is_gravity: bool) -> Unit:
    written = text.strip()
    if not written:
        return Unit("", 1.0, d.NUMBER)
    if len(written) > _LONGEST:
        raise _refusal(written[:20] + "…", _ACCEPTED, f"shorten the unit to {_LONGEST} characters at most")
    if written == "g" and g_is_gravity:
        return Unit("g", STANDARD_GRAVITY, d.ACCELERATION)
    factor, dimension = _Reader(written).read()
    if not (0.0 < factor < math.inf) or any(abs(power) > 12 for power in dimension):
        raise _refusal(written, _ACCEPTED, "check the powers: no quantity here has such a unit")
    return Unit(written, factor, dimension)


class _Reader:
    """unit := group [ "/" ( factor | "(" product ")" ) ],  group := factor (· factor)* ."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0

    def read(self) -> tuple[float, Dimension]:
        result = self.product()
        if self.sign("/"):
            below = self.factor()
            # a bracket of many tiny units can underflow; _unit refuses the infinity
            result = (result[0] / below[0] if below[0] else math.inf, result[1] / below[1])
            if self.sign("/"):
                raise self.wrong("use one / and brackets: a/b/c can be read in two ways, write a/(b·c)")
            if self.sign("·"):
                raise self.wrong("put brackets behind the /: a/b·c can be read in two ways, write a/(b·c)")
        if self.at < len(self.text):
            raise self.leftover()
        return result

    def product(self) -> tuple[float, Dimension]:
        factor, dimension = self.factor()
        while self.sign("·"):
            more, other = self.factor()
            factor, dimension = factor * more, dimension * other
        return factor, dimension

    def factor(self) -> tuple[float, Dimension]:
        if self.sign("("):
            inner = self.product()
            if not self.sign(")"):
                raise self.wrong("close the bracket, and keep only · inside it")
            return inner
        match = _TOKEN.match(self.text, self.at)
        if match is None or match["name"] is None:
            raise self.leftover()
        self.at = match.end()
        name = match["name"]
        row = (1.0, d.NUMBER) if name == "1" else TABLE.get(name)
        if row is None:
            raise _unknown(self.text, name)
        if match["power"] is None:
            return row
        power = int(re.sub(r"[\^*\s]", "", match["power"]).translate(_SUPERSCRIPT))
        if not 1 <= abs(power) <= 9:
            raise self.wrong("give a power from 1 to 9")
        return row[0] ** power, row[1] ** power

    def sign(self, wanted: str) -> bool:
        match = _TOKEN.match(self.text, self.at)
        if match is None or match["sign"] is None:
            return False
        found = "·" if match["sign"] in "·*⋅×" else match["sign"]
        if found != wanted:
            return False
        self.at = match.end()
        return True

    def leftover(self) -> Refusal:
        rest = self.text[self.at :].strip()
        if not rest:
            return self.wrong("finish the unit: something is missing at its end")
        odd = odd_character(rest, set(_LETTERS))
        if odd:
            return self.wrong(odd)
        if re.match(r"[-+]?[0-9.]", rest):
            return self.wrong("give one number with one unit: 12 m 40 cm is 12.4 m")
        return self.wrong("join units with · and one /, such as kPa·deg or J/(kg·K)")

    def wrong(self, advice: str) -> Refusal:
        return _refusal(self.text, _ACCEPTED, advice)


_LETTERS = (
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
    "µμ°%'\"·*/()⋅×^-+⁰¹²³⁴⁵⁶⁷⁸⁹⁻₀±., \t_:;<>=!?#&@[]{}|~$\\`"
)


def odd_character(text: str, allowed: set[str]) -> str | None:
    """Advice on the first character that is not in `allowed`, by its name; None when all are.

    >>> odd_character("５ m", set("5 m"))
    "retype the character '５' (FULLWIDTH DIGIT FIVE): it only looks like one that is read here"
    """
    for character in text:
        if character not in allowed:
            name = unicodedata.name(character, f"U+{ord(character):04X}")
            shown = repr(character) if character.isprintable() else f"U+{ord(character):04X}"
            alike = unicodedata.normalize("NFKC", character).isascii() or character.isdecimal()
            if alike or name.startswith(("GREEK", "CYRILLIC")):
                return f"retype the character {shown} ({name}): it only looks like one that is read here"
            return f"delete the character {shown} ({name}), or write the value without it"
    return None


class UnknownUnit(Refusal):
    """A word that is no unit here; `meaning` is what it measures elsewhere, None where nobody knows."""

    def __init__(self, complaint: Complaint, meaning: Dimension | None) -> None:
        super().__init__(complaint)
        self.meaning = meaning


def _unknown(text: str, name: str) -> UnknownUnit:
    """The refusal of a word that is no unit here: what is accepted, and what to do."""
    accepted, meaning = "a unit of the table in docs/concept-file.md", None
    same = [known for known in TABLE if known.casefold() == name.casefold()]
    near = difflib.get_close_matches(name, TABLE, n=2, cutoff=0.72) if len(name) > 2 else []
    if name in _TRAPS:
        remedy = _TRAPS[name]
    elif same:
        remedy = f"write {' or '.join(same)}: capitals matter in units"
    elif near:
        remedy = f"check the word; did you mean {' or '.join(near)}?"
    elif asked := _asked_of_pint(name):
        remedy, meaning = asked
    else:
        remedy = "write the value in a unit that is read here, such as " + d.usual_units(d.LENGTH)
    return UnknownUnit(Complaint("unit", f'"{text}"', accepted, remedy), meaning)


@functools.lru_cache(maxsize=1)
def _registry() -> object:
    import pint

    return pint.UnitRegistry()


@functools.lru_cache(maxsize=256)
def _asked_of_pint(name: str) -> tuple[str, Dimension | None] | None:
    """What an unknown word means to pint, in SI, as advice and kind; None when pint does not know it."""
    if not re.fullmatch(r"[A-Za-z]{2,20}", name):
        return None
    import warnings

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            one = _registry().Quantity(1.0, name).to_base_units()  # type: ignore[attr-defined]
            words = f"give the value in {one.units:~P}: 1 {name} is {one.magnitude:.7g} {one.units:~P}"
            return words, unit(f"{one.units:~P}").dimension
        except Exception:  # whatever pint makes of a stranger's word, ours is only advice
            return None


def _refusal(got: str, accepted: str, remedy: str) -> Refusal:
    return Refusal(Complaint("unit", f'"{got}"', accepted, remedy))
