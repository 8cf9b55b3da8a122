"""Stated tanks and engines laid out: sizes, volumes and masses in every direction, and where things stand."""

import itertools
import math

import pytest
from scipy.integrate import quad

from one_stage import concept, stage, vehicle
from wetmass.concept.tank_shapes import within_circle
from wetmass.physics.propellants import density
from wetmass.vehicle.geometry import lay_out, load_from_tanks, no_trouble
from wetmass.vehicle.geometry.contents import entries
from wetmass.vehicle.geometry.outline import reach
from wetmass.vehicle.geometry.plan import side_by_side
from wetmass.vehicle.geometry.scaling import Growth

EXACT = 1e-9  # relative: what this room holds itself to against exact formulas
LOX = density("LOX")
LOAD_LOX, LOAD_FUEL = 34e3, 10e3  # kg, of 44 t at a mixture ratio of 3.4
V_LOX, V_FUEL = LOAD_LOX / LOX, LOAD_FUEL / density("LCH4")
FUEL = "holds: LCH4, shape: sphere"


def revolved(outline):
    """Volume of a half section turned round the axis, by Green's theorem on its exact pieces (straight)."""
    total = 0.0
    for (r1, z1), (r2, z2) in itertools.pairwise(outline):
        total += math.pi / 3.0 * (r1 * r1 + r1 * r2 + r2 * r2) * (z2 - z1)
    return total


# one tank for the oxidiser with one size left out, and the exact formula for that size
OPEN = {
    "cylinder by its length": (
        "holds: LOX, shape: cylinder, diameter: 2.5 m, domes: hemispherical", "length",
        lambda v: 4.0 * v / (math.pi * 2.5**2) - 2.0 / 3.0 * 2.5,
    ),
    "cylinder with flat ends": (
        "holds: LOX, shape: cylinder, diameter: 2.5 m, domes: flat", "length",
        lambda v: 4.0 * v / (math.pi * 2.5**2),
    ),
    "cylinder by its dome height": (
        "holds: LOX, shape: cylinder, diameter: 2.5 m, length: 4.2 m, dome height: find", "dome height",
        lambda v: (v - math.pi / 4.0 * 2.5**2 * 4.2) / (math.pi * 2.5**2 / 3.0),
    ),
    "sphere": ("holds: LOX, shape: sphere", "diameter", lambda v: (6.0 * v / math.pi) ** (1.0 / 3.0)),
    "ellipsoid by its height": (
        "holds: LOX, shape: ellipsoid, diameter: 3 m", "length", lambda v: 6.0 * v / (math.pi * 9.0)
    ),
    "ellipsoid by its diameter": (
        "holds: LOX, shape: ellipsoid, diameter: find, length: 5 m", "diameter",
        lambda v: math.sqrt(6.0 * v / (math.pi * 5.0)),
    ),
    "torus by its tube": (  # π²/4·(D − t)·t² = V, a cubic: its root in (0, D/2)
        "holds: LOX, shape: torus, diameter: 8 m", "tube diameter",
        lambda v: next(r for r in _cubic(8.0, 4.0 * v / math.pi**2) if 0.0 < r < 4.0),
    ),
    "torus by its ring": (
        "holds: LOX, shape: torus, diameter: find, tube diameter: 1.2 m", "diameter",
        lambda v: 4.0 * v / (math.pi**2 * 1.2**2) + 1.2,
    ),
    "frustum by its length": (
        "holds: LOX, shape: frustum, diameter: 3 m, top diameter: 2 m, domes: flat", "length",
        lambda v: 12.0 * v / (math.pi * (9.0 + 6.0 + 4.0)),
    ),
    "frustum by its top": (
        "holds: LOX, shape: frustum, diameter: 3 m, length: 6 m, top diameter: find, domes: flat",
        "top diameter",
        lambda v: (-3.0 + math.sqrt(9.0 - 4.0 * (9.0 - 12.0 * v / (6.0 * math.pi)))) / 2.0,
    ),
    "ring by its length": (
        "holds: LOX, shape: ring, diameter: 3 m, inner diameter: 1 m", "length",
        lambda v: 4.0 * v / (math.pi * (9.0 - 1.0)),
    ),
    "ring by its hole": (
        "holds: LOX, shape: ring, diameter: 3 m, length: 6 m", "inner diameter",
        lambda v: math.sqrt(9.0 - 4.0 * v / (math.pi * 6.0)),
    ),
}  # fmt: skip


