"""Walls: membrane stresses from equilibrium, buckling from the published knock-down."""

import math
import re

import pytest

from wetmass.physics import tanks, walls
from wetmass.physics.materials import CREWED, MATERIALS, UNCREWED, material


def test_cylinder_wall_balances_the_force_that_would_split_it():
    # cut along the axis: p·D·L pulls, 2·t·L·σ holds
    t = walls.cylinder_wall(1e6, 4.0, 3e8, 0.8)
    assert 2 * t * 3e8 * 0.8 == pytest.approx(1e6 * 4.0, rel=1e-14)


def test_hemisphere_needs_half_the_cylinders_wall():
    assert walls.dome_wall(1e6, 4.0, 2.0, 3e8) == pytest.approx(
        walls.cylinder_wall(1e6, 4.0, 3e8) / 2, rel=1e-14
    )


@pytest.mark.parametrize("k", [0.6, 1.0, 1.3, math.sqrt(2), 1.9, 2.5])
def test_dome_wall_is_the_greatest_stress_of_the_membrane_equations(k):
    # Second way: N_φ = p·r₂/2 and N_φ/r₁ + N_θ/r₂ = p with the curvatures of the ellipse, at 2000 points.
    radius, p, sigma = 2.0, 5e5, 3e8
    height = radius / k
    worst = 0.0
    for i in range(2001):
        phi = math.pi / 2 * i / 2000  # angle of the normal to the axis
        w = math.sqrt((radius * math.sin(phi)) ** 2 + (height * math.cos(phi)) ** 2)
        r2 = radius**2 / w
        r1 = radius**2 * height**2 / w**3
        n_phi = p * r2 / 2
        n_theta = r2 * (p - n_phi / r1)
        worst = max(worst, abs(n_phi), abs(n_theta))
    assert walls.dome_wall(p, 2 * radius, height, sigma) == pytest.approx(worst / sigma, rel=1e-6)


@pytest.mark.parametrize(("big", "small"), [(2.0, 0.5), (3.0, 1.0), (1.0, 0.9)])
def test_ring_wall_holds_the_ring_of_material_between_its_inside_and_its_crown(big, small):
    # Free body of the part between the inner equator and the crown, along the axis: the crown's pull has no
    # axial part, so N_φ·2π(R − r) at the inner equator carries p·π·(R² − (R − r)²).
    p, sigma = 4e5, 2e8
    n_phi = p * math.pi * (big**2 - (big - small) ** 2) / (2 * math.pi * (big - small))
    assert walls.torus_wall(p, 2 * big, 2 * small, sigma) == pytest.approx(n_phi / sigma, rel=1e-13)


def test_knock_down_has_the_published_form():
    # NASA SP-8007: γ = 1 − 0.901(1 − e^−φ), φ = √(r/t)/16.  At r/t = 400, φ = 1.25.
    assert walls.knock_down(2.0, 0.005) == pytest.approx(1 - 0.901 * (1 - math.exp(-1.25)), rel=1e-14)
    thin, thick = walls.knock_down(1.0, 1 / 1400), walls.knock_down(1.0, 1 / 100)
    assert 0.17 < thin < 0.19 < thick < 0.6


def test_both_sides_of_the_knock_downs_reach():
    walls.knock_down(1.5, 0.001)
    with pytest.raises(ValueError, match="radius over thickness must be at most 1500"):
        walls.knock_down(1.5001, 0.001)


def test_axial_wall_inverts_the_buckling_load_and_pressure_takes_load_off():
    e, nu = 73e9, 0.33
    t = walls.axial_wall(2e6, 1e6, 4.0, e, nu)
    assert walls.buckling_load(2.0, t, e, nu) == pytest.approx(2e6 + 2 * 1e6 / 2.0, rel=1e-12)
    eased = walls.axial_wall(2e6, 1e6, 4.0, e, nu, pressure=1e5)
    assert walls.buckling_load(2.0, eased, e, nu) == pytest.approx(3e6 - 1e5 * math.pi * 4.0, rel=1e-12)
    assert walls.axial_wall(2e6, 0.0, 4.0, e, nu, pressure=3e5) == 0.0


def test_a_very_light_load_still_gets_the_thinnest_wall_the_curve_knows():
    assert walls.axial_wall(10.0, 0.0, 3.0, 73e9, 0.33) == pytest.approx(1.5 / 1500)


