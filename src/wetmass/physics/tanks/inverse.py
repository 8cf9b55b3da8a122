"""Sizes of plain tanks in formulas short enough to be read: what a volume settles, and walls of domes."""

from __future__ import annotations

from wetmass.physics.pattern import Letter, above_zero, kernel, log, relation, sqrt
from wetmass.physics.tanks.pieces import PI

_EXACT = "geometry, exact"
_VOLUME = Letter("V", "volume of the tank", "m³", 0.5, 5000.0)
_DIAMETER = Letter("D", "diameter", "m", 0.5, 12.0)


@kernel
def _sphere_diameter(volume):
    return (6.0 * volume / PI) ** (1.0 / 3.0)


@relation(
    kernel=_sphere_diameter, symbol="D", words="diameter of a sphere", unit="m", letters={"volume": _VOLUME},
    source=_EXACT,
)  # fmt: skip
def sphere_diameter(volume: float) -> float:
    """Diameter of a sphere that holds a volume, D = (6·V/π)^⅓ [m]; volume in m³, above 0.

    >>> round(sphere_diameter(33.510321638), 9)
    4.0
    """
    above_zero(volume=volume)
    return _sphere_diameter(volume)


@kernel
def _spheroid_height(volume, diameter):
    return 6.0 * volume / (PI * diameter * diameter)


@relation(
    kernel=_spheroid_height, symbol="h", words="height of an ellipsoid of revolution, pole to pole",
    unit="m", letters={"volume": _VOLUME, "diameter": _DIAMETER}, source=_EXACT,
)  # fmt: skip
def spheroid_height(volume: float, diameter: float) -> float:
    """Height from pole to pole of an ellipsoid of revolution, h = 6·V/(π·D²) [m].

    volume    [m³]
    diameter  at its widest  [m]

    Raises ValueError for values not above zero.

    >>> round(spheroid_height(33.510321638, 4.0), 9)
    4.0
    """
    above_zero(volume=volume, diameter=diameter)
    return _spheroid_height(volume, diameter)


@kernel
def _annulus_length(volume, outer_diameter, inner_diameter):
    return 4.0 * volume / (PI * (outer_diameter + inner_diameter) * (outer_diameter - inner_diameter))


@relation(
    kernel=_annulus_length, symbol="L", words="length of the room between two cylinders", unit="m",
    letters={
        "volume": _VOLUME,
        "outer_diameter": Letter("D", "outer diameter", "m", 3.0, 12.0),
        "inner_diameter": Letter("d", "inner diameter", "m", 0.2, 2.5),
    },
    source=_EXACT,
)  # fmt: skip
def annulus_length(volume: float, outer_diameter: float, inner_diameter: float) -> float:
    """Length of the room between two upright cylinders, L = 4·V/(π·(D² − d²)) [m].

    volume                         [m³]
    outer_diameter                 [m]
    inner_diameter  below it       [m]

    Raises ValueError for values not above zero, or an inner diameter that is not the smaller.

    >>> round(annulus_length(23.5619449, 4.0, 2.0), 6)
    2.5
    """
    above_zero(volume=volume, outer_diameter=outer_diameter, inner_diameter=inner_diameter)
    if not inner_diameter < outer_diameter:
        raise ValueError(
            f"inner_diameter must be below outer_diameter, {outer_diameter} m, got {inner_diameter} m"
        )
    return _annulus_length(volume, outer_diameter, inner_diameter)


@kernel
def _frustum_length(volume, bottom_diameter, top_diameter):
    return (
        12.0
        * volume
        / (
            PI
            * (
                bottom_diameter * bottom_diameter
                + bottom_diameter * top_diameter
                + top_diameter * top_diameter
            )
        )
    )


@relation(
    kernel=_frustum_length, symbol="L", words="length of a cone cut flat", unit="m",
    letters={
        "volume": Letter("V", "volume of the cone alone, without its domes", "m³", 0.5, 5000.0),
        "bottom_diameter": Letter("D₁", "diameter at the bottom", "m", 0.5, 12.0),
        "top_diameter": Letter("D₂", "diameter at the top", "m", 0.5, 12.0),
    },
    source=_EXACT,
)  # fmt: skip
def frustum_length(volume: float, bottom_diameter: float, top_diameter: float) -> float:
    """Length of a cone cut flat at both ends, L = 12·V/(π·(D₁² + D₁·D₂ + D₂²)) [m].

    volume           of the cone alone, without domes  [m³]
    bottom_diameter, top_diameter                      [m]

    Raises ValueError for values not above zero.

    >>> round(frustum_length(21.99114858, 4.0, 2.0), 6)
    3.0
    """
    above_zero(volume=volume, bottom_diameter=bottom_diameter, top_diameter=top_diameter)
    return _frustum_length(volume, bottom_diameter, top_diameter)


@kernel
def _flat_dome_area(radius, height):
    e = sqrt(1.0 - height * height / (radius * radius))
    return PI * radius * radius + PI * height * height / (2.0 * e) * log((1.0 + e) / (1.0 - e))


@relation(
    kernel=_flat_dome_area, symbol="A", words="wall of a dome flatter than a hemisphere", unit="m²",
    letters={
        "radius": Letter("R", "radius at its rim", "m", 2.0, 6.0),
        "height": Letter("h", "height of the dome", "m", 0.1, 1.9),
    },
    source=_EXACT,
)  # fmt: skip
def flat_dome_area(radius: float, height: float) -> float:
    """Wall of half an oblate ellipsoid, A = π·R² + π·h²/(2·e)·ln((1 + e)/(1 − e)), e = √(1 − h²/R²) [m²].

    radius  at its rim           [m]
    height  above 0, below R     [m]

    `dome_area` gives the same for any height.  Raises ValueError outside.

    >>> round(flat_dome_area(2.0, 1.0), 4)
    17.3438
    """
    above_zero(radius=radius, height=height)
    if not height < radius:
        raise ValueError(f"height must be below the radius, {radius} m, got {height} m: use dome_area")
    return _flat_dome_area(radius, height)


@kernel
def _hemisphere_area(radius):
    return 2.0 * PI * radius * radius


@relation(
    kernel=_hemisphere_area, symbol="A", words="wall of a hemisphere", unit="m²",
    letters={"radius": Letter("R", "radius at its rim", "m", 0.2, 6.0)}, source=_EXACT,
)  # fmt: skip
def hemisphere_area(radius: float) -> float:
    """Wall of a hemisphere, A = 2·π·R² [m²]; radius in m, above 0.

    >>> round(hemisphere_area(2.0), 4)
    25.1327
    """
    above_zero(radius=radius)
    return _hemisphere_area(radius)
