"""What is found about tanks, engines under a stage, and dry masses beside their parts."""

import dataclasses
import math

import pytest

from builders import closed
from one_stage import concept, vehicle
from wetmass.findings import fluids, parts, tanks
from wetmass.findings.rules import RULES
from wetmass.physics.propellants import density
from wetmass.record.finding import Weight
from wetmass.record.say import said
from wetmass.vehicle.geometry import lay_out
from wetmass.vehicle.masses import stage_masses

LOX, FUEL = "holds: LOX, shape: cylinder, ullage: 3 %", "holds: LCH4, shape: cylinder, ullage: 3 %"
ROUND = "holds: LCH4, shape: sphere, ullage: 3 %"


def judged(rule, *listed, values=None, **stated):
    made = concept(*listed, **stated)
    built = vehicle(made, **(values or {}))
    result = dataclasses.replace(
        closed(), vehicle=built, geometry=lay_out(made, built), masses=stage_masses(made, built)
    )
    return list(rule(made, result))


def one(rule, *listed, **stated):
    found = judged(rule, *listed, **stated)
    assert len(found) == 1, found
    return found[0]


SOUND = (tanks.cannot_be, tanks.wider_than_stage, tanks.longer_than_stage, tanks.volumes_and_masses,
         tanks.stated_volumes, tanks.ullage, fluids.boil_off, tanks.engines_fit, tanks.engines_too_close,
         tanks.without_tank, tanks.slenderness, parts.engines_for_nothing, parts.beyond_reach,
         parts.growth, parts.fairing)  # fmt: skip


@pytest.mark.parametrize("rule", SOUND, ids=lambda rule: rule.__name__)
def test_a_sound_stage_gives_no_finding(rule):
    assert judged(rule, LOX, FUEL + ", shares bulkhead: yes", diameter="2.5 m", more="length: 14 m") == []


def test_every_rule_is_tried():
    listed = {*SOUND, tanks.walls, tanks.assumed, parts.beside_its_parts}
    assert listed <= set(RULES)


def test_volumes_and_masses_that_disagree_give_both_numbers():
    found = one(tanks.volumes_and_masses, "holds: LOX, shape: sphere, diameter: 3 m", ROUND)
    needed = 34e3 / density("LOX")
    assert found.weight is Weight.FAILS and found.part == "only"
    assert found.got == f"LOX tank of {said(math.pi / 6.0 * 27.0, 'm³')}"
    assert said(needed, "m³") in found.accepted and "34\xa0t" in found.accepted
    lacking = 34e3 - math.pi / 6.0 * 27.0 * density("LOX")
    assert said(lacking, "kg", 3) in found.remedy


def test_room_to_spare_is_worth_a_word_and_ullage_is_not_counted_as_spare():
    roomy = one(tanks.volumes_and_masses, "holds: LOX, shape: sphere, diameter: 4 m", ROUND)
    assert roomy.weight is Weight.NOTE and "stays empty" in roomy.remedy
    gas = 1.0 - 34e3 / density("LOX") / (math.pi / 6.0 * 64.0)
    full = f"holds: LOX, shape: sphere, diameter: 4 m, ullage: {100.0 * gas:.3f} %"
    assert judged(tanks.volumes_and_masses, full, ROUND) == []


def test_a_stated_volume_against_stated_sizes():
    sizes = "holds: LOX, shape: sphere, diameter: 4 m, volume: {} m³"
    assert judged(tanks.stated_volumes, sizes.format(33.5), ROUND) == []
    found = one(tanks.stated_volumes, sizes.format(36), ROUND)
    assert "36 m³ stated" in found.got and "33.51" in found.accepted and "7.4" in found.remedy


def test_a_tank_that_no_size_makes_hold_its_load():
    found = one(tanks.cannot_be, "holds: LOX, shape: torus, diameter: 3 m", ROUND)
    assert found.weight is Weight.FAILS
    assert "torus tank for 34\xa0t of LOX" in found.got
    assert "no tube diameter makes it hold 29.79" in found.accepted and "8.32" in found.accepted


def test_a_tank_wider_than_its_stage():
    assert judged(tanks.wider_than_stage, LOX + ", diameter: 3 m", FUEL) == []
    found = one(tanks.wider_than_stage, LOX + ", diameter: 3.3 m", FUEL)
    assert found.weight is Weight.FAILS
    assert "3.3\xa0m across" in found.got and "3\xa0m" in found.accepted and "10\xa0%" in found.remedy
    six = one(tanks.wider_than_stage, LOX + ", diameter: 1.2 m, count: 6", FUEL)
    assert "6 LOX tanks 3.6\xa0m across" in six.got  # three of them in a row


