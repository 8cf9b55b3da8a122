"""What the tanks hold: densities, usual pairs, mixture ratios by mass and by volume.

Every row says where its figures come from (`source`) and how sure that is (`status`).
"""

from __future__ import annotations

import difflib
import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass

from wetmass.physics.liquid_tables import BOILING, EQUATIONS, TABLES, TRIPLE
from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation

EQUATION = "reference equation of state"
READ = "read"
MEMORY = "from memory"
SECONDS_A_DAY = 86_400.0


@dataclass(frozen=True, slots=True)
class Propellant:
    """One propellant, as a tank holds it."""

    name: str  # short name used in pairs, such as "LOX"
    words: str  # what it is
    role: str  # "oxidiser", "fuel", "monopropellant", "solid" or "other"
    density: float  # kg/m³, at `temperature`
    temperature: float  # K
    boiling: float | None  # K, at 101 325 Pa
    freezing: float | None  # K
    latent_heat: float | None  # J/kg at the boiling point
    source: str
    status: str  # EQUATION, READ or MEMORY
    densities: tuple[tuple[float, float], ...] = ()  # (K, kg/m³) where known without an equation
    aliases: tuple[str, ...] = ()

    @property
    def is_cryogen(self) -> bool:
        """Does it boil below 250 K?  (The bound is ours: it parts ammonia from the room-warm storables.)"""
        return self.boiling is not None and self.boiling < 250.0


_HANDBOOK = "handbook value, " + MEMORY
_DARLING = (
    "D. Darling, Encyclopedia of Science, Liquid propellant, table of properties, "
    "http://www.daviddarling.info/encyclopedia/L/liquid_propellant.html"
)
_BRAEUNIG_11 = (
    "R. A. Braeunig, Rocket and Space Technology, Problems, problem 1.11, "
    "http://www.braeunig.us/space/problem.htm"
)


def _liquid(name: str, words: str, role: str, *aliases: str) -> Propellant:
    temperature, _, density, _, latent = BOILING[name]
    return Propellant(
        name, words, role, density, temperature, temperature, TRIPLE[name], latent,
        f"boiling liquid at 101 325 Pa, {EQUATIONS[name]}, evaluated with CoolProp", EQUATION, (), aliases,
    )  # fmt: skip


def _storable(
    name: str,
    words: str,
    role: str,
    densities: tuple[tuple[float, float], ...],
    boiling: float | None,
    freezing: float | None,
    source: str = _HANDBOOK,
    status: str = MEMORY,
    aliases: tuple[str, ...] = (),
) -> Propellant:
    temperature, density = densities[-1]
    return Propellant(
        name, words, role, density, temperature, boiling, freezing, None, source, status, densities, aliases
    )


