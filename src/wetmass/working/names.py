"""Names of quantities: many spellings, one meaning.

A name has a *key* (its spelling in normal form, for exact reference down the page) and *tags* (the
ideas in it: thrust, mass, start, stage 1 …), by which a letter such as ρ finds "air density" and a
relation finds its arguments.
"""

from __future__ import annotations

import functools
import re

from wetmass.working.reading import short_words, tongues
from wetmass.working.units import (
    ACCELERATION,
    AREA,
    DENSITY,
    FORCE,
    LENGTH,
    MASS,
    MASS_FLOW,
    NONE,
    POWER,
    PRESSURE,
    SPEED,
    TEMPERATURE,
    TIME,
    VOLUME,
    Dimension,
)

_STOP = {
    "the", "a", "an", "of", "at", "for", "so", "then", "to", "in", "on", "and", "our", "its", "is", "are", "we",  # noqa: E501
    "that", "this", "with", "from", "by", "per", "hence", "therefore", "thus", "now", "get", "need", "gives", "be",  # noqa: E501
    "only", "say", "take", "have", "there", "which", "it", "as", "will", "new", "check", "again", "let",
    "also", "find", "first", "look", "here",
}  # fmt: skip

# spelling → tags.  Single letters keep their case.
_TAGS: dict[str, str] = {
    "dv": "dv", "Δv": "dv", "ΔV": "dv", "dV": "dv", "delta-v": "dv", "deltav": "dv", "delta": "dv", "Δ": "dv",
    "deltaV": "dv", "delta-V": "dv", "delta_v": "dv", "DV": "dv", "gain": "gain", "budget": "dv",
    "ρ": "density", "rho": "density", "density": "density", "densities": "density",
    "v": "speed", "V": "speed volume", "u": "speed", "velocity": "speed", "speed": "speed", "velocities": "speed",  # noqa: E501
    "c": "exhaust speed", "ve": "exhaust speed", "vₑ": "exhaust speed", "v_e": "exhaust speed", "w": "exhaust",  # noqa: E501
    "exhaust": "exhaust", "effective": "exhaust", "jet": "exhaust", "c_eff": "exhaust speed", "veq": "exhaust speed",  # noqa: E501
    "ceff": "exhaust speed", "gas": "gas",
    "F": "thrust", "thrust": "thrust", "force": "thrust", "T": "T", "Fvac": "thrust vac",
    "m": "mass", "M": "mass mach", "mass": "mass", "masses": "mass", "weight": "weight mass", "W": "weight",
    "weighs": "mass", "load": "load",
    "start": "start", "initial": "start", "ignition": "start", "gross": "start", "lift-off": "start liftoff",
    "liftoff": "start liftoff", "loaded": "start", "wet": "start", "full": "start", "launch": "start liftoff",
    "glow": "start liftoff mass", "GLOW": "start liftoff mass", "take-off": "start liftoff", "takeoff": "start liftoff",  # noqa: E501
    "begin": "start", "pad": "start liftoff", "m0": "start mass", "M0": "start mass", "mi": "start mass",
    "m_start": "start mass", "m_i": "start mass", "mstart": "start mass", "fuelled": "start", "tanked": "start",  # noqa: E501
    "beginning": "start", "before": "start", "stack": "start",
    "probe": "payload", "capsule": "payload", "spacecraft": "payload", "parking": "orbit", "geostationary": "orbit circular",
    "mouth": "exit", "burnable": "usable", "hull": "tank", "descends": "descent", "brakes": "stopping",
    "final": "end", "end": "end", "burnout": "end", "burn-out": "end", "cutoff": "end", "cut-off": "end",
    "m1": "end mass", "mf": "end mass", "m_f": "end mass", "m_end": "end mass", "mend": "end mass", "M1": "end mass",  # noqa: E501
    "mbo": "end mass", "m_bo": "end mass", "after": "end", "shutdown": "end", "meco": "end", "mₑ": "end mass",
    "dry": "dry", "structure": "dry", "structural": "dry", "inert": "dry", "empty": "dry", "md": "dry mass",
    "m_dry": "dry mass", "mdry": "dry mass", "ms": "dry mass", "hardware": "dry", "m_d": "dry mass",
    "propellant": "propellant", "propellants": "propellant", "prop": "propellant", "mp": "propellant mass",
    "m_p": "propellant mass", "mprop": "propellant mass", "m_prop": "propellant mass", "used": "used",
    "burned": "used", "burnt": "used", "usable": "usable",
    "fuel": "fuel", "kerosene": "fuel kerosene", "rp-1": "fuel kerosene", "RP-1": "fuel kerosene", "lh2": "fuel lh2",  # noqa: E501
    "hydrogen": "fuel lh2", "LH2": "fuel lh2", "methane": "fuel methane", "lch4": "fuel methane",
    "LCH4": "fuel methane", "ch4": "fuel methane", "mh2": "fuel lh2 mass",
    "oxidiser": "oxidiser", "oxidizer": "oxidiser", "lox": "oxidiser lox", "LOX": "oxidiser lox",
    "oxygen": "oxidiser lox", "ox": "oxidiser",
    "payload": "payload", "mpl": "payload mass", "m_pl": "payload mass", "mL": "payload mass", "pl": "payload",  # noqa: E501
    "satellite": "payload", "PL": "payload",
    "fairing": "fairing", "shroud": "fairing", "interstage": "interstage", "residuals": "residual",
    "residual": "residual", "unusable": "residual", "unburned": "residual", "unburnt": "residual",
    "reserve": "reserve", "reserves": "reserve", "margin": "margin", "growth": "growth", "allowance": "growth",  # noqa: E501
    "losses": "loss", "loss": "loss", "gravity": "gravity", "drag": "drag", "steering": "steering",
    "rotation": "rotation", "earth": "earth", "Earth's": "earth", "bonus": "gain", "spin": "rotation",
    "I": "isp", "isp": "isp", "Isp": "isp", "ISP": "isp", "I_sp": "isp", "impulse": "impulse", "specific": "specific",  # noqa: E501
    "sl": "sl", "sea-level": "sl", "sea": "sl", "ground": "sl", "SL": "sl", "vacuum": "vac", "vac": "vac",
    "space": "space",
    "flow": "flow", "flows": "flow", "mdot": "flow", "ṁ": "flow", "m_dot": "flow", "massflow": "flow",
    "rate": "rate", "consumption": "flow",
    "time": "time", "t": "time", "tb": "burn time", "t_b": "burn time", "duration": "time", "burn": "burn",
    "burning": "burn", "t_burn": "burn time", "tburn": "burn time", "period": "period",
    "radius": "radius", "r": "radius", "R": "radius", "radii": "radius", "r_orbit": "orbit radius",
    "diameter": "diameter", "d": "diameter", "D": "diameter", "dia": "diameter", "diam": "diameter",
    "across": "diameter", "bore": "diameter", "diameters": "diameter", "Ø": "diameter", "de": "exit diameter", "De": "exit diameter", "d_e": "exit diameter", "D_e": "exit diameter", "dt": "throat diameter", "Dt": "throat diameter", "d_t": "throat diameter", "D_t": "throat diameter", "d_exit": "exit diameter", "d_throat": "throat diameter", "calibre": "diameter",  # noqa: E501
    "length": "length", "L": "length", "long": "length", "barrel": "length cylinder", "l": "length",
    "height": "height", "h": "height", "altitude": "height", "alt": "height", "apogee": "apogee height",
    "perigee": "perigee height", "H": "height",
    "distance": "distance", "s": "distance", "x": "distance", "d_stop": "distance", "range": "range",
    "pressure": "pressure", "p": "pressure", "P": "pressure", "pc": "chamber pressure", "p_c": "chamber pressure",  # noqa: E501
    "pe": "exit pressure", "pa": "ambient pressure", "p_e": "exit pressure", "p_a": "ambient pressure",
    "chamber": "chamber", "exit": "exit", "ambient": "ambient", "throat": "throat", "outside": "ambient",
    "area": "area", "A": "area", "Ae": "exit area", "At": "throat area", "A_e": "exit area", "A_t": "throat area",  # noqa: E501
    "S": "area", "cross-section": "area", "canopy": "canopy", "reference": "reference",
    "volume": "volume", "Vol": "volume", "volumes": "volume", "capacity": "volume",
    "temperature": "temperature", "T1": "chamber temperature", "Tc": "chamber temperature",
    "σ": "stress", "sigma": "stress", "stress": "stress", "allowable": "stress", "strength": "stress",
    "wall": "wall", "thickness": "wall", "skin": "wall", "gauge": "gauge",
    "a": "acceleration", "acceleration": "acceleration", "a0": "start acceleration", "accel": "acceleration",
    "net": "net", "deceleration": "acceleration", "g-load": "acceleration", "felt": "felt",
    "q": "dynamic pressure", "dynamic": "dynamic", "qmax": "dynamic pressure", "q_max": "dynamic pressure",
    "max-q": "dynamic pressure", "maxq": "dynamic pressure",
    "g": "gravity acceleration", "g0": "g0", "μ": "mu", "mu": "mu", "GM": "mu", "moon": "moon", "lunar": "moon",  # noqa: E501
    "mars": "mars", "martian": "mars",
    "engine": "engine", "engines": "engine count", "motors": "engine count", "n": "count", "N": "count",
    "number": "count", "count": "count", "each": "each", "one": "each", "single": "each", "apiece": "each", "methalox": "propellant", "hydrolox": "propellant", "kerolox": "propellant", "circumference": "circumference", "total": "total", "combined": "total", "all": "total",  # noqa: E501
    "nozzle": "nozzle", "cluster": "total",
    "ratio": "ratio", "over": "ratio", "fraction": "fraction", "coefficient": "fraction", "index": "fraction", "struct": "dry", "share": "fraction", "t/w": "twr", "twr": "twr", "TWR": "twr",  # noqa: E501
    "T/W": "twr", "F/W": "twr", "thrust-to-weight": "twr", "o/f": "mixture ratio", "O/F": "mixture ratio",
    "MR": "mixture ratio mass", "mr": "mixture ratio mass", "OF": "mixture ratio", "mixture": "mixture",
    "mass-ratio": "mass ratio",
    "epsilon": "epsilon", "ε": "epsilon", "eps": "epsilon", "λ": "lambda", "lambda": "lambda", "expansion": "expansion",  # noqa: E501
    "orbit": "orbit", "orbital": "orbit", "circular": "circular", "escape": "escape", "v_orbit": "orbit speed",  # noqa: E501
    "v_circ": "circular speed", "vorb": "orbit speed", "v_orb": "orbit speed", "v_esc": "escape speed",
    "vcirc": "circular speed", "v_c": "circular speed", "vc": "circular speed",
    "insertion": "insertion", "achieved": "achieved", "reached": "achieved", "actual": "achieved", "flown": "achieved",  # noqa: E501
    "ideal": "ideal", "theoretical": "ideal",
    "latitude": "latitude", "lat": "latitude", "φ": "latitude", "phi": "latitude",
    "inclination": "inclination", "i": "inclination", "azimuth": "azimuth", "az": "azimuth", "Az": "azimuth", "heading": "azimuth", "angle": "angle",  # noqa: E501
    "β": "azimuth", "beta": "azimuth",
    "plane": "plane", "change": "change", "transfer": "transfer", "hohmann": "transfer",
    "tank": "tank", "tanks": "tank", "cylinder": "cylinder", "cylindrical": "cylinder", "sphere": "sphere",
    "spherical": "sphere", "ring": "ring torus", "torus": "ring torus", "toroid": "ring torus", "toroidal": "ring torus",  # noqa: E501
    "dome": "dome", "domes": "dome", "cap": "dome", "caps": "dome", "ends": "dome",
    "hemisphere": "dome", "hemispheres": "dome", "frustum": "frustum", "cone": "cone", "tube": "tube",
    "cross": "cross", "minor": "minor", "major": "major",
    "stopping": "stopping", "stop": "stopping", "braking": "stopping", "landing": "landing",
    "parachute": "parachute", "chute": "parachute", "descent": "descent", "terminal": "descent", "Cd": "cd",
    "cd": "cd", "CD": "cd", "C_d": "cd", "bulk": "bulk", "mean": "mean", "average": "mean", "avg": "mean",
    "averaged": "mean", "overall": "mean", "heat": "heat", "leak": "leak", "latent": "latent", "boil-off": "boiloff",  # noqa: E501
    "boiloff": "boiloff", "boiled": "boiloff", "tsfc": "tsfc", "TSFC": "tsfc", "sfc": "tsfc", "SFC": "tsfc",
    "basic": "basic", "predicted": "predicted", "ullage": "ullage", "greatest": "greatest", "maximum": "greatest",  # noqa: E501
    "max": "greatest", "peak": "greatest", "coast": "coast", "coasting": "coast", "mach": "mach", "Mach": "mach",  # noqa: E501
    "core": "core", "booster": "booster", "boosters": "booster", "strap-ons": "booster", "upper": "upper",
    "lower": "lower", "combination": "stack", "site": "site", "γ": "gamma", "gamma": "gamma", "kappa": "gamma",  # noqa: E501
    "κ": "gamma", "k": "gamma", "pitch": "pitch", "packing": "packing", "η": "efficiency", "eta": "efficiency",  # noqa: E501
    "sink": "descent", "sinking": "descent", "fall": "fall", "drop": "height", "way": "distance", "path": "distance",  # noqa: E501
    "travelled": "distance", "climbed": "height", "covered": "distance", "bottle": "sphere", "ball": "sphere",
    "bulkhead": "dome", "bulkheads": "dome", "endcap": "dome", "endcaps": "dome", "hemispherical": "dome",
    "sidewall": "side", "mantle": "mantle", "shell": "wall", "sheet": "wall", "touchdown": "landing",
    "trapped": "residual", "leftover": "residual", "contingency": "margin", "increment": "dv", "fans": "fan count",  # noqa: E501
    "fan": "fan", "everything": "total", "together": "total", "hydrazine": "fuel", "peroxide": "oxidiser",
    "hoop": "hoop stress", "yield": "stress", "c_star": "cstar", "cstar": "cstar", "c-star": "cstar",
    "kinetic": "kinetic", "thruster": "engine", "thrusters": "engine count", "nozzles": "engine count",
    "c*": "cstar", "Cf": "cf", "CF": "cf", "C_F": "cf", "semi-axis": "axis", "sma": "axis",
    "L/D": "glideratio", "lift-to-drag": "glideratio", "lift/drag": "glideratio", "glide-ratio": "glideratio",
    "C3": "c3", "c3": "c3", "semi-major": "axis", "semimajor": "axis", "mantel": "mantle", "lengthwise": "longitudinal",  # noqa: E501
    "sideways": "side", "lateral": "side", "swivel": "gimbal", "gimballed": "gimbal", "pressurant": "pressurant gas",  # noqa: E501
    "helium": "pressurant gas", "sideforce": "side thrust",
    "hyperbolic": "hyperbolic", "longitudinal": "longitudinal", "impact": "impact", "hop": "hop", "vertical": "vertical",  # noqa: E501
    "horizontal": "horizontal", "upward": "upward", "strap-on": "booster", "strapon": "booster", "strapons": "booster", "ejected": "used", "expelled": "used", "up": "up", "climb": "up", "downrange": "downrange", "down-range": "downrange", "axial": "axial", "side": "side", "turn": "turn", "burst": "burst", "proof": "proof", "eff": "efficiency", "filled": "liquid", "liquid": "liquid", "ω": "angular", "omega": "angular", "Ω": "angular", "frontal": "frontal",  # noqa: E501
}  # fmt: skip

