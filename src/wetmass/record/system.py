"""The units that results are shown in: those people use with SI, or feet and pounds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from wetmass.record.constants import FOOT, NAUTICAL_MILE, POUND, STANDARD_GRAVITY
from wetmass.record.digits import fixed, readable
from wetmass.record.say import NO_BREAK, said


@dataclass(frozen=True, slots=True)
class System:
    """A way to show values that are SI inside.

    length  m, of the unit in which round lengths are counted
    units   SI unit: from this size on, factor, unit; what is not in it is said as with SI
    """

    name: str
    length: float
    units: Mapping[str, tuple[tuple[float, float, str], ...]] = field(default_factory=dict)

    def said(self, value: float, unit: str, figures: int = 4) -> str:
        """A value with a unit people use for its size.

        >>> FEET_AND_POUNDS.said(1000.0, "kg"), METRIC.said(3421.2, "kg")
        ('2\\u2009205\\xa0lb', '3\\u2009421\\xa0kg')
        """
        for size, factor, name in self.units.get(unit, ()):
            if abs(value) >= size:
                return f"{readable(value / factor, figures)}{NO_BREAK}{name}"
        return said(value, unit, figures)

    def whole(self, value: float, unit: str) -> str:
        """A value to the last whole unit, for columns that add up.

        >>> METRIC.whole(81234.6, "kg"), FEET_AND_POUNDS.whole(100.0, "m/s")
        ('81\\u2009235\\xa0kg', '328\\xa0ft/s')
        """
        _, factor, name = self.units.get(unit, ((0.0, 1.0, unit),))[-1]
        return f"{fixed(value / factor)}{NO_BREAK}{name}"


METRIC = System("metric", 1.0)
FEET_AND_POUNDS = System("feet and pounds", FOOT, {
    "kg": ((0.0, POUND, "lb"),),
    "m": ((5e4, NAUTICAL_MILE, "nmi"), (0.0, FOOT, "ft")),
    "m/s": ((0.0, FOOT, "ft/s"),),
    "N": ((0.0, POUND * STANDARD_GRAVITY, "lbf"),),
    "Pa": ((0.0, POUND * STANDARD_GRAVITY / FOOT**2, "psf"),),
    "m³": ((0.0, FOOT**3, "ft³"),),
})  # fmt: skip
SYSTEMS = {one.name: one for one in (METRIC, FEET_AND_POUNDS)}