_ROWS = (
    _liquid("LOX", "liquid oxygen", "oxidiser", "liquid oxygen", "LO2", "oxygen"),
    _liquid("LCH4", "liquid methane", "fuel", "liquid methane", "methane", "CH4", "LNG"),
    _liquid("LH2", "liquid hydrogen (para)", "fuel", "liquid hydrogen", "hydrogen", "LH2 (para)",
            "parahydrogen"),
    _liquid("LH2 (normal)", "liquid hydrogen (normal)", "fuel", "normal hydrogen"),
    _liquid("LN2", "liquid nitrogen", "other", "liquid nitrogen", "nitrogen", "N2"),
    _liquid("propane", "liquid propane", "fuel", "C3H8", "LPG"),
    _liquid("ethane", "liquid ethane", "fuel", "C2H6"),
    _liquid("ethylene", "liquid ethylene", "fuel", "C2H4"),
    _liquid("ammonia", "liquid ammonia", "fuel", "NH3"),
    _liquid("N2O", "nitrous oxide", "oxidiser", "nitrous oxide", "nitrous"),
    _storable("RP-1", "rocket kerosene", "fuel", ((266.0, 830.0), (288.0, 806.0)), 450.0, 225.0,
              aliases=("RP1", "rocket kerosene")),
    _storable("kerosene", "jet fuel, Jet A-1", "fuel", ((288.0, 804.0),), 440.0, 226.0,
              "usual figure for Jet A-1 at 15 °C, " + MEMORY, aliases=("Jet A-1", "Jet A", "jet fuel")),
    _storable("NTO", "nitrogen tetroxide", "oxidiser", ((293.0, 1447.0),), 294.3, 261.9,
              aliases=("N2O4", "nitrogen tetroxide")),
    _storable("MMH", "monomethylhydrazine", "fuel", ((293.0, 875.0),), 360.6, 220.8),
    _storable("UDMH", "unsymmetrical dimethylhydrazine", "fuel", ((293.0, 791.0),), 336.0, 216.0,
              _DARLING + " (0.791 g/ml; temperature not printed, 293 K taken)", READ),
    _storable("Aerozine-50", "UDMH and hydrazine in equal parts", "fuel", ((298.0, 899.0),), 343.0, 267.6,
              aliases=("A-50", "A50", "Aerozine 50", "Aerozine")),
    _storable("UH25", "three parts UDMH, one part hydrazine hydrate", "fuel", ((293.0, 850.0),), None, None,
              "round figure, low confidence, " + MEMORY, aliases=("UH-25", "UH 25")),
    _storable("hydrazine", "hydrazine", "fuel", ((293.0, 1008.0),), 386.7, 274.7, aliases=("N2H4",)),
    _storable("H2O2", "hydrogen peroxide, 98 %", "oxidiser", ((298.0, 1431.0),), 421.7, 270.6,
              aliases=("HTP", "peroxide", "H2O2 98 %", "hydrogen peroxide")),
    _storable("H2O2 90 %", "hydrogen peroxide, 90 %", "oxidiser", ((298.0, 1387.0),), 414.0, 261.7),
    _storable("ethanol", "ethanol", "fuel", ((293.0, 789.0),), 351.4, 159.0,
              aliases=("ethyl alcohol", "alcohol")),
    _storable("water", "water", "other", ((293.0, 998.2),), 373.12, 273.15, aliases=("H2O",)),
    _storable("AP", "ammonium perchlorate, solid", "solid", ((293.0, 1950.0),), None, None,
              _BRAEUNIG_11, READ,
              aliases=("ammonium perchlorate",)),
    _storable("Al", "aluminium powder, solid", "solid", ((293.0, 2700.0),), None, None,
              _BRAEUNIG_11, READ,
              aliases=("aluminium", "aluminum")),
    _storable("HTPB", "hydroxyl-terminated polybutadiene binder, solid", "solid", ((293.0, 930.0),),
              None, None, _BRAEUNIG_11, READ),
    _storable("AP/Al/HTPB", "composite solid: 68 % AP, 18 % Al, 14 % HTPB", "solid", ((293.0, 1767.0),),
              None, None, _BRAEUNIG_11 + " (no voids; cast grains are a little lighter)", READ,
              aliases=("solid", "APCP")),
)  # fmt: skip

PROPELLANTS: dict[str, Propellant] = {row.name: row for row in _ROWS}


def _key(name: str) -> str:
    return " ".join(name.split()).casefold()


_BY_ALIAS = {_key(alias): row for row in _ROWS for alias in (row.name, *row.aliases)}


def propellant(name: str) -> Propellant:
    """The propellant of that name; other usual names are understood, capitals do not matter.

    Raises ValueError with the nearest names when there is none.

    >>> propellant("liquid oxygen").name
    'LOX'
    """
    row = _BY_ALIAS.get(_key(name))
    if row is None:
        near = difflib.get_close_matches(_key(name), _BY_ALIAS, n=3, cutoff=0.5)
        names = ", ".join(dict.fromkeys(_BY_ALIAS[each].name for each in near)) or ", ".join(PROPELLANTS)
        raise ValueError(
            f"propellant: got {name!r}; known near it: {names}. Name one, or give a density of your own"
        )
    return row


# ── density and boiling line by temperature ──────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class BoilingLine:
    """A liquid in balance with its vapour at one temperature."""

    temperature: float  # K
    pressure: float  # Pa
    density: float  # kg/m³, liquid
    vapour_density: float  # kg/m³
    latent_heat: float  # J/kg


def _cubic(xs: tuple[float, ...], ys: tuple[float, ...], x: float) -> float:
    """Through four points (Lagrange)."""
    total = 0.0
    for i in range(4):
        term = ys[i]
        for j in range(4):
            if j != i:
                term *= (x - xs[j]) / (xs[i] - xs[j])
        total += term
    return total