_MORE = """power pump energy specific momentum sound molar potential kinetic centripetal hover cruise glide flux  # noqa: E501
canopy reach deorbit flight bypass eccentricity needed lift lowering opening shock annulus annular cone infinity departure combined head bearing static"""  # noqa: E501
# all that are known
IDEAS = frozenset(idea for spelling in (*_TAGS.values(), _MORE) for idea in spelling.split())

_PER_ONE = re.compile(r"\bper (?:engine|motor|booster|fan|thruster|nozzle|tank|unit)\b")
_ORDINALS = {"first": "1", "second": "2", "third": "3", "fourth": "4", "1st": "1", "2nd": "2", "3rd": "3", "4th": "4",  # noqa: E501
             "one": "1", "two": "2", "three": "3", "four": "4"}  # fmt: skip
_STAGE = re.compile(
    r"\b(?:stage|st)[\s\-_#]*(\d|one|two|three|four)\b|\b(first|second|third|fourth|1st|2nd|3rd|4th)[\s\-]*"
    r"stage\b|\bS(\d)\b|\b(upper)[\s\-]+stage\b|\b(lower|bottom|booster|main)[\s\-]+stage\b",
    re.IGNORECASE,
)
_NUMBERED = re.compile(
    r"^(isp|Isp|ISP|dv|Δv|ΔV|dV|mp|md|ms|ve|c|mdot|ṁ|R|MR|lambda|λ|ε|eps|epsilon|prop|dry|tb|propellant|Λ)_?"
    r"([1-4])$"
)
_NUMBERED_MASS = re.compile(r"^(m0|mf|mp|md|ms|m_0|m_f|m_p|m_d|m_s|mi|m_i|M0|Mf|m_prop|m_dry)_?([1-4])$")
_WORDS = re.compile(r"[^\W\d_⁰¹²³⁴-⁹][\w′']*(?:[-/](?=[^\W\d_])[\w′']+)*\*?|\d+(?:st|nd|rd|th)?")


