"""Tanks: exact formulas against numerical integration, levels against fills, sizes against volumes."""

import itertools
import math
import re

import pytest
from scipy.integrate import quad

from wetmass.physics import tanks as t
from wetmass.physics.propellants import split
from wetmass.physics.tanks import CylinderTank, Dome, FrustumTank, SphereTank, TorusTank

INWARD = Dome(0.6, inward=True)
SHAPES = {
    "cylinder, flat": CylinderTank(3.1, 5.0, t.FLAT, t.FLAT),
    "cylinder, hemispheres": CylinderTank(4.0, 10.0),
    "cylinder, ellipsoids": CylinderTank(3.7, 2.2, Dome(0.5), Dome(1.4)),
    "cylinder, nearly spherical domes": CylinderTank(3.7, 2.2, Dome(0.9999), Dome(1.0001)),
    "cylinder, shared bulkhead below": CylinderTank(3.7, 4.0, INWARD, t.ROOT_TWO),
    "cylinder, shared bulkhead above": CylinderTank(3.7, 4.0, t.ROOT_TWO, INWARD),
    "cylinder, both inward": CylinderTank(3.0, 2.5, INWARD, INWARD),
    "two domes only": CylinderTank(2.0, 0.0, Dome(0.7), Dome(0.3)),
    "sphere": SphereTank(2.4),
    "oblate": t.SpheroidTank(5.0, 3.5356),
    "prolate": t.SpheroidTank(2.0, 5.0),
    "ring": TorusTank(3.0, 1.2),
    "ring without hole": TorusTank(2.0, 2.0),
    "cone": FrustumTank(4.0, 2.5, 3.0),
    "cone with domes": FrustumTank(2.0, 4.4, 3.0, Dome(0.4), Dome(0.8)),
    "cone with inward dome": FrustumTank(2.0, 4.4, 3.0, INWARD, t.FLAT),
    "annulus": t.AnnularTank(4.0, 1.5, 6.0),
    "sphere in a cylinder": t.NestedTank(CylinderTank(4.0, 8.0), SphereTank(2.0), 3.0),
    "pipe in a sphere": t.NestedTank(SphereTank(4.0), CylinderTank(0.5, 2.0), 0.7),
    "six side by side": t.ClusterTank(CylinderTank(1.5, 6.0, t.ROOT_TWO, t.ROOT_TWO), 6, gap=0.1),
    "seven": t.ClusterTank(SphereTank(1.0), 6, centre=True),
}
everywhere = pytest.mark.parametrize("tank", SHAPES.values(), ids=SHAPES.keys())


def edges(tank, level):
    """Heights where the section's slope jumps, for the integrator."""
    at = {p.foot for p in tank.inside.pieces} | {p.top for p in tank.inside.pieces}
    return [0.0, *sorted(x for x in at if 0.0 < x < level), level]


def integral(function, tank, level):
    """∫ over height.  Halves squeezed towards their ends, where round walls have an infinite slope."""
    total = 0.0
    points = edges(tank, level)
    for a, b in itertools.pairwise(points):
        mid, half = (a + b) / 2.0, (b - a) / 2.0
        value, _ = quad(
            lambda s, mid=mid, half=half: function(mid + half * math.sin(s)) * half * math.cos(s),
            -math.pi / 2, math.pi / 2, epsabs=1e-13, epsrel=1e-12, limit=200,
        )  # fmt: skip
        total += value
    return total


@everywhere
@pytest.mark.parametrize("share", [0.07, 0.31, 0.5, 0.83, 1.0])
def test_volume_and_centre_agree_with_numerical_integration_of_the_section(tank, share):
    level = share * tank.height
    liquid = tank.filled_to(level)
    section = lambda x: tank.count * tank.inside.section(x)  # noqa: E731
    assert liquid.volume == pytest.approx(integral(section, tank, level), rel=1e-9)
    assert liquid.centre * liquid.volume == pytest.approx(
        integral(lambda x: x * section(x), tank, level), rel=1e-9, abs=1e-10
    )