def _cubic(outer, right):
    import numpy as np

    return [float(r.real) for r in np.roots([-1.0, outer, 0.0, -right]) if abs(r.imag) < 1e-9]


@pytest.mark.parametrize(("said", "name", "exact"), OPEN.values(), ids=OPEN.keys())
def test_a_size_left_out_is_the_one_the_exact_formula_gives(said, name, exact):
    laid = stage(said, FUEL, diameter="8 m")
    tank = laid.tanks[0]
    assert not laid.troubles
    assert tank.found == name
    assert tank.size(name) == pytest.approx(exact(V_LOX), rel=EXACT)
    assert tank.volume == pytest.approx(V_LOX, rel=EXACT)
    assert tank.volume == pytest.approx(tank.needed, rel=EXACT)
    assert tank.mass == pytest.approx(LOAD_LOX, rel=1e-12)


@pytest.mark.parametrize("said", [row[0] for row in OPEN.values()], ids=OPEN.keys())
def test_masses_to_sizes_and_back_is_the_load_we_began_with(said):
    """The size found, stated instead, gives the load back through `mass: from tanks`."""
    laid = stage(said, FUEL, diameter="8 m")
    found, fuel = laid.tanks
    keys = [part for part in said.split(", ") if not part.startswith((found.found, "diameter: find"))]
    again = ", ".join([*keys, f"{found.found}: {found.size(found.found)!r} m"])
    back = concept(
        again, f"holds: LCH4, shape: sphere, diameter: {fuel.size('diameter')!r} m", diameter="8 m",
        mass="from tanks",
    )  # fmt: skip
    assert load_from_tanks(back.stages[0]) == pytest.approx(44e3, rel=1e-9)
    assert vehicle(back).stages[0].propellant.load == pytest.approx(44e3, rel=1e-9)


@pytest.mark.parametrize("said", [row[0] for row in OPEN.values()], ids=OPEN.keys())
def test_volume_and_centre_are_those_of_integrating_the_outline(said):
    tank = stage(said, FUEL, diameter="8 m").tanks[0]
    made = concept(said, FUEL, diameter="8 m")
    entry = entries(made.stages[0])[0]
    inside, _ = entry.shape.holding(V_LOX)

    def section(z):
        low, high = reach(inside, z)
        return math.pi * (high * high - low * low)

    marks = sorted({p.foot for p in inside.inside.pieces} | {p.top for p in inside.inside.pieces})
    volume = moment = 0.0
    for a, b in itertools.pairwise(marks):
        mid, half = (a + b) / 2.0, (b - a) / 2.0  # squeezed to the ends: round walls end steeply
        for weigh in (0, 1):
            part, _ = quad(
                lambda s, mid=mid, half=half, weigh=weigh: section(mid + half * math.sin(s))
                * (mid + half * math.sin(s)) ** weigh * half * math.cos(s),
                -math.pi / 2, math.pi / 2, epsabs=1e-12, epsrel=1e-11, limit=200,
            )  # fmt: skip
            volume, moment = (volume + part, moment) if weigh == 0 else (volume, moment + part)
    assert volume == pytest.approx(tank.volume, rel=EXACT)
    assert tank.foot + moment / volume == pytest.approx(tank.centre, rel=EXACT)  # it is full: no ullage