def stage_of(text: str) -> str:
    """Which stage a name or heading speaks of: "1", "2" … , "upper", "" for none.

    >>> stage_of("Second stage"), stage_of("stage 1 dry mass"), stage_of("payload")
    ('2', '1', '')
    """
    match = _STAGE.search(text)
    if not match:
        return ""
    number, ordinal, short, upper, lower = match.groups()
    if upper:
        return "2"
    if lower:
        return "1"
    found = number or ordinal or short
    return _ORDINALS.get(found.lower(), found)


@functools.lru_cache(maxsize=4096)
def key(text: str) -> str:
    """One spelling of a name, for exact reference down the page.

    >>> key("the start mass") == key("Start mass"), key("m_0") == key("m0"), key("m") == key("M")
    (True, True, False)
    """
    words = []
    for word in _words(text):
        if len(word) > 1 and word.lower() in _STOP and word.lower() not in ("first",) and word != "OF":
            continue
        words.append(_spelling(word))
    return " ".join(words)


def _words(text: str) -> list[str]:
    text = text.replace("Δ v", "Δv").replace("Δ V", "Δv")
    text = re.sub(r"(?i)\bdelta[\s\-_]?v\b", "dv", text)
    text = re.sub(r"(?i)\bΔ[\s\-_]?v\b", "dv", text)
    text = re.sub(r"\bd[vV](?=\d|\b|_)", "dv", text)
    text = re.sub(r"(?i)\bm[\s_\-]dot\b|\bmdot\b|ṁ", "mdot", text)
    text = re.sub(r"(?i)\bI_?sp(?=\d|\b|_)", "isp", text)
    text = re.sub(r"(?i)\b(?:thrust[- ])?specific fuel consumption\b", "tsfc", text)
    text = re.sub(r"(?i)\blift[\s\-]?off\b", "lift-off", text)
    text = re.sub(r"(?i)\bburn[\s\-]?out\b", "burnout", text)
    text = re.sub(r"(?i)\bsea[\s\-]level\b", "sea-level", text)
    text = re.sub(r"(?i)\bboil[\s\-]?off\b", "boil-off", text)
    text = re.sub(r"(?i)\b(?:RP|JP)[\s\-]?\d\b", "kerosene", text)
    text = re.sub(r"(?i)\bstart[\s\-]mass\b", "start mass", text)
    return _WORDS.findall(text)