@pytest.mark.parametrize(
    "name", [n for n in SHAPES if "ring" not in n and n != "annulus" and "in a" not in n]
)
@pytest.mark.parametrize("share", [0.2, 0.6, 1.0])
def test_wall_agrees_with_numerical_integration_along_the_profile(name, share):
    # A piece at a time: A = ∫ 2πr·√(1 + r'²) dx with r from the section and r' by the chain rule,
    # S = πr², S' = 2πr·r', so 2πr·√(1 + r'²) = √(4πS + S'²).  The slope is differenced; hence 1e-6.
    tank = SHAPES[name]
    level = share * tank.height
    total = sum(plate.area for plate in tank.inside.plates if plate.height <= level)
    for p in tank.inside.pieces:
        top = min(p.top, level) - p.foot
        if top <= 0.0:
            continue
        full = p.top - p.foot

        def strip(x, p=p, full=full):
            h = 1e-6 * full
            x = min(max(x, h), full - h)
            s = p.kind.section(x, *p.sizes)
            slope = (p.kind.section(x + h, *p.sizes) - p.kind.section(x - h, *p.sizes)) / (2 * h)
            return math.sqrt(4 * math.pi * s + slope * slope)

        total += quad(strip, 0.0, top, epsabs=1e-9, epsrel=1e-9, limit=200)[0]
    assert tank.filled_to(level).wetted_area == pytest.approx(tank.count * total, rel=2e-5)


def test_walls_of_known_bodies_are_exact():
    assert SphereTank(2.0).wall_area == pytest.approx(4 * math.pi, rel=1e-15)
    # Archimedes: a zone of a sphere has the area of the same slice of the cylinder round it
    assert SphereTank(2.0).filled_to(0.37).wetted_area == pytest.approx(2 * math.pi * 0.37, rel=1e-12)
    # spheroids: closed forms with the eccentricity, from any table of solids
    a, c = 2.5, 1.7678
    e = math.sqrt(1 - c**2 / a**2)
    oblate = 2 * math.pi * a**2 + math.pi * c**2 / e * math.log((1 + e) / (1 - e))
    assert t.SpheroidTank(2 * a, 2 * c).wall_area == pytest.approx(oblate, rel=1e-12)
    e = math.sqrt(1 - a**2 / 9.0)
    prolate = 2 * math.pi * a**2 * (1 + 3.0 / (a * e) * math.asin(e))
    assert t.SpheroidTank(2 * a, 6.0).wall_area == pytest.approx(prolate, rel=1e-12)
    assert TorusTank(3.0, 1.2).wall_area == pytest.approx(math.pi**2 * 3.0 * 1.2, rel=1e-14)
    assert TorusTank(3.0, 1.2).filled_to(0.6).wetted_area == pytest.approx(math.pi**2 * 1.8, rel=1e-14)
    cone = FrustumTank(4.0, 2.0, 3.0)
    assert cone.wall_area == pytest.approx(math.pi * (3.0 * math.sqrt(10.0) + 4.0 + 1.0), rel=1e-14)


@pytest.mark.parametrize("ratio", [0.98, 0.9995, 1.0, 1.0005, 1.02])
def test_dome_wall_is_smooth_through_the_sphere(ratio):
    # the series between the two closed forms joins them without a step: against the integral itself
    d, h = 2.0, ratio
    e = 1.0 / h**2 - 1.0
    arc = quad(lambda u: math.sqrt(1 + e * u * u), 0, 1, epsabs=1e-14)[0]
    assert t.dome_area(d, h) == pytest.approx(2 * math.pi * h * arc, rel=1e-12)


def test_volumes_of_the_made_up_examples():
    # worked examples tank-01 and tank-05 (geometry, no published answer: arithmetic marks only)
    tank = CylinderTank(4.0, 10.0)
    assert tank.volume == pytest.approx(159.174, abs=5e-4)
    assert tank.wall_area == pytest.approx(175.929, abs=5e-4)
    assert t.SpheroidTank(5.0, 2 * 1.7678).volume == pytest.approx(46.2809, abs=5e-5)


