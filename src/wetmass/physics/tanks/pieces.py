"""Bodies of revolution a tank is put together from: cone, dome, half of a ring.

Each piece stands on its foot, heights measured upwards from there.  Its kernels give, below a level:
the volume, the first moment of that volume about the foot, and the wall reached by the liquid.
Levels below the foot count as 0 and above the top as full, so pieces may be stacked and subtracted.
All are plain integrals of the cross-section, exact; sources would add nothing.
"""

from __future__ import annotations

from wetmass.physics.pattern import asin, atan, greatest, kernel, least, log, select, sqrt

PI = 3.141592653589793


@kernel(level=(0.0, 8.0), height=(0.5, 6.0))
def _clamped(level, height):
    return greatest(0.0, least(level, height))


# ── cone: a frustum with flat ends, or a cylinder ────────────────────────────────────────────────


@kernel(level=(0.0, 8.0), foot_radius=(0.2, 5.0), top_radius=(0.2, 5.0), height=(0.5, 6.0))
def cone_volume_below(level, foot_radius, top_radius, height):
    x = _clamped(level, height)
    here = foot_radius + (top_radius - foot_radius) * x / height
    return PI * x / 3.0 * (foot_radius * foot_radius + foot_radius * here + here * here)


@kernel(level=(0.0, 8.0), foot_radius=(0.2, 5.0), top_radius=(0.2, 5.0), height=(0.5, 6.0))
def cone_moment_below(level, foot_radius, top_radius, height):
    x = _clamped(level, height)
    k = (top_radius - foot_radius) / height
    return (
        PI * x * x * (foot_radius * foot_radius / 2.0 + 2.0 * foot_radius * k * x / 3.0 + k * k * x * x / 4.0)
    )


@kernel(level=(0.0, 8.0), foot_radius=(0.2, 5.0), top_radius=(0.2, 5.0), height=(0.5, 6.0))
def cone_wall_below(level, foot_radius, top_radius, height):
    x = _clamped(level, height)
    k = (top_radius - foot_radius) / height
    return PI * x * (2.0 * foot_radius + k * x) * sqrt(1.0 + k * k)


@kernel(level=(0.0, 8.0), foot_radius=(0.2, 5.0), top_radius=(0.2, 5.0), height=(0.5, 6.0))
def cone_section(level, foot_radius, top_radius, height):
    x = _clamped(level, height)
    here = foot_radius + (top_radius - foot_radius) * x / height
    return PI * here * here


# ── dome: half an ellipsoid of revolution, cut at its widest circle ──────────────────────────────


@kernel(u=(0.0, 1.0), e=(-0.99, 30.0))
def _spheroid_arc(u, e):
    """∫₀ᵘ √(1 + e·t²) dt for e > −1/u²; the series takes over where both closed forms lose digits."""
    z = e * u * u
    root = sqrt(greatest(0.0, 1.0 + z))
    p = sqrt(greatest(e, 1e-12))
    q = sqrt(greatest(-e, 1e-12))
    s = p * u
    longer = (u * root + log(s + sqrt(1.0 + s * s)) / p) / 2.0
    shorter = (u * root + asin(least(1.0, q * u)) / q) / 2.0
    series = u * (1.0 + z / 6.0 - z * z / 40.0 + z * z * z / 112.0 - 5.0 * z * z * z * z / 1152.0)
    return select(z > 1e-3, longer, select(z < -1e-3, shorter, series))


@kernel(distance=(0.0, 0.5), radius=(0.3, 5.0), height=(0.5, 6.0))
def _cap_wall(distance, radius, height):
    """Area of an ellipsoid's wall between its widest circle and a plane `distance` from it."""
    e = radius * radius / (height * height) - 1.0
    return 2.0 * PI * radius * height * _spheroid_arc(distance / height, e)


@kernel(level=(0.0, 8.0), radius=(0.3, 5.0), height=(0.5, 6.0))
def dome_volume_below(level, radius, height):
    x = _clamped(level, height)
    return PI * radius * radius * (x - x * x * x / (3.0 * height * height))