def _spelling(word: str) -> str:
    if len(word) == 1:
        return {"ρ": "rho", "π": "pi", "μ": "mu", "σ": "sigma", "γ": "gamma", "ε": "eps", "η": "eta"}.get(
            word, word
        )
    if word[1:].replace("_", "").isdigit():  # m0, T1: the case of the letter matters
        return word[0] + word[1:].replace("_", "")
    if len(word) == 2 and word[0].isupper() and word[1].islower() and word not in _TAGS:
        return word
    if len(word) <= 3 and "_" in word:
        return word.replace("_", "")
    low = word.lower().replace("oxidizer", "oxidiser")
    if len(low) > 4 and low.endswith("s") and not low.endswith(("ss", "us", "is", "losses")):
        low = low[:-1]
    return low


@functools.lru_cache(maxsize=4096)
def tags(text: str) -> frozenset[str]:
    """The ideas in a name.

    >>> sorted(tags("ρ")), sorted(tags("second stage dry mass"))
    (['density'], ['dry', 'mass', 'stage 2'])
    """
    return _ideas(text, NONE)


# what a lone letter stands for when its unit is known
_LETTERS: dict[tuple[str, Dimension], str] = {
    ("T", FORCE): "thrust", ("T", TIME): "period time", ("T", TEMPERATURE): "temperature", ("t", LENGTH): "wall",  # noqa: E501
    ("t", TEMPERATURE): "temperature", ("V", VOLUME): "volume", ("V", SPEED): "speed", ("D", FORCE): "drag",
    ("D", LENGTH): "diameter", ("L", FORCE): "lift", ("L", LENGTH): "length", ("W", FORCE): "weight",
    ("W", MASS): "weight mass", ("w", SPEED): "exhaust speed", ("w", LENGTH): "wall", ("d", LENGTH): "diameter",  # noqa: E501
    ("P", POWER): "power", ("P", PRESSURE): "pressure", ("P", TIME): "period", ("q", PRESSURE): "dynamic pressure",  # noqa: E501
    ("R", LENGTH): "radius", ("R", NONE): "mass ratio", ("a", LENGTH): "axis radius", ("a", ACCELERATION): "acceleration",  # noqa: E501
    ("c", SPEED): "exhaust speed", ("u", SPEED): "speed", ("e", LENGTH): "wall", ("S", AREA): "area",
    ("S", PRESSURE): "stress", ("s", LENGTH): "distance", ("s", PRESSURE): "stress", ("Q", POWER): "heat",
    ("M", MASS): "mass", ("M", NONE): "mach", ("m", MASS): "mass", ("m", MASS_FLOW): "flow", ("h", LENGTH): "height",  # noqa: E501
    ("H", LENGTH): "height", ("x", LENGTH): "distance", ("y", LENGTH): "height", ("z", LENGTH): "height",
    ("p", PRESSURE): "pressure", ("F", FORCE): "thrust", ("r", LENGTH): "radius", ("A", AREA): "area", ("v", SPEED): "speed",  # noqa: E501
    ("g", ACCELERATION): "gravity acceleration", ("R", FORCE): "drag", ("l", LENGTH): "length",
}  # fmt: skip
_KIND = {
    "acceleration": ACCELERATION, "pressure": PRESSURE, "temperature": TEMPERATURE, "speed": SPEED, "thrust": FORCE,  # noqa: E501
    "density": DENSITY, "volume": VOLUME, "area": AREA, "time": TIME, "length": LENGTH, "height": LENGTH,
    "radius": LENGTH, "diameter": LENGTH, "distance": LENGTH, "wall": LENGTH, "flow": MASS_FLOW, "stress": PRESSURE,  # noqa: E501
}  # fmt: skip