@everywhere
@pytest.mark.parametrize("fill", [1e-6, 0.1, 0.5, 0.97, 1.0])
def test_level_and_fill_invert_each_other(tank, fill):
    liquid = tank.liquid(fill * tank.volume)
    back = tank.filled_to(liquid.level)
    assert back.volume == pytest.approx(fill * tank.volume, rel=1e-12, abs=1e-15)
    assert back.wetted_area == pytest.approx(liquid.wetted_area, rel=1e-12)
    assert 0.0 <= liquid.centre <= liquid.level <= tank.height
    assert liquid.fill == pytest.approx(fill, rel=1e-15)


@everywhere
def test_an_empty_tank_has_its_level_on_the_ground(tank):
    assert tank.liquid(0.0).level == 0.0 == tank.liquid(0.0).centre


@everywhere
def test_any_one_dimension_is_found_again_from_the_volume(tank):
    for name in t.open_dimensions(tank):
        found = t.sized(tank, name, tank.volume)
        assert found.volume == pytest.approx(tank.volume, rel=1e-12), name


@pytest.mark.parametrize(
    ("tank", "name", "factor"),
    [
        (CylinderTank(3.0, 5.0), "length", 2.0),
        (CylinderTank(3.0, 5.0), "diameter", 0.5),
        (CylinderTank(3.0, 5.0), "top.height_ratio", 1.05),
        (CylinderTank(3.0, 5.0, INWARD), "length", 0.6),
        (TorusTank(3.0, 1.0), "tube_diameter", 1.7),
        (TorusTank(3.0, 1.0), "ring_diameter", 4.0),
        (t.AnnularTank(4.0, 1.0, 2.0), "inner_diameter", 0.3),
        (SphereTank(1.0), "diameter", 11.0),
        (t.NestedTank(CylinderTank(4.0, 8.0), SphereTank(2.0), 3.0), "outer.length", 1.4),
        (t.NestedTank(CylinderTank(4.0, 8.0), SphereTank(2.0), 3.0), "inner.diameter", 0.97),
        (t.ClusterTank(CylinderTank(1.5, 6.0), 6), "tank.length", 1.2),
    ],
)
def test_a_dimension_is_solved_for_another_volume(tank, name, factor):
    assert t.sized(tank, name, factor * tank.volume).volume == pytest.approx(factor * tank.volume, rel=1e-12)


def test_relations_and_shapes_agree():
    tank = CylinderTank(3.7, 2.2, Dome(0.5), Dome(1.4))
    assert t.cylinder_volume(3.7, 2.2, 0.925, 2.59) == pytest.approx(tank.volume, rel=1e-14)
    inward = CylinderTank(3.7, 4.0, INWARD, t.ROOT_TWO)
    rise = 0.6 * 1.85
    assert t.cylinder_volume(3.7, 4.0, -rise, 1.85 * math.sqrt(0.5)) == pytest.approx(
        inward.volume, rel=1e-14
    )
    assert t.cylinder_length(tank.volume, 3.7, 0.925, 2.59) == pytest.approx(2.2, rel=1e-13)
    assert t.torus_volume(3.0, 1.2) == pytest.approx(TorusTank(3.0, 1.2).volume, rel=1e-14)
    assert t.torus_area(3.0, 1.2) == pytest.approx(TorusTank(3.0, 1.2).wall_area, rel=1e-14)
    assert t.frustum_volume(4.0, 2.5, 3.0) == pytest.approx(FrustumTank(4.0, 2.5, 3.0).volume, rel=1e-14)
    ends = math.pi / 4 * (16.0 + 6.25)
    assert t.frustum_area(4.0, 2.5, 3.0) + ends == pytest.approx(
        FrustumTank(4.0, 2.5, 3.0).wall_area, rel=1e-14
    )