def test_tanks_longer_than_their_stage():
    found = one(tanks.longer_than_stage, LOX, FUEL, more="length: 8 m")
    assert found.weight is Weight.FAILS and "8\xa0m" in found.accepted and "It lacks" in found.remedy


def test_tanks_in_one_room_overlap_and_by_how_much():
    found = one(
        tanks.cannot_be, LOX + ", diameter: 2 m, stands at: 2 m", ROUND + ", stands at: 3 m", diameter="4 m"
    )
    assert found.rule == "tanks that overlap" and found.weight is Weight.FAILS
    assert "LOX tank from 2\xa0m" in found.got and "LCH4 tank from 3\xa0m" in found.got
    apart = (LOX + ", diameter: 2 m, stands at: 2 m", ROUND + ", stands at: 20 m")
    assert judged(tanks.cannot_be, *apart, diameter="4 m") == []


def test_a_ring_tank_too_tight_for_what_stands_in_it():
    core = "holds: LCH4, shape: cylinder, diameter: 1.4 m"
    tight = one(tanks.cannot_be, core, "holds: LOX, shape: torus, diameter: 5 m, beside: yes", diameter="5 m")
    # tube 2.01 m: a hole of 0.98 m round a core of 1.4 m, so they meet by half of the difference
    assert tight.rule == "tanks that overlap" and "meet by 0.209\xa0m" in tight.got.replace("0.2094", "0.209")
    wide = (core, "holds: LOX, shape: torus, diameter: 6 m, beside: yes")
    assert judged(tanks.cannot_be, *wide, diameter="6 m") == []


def test_a_tank_too_large_to_stand_in_another():
    found = one(tanks.cannot_be, LOX + ", diameter: 3 m", ROUND + ", inside: LOX", diameter="3 m")
    assert found.rule == "tank that does not fit into another" and "needs radius" in found.accepted


def test_no_ullage_and_too_much():
    found = one(tanks.ullage, "holds: LOX, shape: cylinder", FUEL)
    assert found.got == "LOX tank 0\xa0%" and "2 to 5" in found.remedy
    assert "grows with it" in one(tanks.ullage, LOX.replace("3 %", "30 %"), FUEL).remedy


def test_boil_off_is_told_with_what_was_taken_off():
    said_so = LOX + ", boil-off: 20 kg/day"
    told = one(fluids.boil_off, said_so, FUEL)
    assert told.weight is Weight.NOTE
    assert told.got == "LOX 20\xa0kg a day; nothing is taken off: it is topped up until it is lit"


def test_much_boil_off_is_a_doubt():
    made = concept(LOX + ", boil-off: 40 %/day", FUEL)
    built = vehicle(made)
    stage = built.stages[0]
    p = dataclasses.replace(stage.propellant, burns=stage.propellant.burns - 3e3, boil_off_in_orbit=3e3)
    built = dataclasses.replace(built, stages=(dataclasses.replace(stage, propellant=p),))
    result = dataclasses.replace(closed(), vehicle=built, geometry=lay_out(made, built))
    told = list(fluids.boil_off(made, result))
    assert [found.weight for found in told] == [Weight.DOUBT]
    assert "3\u2009000\xa0kg in orbit, 6.8\xa0% of the load" in told[0].got
    assert "Insulate better" in told[0].remedy


def test_engines_that_do_not_fit_and_how_many_would():
    # exits of 0.798 m: 7 take 2.394 m, and 3 m hold 9 (3.7 of them in a row): the packing table
    assert judged(tanks.engines_fit, LOX, FUEL, count="9") == []
    found = one(tanks.engines_fit, LOX, FUEL, count="12")
    assert found.weight is Weight.DOUBT and "12 × 0.798\xa0m take 3.2" in found.got
    assert "9 would fit" in found.remedy
    swung = one(
        tanks.engines_fit, LOX, FUEL, count="9", more="engine layout: {gimbal: 6 deg, pivot to exit: 1.4 m}"
    )
    assert "between them" in swung.got


def test_a_stated_ring_that_is_too_small():
    room = "engine layout: {way: ring, ring diameter: %s, gap: 10 cm}"
    # five on a ring need (0.798 + 0.1)/(2·sin 36°) = 0.764 m of radius
    assert judged(tanks.engines_too_close, LOX, FUEL, count="5", more=room % "1.53 m") == []
    found = one(tanks.engines_too_close, LOX, FUEL, count="5", more=room % "1.4 m")
    assert "0.1\xa0m" in found.accepted and "1.528\xa0m" in found.remedy


def test_a_propellant_that_no_tank_holds():
    found = one(tanks.without_tank, LOX)
    assert found.got == "no tank for LCH4" and found.weight is Weight.DOUBT


