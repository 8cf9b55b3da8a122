"""Tanks, layouts and dry masses that cannot be meant are refused where they stand, with what to do."""

import pytest

from one_stage import text
from wetmass.concept import loads
from wetmass.record.refusal import Refusal

LOX, FUEL = "holds: LOX, shape: cylinder", "holds: LCH4, shape: cylinder"
PLAIN = {"dry": "dry mass: 4 t"}

# name: (tanks, other statements, field, got, accepted, what to do)
WRONG = {
    "a size of another shape": (
        ("holds: LOX, shape: sphere, length: 4 m", FUEL), {}, "tanks / 1 / length", '"4 m"',
        "the sizes of a sphere: diameter", "check the shape",
    ),
    "domes on a sphere": (
        ("holds: LOX, shape: sphere, domes: flat", FUEL), {}, "tanks / 1 / domes", '"flat"',
        "only with a cylinder or a frustum", "delete this key",
    ),
    "domes and their height": (
        (LOX + ", domes: flat, dome height: 1 m", FUEL), {}, "tanks / 1 / dome height", '"1 m"',
        "domes or dome height", "delete one",
    ),
    "two sizes to be found": (
        (LOX + ", diameter: find, length: find", FUEL), {}, "tanks / 1 / length", '"find"',
        "one size to be found; diameter is open already", "give one",
    ),
    "a torus by three sizes": (
        ("holds: LOX, shape: torus, diameter: 4 m, tube diameter: 1 m, inner diameter: 2 m", FUEL), {},
        "tanks / 1 / inner diameter", '"2 m"', "they follow from each other", "delete one",
    ),
    "a torus whose tube cuts itself": (
        ("holds: LOX, shape: torus, diameter: 4 m, tube diameter: 3 m", FUEL), {}, "tanks / 1",
        "diameter 4 m, tube diameter 3 m", "the hole of a torus must lie between 0 m and its diameter", "change one",
    ),
    "a ring with a hole as wide": (
        ("holds: LOX, shape: ring, diameter: 2 m, inner diameter: 2 m, length: 3 m", FUEL), {}, "tanks / 1",
        "inner diameter 2 m", "inner diameter must be below outer diameter", "change one",
    ),
    "a ring without its hole": (
        ("holds: LOX, shape: ring, diameter: 2 m, length: find", FUEL), {}, "tanks / 1",
        "length find", "inner diameter is needed beside length", "change one",
    ),
    "a frustum without its top": (
        ("holds: LOX, shape: frustum, diameter: 2 m, length: find", FUEL), {}, "tanks / 1",
        "length find", "top diameter is needed beside length", "change one",
    ),
    "a tube whose hole follows already": (
        ("holds: LOX, shape: torus, tube diameter: 1 m, inner diameter: find", FUEL), {}, "tanks / 1",
        "tube diameter 1 m", "one follows from the other two", "change one",
    ),
    "a torus by its outer diameter alone": (
        ("holds: LOX, shape: torus, diameter: find", FUEL), {}, "tanks / 1", "diameter find",
        "tube diameter or inner diameter is needed", "change one",
    ),
    "a cylinder by its domes alone": (
        (LOX + ", dome height: find", FUEL), {}, "tanks / 1", "dome height find",
        "length is needed beside dome height", "change one",
    ),
    "inward domes that meet": (
        (LOX + ", length: 50 cm", FUEL + ", shares bulkhead: yes"), {}, "tanks / 1", "length 50 cm",
        "the inward domes do not meet", "change one",
    ),
    "more than nine parts gas": (
        (LOX + ", ullage: 95 %", FUEL), {}, "tanks / 1 / ullage", '"95 %"', "90 % at most", "check it",
    ),
    "colder than it freezes": (
        (LOX + ", at: 40 K", FUEL), {}, "tanks / 1 / at", '"40 K"', "temperature must lie between", "delete",
    ),
    "a heat leak without a latent heat": (
        (LOX, "holds: RP-1, shape: cylinder, boil-off: 100 W"), {"pair": "LOX/RP-1", "ratio": "2.5"},
        "tanks / 2 / boil-off", '"100 W"', "no latent heat is known", "such as 20 kg/day",
    ),
    "boil-off below nothing": (
        (LOX + ", boil-off: -3 kg/day", FUEL), {}, "tanks / 1 / boil-off", '"-3 kg/day"', "0 or more", "sign",
    ),
    "a bulkhead shared by a sphere": (
        (LOX, "holds: LCH4, shape: sphere, shares bulkhead: yes"), {}, "tanks / 2 / shares bulkhead", '"yes"',
        "only between cylinders", "delete this key",
    ),
    "a bulkhead shared with a sphere": (
        ("holds: LOX, shape: sphere", FUEL + ", shares bulkhead: yes"), {}, "tanks / 2 / shares bulkhead",
        '"yes"', "a cylinder of the same stated diameter and the same domes", "give both",
    ),
    "a bulkhead between two diameters": (
        (LOX + ", diameter: 2 m", FUEL + ", shares bulkhead: yes"), {}, "tanks / 2 / shares bulkhead",
        '"yes"', "the same stated diameter", "give both the same diameter",
    ),
    "a bulkhead shared with nothing": (
        (LOX + ", shares bulkhead: yes", FUEL), {}, "tanks / 1 / shares bulkhead", '"yes"',
        "a tank before it in the list", "sort the list",
    ),
    "a shared bulkhead beside": (
        (LOX, FUEL + ", shares bulkhead: yes, beside: yes"), {}, "tanks / 2 / shares bulkhead", '"yes"',
        "only with one tank that stands under the one before it", "delete one",
    ),
    "beside nothing": (
        (LOX + ", beside: yes", FUEL), {}, "tanks / 1 / beside", '"yes"', "a tank before it", "sort the list",
    ),
    "inside what is not there": (
        ("holds: LOX, shape: cylinder, count: 2", FUEL + ", inside: LOX"), {}, "tanks / 2 / inside", '"LOX"',
        "one tank of the list that holds LOX, by itself", "check the list",
    ),
    "several inside": (
        (LOX, FUEL + ", inside: LOX, count: 2"), {}, "tanks / 2 / inside", '"LOX"', "one tank that stands in",
        "delete one",
    ),
    "one of two in the middle": (
        (LOX + ", count: 2, centre: yes", FUEL), {}, "tanks / 1 / count", '"2"', "3 or more",
        "give the count",
    ),
    "several round the axis": (
        ("holds: LOX, shape: torus, count: 3", FUEL), {}, "tanks / 1 / count", '"3"', "goes round the axis",
        "an entry for each",
    ),
    "a load from tanks whose size is open": (
        (LOX, FUEL + ", length: 3 m"), {"mass": "from tanks"}, "tanks / 1", "no length",
        "every size, or a volume", 'add "length: 4.2 m"',
    ),
    "a load from tanks without one of them": (
        (LOX + ", length: 3 m",), {"mass": "from tanks"}, "propellant / mass", "without a tank for LCH4",
        "a tank for each of LOX, LCH4", "add it",
    ),
    "a load from something else": (
        (LOX, FUEL), {"mass": "from tank"}, "propellant / mass", '"from tank"', "or from tanks",
        'write "from tanks"',
    ),
    "a dry mass by part": (
        (LOX, FUEL), {"dry": "dry mass: by part"}, "dry mass", '"by part"', "or by parts", 'write "by parts"',
    ),
    "a dry mass like a stage we do not know": (
        (LOX, FUEL), {"dry": "dry mass: like Saturn V S-IVb2"}, "dry mass", '"like Saturn V S-IVb2"',
        "like Saturn V S-IC | Saturn V S-II", 'write "like Saturn V S-IVB"',
    ),
    "by parts beside a fraction": (
        (LOX, FUEL), {"dry": "dry mass: by parts\n    structural fraction: 8 %"}, "structural fraction",
        '"8 %"', "not both", "delete one",
    ),
    "maturity beside growth": (
        (LOX, FUEL), {"dry": "dry mass: by parts\n    maturity: layout\n    growth: 10 %"}, "growth",
        '"10 %"', "maturity or growth", "delete one",
    ),
    "a part twice": (
        (LOX, FUEL), {"more": "parts: [{name: legs, mass: 1 t}, {name: Legs, mass: 2 t}]"},
        "parts / 2 / name", '"Legs"', "each part once", "add them up",
    ),
    "parts above the whole": (
        (LOX, FUEL), {"more": "parts: [{name: legs, mass: 5 t}]"}, "parts", "5000 kg together",
        "no more than the dry mass, 4 t", "raise the dry mass",
    ),
    "a maturity we do not know": (
        (LOX, FUEL), {"more": "maturity: ripe"}, "maturity", '"ripe"', "estimated | layout | preliminary",
        "write",
    ),
}  # fmt: skip