def test_masses_lead_to_dimensions_and_back():
    # made here: 100 t of LOX/LCH4 at 3.5 with 3 % ullage needs 70.2622 and 54.2365 m³ (no published answer)
    oxidiser, fuel = split(100_000.0, 3.5)
    lox, methane = t.tank_volume(oxidiser, 1141.2, 0.03), t.tank_volume(fuel, 422.4, 0.03)
    assert (lox, methane) == pytest.approx((70.2622, 54.2365), abs=5e-5)
    pair = t.shared_bulkhead_pair(methane, lox, 3.1, t.ROOT_TWO)
    assert [tank.volume for tank in pair.tanks] == pytest.approx([methane, lox], rel=1e-13)
    rise = 3.1 / 2 * math.sqrt(0.5)
    # one cylinder with two outer domes and a bulkhead inside: the straight parts add up
    whole = t.cylinder_length(methane + lox, 3.1, rise, rise)
    assert pair.tanks[0].length + pair.tanks[1].length == pytest.approx(whole, rel=1e-13)
    assert pair.height == pytest.approx(whole + 2 * rise, rel=1e-13)
    assert pair.shared_area == pytest.approx(t.dome_area(3.1, rise), rel=1e-13)
    assert pair.wall_area == pytest.approx(math.pi * 3.1 * whole + 3 * t.dome_area(3.1, rise), rel=1e-13)


@pytest.mark.parametrize("up", [True, False])
def test_a_shared_bulkhead_is_shorter_than_two_separate_tanks(up):
    shared = t.shared_bulkhead_pair(40.0, 60.0, 3.0, Dome(0.7), bulge_up=up)
    apart = t.stacked(
        t.sized(CylinderTank(3.0, 1.0, Dome(0.7), Dome(0.7)), "length", 40.0),
        t.sized(CylinderTank(3.0, 1.0, Dome(0.7), Dome(0.7)), "length", 60.0),
        gap=0.3,
    )
    assert apart.shared_area == 0.0
    # the room between two facing domes (2/3 of one's height across the section) is gone, and the gap
    assert apart.height - shared.height == pytest.approx(0.3 + 2 / 3 * 1.05, rel=1e-12)


def test_a_cluster_stands_on_its_ring_without_touching():
    cluster = t.ClusterTank(SphereTank(1.0), 6, gap=0.1)
    points = cluster.positions
    nearest = min(math.dist(a, b) for i, a in enumerate(points) for b in points[:i])
    assert nearest == pytest.approx(1.1, rel=1e-12)
    assert cluster.envelope.diameter == pytest.approx(2.2 + 1.0, rel=1e-12)
    seven = t.ClusterTank(SphereTank(1.0), 6, centre=True)
    assert seven.volume == pytest.approx(7 * math.pi / 6, rel=1e-14)
    assert seven.envelope.diameter == pytest.approx(3.0, rel=1e-14) and seven.envelope.hole == 0.0