def boiling_line(name: str, temperature: float) -> BoilingLine:
    """Liquid, vapour, pressure and latent heat on the boiling line at `temperature` [K].

    Cubic interpolation in a table of 41 rows from a reference equation of state, from just above the
    triple point to 0.92 of the critical temperature.  Raises ValueError outside, and for propellants
    without such a table.
    """
    row = propellant(name)
    table = TABLES.get(row.name)
    if table is None:
        raise ValueError(f"{row.name}: no boiling line is tabulated; tabulated are {', '.join(TABLES)}")
    low, high = table[0][0], table[-1][0]
    if not low - 0.02 <= temperature <= high:  # 0.02 K reaches down to the triple point itself
        raise ValueError(
            f"{row.name}: temperature must lie between {low:.4g} K and {high:.4g} K "
            f"(triple point to 0.92 of critical), got {temperature} K"
        )
    step = (high - low) / (len(table) - 1)
    first = min(max(int((temperature - low) / step) - 1, 0), len(table) - 4)
    four = table[first : first + 4]
    xs = tuple(each[0] for each in four)

    def column(i: int) -> float:
        """Logarithms against 1/T for what grows steeply (pressure, vapour density)."""
        if i in (1, 3):
            inverse = tuple(1.0 / x for x in xs)
            return math.exp(_cubic(inverse, tuple(math.log(each[i]) for each in four), 1.0 / temperature))
        return _cubic(xs, tuple(each[i] for each in four), temperature)

    return BoilingLine(temperature, column(1), column(2), column(3), column(4))


def density(name: str, temperature: float | None = None) -> float:
    """Density of a propellant [kg/m³] at `temperature` [K]; without one, as usually loaded.

    As usually loaded: cryogens at their boiling point under 101 325 Pa, others near room temperature.
    Cryogens follow their boiling line, so a tank pressure of 3 bar adds less than 0.5 % (hydrogen) or
    0.1 % (the others).  Others: straight between the rows known, refused outside them.

    >>> round(density("LOX"), 1), round(density("LOX", 66.0), 1)
    (1141.2, 1255.2)
    """
    row = propellant(name)
    if temperature is None:
        return row.density
    if row.name in TABLES:
        return boiling_line(row.name, temperature).density
    known = row.densities
    if known[0][0] - 5.0 <= temperature <= known[-1][0] + 5.0 and len(known) == 1:
        return row.density
    if not known[0][0] <= temperature <= known[-1][0]:
        places = ", ".join(f"{rho:g} kg/m³ at {t:g} K" for t, rho in known)
        raise ValueError(
            f"{row.name}: density is known here only as {places} ({row.status}), got {temperature} K. "
            "Give the density itself"
        )
    for (t0, rho0), (t1, rho1) in itertools.pairwise(known):
        if temperature <= t1:
            return rho0 + (rho1 - rho0) * (temperature - t0) / (t1 - t0)
    return known[-1][1]


# ── pairs ────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Pair:
    """An oxidiser and a fuel used together; mixture ratios by mass, oxidiser over fuel."""

    oxidiser: Propellant
    fuel: Propellant
    usual: tuple[float, float]  # of flown engines
    accepted: tuple[float, float]  # beyond it a slip is more likely than a design
    source: str
    status: str

    @property
    def name(self) -> str:
        return f"{self.oxidiser.name}/{self.fuel.name}"

    @property
    def typical(self) -> float:
        """Middle of the usual range."""
        return 0.5 * (self.usual[0] + self.usual[1])


_CLASSES = "mixture ratios of flown engine classes (makers' and agencies' fact sheets), " + MEMORY
_IDEAL = "about the ideal optimum and the usual fuel-rich side of it, " + MEMORY


def _pair(oxidiser: str, fuel: str, low: float, high: float, source: str = _CLASSES) -> Pair:
    # accepted: from a third of the usual low end to two and a half times the high end (our own bound)
    accepted = (low / 3.0, 2.5 * high)
    return Pair(PROPELLANTS[oxidiser], PROPELLANTS[fuel], (low, high), accepted, source, MEMORY)


