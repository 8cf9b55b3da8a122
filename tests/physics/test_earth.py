"""The Earth: ellipsoid, gravity, rotation and distances against exact and independent values."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wetmass.physics import earth

LATITUDES = np.linspace(-math.pi / 2, math.pi / 2, 361)


@pytest.mark.parametrize("height", [-5e3, 0.0, 100.0, 1e5, 1e6, 1e7, 3.6e7])
def test_height_is_right_to_a_micrometre_at_all_latitudes(height):
    # exact inverse: a place made from its height
    for latitude in LATITUDES:
        found = earth.height_kernel(*earth.cartesian_kernel(latitude, 0.7, height))
        assert found == pytest.approx(height, abs=1e-6)  # the terms left out: f⁵·a is 3e-6 m


def test_height_at_the_axes_is_exact():
    # 1e-8: the last places of 6.4e6 m
    assert earth.height(earth.EARTH_RADIUS_WGS84, 0.0, 0.0) == pytest.approx(0.0, abs=1e-8)
    assert earth.height(0.0, 0.0, -earth.POLAR_RADIUS_WGS84) == pytest.approx(0.0, abs=1e-6)


@given(
    latitude=st.floats(-math.pi / 2, math.pi / 2),
    longitude=st.floats(-3.1, 3.1),
    height=st.floats(-1e4, 4e7),
)
def test_geodetic_undoes_cartesian(latitude, longitude, height):
    place = earth.cartesian(latitude, longitude, height)
    found = earth.geodetic(*place)
    assert found[0] == pytest.approx(latitude, abs=1e-14)
    assert found[2] == pytest.approx(height, abs=1e-7)  # rounding of 4e7 m
    if abs(latitude) < 1.57:
        assert found[1] == pytest.approx(longitude, abs=1e-12)
    assert earth.geodetic_latitude(*place) == found[0]


def test_gravity_is_the_gradient_of_its_potential():
    def potential(place):
        x, y, z = place
        r = math.sqrt(x * x + y * y + z * z)
        bulge = earth.J2 * (earth.EARTH_RADIUS_WGS84 / r) ** 2 * (1.5 * (z / r) ** 2 - 0.5)
        return earth.GM / r * (1.0 - bulge)

    for place in ((7e6, 0.0, 0.0), (3e6, -4e6, 5e6), (1e5, 2e5, -6.5e6)):
        found = earth.gravity(*place)
        for axis in range(3):
            step = np.zeros(3)
            step[axis] = 200.0
            slope = (potential(place + step) - potential(place - step)) / 400.0
            assert found[axis] == pytest.approx(slope, abs=2e-8)  # central difference of 6e7 m²/s²


def test_gravity_with_rotation_is_the_published_normal_gravity():
    # NIMA TR8350.2, table 3.4: 9.7803253359 m/s² at the equator, 9.8321849378 at the poles.  J2 alone leaves
    # out J4 (1.5e-5 of the whole at the equator), hence 4e-5 relative.
    a, b = earth.EARTH_RADIUS_WGS84, earth.POLAR_RADIUS_WGS84
    equator = -earth.gravity(a, 0.0, 0.0)[0] - earth.OMEGA**2 * a
    assert equator == pytest.approx(9.7803253359, rel=4e-5)
    assert -earth.gravity(0.0, 0.0, b)[2] == pytest.approx(9.8321849378, rel=4e-5)


def test_ground_distance_is_the_meridian_arc():
    # a quarter meridian of WGS-84 is 10 001 965.729 m (by its elliptic integral, here by quadrature)
    from scipy.integrate import quad

    e2 = earth.FLATTENING_WGS84 * (2.0 - earth.FLATTENING_WGS84)
    for start, end in ((0.0, math.pi / 2), (0.2, 0.3), (-0.4, 1.1)):
        arc = quad(
            lambda p: earth.EARTH_RADIUS_WGS84 * (1 - e2) / (1 - e2 * math.sin(p) ** 2) ** 1.5, start, end
        )[0]
        # Lambert's formula keeps the first power of f: 1e-5
        assert earth.ground_distance(start, 0.5, end, 0.5) == pytest.approx(arc, rel=1e-5)


def test_ground_distance_matches_a_published_inverse():
    # Flinders Peak to Buninyong, 54 972.271 m: worked example of the Geocentric Datum of Australia Technical
    # Manual (GRS 80, the same to the millimetre here), as read in ten public test suites on GitHub (PyGeodesy
    # and others).  10 ppm is what Lambert's formula leaves out.
    one = (-math.radians(37 + 57 / 60 + 3.72030 / 3600), math.radians(144 + 25 / 60 + 29.52440 / 3600))
    two = (-math.radians(37 + 39 / 60 + 10.15610 / 3600), math.radians(143 + 55 / 60 + 35.38390 / 3600))
    assert earth.ground_distance(*one, *two) == pytest.approx(54_972.271, rel=1e-5)


def test_ground_distance_of_a_place_to_itself_and_across():
    assert earth.ground_distance(0.3, 1.0, 0.3, 1.0) == 0.0
    far = earth.ground_distance(0.0, 0.0, 0.0, math.pi)
    assert far == pytest.approx(math.pi * earth.POLAR_RADIUS_WGS84, rel=4e-3)  # the way over the pole


def test_surface_speed():
    # the ground is the place times the rotation
    for latitude in (0.0, 0.25, -1.2):
        x, y, _ = earth.cartesian(latitude, 0.4, 500.0)
        assert earth.surface_speed(latitude, 500.0) == pytest.approx(
            earth.OMEGA * math.hypot(x, y), rel=1e-14
        )


def test_refusals_name_the_value():
    with pytest.raises(ValueError, match=r"latitude must lie between .*, got 2\.0"):
        earth.surface_speed(2.0)
    with pytest.raises(ValueError, match="more than 1000 km from the Earth's centre"):
        earth.height(0.0, 0.0, 5.0)
    with pytest.raises(ValueError, match="more than 1 km from the Earth's centre"):
        earth.gravity(0.0, 0.0, 0.0)
    with pytest.raises(ValueError, match="x must be a finite number"):
        earth.geodetic(math.nan, 0.0, 0.0)