@functools.lru_cache(maxsize=4096)
def meaning(text: str, dimension: Dimension) -> frozenset[str]:
    """The ideas in the name of a value whose dimension is known: a letter means what has that unit.

    >>> sorted(meaning("t", LENGTH)), sorted(meaning("perigee speed v_p", SPEED))
    (['wall'], ['height', 'perigee', 'speed'])
    """
    return _ideas(text, dimension)


def _letter_ideas(word: str, dimension: Dimension, alone: bool) -> frozenset[str]:
    """The ideas of one word; a short sign whose usual meaning has another unit says nothing."""
    if _NUMBERED_MASS.match(word) and dimension == MASS:
        return _word_tags(word)
    base, *rest = re.split(r"_", word)
    head = base.rstrip("0123456789₀₁₂₃₄′'")
    usual = _word_tags(word)
    if (head, dimension) in _LETTERS and (len(base) == 1 or head != base or rest):
        whole = word in _TAGS or word.replace("_", "") in _TAGS
        kinds = usual & _KIND.keys()
        if whole and (not kinds or any(_KIND[kind] == dimension for kind in kinds)):
            return usual
        extra = frozenset().union(*(_subscript(part, dimension) for part in rest if part))
        stages = {idea for idea in usual if idea.startswith("stage ")}
        return frozenset(_LETTERS[head, dimension].split()) | extra | stages
    if dimension != NONE and (len(word) <= 2 or rest):
        kinds = {kind for kind in usual & _KIND.keys() if _KIND[kind] != dimension}
        if kinds and not (alone and not rest):
            return usual - kinds if usual - kinds != {"mass"} else frozenset()
    return usual