@pytest.mark.parametrize("said", [row[0] for row in OPEN.values()], ids=OPEN.keys())
def test_the_drawn_outline_holds_the_volume_but_for_its_corners(said):
    tank = stage(said, FUEL, diameter="8 m").tanks[0]
    # a quarter circle in 24 chords lacks about (π/48)²/1.5 of its area: 0.3 % of the volume
    assert revolved(tank.outline) == pytest.approx(tank.volume, rel=4e-3)
    assert max(z for _, z in tank.outline) == pytest.approx(tank.height, rel=1e-12)
    assert 2.0 * max(r for r, _ in tank.outline) == pytest.approx(tank.across, rel=1e-12)


# ── contents ─────────────────────────────────────────────────────────────────────────────────────


def test_ullage_and_temperature_change_the_room_a_tank_needs():
    plain = stage("holds: LOX, shape: sphere", FUEL).tanks[0]
    cold = stage("holds: LOX, shape: sphere, at: 66 K, ullage: 5 %", FUEL).tanks[0]
    assert plain.volume == pytest.approx(V_LOX, rel=EXACT)
    assert cold.volume == pytest.approx(LOAD_LOX / density("LOX", 66.0) / 0.95, rel=EXACT)
    full = cold.mass / cold.density
    assert full / cold.volume == pytest.approx(0.95, rel=EXACT)
    assert cold.level < cold.height and plain.level == pytest.approx(plain.height, rel=1e-6)


def test_the_level_is_where_the_liquid_below_it_has_the_loads_volume():
    tank = stage("holds: LOX, shape: sphere, ullage: 20 %", FUEL).tanks[0]
    radius, h = tank.across / 2.0, tank.level
    assert math.pi * h * h * (radius - h / 3.0) == pytest.approx(LOAD_LOX / LOX, rel=EXACT)  # a cap
    assert tank.wetted_area == pytest.approx(2.0 * math.pi * radius * h, rel=EXACT)  # Archimedes
    assert tank.surface == pytest.approx(math.pi * (2.0 * radius * h - h * h), rel=EXACT)


def test_several_tanks_of_one_propellant_share_what_known_ones_leave():
    laid = stage(
        "holds: LOX, shape: cylinder, diameter: 2 m, length: 3 m, domes: flat", "holds: LOX, shape: sphere",
        "holds: LOX, shape: sphere, count: 2, beside: yes", FUEL, diameter="9 m",
    )  # fmt: skip
    known = math.pi / 4.0 * 4.0 * 3.0 * LOX
    assert laid.tanks[0].mass == pytest.approx(known, rel=EXACT)
    assert laid.tanks[1].mass == pytest.approx((LOAD_LOX - known) / 3.0, rel=EXACT)
    assert laid.tanks[2].mass == pytest.approx(2.0 * (LOAD_LOX - known) / 3.0, rel=EXACT)
    assert sum(t.mass for t in laid.tanks) == pytest.approx(44e3, rel=1e-12)


def test_a_load_from_tanks_is_set_by_the_tighter_propellant():
    lox = "holds: oxidiser, shape: sphere, diameter: 3 m"  # 14.137 m³
    made = concept(lox, "holds: fuel, shape: sphere, diameter: 2.2 m", mass="from tanks")
    fuel = math.pi / 6.0 * 2.2**3 * density("LCH4")
    assert load_from_tanks(made.stages[0]) == pytest.approx(
        min(math.pi / 6.0 * 27.0 * LOX * 4.4 / 3.4, fuel * 4.4)
    )
    lox, fuel = "holds: LOX, shape: sphere, volume: 20 m³", "holds: LCH4, shape: sphere, volume: 90 m³"
    by_volume = concept(lox, fuel, mass="from tanks")
    assert load_from_tanks(by_volume.stages[0]) == pytest.approx(20.0 * LOX * 4.4 / 3.4, rel=1e-12)


def test_boil_off_is_read_as_a_mass_a_share_or_a_heat_leak():
    def of(said):
        return stage(f"holds: LOX, shape: sphere, boil-off: {said}", FUEL).tanks[0].boil_off

    assert of("20 kg/day") == pytest.approx(20.0)
    assert of("0.5 %/day") == pytest.approx(0.005 * LOAD_LOX)
    # 213.1 kJ/kg at the boiling point: latent heat of oxygen, reference equation of state
    assert of("150 W") == pytest.approx(150.0 * 86_400.0 / 213.1e3, rel=1e-3)
    assert stage("holds: LOX, shape: sphere", FUEL).tanks[0].boil_off is None