PAIRS: dict[str, Pair] = {
    pair.name: pair
    for pair in (
        _pair("LOX", "LH2", 5.0, 6.1),
        _pair("LOX", "LCH4", 3.2, 3.8),
        _pair("LOX", "RP-1", 2.2, 2.8),
        _pair("LOX", "kerosene", 2.2, 2.8),
        _pair("LOX", "propane", 2.7, 3.2, _IDEAL),
        _pair("LOX", "ethane", 2.8, 3.4, _IDEAL),
        _pair("LOX", "ethylene", 2.3, 2.8, _IDEAL),
        _pair("LOX", "ethanol", 1.2, 1.8, _IDEAL),
        _pair("LOX", "ammonia", 1.2, 1.5, _IDEAL),
        _pair("LOX", "UDMH", 1.4, 1.7, _IDEAL),
        _pair("NTO", "UDMH", 1.6, 2.7),
        _pair("NTO", "MMH", 1.6, 2.2),
        _pair("NTO", "Aerozine-50", 1.6, 2.1),
        _pair("NTO", "UH25", 1.6, 2.1),
        _pair("NTO", "hydrazine", 0.9, 1.3, _IDEAL),
        _pair("H2O2", "RP-1", 7.0, 8.0),
        _pair("H2O2", "kerosene", 7.0, 8.0),
        _pair("N2O", "ethanol", 3.5, 5.5, _IDEAL),
        _pair("N2O", "propane", 7.0, 9.0, _IDEAL),
    )
}


def pair(name: str) -> Pair:
    """The pair called "oxidiser/fuel", in any usual names and either order.

    Raises ValueError when a name is unknown or the two are not a pair listed here.

    >>> pair("LOX/methane").name, pair("methane/LOX").name
    ('LOX/LCH4', 'LOX/LCH4')
    """
    if _key(name) == _key("AP/Al/HTPB") or name.count("/") != 1:
        raise ValueError(f'pair: got {name!r}; accepted is "oxidiser/fuel", such as "LOX/LCH4"')
    first, second = (propellant(half) for half in name.split("/"))
    for one, other in ((first, second), (second, first)):
        if found := PAIRS.get(f"{one.name}/{other.name}"):
            return found
    raise ValueError(
        f"pair: {first.name} with {second.name} is not listed; listed are {', '.join(PAIRS)}. "
        "State the two propellants and the mixture ratio of your own"
    )


# ── mixture ratios, shares, bulk density ─────────────────────────────────────────────────────────

_RATIO = ("r", "mixture ratio, oxidiser over fuel by mass", "", 0.2, 12.0)
_OXIDISER = ("ρₒ", "density of the oxidiser", "kg/m³", 300.0, 2000.0)
_FUEL = ("ρ_f", "density of the fuel", "kg/m³", 60.0, 1200.0)
_LOAD = ("mₚ", "mass of the propellant", "kg", 1.0, 5e6)
_GEOMETRY = "definition (mass is density times volume)"


@kernel
def _bulk_density(mixture_ratio, oxidiser_density, fuel_density):
    return (1.0 + mixture_ratio) / (mixture_ratio / oxidiser_density + 1.0 / fuel_density)


@relation(
    kernel=_bulk_density,
    symbol="ρ",
    words="bulk density of the pair",
    unit="kg/m³",
    letters={
        "mixture_ratio": Letter(*_RATIO),
        "oxidiser_density": Letter(*_OXIDISER),
        "fuel_density": Letter(*_FUEL),
    },
    source=_GEOMETRY,
)
def bulk_density(mixture_ratio: float, oxidiser_density: float, fuel_density: float) -> float:
    """Mass over volume of both propellants together, ρ = (1 + r)/(r/ρₒ + 1/ρ_f) [kg/m³].

    mixture_ratio     oxidiser over fuel by mass  [-]
    oxidiser_density  of the oxidiser             [kg/m³]
    fuel_density      of the fuel                 [kg/m³]

    No ullage.  Raises ValueError when an argument is not above zero.
    Source: definition (mass is density times volume).

    >>> round(bulk_density(6.0, 1140.0, 71.0), 1)
    361.8
    """
    above_zero(mixture_ratio=mixture_ratio, oxidiser_density=oxidiser_density, fuel_density=fuel_density)
    return _bulk_density(mixture_ratio, oxidiser_density, fuel_density)


@kernel
def _volume_ratio(mixture_ratio, oxidiser_density, fuel_density):
    return mixture_ratio * fuel_density / oxidiser_density