def _subscript(part: str, dimension: Dimension) -> frozenset[str]:
    found = _word_tags(part)
    return frozenset(kind for kind in found if kind not in _KIND or _KIND[kind] == dimension)


def _ideas(text: str, dimension: Dimension) -> frozenset[str]:
    found: set[str] = set()
    stage = stage_of(text)
    rest = text
    if stage:
        found.add(f"stage {stage}")
        rest = _STAGE.sub(" ", text)
    words = _words(rest)
    for index, word in enumerate(words):
        if word == "I" and len(words) > 2:
            continue  # whoever writes
        if word in ("a", "A") and index + 1 < len(words) and len(words[index + 1]) > 2:
            continue  # the article
        if dimension == NONE:
            found |= _word_tags(word)
        else:
            found |= _letter_ideas(word, dimension, len(words) == 1)
    if {"exit", "speed"} <= found:
        found = (found - {"exit"}) | {"exhaust"}
    if _PER_ONE.search(text):
        found.add("each")
    if {"specific", "impulse"} <= found:
        found = (found - {"specific", "impulse"}) | {"isp"}
    if "impulse" in found and "total" not in found:
        found = (found - {"impulse"}) | {"isp"}
    if "isp" in found and "rate" in found:
        found.discard("rate")
    if "rate" in found and "flow" in found:
        found.discard("rate")
    if "dv" in found:
        found.discard("speed")
    if "weight" in found and "twr" not in found and "thrust" in found:
        found = (found - {"weight", "thrust", "mass", "ratio"}) | {"twr"}
    if "twr" in found:
        found -= {"ratio", "mass", "weight", "thrust"}
    if "flow" in found:
        found.discard("mass")
    return frozenset(found)