# ── standing in the stage ────────────────────────────────────────────────────────────────────────


def test_two_cylinders_share_a_bulkhead_and_the_height_it_saves():
    tanks = ("holds: LOX, shape: cylinder", "holds: LCH4, shape: cylinder, shares bulkhead: true")
    shared = stage(*tanks)
    apart = stage(tanks[0], "holds: LCH4, shape: cylinder")
    dome = 1.5 / math.sqrt(2.0)
    upper, lower = shared.tanks
    assert lower.top - upper.foot == pytest.approx(dome, rel=EXACT)  # the bulkhead, counted once
    # both hold their liquid: the volumes of the whole stack add up
    whole = (
        math.pi * 9.0 / 4.0 * (shared.length - shared.engine_length - 2.0 * dome) + math.pi * 9.0 / 3.0 * dome
    )
    assert upper.volume + lower.volume == pytest.approx(whole, rel=EXACT)
    # apart, a dome stands on a dome: a third of each is lost round them, and 0.1 m is kept between
    assert apart.length - shared.length == pytest.approx(2.0 / 3.0 * dome + 0.1, rel=EXACT)


def test_a_tank_inside_another_leaves_its_room_to_it_and_stands_half_way_up():
    laid = stage("holds: LOX, shape: cylinder", "holds: LCH4, shape: sphere, inside: LOX", diameter="4.2 m")
    outer, inner = laid.tanks
    assert not laid.troubles
    square = 4.2**2
    whole = math.pi * square / 4.0 * outer.size("length") + math.pi * square / 3.0 * 2.1 / math.sqrt(2.0)
    assert whole == pytest.approx(outer.volume + inner.volume, rel=EXACT)
    assert outer.volume == pytest.approx(V_LOX, rel=EXACT)
    assert inner.foot - outer.foot == pytest.approx((outer.height - inner.height) / 2.0, rel=EXACT)
    assert inner.inside == "LOX"


def test_tanks_side_by_side_fill_the_stages_circle_where_no_diameter_is_said():
    laid = stage("holds: LOX, shape: cylinder, count: 6", "holds: LCH4, shape: cylinder", diameter="5 m")
    six = laid.tanks[0]
    assert six.envelope == pytest.approx(5.0, rel=EXACT)
    assert six.across == pytest.approx(5.0 / 3.0, rel=EXACT)  # six round a seventh place: a third
    assert six.volume == pytest.approx(V_LOX, rel=EXACT)
    pairs = [math.dist(a, b) for a, b in itertools.combinations(six.positions, 2)]
    assert min(pairs) == pytest.approx(six.across, rel=EXACT)


@pytest.mark.parametrize(
    ("count", "centre", "gap"), [(2, False, 0.0), (3, False, 0.1), (7, True, 0.05), (9, True, 0.0)]
)
def test_the_greatest_tanks_side_by_side_just_touch_the_circle(count, centre, gap):
    across = within_circle(count, centre, gap, 4.0)
    placed = side_by_side([across / 2.0], [count], [centre], gap).positions[0]
    assert 2.0 * max(math.hypot(*p) for p in placed) + across == pytest.approx(4.0, rel=EXACT)
    assert min(math.dist(a, b) for a, b in itertools.combinations(placed, 2)) >= across + gap - 1e-9


