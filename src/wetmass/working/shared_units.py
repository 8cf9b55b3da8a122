"""A unit that stands once for all terms of a sum."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from wetmass.working.tree import Leaf, Node, Op
from wetmass.working.units import NONE, Unit


def terms(node: Node) -> list[Leaf]:
    return [leaf for leaf in terms_any(node) if isinstance(leaf, Leaf)]


def terms_any(node: Node) -> list[Node]:
    if isinstance(node, Op) and node.kind in "+-":
        return [leaf for part in node.parts for leaf in terms_any(part)]
    return [node]


def shared_units(node: Node) -> Node:
    """`300 + 22 t`: a sum where the unit stands only once is all in that unit."""
    if isinstance(node, Op) and node.kind in "+-":
        units = {
            leaf.unit: leaf for leaf in terms(node) if leaf.unit and leaf.page < 0 and leaf.dimension != NONE
        }
        everything = terms_any(node)
        if len(units) == 1 and all(isinstance(term, Leaf) for term in everything):
            (example,) = units.values()
            return _each_term(node, lambda leaf: _in_unit(leaf, example))
    return node


def _in_unit(leaf: Leaf, example: Leaf) -> Leaf:
    if leaf.bare and leaf.page < 0 and not leaf.constant:
        return replace(
            leaf, factor=example.factor, dimension=example.dimension, bare=False, unit=example.unit
        )
    return leaf


def _each_term(node: Node, change: Callable[[Leaf], Leaf]) -> Node:
    if isinstance(node, Op) and node.kind in "+-":
        return Op(node.kind, tuple(_each_term(part, change) for part in node.parts))
    return change(node) if isinstance(node, Leaf) else node


def give_unit(node: Node, unit: Unit) -> Node:
    def give(leaf: Leaf) -> Leaf:
        if not leaf.bare or leaf.page >= 0 or leaf.constant:
            return leaf
        return replace(
            leaf, factor=unit.factor, dimension=unit.dimension, bare=False, unit=unit.text, angle=unit.angle
        )

    return _each_term(node, give)