def test_a_nested_pair_fills_the_outer_tank():
    outer, inner = CylinderTank(4.0, 8.0), SphereTank(2.0)
    assert t.NestedTank(outer, inner, 3.0).volume + inner.volume == pytest.approx(outer.volume, rel=1e-14)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Dome(-0.1), "height_ratio of a dome must lie between 0 (flat) and 5"),
        (lambda: CylinderTank(0.0, 1.0), "diameter must be above 0"),
        (lambda: CylinderTank(1.0, -1.0), "length must be 0 or more"),
        (lambda: CylinderTank(4.0, 2.0, INWARD, INWARD), "so that the inward domes do not meet"),
        (lambda: CylinderTank(4.0, 0.0, t.FLAT, t.FLAT), "where both ends are flat"),
        (lambda: FrustumTank(4.0, 2.0, 3.0, INWARD), "an inward dome at the wide end (4.0 m)"),
        (lambda: FrustumTank(4.0, 5.0, 0.5, INWARD), "for the inward dome, got 0.5 m"),
        (lambda: FrustumTank(4.0, math.nan, 0.5), "top_diameter must be above 0"),
        (lambda: t.SpheroidTank(1.0, 0.0), "pole_to_pole must be above 0"),
        (lambda: t.SpheroidTank(1.0, 9.0), "pole_to_pole over diameter must lie between 0.02 and 5"),
        (lambda: SphereTank(-1.0), "diameter must be above 0"),
        (lambda: TorusTank(1.0, 1.1), "or the ring cuts itself; got 1.1 m"),
        (lambda: t.AnnularTank(2.0, 2.0, 1.0), "inner_diameter must be below outer_diameter (2.0 m)"),
        (lambda: t.NestedTank(SphereTank(2.0), SphereTank(1.0), 1.5), "above the outer's 2 m; lower it"),
        (lambda: t.NestedTank(SphereTank(2.0), SphereTank(1.0), 0.0), ""),
        (lambda: t.NestedTank(SphereTank(2.0), SphereTank(1.8), 0.0), ""),
        (lambda: t.NestedTank(SphereTank(2.0), CylinderTank(1.0, 0.5, t.FLAT, t.FLAT)), "make it narrower"),
        (lambda: t.NestedTank(SphereTank(2.0), TorusTank(1.0, 0.1), 0.5), "the inner tank must be whole"),
        (lambda: t.NestedTank(t.ClusterTank(SphereTank(1.0), 3), SphereTank(0.1)), "cannot be nested"),
        (lambda: t.ClusterTank(SphereTank(1.0), 1), "on_ring must be a whole number of 2 or more"),
        (lambda: t.ClusterTank(SphereTank(1.0), 3, gap=-1.0), "gap must be 0 or more"),
        (lambda: t.ClusterTank(t.ClusterTank(SphereTank(1.0), 3), 3), "cannot be clustered again"),
        (lambda: SphereTank(1.0).level(1.0), "volume must lie between 0 and 0.523599 m³ of the tank"),
        (lambda: SphereTank(1.0).filled_to(1.2), "level must lie between 0 and 1 m of the tank, got 1.2"),
        (lambda: t.tank_volume(1.0, 1000.0, 0.95), "ullage must lie between 0 and 0.9"),
        (lambda: t.tank_volume(0.0, 1000.0), "mass must be above 0"),
        (lambda: t.cylinder_volume(1.0, 0.1, -0.2, 0.0), "so that the inward domes do not meet"),
        (lambda: t.cylinder_length(1.0, 4.0, 2.0, 2.0), "the domes alone hold more than 1.0 m³"),
        (lambda: t.dome_area(1.0, 0.0), "height must be above 0"),
        (lambda: t.torus_volume(1.0, 2.0), "tube_diameter must not exceed ring_diameter"),
        (lambda: t.torus_area(1.0, 2.0), "tube_diameter must not exceed ring_diameter"),
        (lambda: t.frustum_volume(1.0, 2.0, 0.0), "length must be above 0"),
        (lambda: t.frustum_area(1.0, -2.0, 1.0), "top_diameter must be above 0"),
        (lambda: t.sized(SphereTank(1.0), "length", 1.0), "this tank can be solved for diameter"),
        (lambda: t.sized(TorusTank(1.0, 0.5), "tube_diameter", 50.0), "no tube_diameter makes this tank"),
        (lambda: t.sized(CylinderTank(4.0, 1.0), "length", 1.0), "no length makes this tank hold 1.0 m³"),
        (lambda: t.stacked(), "a stack needs at least one tank"),
        (lambda: t.stacked(SphereTank(1.0), gap=-1.0), "gap must be 0 or more"),
    ],
)  # fmt: skip
def test_impossible_tanks_are_refused_with_the_reason(make, words):
    if not words:  # these are possible: the refusals beside them have another side
        assert make().volume > 0.0
        return
    with pytest.raises(ValueError, match=re.escape(words)):
        make()