def test_unlike_tanks_on_one_ring_touch_their_neighbours_and_no_other():
    radii, counts = (0.9, 0.5), (4, 2)
    standing = side_by_side(radii, counts, (False, False), 0.05)
    placed = [(p, r) for points, r in zip(standing.positions, radii, strict=True) for p in points]
    gaps = [math.dist(a, b) - r - s for (a, r), (b, s) in itertools.combinations(placed, 2)]
    assert sum(gap == pytest.approx(0.05, abs=1e-9) for gap in gaps) == 6  # each with its two neighbours
    assert min(gaps) == pytest.approx(0.05, abs=1e-9)
    # the two small ones stand opposite: the load is even about the axis
    (x1, y1), (x2, y2) = standing.positions[1]
    assert (x1 + x2, y1 + y2) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_a_ring_tank_goes_round_what_stands_at_its_height():
    laid = stage("holds: LCH4, shape: cylinder, diameter: 1.4 m",
                 "holds: LOX, shape: torus, diameter: 6 m, beside: yes", diameter="6 m")  # fmt: skip
    core, ring = laid.tanks
    assert ring.foot == core.foot and ring.hole >= core.across
    assert not laid.troubles
    assert ring.volume == pytest.approx(math.pi**2 / 4.0 * (6.0 - ring.size("tube diameter"))
                                        * ring.size("tube diameter") ** 2, rel=EXACT)  # fmt: skip


def test_stages_stand_on_one_another_with_the_fairing_on_top():
    from builders import dunlin
    from builders import vehicle as built

    laid = lay_out(dunlin(), built())
    first, second = laid.stages
    assert second.foot == first.top
    assert laid.fairing.foot == second.top
    assert laid.height == pytest.approx(first.length + second.length + 8.0)
    assert laid.width == 3.1
    # half an ellipsoid 1.2 diameters high on a cylinder of 3.1 m, both exact
    nose, radius = 1.2 * 3.1, 1.55
    e = math.sqrt(1.0 - radius**2 / nose**2)
    dome = math.pi * radius**2 + math.pi * radius * nose / e * math.asin(e)
    assert laid.fairing.area == pytest.approx(math.pi * 3.1 * (8.0 - nose) + dome, rel=EXACT)
    assert no_trouble(laid)


# ── engines in plan view ─────────────────────────────────────────────────────────────────────────

EXIT = math.sqrt(4.0 * 0.5 / math.pi)  # m, of 0.5 m²
TANKS = ("holds: LOX, shape: cylinder", "holds: LCH4, shape: cylinder")


def engines(count, layout=""):
    more = f"engine layout: {{{layout}}}" if layout else ""
    return stage(*TANKS, count=str(count), more=more, diameter="6 m").engines[0]


def test_seven_exits_take_three_diameters():
    assert engines(7).across == pytest.approx(3.0 * EXIT, rel=EXACT)
    assert engines(7, "way: centre and ring").across == pytest.approx(3.0 * EXIT, rel=EXACT)
    ring = engines(7, "way: ring")
    assert ring.ring_radius == pytest.approx(EXIT / (2.0 * math.sin(math.pi / 7.0)), rel=EXACT)


def test_engines_that_swing_stand_apart_by_twice_the_swing():
    plan = engines(5, "way: ring, gimbal: 5 deg, pivot to exit: 1.5 m, gap: 2 cm")
    room = 0.02 + 2.0 * 1.5 * math.tan(math.radians(5.0))
    assert plan.clearance == pytest.approx(room, rel=EXACT)
    nearest = min(math.dist(a, b) for a, b in itertools.combinations(plan.positions, 2))
    assert nearest == pytest.approx(EXIT + room, rel=EXACT)


def test_how_many_more_would_fit_comes_from_the_table_of_packings():
    assert engines(7).most_that_fit is None  # more than the 20 of the table would fit into 6 m
    narrow = stage(*TANKS, count="7", diameter="2.5 m").engines[0]
    # 7 need 3·0.798 m = 2.39 m, 8 need (1 + 1/sin(π/7))·0.798 m = 2.64 m
    assert narrow.most_that_fit == 7


def test_many_engines_stand_on_rings_within_rings():
    plan = engines(33)
    assert plan.way == "rings" and len(plan.positions) == 33
    pairs = itertools.combinations(plan.positions, 2)
    assert min(math.dist(a, b) for a, b in pairs) >= EXIT * (1.0 - 1e-9)


