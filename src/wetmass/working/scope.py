"""The values of the page so far, by name, and the constants of nature."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from wetmass.working.names import key, stage_of, tags
from wetmass.working.tree import Leaf, Node
from wetmass.working.units import FORCE, LENGTH, MASS, NONE, PRESSURE, SPEED, TIME, UNITS, Dimension, times


@dataclass(slots=True)
class Entry:
    """A value of the page.  `stated` is what the page says, `true` what it should be, both in SI."""

    index: int
    name: str
    keys: tuple[str, ...]
    tags: frozenset[str]
    stage: str
    section: int
    line: int
    leaf: Leaf  # as stated, with digits and unit
    given: bool  # stated without working
    true: float  # unrounded and with every correction carried down
    unrounded: float  # recomputed from unrounded values, corrections not carried
    used: bool = False
    uses: set[int] = field(default_factory=set)

    @property
    def stated(self) -> float:
        return self.leaf.si


def _unit(text: str) -> tuple[float, Dimension]:
    factor, dimension = 1.0, UNITS["rad"][1]
    sign = 1.0
    for part in text.replace("/", " / ").split():
        if part == "/":
            sign = -1.0
            continue
        name, power = part, 1.0
        if part[-1] in "23":
            name, power = part[:-1], float(part[-1])
        value, its = UNITS[name]
        factor *= value ** (sign * power)
        dimension = times(dimension, its, sign * power)
    return factor, dimension


@dataclass(frozen=True, slots=True)
class Constant:
    """A constant of nature: its names, the values people write for it, and its best value."""

    name: str
    words: str
    best: float  # SI
    unit: str
    letters: tuple[str, ...]
    written: tuple[float, ...]  # typed values that mean this constant when they stand without a unit
    written_unit: str  # the unit those are in


# Sources: CODATA 2018 and SI Brochure for g₀ and R (exact); WGS-84 (NIMA TR8350.2) for μ and the radius;
# Moon and Mars surface gravity from NASA planetary fact sheets (from memory).
CONSTANTS = (
    Constant("g₀", "standard gravity", 9.80665, "m/s2", ("g0", "g", "g_0", "standard gravity"),
             (9.81, 9.80665, 9.8, 9.807, 9.8067, 9.806), "m/s2"),
    Constant("g₀", "standard gravity in feet", 9.80665, "m/s2", ("gc", "g_c"), (32.174, 32.2, 32.17, 32.1740), "ft/s2"),  # noqa: E501
    Constant("μ", "Earth's gravitational parameter", 3.986004418e14, "m3/s2",
             ("mu", "μ", "GM", "mu_E", "μ_E", "mu earth", "μ earth"),
             (398600.0, 398600.4, 398600.44, 398600.4418, 398600.5, 3.986e5), "km3/s2"),
    Constant("μ", "Earth's gravitational parameter", 3.986004418e14, "m3/s2", (),
             (3.986e14, 3.986004418e14, 3.986004e14, 3.98600e14, 3.9860e14, 3.9860044e14, 3.986005e14), "m3/s2"),  # noqa: E501
    Constant("R_E", "Earth's radius", 6.378137e6, "m",
             ("Re", "R_E", "RE", "R_earth", "Rearth", "earth radius", "R_e"),
             (6378.0, 6378.1, 6378.137, 6378.14, 6371.0, 6370.0), "km"),
    Constant("R_E", "Earth's radius", 6.378137e6, "m", (), (6.378e6, 6378137.0, 6378000.0, 6.371e6, 6371000.0, 6.37e6,  # noqa: E501
             6378140.0), "m"),
    Constant("R", "gas constant", 8314.462618, "J/kmol K", ("R_u", "Ru"), (8314.0, 8314.5, 8314.46, 8314.462618),  # noqa: E501
             "J/kmol K"),
    Constant("p₀", "sea-level pressure", 101325.0, "Pa", (), (101325.0,), "Pa"),
    Constant("μ_Moon", "the Moon's gravitational parameter", 4.9028e12, "m3/s2", ("mu_moon", "μ_moon", "mu moon"),  # noqa: E501
             (4903.0, 4902.8, 4902.8001, 4904.87, 4902.801, 4905.0), "km3/s2"),
    Constant("μ_Mars", "Mars's gravitational parameter", 4.282837e13, "m3/s2", ("mu_mars", "μ_mars", "mu mars"),  # noqa: E501
             (42828.0, 42828.37, 42830.0, 42828.4), "km3/s2"),
    Constant("R_Moon", "the Moon's radius", 1.7374e6, "m", ("R_moon", "r_moon", "moon radius"),
             (1737.0, 1737.4, 1738.0, 1737.1), "km"),
    Constant("R_Mars", "Mars's radius", 3.3895e6, "m", ("R_mars", "r_mars", "mars radius"),
             (3389.5, 3390.0, 3396.0, 3396.2, 3397.0), "km"),
    Constant("g_Moon", "gravity on the Moon", 1.62, "m/s2", ("g_moon", "g moon"), (1.62, 1.625), "m/s2"),
    Constant("g_Mars", "gravity on Mars", 3.71, "m/s2", ("g_mars", "g mars"), (3.71, 3.711, 3.72), "m/s2"),
)  # fmt: skip
_CONSTANT_UNITS = {c.written_unit: _unit(c.written_unit.replace("J/kmol K", "J / kmol K")) for c in CONSTANTS}
_BY_LETTER = {key(letter): constant for constant in CONSTANTS for letter in constant.letters}
_BY_LETTER_EXACT = {letter: constant for constant in CONSTANTS for letter in constant.letters}


def constant_leaf(constant: Constant) -> Leaf:
    """The constant at its best value."""
    factor, dimension = _unit(constant.unit.replace("J/kmol K", "J / kmol K"))
    return Leaf(
        constant.best / factor, factor, dimension, False, 0.0, constant.unit, constant.words, constant.name,
        constant=constant.name,
    )  # fmt: skip


def constant_of(leaf: Leaf, worlds: frozenset[str] = frozenset()) -> Leaf | None:
    """The same number recognised as a constant of nature, None where it is none.

    `worlds` the page speaks of let 3.71 and 1.62 be their gravity.
    """
    if leaf.constant or leaf.page >= 0:
        return None
    if abs(leaf.typed - math.pi) < 0.0016 and leaf.bare and leaf.half < 0.02 and leaf.half > 0:
        return Leaf(leaf.typed, text=leaf.text, constant="π", bare=True, half=0.0)
    for constant in CONSTANTS:
        factor, dimension = _CONSTANT_UNITS[constant.written_unit]
        if leaf.bare:
            if constant.name in ("g_Moon", "g_Mars") and constant.name[2:].lower() not in worlds:
                continue  # 1.62 without a unit may be anything
            if any(abs(leaf.typed - value) <= 1e-9 * value for value in constant.written):
                return Leaf(
                    leaf.typed, factor, dimension, False, 0.0, "", constant.words, leaf.text, constant.name
                )
        elif leaf.dimension == dimension and constant.name != "p₀":  # noqa: SIM102
            if any(abs(leaf.si - value * factor) <= 1e-6 * value * factor for value in constant.written):
                return Leaf(
                    leaf.typed, leaf.factor, dimension, False, 0.0, leaf.unit, constant.words, leaf.text,
                    constant.name,
                )  # fmt: skip
    return None


class Scope:
    """Values by name.  Later statements of a name hide earlier ones; a stage's own come first."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []
        self.stage = ""
        self.section = 0
        self.line = 0  # the line being read
        self.imperial = True  # whether feet and pounds stand on the page
        self.tens = False  # whether the page takes 10 m/s² for g
        self.worlds: frozenset[str] = frozenset()  # other than Earth, that the page speaks of

    def add(self, entry: Entry) -> None:
        self.entries.append(entry)

    def exact(self, text: str, stage: str | None = None) -> Entry | None:
        """The latest value with exactly this name, preferring the stage we are in."""
        wanted = key(text)
        if not wanted or text in ("π", "pi"):
            return None
        said = stage_of(text)
        stage = said or (self.stage if stage is None else stage)
        best = None
        own = [entry for entry in self.entries if entry.keys and entry.keys[0] == wanted]
        for entry in reversed(own or self.entries):
            if wanted in entry.keys:
                if entry.stage == stage or not stage or (entry.section == self.section and not said):
                    return entry
                best = best or entry
        if best is not None and (said and best.stage and best.stage != said):
            return None
        return best

    def loose(self, text: str) -> Entry | None:
        """The one value whose name holds all the ideas of this one, None where that is unclear."""
        wanted = tags(text)
        if (
            text in ("π", "pi")
            or not wanted
            or (
                wanted <= {"T", "mass", "ratio", "total", "count", "end", "start", "speed", "time"}
                and len(text.split()) > 1
                and not (wanted - {"total"})
            )
        ):
            return None
        # letters of two meanings: one of them is enough
        choices = [wanted]
        if text in ("V",):
            choices = [frozenset({"volume"}), frozenset({"speed"})]
        elif text == "M":
            choices = [frozenset({"mass"}), frozenset({"mach"})]
        elif text == "g":
            choices = [frozenset({"g0"}), frozenset({"gravity", "acceleration"})]
        for choice in choices:
            found = [entry for entry in self.entries if choice <= entry.tags]
            if not found:
                continue
            mine = [entry for entry in found if entry.stage == self.stage or entry.section == self.section]
            pool = mine or found
            least = min(len(entry.tags) for entry in pool)
            pool = [entry for entry in pool if len(entry.tags) == least]
            names = {(entry.keys, entry.stage) for entry in pool}
            if len(names) == 1:
                return pool[-1]
            return None
        return None

    def leaf(self, entry: Entry) -> Leaf:
        """A reference to a value of the page."""
        stated = entry.leaf
        return Leaf(
            stated.typed, stated.factor, stated.dimension, stated.bare, stated.half, stated.unit, entry.name,
            stated.text, stated.constant, entry.index, False, stated.angle, stated.shift,
        )  # fmt: skip

    def lookup(self, text: str) -> Node | None:
        """What an exactly spelled name stands for."""
        entry = self.exact(text)
        if entry is not None:
            return self.leaf(entry)
        constant = _BY_LETTER_EXACT.get(text) or (_BY_LETTER.get(key(text)) if len(text) > 1 else None)
        if constant is not None:
            return constant_leaf(constant)
        return None

    def letters(self, text: str) -> Node | None:
        """As `lookup`, and a lone letter by what it usually stands for (ρ: the density of the page)."""
        found = self.lookup(text)
        if found is None and (len(text) <= 2 or text in ("rho", "mdot", "sigma", "Isp", "isp")):
            entry = self.loose(text)
            if entry is not None:
                return self.leaf(entry)
        return found

    def resolve(self, text: str) -> Node | None:
        """What a loosely spelled name stands for."""
        found = self.lookup(text)
        if found is not None:
            return found
        entry = self.loose(text)
        return self.leaf(entry) if entry is not None else None

    def link(self, leaf: Leaf, base_of_power: bool) -> list[Leaf]:
        """A literal recognised as a value of the page, with the unit it was stated in there.

        The likeliest value comes first; values of other dimensions with the same digits follow.
        """
        if leaf.page >= 0 or leaf.constant or leaf.typed == 0 or leaf.text in ("½", ""):
            return []
        whole = leaf.typed == int(leaf.typed) and "." not in leaf.text
        small = leaf.bare and whole and abs(leaf.typed) <= 4 and not base_of_power
        pool = self.entries
        if small:
            pool = [
                e
                for e in self.entries
                if e.line == self.line
                and ((e.leaf.dimension != NONE and not e.keys) or ("count" in e.tags and e.given))
            ]
        found: list[Leaf] = []
        order = sorted(
            pool,
            key=lambda e: (e.stage == self.stage, e.section == self.section, e.index),
            reverse=True,
        )
        for entry in order:
            new = _linked(leaf, entry, self.line)
            if new is not None and not any(
                other.dimension == new.dimension and other.factor == new.factor for other in found
            ):
                found.append(new)
        return found[:3]


