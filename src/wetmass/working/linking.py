"""Numbers of a line recognised: values of the page under loose names or by their digits, constants of nature."""

from __future__ import annotations

import math
from dataclasses import replace

from wetmass.working.scope import Scope, constant_of
from wetmass.working.tree import Leaf, Node, Op, Unknown, leaves, put, walk
from wetmass.working.units import ACCELERATION, NONE


def resolved(tree: Node, scope: Scope) -> Node:
    """Unknown names looked up loosely, literals recognised as values of the page or constants."""
    for path, node in list(walk(tree)):
        if isinstance(node, Unknown):
            found = scope.resolve(node.name)
            if found is not None:
                tree = put(tree, path, found)
    return tree


_INVERSE = ("asin", "acos", "atan")


def turns(tree: Node) -> Node:
    """An inverse sine over 180 or 360 is in degrees: it is a share of half a turn or of a whole one."""
    for path, node in list(walk(tree)):
        if not isinstance(node, Op) or node.kind != "/" or not isinstance(node.parts[1], Leaf):
            continue
        above, below = node.parts
        if not below.bare or below.typed not in (180.0, 360.0) or not isinstance(above, Op):
            continue
        kinds = [part.kind for _, part in walk(above) if isinstance(part, Op)]
        if not any(kind in _INVERSE for kind in kinds) or any(
            kind in ("sin", "cos", "tan") for kind in kinds
        ):
            continue
        if any(leaf.constant == "π" or leaf.angle for leaf in leaves(above)):
            continue
        half_turn = Leaf(math.pi * below.typed / 180.0, text=below.text, half=0.0)
        tree = put(tree, path, Op("/", (above, half_turn)))
    return tree


def linked(tree: Node, scope: Scope) -> Node:
    """The tree with its literals recognised as values of the page or constants of nature."""
    return links(tree, scope)[0]


def links(tree: Node, scope: Scope) -> list[Node]:
    """As `linked`, in each way that literals with the digits of several values can be taken."""
    bases: set[tuple[int, ...]] = set()
    exponents: set[tuple[int, ...]] = set()
    for path, node in walk(tree):
        if isinstance(node, Op) and node.kind == "^":
            bases.add((*path, 0))
            exponents.update((*path, 1, *inner) for inner, _ in walk(node.parts[1]))
        if isinstance(node, Op) and node.kind in ("ln", "log", "log10"):
            bases.update((*path, *inner) for inner, _ in walk(node))
    doubtful: list[tuple[tuple[int, ...], list[Leaf]]] = []
    for path, node in list(walk(tree)):
        if (
            isinstance(node, Leaf)
            and node.typed < 0.0
            and node.bare
            and path not in exponents
            and node.page < 0
        ):
            # −398600 is 398600 with a sign
            positive = replace(node, typed=-node.typed, text=node.text.lstrip("-−"))
            tree = put(tree, path, Op("neg", (positive,)))
            path, node = (*path, 0), positive
        if not isinstance(node, Leaf) or path in exponents:
            continue
        if scope.tens and node.bare and node.typed == 10.0 and node.page < 0 and not node.constant:
            ten = Leaf(10.0, 1.0, ACCELERATION, False, 0.0, "", "standard gravity", node.text, "g₀")
            tree = put(tree, path, ten)
            continue
        constant = constant_of(node, scope.worlds)
        if constant is not None and constant.name == "standard gravity in feet" and not scope.imperial:
            constant = None
        if constant is not None and not any(
            abs(e.leaf.typed - node.typed) < 1e-12 * abs(node.typed) and not e.leaf.constant and e.leaf.unit
            for e in scope.entries
        ):
            tree = put(tree, path, constant)
            continue
        choices = scope.link(node, path in bases)
        if choices:
            tree = put(tree, path, choices[0])
            if len(choices) > 1:
                doubtful.append((path, choices[1:]))
    found = [tree]
    for path, choices in doubtful[:4]:
        found += [put(old, path, choice) for old in found[:4] for choice in choices[:2]]
    return [_shared(one) for one in found[:9]]


def _shared(tree: Node) -> Node:
    """Numbers added up, or set over one another in a logarithm, are in one unit."""
    for path, node in list(walk(tree)):
        if not isinstance(node, Op) or node.kind not in ("+", "-", "ln", "log", "log10"):
            continue
        if node.kind in ("ln", "log", "log10"):
            inner = [(p, n) for p, n in walk(node, path) if p != path]
            if any(isinstance(n, Op) and n.kind not in "+-/" for _, n in inner):
                continue
        else:
            inner = [(p, n) for p, n in walk(node, path) if p != path]
            if any(isinstance(n, Op) and n.kind not in "+-" for _, n in inner):
                continue
        numbers = [(p, n) for p, n in inner if isinstance(n, Leaf) and not n.constant]
        example = next((n for _, n in numbers if n.linked and not n.bare and n.dimension != NONE), None)
        if example is None:
            continue
        for p, n in numbers:
            if n.bare and n.half and n.page < 0 and n.typed != 1.0:
                tree = put(
                    tree, p, replace(n, factor=example.factor, dimension=example.dimension, bare=False)
                )
    return tree