@kernel(level=(0.0, 8.0), radius=(0.3, 5.0), height=(0.5, 6.0))
def dome_moment_below(level, radius, height):
    x = _clamped(level, height)
    return PI * radius * radius * x * x * (0.5 - x * x / (4.0 * height * height))


@kernel(level=(0.0, 8.0), radius=(0.3, 5.0), height=(0.5, 6.0))
def dome_wall_below(level, radius, height):
    return _cap_wall(_clamped(level, height), radius, height)


@kernel(level=(0.0, 8.0), radius=(0.3, 5.0), height=(0.5, 6.0))
def dome_section(level, radius, height):
    x = _clamped(level, height)
    return PI * radius * radius * (1.0 - x * x / (height * height))


# ── bowl: a dome upside down, its pole at the foot ───────────────────────────────────────────────


@kernel(level=(0.0, 8.0), radius=(0.3, 5.0), height=(0.5, 6.0))
def bowl_volume_below(level, radius, height):
    x = _clamped(level, height)
    return PI * radius * radius * x * x * (1.0 / height - x / (3.0 * height * height))


@kernel(level=(0.0, 8.0), radius=(0.3, 5.0), height=(0.5, 6.0))
def bowl_moment_below(level, radius, height):
    x = _clamped(level, height)
    return PI * radius * radius * x * x * x * (2.0 / (3.0 * height) - x / (4.0 * height * height))


@kernel(level=(0.0, 8.0), radius=(0.3, 5.0), height=(0.5, 6.0))
def bowl_wall_below(level, radius, height):
    x = _clamped(level, height)
    return _cap_wall(height, radius, height) - _cap_wall(height - x, radius, height)


@kernel(level=(0.0, 8.0), radius=(0.3, 5.0), height=(0.5, 6.0))
def bowl_section(level, radius, height):
    x = _clamped(level, height)
    return PI * radius * radius * x * (2.0 / height - x / (height * height))


# ── ring: a torus lying flat, of circular section ────────────────────────────────────────────────


@kernel(level=(0.0, 8.0), tube_radius=(0.2, 2.0))
def _angle(level, tube_radius):
    """Angle from the widest plane to the level, −π/2 at the foot to π/2 at the top."""
    y = _clamped(level, 2.0 * tube_radius) - tube_radius
    # atan keeps its digits near the ends where asin(y/r) loses half of them
    return 2.0 * atan(y / (tube_radius + sqrt(greatest(0.0, tube_radius * tube_radius - y * y))))


@kernel(level=(0.0, 8.0), ring_radius=(2.0, 6.0), tube_radius=(0.2, 2.0))
def ring_volume_below(level, ring_radius, tube_radius):
    y = _clamped(level, 2.0 * tube_radius) - tube_radius
    half = sqrt(greatest(0.0, tube_radius * tube_radius - y * y))
    return (
        2.0
        * PI
        * ring_radius
        * (y * half + tube_radius * tube_radius * (_angle(level, tube_radius) + PI / 2.0))
    )


@kernel(level=(0.0, 8.0), ring_radius=(2.0, 6.0), tube_radius=(0.2, 2.0))
def ring_moment_below(level, ring_radius, tube_radius):
    y = _clamped(level, 2.0 * tube_radius) - tube_radius
    square = greatest(0.0, tube_radius * tube_radius - y * y)
    about_middle = -4.0 * PI * ring_radius / 3.0 * square * sqrt(square)
    return about_middle + tube_radius * ring_volume_below(level, ring_radius, tube_radius)


@kernel(level=(0.0, 8.0), ring_radius=(2.0, 6.0), tube_radius=(0.2, 2.0))
def ring_wall_below(level, ring_radius, tube_radius):
    return 4.0 * PI * ring_radius * tube_radius * (_angle(level, tube_radius) + PI / 2.0)


@kernel(level=(0.0, 8.0), ring_radius=(2.0, 6.0), tube_radius=(0.2, 2.0))
def ring_section(level, ring_radius, tube_radius):
    y = _clamped(level, 2.0 * tube_radius) - tube_radius
    return 4.0 * PI * ring_radius * sqrt(greatest(0.0, tube_radius * tube_radius - y * y))