def _figures(leaf: Leaf) -> int:
    """Digits of a number that are not zeros at its end."""
    return len(f"{leaf.typed:.12g}".replace(".", "").strip("0"))


_KEYED: dict[Dimension, tuple[float, ...]] = {
    LENGTH: (0.0254, 0.3048, 1e3, 1e-3, 1.0),
    PRESSURE: (1e6, 1e5, 1e3, 1.0),
    TIME: (60.0, 3600.0, 1.0),
    SPEED: (1e3, 1.0, 1.0 / 3.6),
    MASS: (1e3, 1.0, 0.45359237),
    FORCE: (1e3, 1e6, 1.0, 9806.65),
}  # a number of the page keyed in another unit
_PURE = frozenset(
    [
        "cf",
        "cd",
        "ratio",
        "mach",
        "efficiency",
        "fraction",
        "gamma",
        "count",
        "twr",
        "epsilon",
        "mixture",
        "growth",
    ]
)


def _linked(leaf: Leaf, entry: Entry, line: int = 0) -> Leaf | None:
    stated = entry.leaf
    if leaf.bare:
        same = abs(stated.typed - leaf.typed) <= 1e-9 * abs(leaf.typed)
        if stated.bare:
            pure = bool(entry.tags & _PURE)  # a ratio or coefficient has no unit to leave out
            return (
                _as(leaf, 1.0, stated, entry, bare=not pure and leaf.typed != int(leaf.typed))
                if same
                else None
            )
        if same:
            return _as(leaf, stated.factor, stated, entry)
        if abs(stated.si - leaf.typed) <= 1e-9 * abs(leaf.typed):
            return _as(leaf, 1.0, stated, entry)
        if leaf.typed >= 5.0 and stated.dimension != NONE:
            for factor in (1e3, 1e-3):  # 1600 for 1.6 MN
                if abs(stated.typed * factor / leaf.typed - 1.0) < 1e-9 and _figures(leaf) >= 2:
                    return _as(leaf, stated.factor / factor, stated, entry)
        if (leaf.typed >= 5.0 or _figures(leaf) >= 2 or entry.line == line) and stated.dimension != NONE:
            for factor in _KEYED.get(stated.dimension, ()):
                if factor != stated.factor and abs(stated.si / factor / leaf.typed - 1.0) < 1e-9:
                    return _as(leaf, factor, stated, entry)  # 8 ft keyed as 96 inches
    elif stated.dimension == leaf.dimension and abs(stated.si - leaf.si) <= 1e-9 * abs(leaf.si):
        return Leaf(
            leaf.typed, leaf.factor, leaf.dimension, False, leaf.half, leaf.unit, entry.name, leaf.text,
            "", entry.index, True, leaf.angle, leaf.shift,
        )  # fmt: skip
    return None


def _as(leaf: Leaf, factor: float, stated: Leaf, entry: Entry, bare: bool = False) -> Leaf:
    return Leaf(
        leaf.typed, factor, stated.dimension, bare, leaf.half, stated.unit, entry.name, leaf.text, "",
        entry.index, True, stated.angle, stated.shift,
    )  # fmt: skip