@relation(
    kernel=_volume_ratio,
    symbol="r_V",
    words="mixture ratio by volume",
    unit="",
    letters={
        "mixture_ratio": Letter(*_RATIO),
        "oxidiser_density": Letter(*_OXIDISER),
        "fuel_density": Letter(*_FUEL),
    },
    source=_GEOMETRY,
)
def volume_ratio(mixture_ratio: float, oxidiser_density: float, fuel_density: float) -> float:
    """Oxidiser over fuel by volume, r_V = r·ρ_f/ρₒ [-].

    Arguments as for `bulk_density`.  Raises ValueError when one is not above zero.
    Source: definition.

    >>> round(volume_ratio(6.0, 1140.0, 71.0), 3)
    0.374
    """
    above_zero(mixture_ratio=mixture_ratio, oxidiser_density=oxidiser_density, fuel_density=fuel_density)
    return _volume_ratio(mixture_ratio, oxidiser_density, fuel_density)


@kernel
def _mass_ratio(volume_ratio, oxidiser_density, fuel_density):
    return volume_ratio * oxidiser_density / fuel_density


@relation(
    kernel=_mass_ratio,
    symbol="r",
    words="mixture ratio by mass",
    unit="",
    letters={
        "volume_ratio": Letter("r_V", "mixture ratio, oxidiser over fuel by volume", "", 0.05, 10.0),
        "oxidiser_density": Letter(*_OXIDISER),
        "fuel_density": Letter(*_FUEL),
    },
    source=_GEOMETRY,
)
def mass_ratio(volume_ratio: float, oxidiser_density: float, fuel_density: float) -> float:
    """Oxidiser over fuel by mass from the ratio by volume, r = r_V·ρₒ/ρ_f [-].

    Raises ValueError when an argument is not above zero.  Source: definition.

    >>> round(mass_ratio(0.3737, 1140.0, 71.0), 2)
    6.0
    """
    above_zero(volume_ratio=volume_ratio, oxidiser_density=oxidiser_density, fuel_density=fuel_density)
    return _mass_ratio(volume_ratio, oxidiser_density, fuel_density)


@kernel
def _oxidiser_mass(propellant_mass, mixture_ratio):
    return propellant_mass * mixture_ratio / (1.0 + mixture_ratio)


@relation(
    kernel=_oxidiser_mass,
    symbol="mₒ",
    words="mass of the oxidiser",
    unit="kg",
    letters={"propellant_mass": Letter(*_LOAD), "mixture_ratio": Letter(*_RATIO)},
    source=_GEOMETRY,
)
def oxidiser_mass(propellant_mass: float, mixture_ratio: float) -> float:
    """Oxidiser in a propellant load, mₒ = mₚ·r/(1 + r) [kg].

    propellant_mass  oxidiser and fuel together  [kg]
    mixture_ratio    oxidiser over fuel by mass  [-]

    Raises ValueError for a negative load or a ratio that is not above zero.  Source: definition.

    >>> oxidiser_mass(100_000.0, 3.0)
    75000.0
    """
    not_negative(propellant_mass=propellant_mass)
    above_zero(mixture_ratio=mixture_ratio)
    return _oxidiser_mass(propellant_mass, mixture_ratio)


@kernel
def _fuel_mass(propellant_mass, mixture_ratio):
    return propellant_mass / (1.0 + mixture_ratio)


@relation(
    kernel=_fuel_mass,
    symbol="m_f",
    words="mass of the fuel",
    unit="kg",
    letters={"propellant_mass": Letter(*_LOAD), "mixture_ratio": Letter(*_RATIO)},
    source=_GEOMETRY,
)
def fuel_mass(propellant_mass: float, mixture_ratio: float) -> float:
    """Fuel in a propellant load, m_f = mₚ/(1 + r) [kg].

    propellant_mass  oxidiser and fuel together  [kg]
    mixture_ratio    oxidiser over fuel by mass  [-]

    Raises ValueError for a negative load or a ratio that is not above zero.  Source: definition.

    >>> fuel_mass(100_000.0, 3.0)
    25000.0
    """
    not_negative(propellant_mass=propellant_mass)
    above_zero(mixture_ratio=mixture_ratio)
    return _fuel_mass(propellant_mass, mixture_ratio)


