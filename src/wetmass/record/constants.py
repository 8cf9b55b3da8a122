"""Numbers that are exact because a unit is defined by them."""

STANDARD_GRAVITY = 9.80665  # m/s², exact by definition: SI Brochure, 9th edition, section 2.3 / CGPM 1901
FOOT = 0.3048  # m, exact: international foot, 1959 agreement
POUND = 0.45359237  # kg, exact: international pound, 1959 agreement
NAUTICAL_MILE = 1852.0  # m, exact by definition