@pytest.mark.parametrize(
    ("tanks", "said", "field", "got", "accepted", "remedy"), WRONG.values(), ids=WRONG.keys()
)
def test_each_is_refused_at_its_place(tanks, said, field, got, accepted, remedy):
    with pytest.raises(Refusal) as refused:
        loads(text(*tanks, **said), "sketch.yaml")
    told = {one.field: one for one in refused.value.complaints}
    one = told.get(f"stages / only / {field}")
    assert one is not None, list(told)
    assert got in one.got
    assert accepted in one.accepted
    assert remedy in one.remedy
    assert (one.place.file, one.place.line > 0) == ("sketch.yaml", True)


def test_what_is_refused_can_be_said_rightly():
    """The statements next to the wrong ones, on the good side of each bound."""
    for tanks, said in (
        (("holds: LOX, shape: torus, diameter: 4 m, tube diameter: 2 m", FUEL), {}),
        (("holds: LOX, shape: ring, diameter: 2 m, inner diameter: 1.9 m, length: 3 m", FUEL), {}),
        ((LOX + ", ullage: 90 %", FUEL), {}),
        ((LOX + ", at: 54.4 K", FUEL), {}),
        ((LOX + ", length: 3 m", FUEL + ", length: 3 m"), {"mass": "from tanks"}),
        ((LOX, FUEL), {"dry": "dry mass: By Parts", "more": "growth: 0 %"}),
        ((LOX, FUEL), {"dry": "dry mass: like saturn v s-ivb"}),
        ((LOX, FUEL), {"more": "parts: [{name: legs, mass: 4 t}]"}),
    ):
        loads(text(*tanks, **said), "sketch.yaml")
