"""Names on the left of a line: the short forms in them, and what the unit adds to them."""

from __future__ import annotations

import re

from wetmass.working.kinds_of_quantity import fitting
from wetmass.working.names import key, meaning, tags
from wetmass.working.tree import (
    Leaf,
)
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
    TIME,
    VOLUME,
)

_KINDS = {
    FORCE: "thrust",
    MASS: "mass",
    DENSITY: "density",
    PRESSURE: "pressure",
    VOLUME: "volume",
    AREA: "area",
    MASS_FLOW: "flow",
    POWER: "power",
}


_COUNTED = frozenset(["engine", "booster", "boosters", "fans", "motors", "rockets", "nozzles"])


def with_kind(ideas: frozenset[str], claim: Leaf) -> frozenset[str]:
    """A name with the kind of quantity its unit shows: "boosters: 6000 kN" is a thrust."""
    if (
        claim.bare
        and claim.dimension == NONE
        and {i for i in ideas if not i.startswith("stage ")} == {"radius"}
        and (1.0 < claim.typed < 60.0)
    ):
        return (ideas - {"radius"}) | {"mass", "ratio"}  # R or R1 without a length: the mass ratio
    if claim.bare and 2.0 <= claim.typed <= 60.0 and claim.typed == int(claim.typed) and ideas & _COUNTED:
        return ideas | {"count"}
    if not claim.bare:
        ideas = fitting(ideas, claim.dimension)
    if claim.dimension == TIME and not claim.bare and ideas & {"sl", "vac"} and 150.0 < claim.si < 480.0:
        return ideas | {"isp"}  # "the engine has 300 s at sea level"
    if claim.dimension == TIME and not claim.bare and ideas and not ideas & {"isp", "period"}:
        return ideas | {"time"}
    if claim.dimension == ACCELERATION and ideas & {"moon", "mars"} and claim.si < 4.0:
        return ideas | {"gravity", "acceleration"}  # "Moon 1.62 m/s²"
    kind = _KINDS.get(claim.dimension)
    if claim.bare or kind is None or ideas & {"weight", "drag", "loss", "dynamic", "stress"}:
        return ideas
    return ideas | {kind}


_CALLED = {**_KINDS, SPEED: "speed", TIME: "time", LENGTH: "", ACCELERATION: "acceleration"}
_SPECIAL = {SPEED: {"dv", "exhaust"}, FORCE: {"weight", "drag", "lift"}, PRESSURE: {"stress"}, TIME: {"isp"}}


def named_kind(label: str, claim: Leaf) -> str:
    """A name taken from a sentence, with the kind of its number where the words do not say it.

    >>> named_kind("it holds", Leaf(11.6, 1.0, VOLUME, False))
    'it holds volume'
    """
    kind = "" if claim.bare else _CALLED.get(claim.dimension, "")
    ideas = meaning(label, claim.dimension)
    if not kind or kind in ideas or ideas & _SPECIAL.get(claim.dimension, set()):
        return label
    return f"{label} {kind}"


_SUBJECTS = frozenset(
    ["ring", "torus", "sphere", "cylinder", "dome", "frustum", "fuel", "oxidiser", "lox", "lh2", "throat", "exit", "core",
     "booster", "moon", "mars", "landing", "coast", "tube", "fan", "transfer"]
)  # fmt: skip


def subject_of(line: str, label: str) -> frozenset[str]:
    """What a line of several statements stands under: "doughnut: R = 1.9 m, r = 0.76 m" speaks of a ring.

    >>> sorted(subject_of("doughnut: R = 1.9 m, r = 0.76 m", "r"))
    ['ring', 'torus']
    """
    head, colon, rest = line.partition(":")
    if not colon or "=" not in rest or len(head.split()) > 10 or head.strip(" *-") in label:
        return frozenset()
    return tags(head) & _SUBJECTS


def keys_of(label: str) -> tuple[str, ...]:
    """A name and the short forms in it: "start mass m0" is also "m0" and "start mass"."""

    if not label:
        return ()
    whole = key(label)
    found = [whole] if whole else []
    outside = re.sub(r"\([^)]*\)|\[[^\]]*\]", " ", label).strip(" ,")
    inside = re.findall(r"\(([^)]*)\)", label)
    for piece in [*inside, *re.split(r"\s*,\s*", outside)]:
        short = key(piece)
        if short and re.fullmatch(r"[^\W\d]\w{0,4}|[^\W\d]+_\w+", piece.strip()) and short not in found:  # noqa: SIM102
            if piece.strip().lower() not in ("vac", "sl", "wet", "dry", "each", "total", "loaded", "empty"):
                found.append(short)
    words = outside.split()
    if (
        len(words) >= 2
        and not words[-2][0].isdigit()  # "after 10 s"
        and re.fullmatch(r"[^\W\d]\d?|[^\W\d]_?\w{1,4}", words[-1])
        and (len(words[-1]) <= 2 or "_" in words[-1] or words[-1].startswith(("Δ", "Isp")))
    ):
        for piece in (words[-1], " ".join(words[:-1])):
            if key(piece) and key(piece) not in found:
                found.append(key(piece))
    found = [one for one in found if one != "pi"]
    bare = key(outside)
    if bare and bare not in found and not telling(label):
        found.append(bare)
    return tuple(found)


def telling(label: str) -> bool:
    """Brackets that make it another quantity: Isp (vac) is not Isp (sea level)."""

    return bool(
        re.search(r"\((?:[^)]*\b(?:vac|sl|sea|vacuum|pad|stage|moon|mars|dry|wet)\b[^)]*)\)", label, re.I)
    )
