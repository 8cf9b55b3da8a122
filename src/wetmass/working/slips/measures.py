"""Slips of units and powers of ten."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from wetmass.working.slips.edit import (
    IMPERIAL,
    Context,
    Edit,
    in_exponent,
    parent_of,
    re_any,
    said,
)
from wetmass.working.tree import Leaf, Node, put, walk
from wetmass.working.units import (
    FOOT,
    FORCE,
    LENGTH,
    MASS,
    POUND,
    POUND_FORCE,
    PRESSURE,
    STANDARD_GRAVITY,
    TIME,
)

_RESULT_TENS = (
    (1e3, "S07", 1.0),
    (1e-3, "S07", 1.0),
    (1e6, "S07", 0.5),
    (1e-6, "S07", 0.5),
    (10.0, "S08", 0.9),
    (0.1, "S08", 0.9),
    (100.0, "S08", 0.4),
    (0.01, "S08", 0.4),
    (1e9, "S07", 0.2),
    (1e-9, "S07", 0.2),
    (1e4, "S08", 0.1),
    (1e-4, "S08", 0.1),
)


def tens(tree: Node, context: Context) -> Iterator[Edit]:
    """S07, S08, S35: a prefix lost, the point moved, percent for fraction."""
    percent = context.unit == "%" or context.tags & {
        "fraction",
        "residual",
        "growth",
        "efficiency",
        "payload",
    }
    for factor, kind, weight in _RESULT_TENS:
        which = f"{abs(round(math.log10(factor)))} place" + (
            "s" if abs(round(math.log10(factor))) != 1 else ""
        )
        cause = (
            "a unit a thousand times larger or smaller is meant"
            if kind == "S07" and factor in (1e3, 1e-3)
            else f"the decimal point is moved by {which}"
        )
        also: tuple[str, ...] = (
            ("S08",) if kind == "S07" else ("S07",) if factor not in (10.0, 0.1) else ("S15",)
        )
        if factor in (100.0, 0.01) and percent:
            yield Edit(
                "S35",
                tree,
                "a percentage is taken as a fraction, or a fraction as a percentage",
                "in the unit stated",
                1.3,
                factor,
            )
        cure = "with the units carried" if kind == "S07" else "with the point in its place"
        yield Edit(kind, tree, cause, cure, weight, factor, also=also)
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or node.constant == node.text or in_exponent(tree, path):
            continue
        if (
            not (node.half or node.constant)
            or node.constant == "π"
            or (node.bare and node.typed == int(node.typed) and node.typed <= 4)
        ):
            continue
        for factor, kind, weight in (
            (10.0, "S08", 0.8),
            (0.1, "S08", 0.8),
            (1e3, "S07", 0.7),
            (1e-3, "S07", 0.7),
            (100.0, "S08", 0.2),
            (0.01, "S08", 0.2),
        ):
            new = replace(node, typed=node.typed * factor)
            if node.bare and node.page < 0:
                weight *= 0.4
            above = parent_of(tree, path)
            if above is not None and above.kind in "+-" and factor < 1.0:
                weight *= 0.3  # a term that all but vanishes was rather left out
            yield Edit(
                kind,
                put(tree, path, new),
                f"{said(node)} is taken {_times(factor)}",
                f"with {said(node)}",
                weight,
            )
        if node.unit == "%":
            new = replace(node, factor=1.0)
            yield Edit(
                "S35",
                put(tree, path, new),
                f"{node.text} is taken as the number {node.typed:g}",
                "as a fraction",
                1.0,
            )


def _times(factor: float) -> str:
    return f"{factor:g} times too large" if factor > 1 else f"{1 / factor:g} times too small"


_MIXES: tuple[tuple[str, tuple[float, ...], float, str, bool], ...] = (
    # kind, dimension, ratio, words, imperial
    ("S09", FORCE, POUND_FORCE, "pounds-force are taken as newtons", True),
    ("S11", MASS, POUND, "pounds are taken as kilograms", True),
    ("S12", MASS, 0.90718474, "US tons are taken as tonnes", True),
    ("S12", MASS, 1.0160469, "UK tons are taken as tonnes", True),
    ("S13", LENGTH, FOOT, "feet are taken as metres", True),
    ("S13", LENGTH, 1.852, "nautical miles are taken as kilometres", True),
    ("S13", LENGTH, 1.609344, "statute miles are taken as kilometres", True),
    ("S13", LENGTH, 1.852 / 1.609344, "nautical miles are taken as statute miles", True),
    ("S15", PRESSURE, 6.894757293, "psi are taken as kilopascals", True),
    ("S15", PRESSURE, 1.01325, "atmospheres are taken as bar", False),
    ("S15", PRESSURE, 10.0, "bar are taken as megapascals", False),
    ("S15", PRESSURE, 100.0, "bar are taken as kilopascals", False),
    ("S15", PRESSURE, 14.5037738, "bar are taken as psi", True),
    ("S15", PRESSURE, 9.8692327, "atmospheres are taken as megapascals", False),
    ("S02", FORCE, STANDARD_GRAVITY, "kilograms of force are taken as newtons", False),
    ("S13", (1.0, 0.0, -1.0, 0.0, 0.0), 0.514444, "knots are taken as metres per second", False),
    ("S13", (1.0, 0.0, -1.0, 0.0, 0.0), 0.44704, "miles per hour are taken as metres per second", False),
    ("S13", (1.0, 0.0, -1.0, 0.0, 0.0), FOOT, "feet per second are taken as metres per second", True),
    ("S16", (1.0, 0.0, -1.0, 0.0, 0.0), 1 / 3.6, "kilometres per hour are taken as metres per second", False),
    ("S13", LENGTH, 2.54, "inches are taken as centimetres", True),
    ("S13", LENGTH, 12.0, "inches are taken as feet", True),
)


_RESULT_MIXES: tuple[tuple[str, float, str, str, bool], ...] = (
    ("S09", POUND_FORCE, "pounds-force are taken as newtons", "in newtons", True),
    ("S11", POUND, "pounds and kilograms are mixed", "in kilograms", True),
    ("S13", FOOT, "feet and metres are mixed", "in metres", True),
    ("S13", 1.852, "nautical miles and kilometres are mixed", "in kilometres", True),
    ("S13", 1.609344, "statute miles and kilometres are mixed", "in kilometres", True),
    ("S13", 1.150779, "nautical and statute miles are mixed", "in the right miles", True),
    ("S12", 0.90718474, "US tons and tonnes are mixed", "in tonnes", True),
    ("S12", 1.0160469, "UK tons and tonnes are mixed", "in tonnes", True),
    ("S42", 60.0, "minutes are taken as seconds", "in seconds", False),
    ("S16", 3600.0, "hours are taken as seconds", "with 3600 seconds to the hour", False),
    ("S54", 86400.0, "days are taken as seconds", "with 86 400 seconds to the day", False),
    ("S54", 24.0, "hours and days are mixed", "with 24 hours to the day", False),
    ("S16", 3.6, "km/h and m/s are mixed", "in the unit stated", False),
)


def units(tree: Node, context: Context) -> Iterator[Edit]:
    """S09–S13, S15, S16, S42, S54: one unit taken for another, in a number or in the result."""
    heat = context.tags & {"boiloff", "heat", "latent"} or "boil" in context.words
    for kind, ratio, cause, cure, imperial in _RESULT_MIXES:
        weight = 1.0 if (not imperial or context.imperial) else 0.15
        if kind == "S16" and ratio == 3600.0:
            weight = 1.0 if re_any(context.words, ("hour", "/h", " h", "tsfc", "day")) else 0.3
        if ratio == 3.6:
            weight = 1.0 if "km/h" in context.words or "kph" in context.words else 0.15
        if kind == "S42":
            weight = 1.0 if " min" in context.words or "minute" in context.words else 0.4
        if kind == "S54" and not heat:
            weight = 0.25
        also = ("S54",) if heat and kind in ("S16", "S42") else ("S16",) if kind in ("S42", "S54") else ()
        code = "S54" if heat and kind == "S16" else kind
        yield Edit(code, tree, cause, cure, weight * 0.8, 1 / ratio, also=also)
        yield Edit(code, tree, cause, cure, weight * 0.6, ratio, also=also)
        if imperial and context.imperial:  # multiplied where it should be divided: twice the conversion
            for factor in (ratio**2, ratio**-2):
                yield Edit(
                    code,
                    tree,
                    "the conversion is done the wrong way round",
                    cure,
                    weight * 0.7,
                    factor,
                    also=also,
                )
    if heat:
        for factor in (2.016, 1 / 2.016, 2.016e-3, 1 / 2.016e-3, 16.04, 1 / 16.04, 32.0, 1 / 32.0):
            yield Edit("S54", tree, "latent heat per mole is taken as per mass", "per mass", 0.6, factor)
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or node.constant or in_exponent(tree, path) or node.typed == 0:
            continue
        dimension = node.dimension
        own = node.unit
        imperial_leaf = own in IMPERIAL
        for kind, its, ratio, cause, imperial in _MIXES:
            if its != dimension or node.bare:
                continue
            weight = (
                1.1 if imperial_leaf and imperial else 0.9 if (not imperial or context.imperial) else 0.25
            )
            what = cause
            yield Edit(
                kind,
                put(tree, path, replace(node, factor=node.factor / ratio)),
                f"{what} in {said(node)}",
                "with the right unit",
                weight,
            )
            yield Edit(
                kind,
                put(tree, path, replace(node, factor=node.factor * ratio)),
                f"{what} in {said(node)}",
                "with the right unit",
                weight * 0.6,
            )
        if dimension == TIME and own and node.factor != 1.0:
            kind = "S42" if node.factor == 60.0 else "S54" if heat else "S16"
            yield Edit(
                kind,
                put(tree, path, replace(node, factor=1.0)),
                f"{said(node)} is taken as seconds",
                "in seconds",
                1.3,
                also=("S16", "S54", "S42"),
            )
        if dimension == (0.0, 0.0, -1.0, 0.0, 0.0) and own and abs(node.factor - 1 / 3600.0) < 1e-9:
            yield Edit(
                "S16",
                put(tree, path, replace(node, factor=1.0)),
                f"{said(node)} is taken as per second",
                "per hour",
                1.3,
            )
        if dimension == PRESSURE:
            for shift in (101325.0, -101325.0, 1e5, -1e5):
                yield Edit(
                    "S15",
                    put(tree, path, replace(node, shift=node.shift + shift)),
                    f"gauge and absolute pressure are mixed in {said(node)}",
                    "as absolute pressure",
                    0.7,
                )
        if own in ("°C",):
            yield Edit(
                "S15",
                put(tree, path, replace(node, shift=0.0)),
                "degrees Celsius are taken as kelvin",
                "in kelvin",
                0.9,
                also=("S06",),
            )