def test_pressure_vessels_of_one_stress_have_a_mass_of_volume_times_pressure():
    # exact: a sphere holding p·V has wall mass 3/2·ρ/σ·p·V, a long cylinder 2·ρ/σ·p·V (open ends)
    stuff, p = material("Al 2219-T87"), 4e5
    strength = min(stuff.welded_ultimate / UNCREWED.ultimate, stuff.yielding / UNCREWED.yielding)
    sphere = tanks.SphereTank(3.0)
    assert walls.tank_walls(sphere, p, stuff).mass == pytest.approx(
        1.5 * stuff.density / strength * p * sphere.volume, rel=1e-12
    )
    cylinder = tanks.CylinderTank(3.0, 10.0)
    barrel = walls.tank_walls(cylinder, p, stuff).parts[1]
    assert barrel.mass == pytest.approx(
        2 * stuff.density / strength * p * math.pi / 4 * 9.0 * 10.0, rel=1e-12
    )


def test_walls_say_what_governs_and_what_is_left_out():
    stuff = material("Al-Li 2195-T8")
    tank = tanks.CylinderTank(3.7, 8.0, tanks.Dome(0.5), tanks.FLAT)
    thin = walls.tank_walls(tank, 2e4, stuff, factors=CREWED, least=0.001)
    assert {part.governed_by for part in thin.parts} == {"least thickness"}
    loaded = walls.tank_walls(tank, 2e5, stuff, load=3e6, moment=2e6)
    assert [part.governed_by for part in loaded.parts] == ["pressure", "axial load"]
    notes = "\n".join(loaded.notes)
    assert "licensed practice" in notes and "pressed inwards" in notes and "a flat end bends" in notes
    assert "from memory" in notes and "SP-8007" in notes
    assert walls.tank_walls(tank, 2e5, stuff, extra=0.2).mass == pytest.approx(
        1.2 * walls.tank_walls(tank, 2e5, stuff).mass
    )


@pytest.mark.parametrize(
    "tank",
    [
        tanks.SpheroidTank(3.0, 2.5),
        tanks.TorusTank(3.0, 1.0),
        tanks.FrustumTank(3.0, 2.0, 2.0, tanks.ROOT_TWO),
    ],
)
def test_other_shapes_have_walls_too(tank):
    made = walls.tank_walls(tank, 3e5, MATERIALS["Ti-6Al-4V annealed"])
    assert made.mass == pytest.approx(sum(part.mass for part in made.parts)) and made.mass > 0


def test_every_material_says_where_its_values_come_from():
    for row in MATERIALS.values():
        assert "from memory" in row.source and row.status == "from memory"
        assert row.yielding <= row.ultimate and 0.2 < row.poisson < 0.4


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: walls.cylinder_wall(0.0, 1.0, 1.0), "pressure must be above 0"),
        (lambda: walls.cylinder_wall(1.0, 1.0, 1.0, 1.2), "weld_efficiency must lie between 0.0 and 1.0"),
        (lambda: walls.dome_wall(1.0, 1.0, 0.0, 1.0), "height must be above 0"),
        (lambda: walls.dome_wall(1.0, 1.0, 1.0, 1.0, 1.1), "weld_efficiency must lie between"),
        (lambda: walls.torus_wall(1.0, 1.0, 1.0, 1.0), "ring_diameter must exceed tube_diameter (1.0 m)"),
        (lambda: walls.torus_wall(1.0, 2.0, 1.0, 1.0, 7.0), "weld_efficiency must lie between"),
        (lambda: walls.rim_is_pressed_inwards(1.0, 0.0), "height must be above 0"),
        (lambda: walls.buckling_load(1.0, 0.01, 7e10, 0.6), "poisson must lie between 0.0 and 0.5"),
        (lambda: walls.buckling_load(1.0, 0.01, 0.0, 0.3), "modulus must be above 0"),
        (lambda: walls.axial_wall(-1.0, 0.0, 1.0, 7e10, 0.3), "load must be 0 or more"),
        (lambda: walls.axial_wall(1e9, 0.0, 1.0, 7e10, 0.3), "stiffen it, widen it or pressurise it"),
        (
            lambda: walls.tank_walls(tanks.AnnularTank(2.0, 1.0, 1.0), 1e5, MATERIALS["D6AC steel"]),
            "AnnularTank",
        ),
        (
            lambda: walls.tank_walls(tanks.SphereTank(1.0), 0.0, MATERIALS["D6AC steel"]),
            "pressure must be above 0",
        ),
        (
            lambda: walls.tank_walls(
                tanks.SphereTank(1.0), 1e5, MATERIALS["D6AC steel"], weld_efficiency=0.0
            ),
            "weld_efficiency must lie above 0",
        ),
        (lambda: material("unobtainium"), "material: got 'unobtainium'; known near it"),
        (lambda: material("Al 2219"), "known near it: Al 2219-T87"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        call()