# ── in microseconds, for the closing loop ────────────────────────────────────────────────────────

FAST = {
    **{name: (row[0], FUEL) for name, row in OPEN.items()},
    "shared bulkhead": ("holds: LOX, shape: cylinder, diameter: 8 m, domes: flat",
                        "holds: LCH4, shape: cylinder, diameter: 8 m, domes: flat, shares bulkhead: yes"),
    "inside": ("holds: LOX, shape: cylinder, diameter: 4 m", "holds: LCH4, shape: sphere, inside: LOX"),
    "six and one": ("holds: LOX, shape: cylinder, diameter: 1.2 m, count: 6, ullage: 4 %", FUEL),
    "beside": ("holds: LCH4, shape: cylinder, diameter: 1.4 m",
               "holds: LOX, shape: torus, diameter: 6 m, beside: yes"),
    "a cylinder that grows wider": ("holds: LOX, shape: cylinder, diameter: find, length: 3 m", FUEL),
    "stood elsewhere": ("holds: LOX, shape: sphere, stands at: 7 m", FUEL),
}  # fmt: skip


@pytest.mark.parametrize("tanks", FAST.values(), ids=FAST.keys())
def test_sizes_in_the_closing_loop_are_those_laid_out(tanks):
    laid = stage(*tanks, diameter="8 m")
    made = concept(*tanks, diameter="8 m")
    fast = Growth(made.stages[0]).at(44e3, laid.engine_length)
    assert not laid.troubles
    # closed forms where there are, else polynomials of degree 16 over pieces of a factor of seven in volume
    for tank, volume, mass in zip(laid.tanks, fast.volumes, fast.masses, strict=True):
        assert volume == pytest.approx(tank.volume, rel=EXACT)
        assert mass == pytest.approx(tank.mass, rel=EXACT)
    assert fast.length == pytest.approx(laid.length, rel=1e-6)
    assert fast.skirts == pytest.approx(laid.skirts, rel=1e-5)
    for number, tank in enumerate(laid.tanks):
        has_one_inside = any(other.inside == tank.holds for other in laid.tanks)
        if not has_one_inside:  # the wall of that one is wetted from outside, and counts there too
            assert fast.areas[number] == pytest.approx(tank.wall_area, rel=1e-6)


def test_a_half_section_of_a_shared_bulkhead_bulges_into_the_upper_tank():
    laid = stage("holds: LOX, shape: cylinder", "holds: LCH4, shape: cylinder, shares bulkhead: true")
    upper = laid.tanks[0].outline
    assert upper[0] == (
        0.0,
        pytest.approx(1.5 / math.sqrt(2.0)),
    )  # its lowest point on the axis is the dome's top
    assert min(z for _, z in upper) == 0.0


def test_without_tanks_a_load_too_small_for_cylinders_gets_round_ones():
    made = concept(diameter="8 m", mass="20 t")
    laid = lay_out(made, vehicle(made))
    tanks = laid.stages[0].tanks
    assert not laid.stages[0].troubles
    assert [tank.shape for tank in tanks] == ["sphere", "sphere"]
    assert all(tank.volume == pytest.approx(tank.needed, rel=1e-9) for tank in tanks)
    assert any("2 round tanks" in line for line in laid.assumed)
    wide = concept(diameter="2 m", mass="20 t")
    assert [tank.shape for tank in lay_out(wide, vehicle(wide)).stages[0].tanks] == ["cylinder", "cylinder"]


def test_a_motor_case_gets_no_wall_of_a_tank():
    made = concept(pair="solid", ratio="", diameter="2 m", mass="20 t")
    assert lay_out(made, vehicle(made)).stages[0].tanks[0].walls is None
    said = concept(
        "holds: solid, shape: cylinder, pressure: 60 bar", pair="solid", ratio="", diameter="2 m", mass="20 t"
    )
    assert lay_out(said, vehicle(said)).stages[0].tanks[0].walls.pressure > 6e6