@functools.lru_cache(maxsize=4096)
def _word_tags(word: str) -> frozenset[str]:
    for pattern in (_NUMBERED_MASS, _NUMBERED):
        match = pattern.match(word)
        if match:
            return _word_tags(match.group(1)) | {f"stage {match.group(2)}"}
    for spelling in (word, word.replace("_", ""), word.lower()):
        if spelling in _TAGS:
            return frozenset(_TAGS[spelling].split())
    if "_" in word:
        return frozenset().union(*(_word_tags(part) for part in word.split("_") if part))
    if len(word) >= 2 and word[-1].isdigit() and word[:-1] in _TAGS and word[:-1] not in ("T", "m", "g", "M"):
        return frozenset(_TAGS[word[:-1]].split())
    if "-" in word or "/" in word:
        return frozenset().union(*(_word_tags(part) for part in re.split("[-/]", word) if part))
    if len(word) > 1 and word.lower() in _STOP:
        return frozenset()
    if word.isdigit():
        return frozenset({word})
    low = word.lower()
    if low.endswith("s") and low[:-1] in _TAGS:
        return frozenset(_TAGS[low[:-1]].split())
    for spelling in (word, low):
        if spelling in short_words.WORDS:
            return frozenset(short_words.WORDS[spelling].split())
    if len(low) > 3 and (foreign := tongues.ideas(low)):
        return foreign
    return frozenset({low if len(low) > 1 else word})