def split(propellant_mass: float, mixture_ratio: float, extra_fuel: float = 0.0) -> tuple[float, float]:
    """(oxidiser, fuel) of a load; `extra_fuel` [kg] is fuel in the same tank that burns with air.

    `propellant_mass` is everything loaded.  Raises ValueError when the extra fuel exceeds the load.

    >>> split(110_000.0, 3.0, extra_fuel=10_000.0)
    (75000.0, 35000.0)
    """
    not_negative(extra_fuel=extra_fuel)
    if extra_fuel > propellant_mass:
        raise ValueError(
            f"extra_fuel must not exceed propellant_mass, got {extra_fuel} kg of {propellant_mass} kg"
        )
    rocket = propellant_mass - extra_fuel
    return oxidiser_mass(rocket, mixture_ratio), fuel_mass(rocket, mixture_ratio) + extra_fuel


def mixture_density(shares: Mapping[str, float]) -> float:
    """Density of a mixture from mass shares by propellant name, 1/ρ = Σ wᵢ/ρᵢ [kg/m³].

    Volumes add: no voids, no mixing effect.  The mass-weighted mean of densities is the classic slip
    here and comes out too dense.  Raises ValueError when the shares do not add to 1 within 1e-6.
    Source: definition (volumes add).

    >>> round(mixture_density({"AP": 0.68, "Al": 0.18, "HTPB": 0.14}))
    1767
    """
    not_negative(**shares)
    if not math.isclose(total := sum(shares.values()), 1.0, abs_tol=1e-6):
        raise ValueError(f"shares must add to 1, got {total:g}")
    return 1.0 / sum(share / propellant(name).density for name, share in shares.items())


def volume_disagreement(masses: Mapping[str, float], volumes: Mapping[str, float]) -> dict[str, float]:
    """How far stated tank volumes part from masses over density: (V·ρ − m)/m by propellant [-].

    Positive is room left (ullage); negative means the mass does not fit.  Names as in `propellant`.
    Raises ValueError when the two do not name the same propellants.

    >>> {k: round(v, 3) for k, v in volume_disagreement({"LOX": 1141.2}, {"LOX": 1.03}).items()}
    {'LOX': 0.03}
    """
    if masses.keys() != volumes.keys():
        odd = ", ".join(sorted(masses.keys() ^ volumes.keys()))
        raise ValueError(f"masses and volumes must name the same propellants, only one of them names {odd}")
    above_zero(**masses)
    return {name: volumes[name] * propellant(name).density / mass - 1.0 for name, mass in masses.items()}


# ── boil-off ─────────────────────────────────────────────────────────────────────────────────────


@kernel
def _boil_off(heat_leak, latent_heat):
    return heat_leak / latent_heat


@relation(
    kernel=_boil_off,
    symbol="ṁ_b",
    words="boil-off",
    unit="kg/s",
    letters={
        "heat_leak": Letter("Q̇", "heat leaking into the tank", "W", 0.0, 1e6),
        "latent_heat": Letter("h", "latent heat of boiling", "J/kg", 1e5, 3e6),
    },
    source="definition of latent heat",
)
def boil_off(heat_leak: float, latent_heat: float) -> float:
    """Liquid that boils away from a vented tank, ṁ = Q̇/h [kg/s].

    heat_leak    heat leaking into the liquid  [W]
    latent_heat  at the tank's pressure        [J/kg]

    Holds for a vented tank at constant pressure; the small share of vapour that stays behind to fill
    the emptied volume is left out.  Raises ValueError for a negative leak or no latent heat.
    Source: definition of latent heat.

    >>> round(boil_off(150.0, 446_100.0) * 86_400.0, 2)
    29.05
    """
    not_negative(heat_leak=heat_leak)
    above_zero(latent_heat=latent_heat)
    return _boil_off(heat_leak, latent_heat)


def boil_off_per_day(name: str, heat_leak: float) -> float:
    """Liquid that boils away in a day [kg] from a tank vented at 101 325 Pa; `heat_leak` in W.

    Raises ValueError for a propellant whose latent heat is not known here.

    >>> round(boil_off_per_day("LH2", 150.0), 2)
    29.05
    """
    row = propellant(name)
    if row.latent_heat is None:
        raise ValueError(
            f"{row.name}: no latent heat is known here; boil-off is given for {', '.join(TABLES)}"
        )
    return boil_off(heat_leak, row.latent_heat) * SECONDS_A_DAY
