"""Every single slip a tree can hold: what the hand may have worked out instead of what the line says.

Each generator takes the sound tree of a line and yields edited trees.  Nothing here looks at the
number that was stated; judging is the finder's part.
"""

from __future__ import annotations

from collections.abc import Iterator

from wetmass.working.slips.angles import angles
from wetmass.working.slips.edit import Context, Edit, imperial_words
from wetmass.working.slips.factors import counts, gravity, halves, own_weight, plain_factors
from wetmass.working.slips.forms import logarithms, powers, ratios
from wetmass.working.slips.keying import digits, keying, rounding
from wetmass.working.slips.measures import tens, units
from wetmass.working.slips.others import neighbours, shares
from wetmass.working.slips.shapes import pi_and_round_shapes, radius_and_diameter, ring
from wetmass.working.slips.terms import terms
from wetmass.working.tree import Node

PAIRED = (
    plain_factors, ring, own_weight, halves, gravity, counts, pi_and_round_shapes, logarithms, ratios, powers, tens,  # noqa: E501
)  # fmt: skip
GENERATORS = (
    *PAIRED, units, angles, radius_and_diameter, terms, shares, neighbours, keying, digits, rounding,
)  # fmt: skip


def edits(tree: Node, context: Context) -> Iterator[Edit]:
    """Every single slip this tree can hold."""
    for generator in GENERATORS:
        yield from generator(tree, context)


__all__ = ["GENERATORS", "PAIRED", "Context", "Edit", "edits", "imperial_words"]
