"""One quantity in two units: the number between them is not the one it takes."""

from __future__ import annotations

from wetmass.working.rules.base import Rules
from wetmass.working.tree import Leaf, Node, Op
from wetmass.working.units import (
    FORCE,
    LENGTH,
    MASS,
    MASS_FLOW,
    NONE,
    PRESSURE,
    SPEED,
    TIME,
    VOLUME,
)

_FACTORS = (
    2000.0, 2240.0, 2204.6, 907.2, 1016.0, 0.4536, 2.205, 4.448, 0.2248, 5280.0, 6076.0, 1852.0, 1.852, 1609.0, 1.609,
    3.281, 0.3048, 12.0, 25.4, 2.54, 39.37, 6895.0, 6.895, 0.145, 145.0, 14.5, 14.7, 101.3, 1.013, 1e5, 1e6, 1e3, 1e-3,
    60.0, 3600.0, 24.0, 86400.0, 1440.0, 144.0, 1728.0, 9.81, 3.6, 7.48, 28.32, 0.02832, 3.785, 264.2,
)  # fmt: skip
_KIND = {
    FORCE: ("S09", ("S07", "S02")), LENGTH: ("S13", ("S07", "S08")), PRESSURE: ("S15", ("S07", "S08")), SPEED: ("S13", ("S07",)),
    TIME: ("S42", ("S16", "S54", "S07")), MASS_FLOW: ("S16", ("S42", "S11", "S54")), VOLUME: ("S13", ("S07",)),
}  # fmt: skip
_TONS = (2000.0, 2240.0, 907.2, 1016.0)


class Conversions(Rules):
    """One quantity in two units."""

    def _between_two_units(self, tree: Node) -> bool:
        """A value of the page times or over a plain number, stated in another unit of the same quantity."""
        claim = self.claim
        if claim.bare or claim.dimension == NONE or not isinstance(tree, Op) or tree.kind not in "*/":
            return False
        one, other = tree.parts
        if not isinstance(one, Leaf) or not isinstance(other, Leaf):
            return False
        for value, factor in ((one, other), (other, one)):
            if factor is one and tree.kind == "/":
                continue
            entry = self.entry_of(value)
            if entry is None or value.dimension != claim.dimension or not factor.bare or factor.page >= 0:
                continue
            stated = entry.leaf
            if (
                stated.bare
                or abs(stated.factor / claim.factor - 1.0) < 1e-6
                or factor.constant.startswith("μ")
            ):
                continue
            right = entry.stated
            if abs(right / claim.si - 1.0) < 0.012:
                return False
            if not any(abs(factor.typed / known - 1.0) < 0.006 for known in _FACTORS):
                continue
            kind, also = _KIND.get(claim.dimension, ("S11", ("S12", "S07")))
            if claim.dimension == MASS and any(abs(factor.typed / ton - 1.0) < 0.006 for ton in _TONS):
                kind, also = "S12", ("S11",)
            needed = stated.factor / claim.factor
            turn = f"times {needed:.4g}" if needed >= 1.0 else f"over {1.0 / needed:.4g}"
            done = f"{factor.text} {'divides' if tree.kind == '/' else 'multiplies'} to turn {stated.unit or 'it'} into {claim.unit}"
            return self.tell(kind, done, turn, right, also)
        return False
