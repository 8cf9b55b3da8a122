"""Other readings of a side: a factor between two units, small numbers that are lengths of the page."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from wetmass.working.lettering import exponents
from wetmass.working.scope import Scope
from wetmass.working.tree import Leaf, Node, Op, Unfit, evaluate, exactly, leaves, put, walk
from wetmass.working.units import FORCE, LENGTH, MASS, NONE, times

_BETWEEN_UNITS = (60.0, 3600.0, 86400.0, 1440.0, 24.0, 1000.0, 1e6, 100.0, 12.0, 0.001)


def between_units(tree: Node, claim: Leaf) -> Iterator[Node]:
    """The tree without a factor that only turns a unit into that of the result: 1198 s/60 = 20.0 min."""
    if claim.bare or not isinstance(tree, Op) or tree.kind not in "*/":
        return
    units = {leaf.factor for leaf in leaves(tree) if leaf.dimension == claim.dimension and not leaf.bare}
    ratios = {claim.factor / factor for factor in units if factor}
    for path, leaf in walk(tree):
        if not isinstance(leaf, Leaf) or not leaf.bare or leaf.typed not in _BETWEEN_UNITS or leaf.constant:
            continue
        if any(abs(ratio / leaf.typed**power - 1.0) < 1e-9 for ratio in ratios for power in (1.0, -1.0)):
            yield put(tree, path, exactly(1.0))


def with_lengths(tree: Node, scope: Scope) -> Node:
    """The tree with small whole numbers taken as the lengths of the page that have their digits.

    2 and 4 may be plain factors: this is asked for only where the units do not come out without it.
    """
    outside = exponents(tree)
    lengths = [e for e in scope.entries if e.leaf.dimension == LENGTH and not e.leaf.bare and e.leaf.typed]
    changed = tree
    for path, leaf in list(walk(tree)):
        if not isinstance(leaf, Leaf) or not leaf.bare or leaf.page >= 0 or leaf.constant:
            continue
        if id(leaf) in outside or leaf.dimension != NONE or not path:
            continue
        for entry in reversed(lengths):
            share = entry.leaf.typed / leaf.typed if leaf.typed else 0.0
            if any(abs(share / f - 1.0) < 1e-9 for f in (1.0, 2.0, 0.5)):
                changed = put(
                    changed,
                    path,
                    replace(
                        leaf, factor=entry.leaf.factor, dimension=LENGTH, bare=False, unit=entry.leaf.unit,
                        name=entry.name if share == 1.0 else "", page=entry.index if share == 1.0 else -1,
                        linked=share == 1.0,
                    ),
                )  # fmt: skip
                break
    return changed


def ways_of_lengths(tree: Node, scope: Scope) -> Iterator[Node]:
    """`with_lengths`, one small number after another left a plain factor."""
    whole = with_lengths(tree, scope)
    if whole == tree:
        return
    yield whole
    made = [(path, node) for path, node in walk(whole) if isinstance(node, Leaf) and node.dimension == LENGTH]
    old = dict(walk(tree))
    for path, _ in made[:6]:
        before = old.get(path)
        if isinstance(before, Leaf) and before.bare:
            yield put(whole, path, before)


_KINDS = (MASS, FORCE)  # what a number without its unit is most often


def scaled(tree: Node, scope: Scope) -> bool:
    """Whether a number was taken for a value of the page in another unit than the page states it in."""
    return any(
        leaf.linked and leaf.page >= 0 and leaf.factor != scope.entries[leaf.page].leaf.factor
        for leaf in leaves(tree)
    )


def implied(tree: Node, claim: Leaf, scope: Scope) -> Node:
    """The tree with the one number whose unit nothing says given the unit that the result asks for.

    In "250/11 = 22.7 m/s²" with 250 kN on the page 11 are tonnes, whatever else on the page is 11.
    """
    if claim.bare or claim.dimension == NONE or not claim.si:
        return tree
    try:
        whole = evaluate(tree)
    except Unfit:
        return tree
    if whole.dimension == claim.dimension or whole.fault:
        return tree
    outside = exponents(tree)
    found: list[tuple[int, Node]] = []
    for path, leaf in walk(tree):
        if not isinstance(leaf, Leaf) or leaf.constant or id(leaf) in outside or leaf.half == 0.0:
            continue
        entry = scope.entries[leaf.page] if leaf.linked else None
        doubtful = entry is not None and (leaf.factor != entry.leaf.factor or not entry.name)
        if not (leaf.bare and leaf.page < 0) and not doubtful:
            continue
        if leaf.bare and (
            (leaf.typed == int(leaf.typed) and leaf.typed <= 4) or leaf.typed in _BETWEEN_UNITS
        ):
            continue
        one = _given_unit(tree, path, leaf, claim)
        if one is not None:
            found.append((0 if leaf.bare else 1, one))
    found.sort(key=lambda row: row[0])
    return found[0][1] if found and sum(row[0] == found[0][0] for row in found) == 1 else tree


def _given_unit(tree: Node, path: tuple[int, ...], leaf: Leaf, claim: Leaf) -> Node | None:
    plain = replace(
        leaf, factor=1.0, dimension=NONE, bare=True, page=-1, linked=False, name="", unit="", shift=0.0
    )
    try:
        rest = evaluate(put(tree, path, plain))
        twice = evaluate(put(tree, path, replace(plain, typed=2.0 * leaf.typed))).value
    except Unfit:
        return None
    if not rest.value or twice / rest.value <= 0.0 or rest.fault:
        return None
    power = math.log2(twice / rest.value)
    if abs(power - round(power)) > 1e-6 or not round(power):
        return None
    power = round(power)
    wanted = times(NONE, times(claim.dimension, rest.dimension, -1.0), 1.0 / power)
    ratio = claim.si / rest.value
    if wanted not in _KINDS or ratio <= 0.0:
        return None
    factor = ratio ** (1.0 / power)
    near = 10.0 ** round(math.log10(factor))
    if abs(factor / near - 1.0) > 0.02 or near not in (1e-3, 1.0, 1e3, 1e6):
        return None
    return put(tree, path, replace(plain, factor=near, dimension=wanted, bare=False, half=leaf.half))