def test_very_slender_and_very_squat_vehicles():
    slim = one(tanks.slenderness, LOX, FUEL, diameter="1.5 m")
    assert slim.weight is Weight.DOUBT and "bends" in slim.remedy
    squat = one(tanks.slenderness, "holds: LOX, shape: sphere, ullage: 3 %", ROUND, diameter="9 m")
    assert squat.weight is Weight.NOTE and "squat" in squat.remedy


def test_walls_come_with_their_caution_and_what_was_taken_for_them():
    found = one(tanks.walls, LOX, FUEL)
    assert found.weight is Weight.CAUTION and "licensed practice" in found.remedy
    assert "LOX tank" in found.got and "mm of Al 2219-T87" in found.got
    assert "Al 2219-T87 (common practice)" in one(tanks.assumed, LOX, FUEL).got
    own = ", material: Al-Li 2195-T8, pressure: 4 bar"
    assert "Al-Li 2195-T8" in one(tanks.walls, LOX + own, FUEL + own).got
    assert "2219" not in one(tanks.assumed, LOX + own, FUEL + own).got


# ── masses ───────────────────────────────────────────────────────────────────────────────────────


def test_a_stated_dry_mass_stands_beside_its_parts_and_a_flown_stage():
    found = one(parts.beside_its_parts, LOX, FUEL)
    assert found.got.startswith("4\u2009000\xa0kg stated; by parts ") and "like Titan II stage 2" in found.got
    light = one(parts.beside_its_parts, LOX, FUEL, dry="dry mass: 1.2 t")
    assert light.weight is Weight.DOUBT and "Lighter than its parts" in light.remedy
    heavy = one(parts.beside_its_parts, LOX, FUEL, dry="dry mass: 9 t")
    assert heavy.weight is Weight.NOTE and "Heavier" in heavy.remedy
    by_parts = one(parts.beside_its_parts, LOX, FUEL, dry="dry mass: by parts")
    assert "by parts; like Titan" in by_parts.got and by_parts.accepted == ""


def test_an_open_engine_count_costs_nothing_where_the_dry_mass_is_stated():
    values = {"stages/only/engines/1/count": 3.0}
    (found,) = judged(parts.engines_for_nothing, LOX, FUEL, count="find", values=values)
    assert found.weight is Weight.DOUBT
    assert "engine count found with a dry mass of 4 t" in found.got and "one weighs about" in found.got
    assert "dry mass: by parts" in found.remedy
    grown = judged(
        parts.engines_for_nothing, LOX, FUEL, count="find", dry="dry mass: by parts", values=values
    )
    assert grown == []


def test_relations_beyond_their_reach_are_named():
    small = judged(parts.beyond_reach, LOX, FUEL, mass="600 kg", dry="dry mass: by parts", payload="20 kg")
    assert small and "lies outside" in small[0].got
    assert "parts: [{name: …, mass: …}]" in small[0].remedy


def test_growth_says_what_was_taken_and_how_near_such_sums_come():
    usual = one(parts.growth, LOX, FUEL, dry="dry mass: by parts")
    assert "State “maturity: preliminary”" in usual.remedy and "17 liquid stages" in usual.remedy
    assert "28%" in usual.source.replace(" ", "") and "https://" in usual.source
    ripe = one(parts.growth, LOX, FUEL, dry="dry mass: by parts", more="maturity: released")
    assert "State" not in ripe.remedy and "S-120A" in ripe.source


def test_a_ramjet_has_no_mass_relation():
    from types import SimpleNamespace

    made = concept(LOX, FUEL, dry="dry mass: by parts")
    built = vehicle(made)
    result = dataclasses.replace(closed(), vehicle=built, masses=stage_masses(made, built))
    ram = SimpleNamespace(name="only", engines=(SimpleNamespace(kind="ramjet"),), parts=())
    found = list(parts.beyond_reach(SimpleNamespace(stages=(ram,)), result))
    assert found[0].rule == "engines without a mass"


def test_a_fairing_far_from_its_relation():
    from builders import concept as dunlin_like
    from builders import vehicle as built

    for mass, weight in (("200 kg", Weight.DOUBT), ("4 t", Weight.NOTE)):
        made = dunlin_like(swap={"mass: 600 kg": f"mass: {mass}"})
        result = dataclasses.replace(closed(), geometry=lay_out(made, built()))
        (found,) = parts.fairing(made, result)
        assert found.weight is weight and "wall" in found.accepted


def test_nothing_is_said_of_a_result_without_geometry():
    made = concept(LOX, FUEL)
    bare = dataclasses.replace(closed(), geometry=None, masses=())
    for rule in (*SOUND, tanks.walls, tanks.assumed, parts.beside_its_parts):
        if rule not in (parts.engines_for_nothing, tanks.without_tank):
            assert list(rule(made, bare)) == []
