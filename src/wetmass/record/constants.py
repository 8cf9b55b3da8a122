"""Numbers that are exact because a unit is defined by them."""

STANDARD_GRAVITY = 9.80665  # m/s², exact by definition: SI Brochure, 9th edition, section 2.3 / CGPM 1901
