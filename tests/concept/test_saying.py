"""docs/how-to-say-a-vehicle.md: every block of it is read as part of a whole concept."""

import re
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from wetmass.concept import loads

PAGE = Path(__file__).parents[2] / "docs" / "how-to-say-a-vehicle.md"
BLOCKS = re.findall(r"```yaml\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.S)
BASE = {
    "name": "Said",
    "site": {"latitude": "14 deg N", "longitude": "40 deg W"},
    "mission": {"perigee": "300 km", "apogee": "300 km"},
    "payload": "find",
}
FIRST = {
    "name": "first",
    "diameter": "4 m",
    "dry mass": "9 t",
    "propellant": {"pair": "LOX/LCH4", "mixture ratio": "3.4", "mass": "60 t"},
    "engines": [{"thrust": {"sea level": "900 kN"}, "isp": {"sea level": "309 s", "vacuum": "341 s"}}],
}
SECOND = {
    "name": "second",
    "diameter": "3 m",
    "dry mass": "2 t",
    "propellant": {"pair": "LOX/LCH4", "mixture ratio": "3.4", "mass": "12 t"},
    "engines": [{"thrust": {"vacuum": "90 kN"}, "isp": {"vacuum": "350 s"}}],
}


STRAPPED = {"diameter": "1 m", "dry mass": "1.4 t", "propellant": {"pair": "solid", "mass": "11.8 t"}}
OF_THE_WHOLE = ("site", "mission", "fairing", "also dropped", "limits", "performance reserve")


def whole(block):
    """The concept of which a block is a part.

    Keys of the whole, a stage of its own where strapped on, or keys of the first stage (the last, where nuclear).
    """
    said = YAML(typ="safe").load(block)
    if "stages" in said:
        return said
    made, stages = dict(BASE), [dict(FIRST), dict(SECOND)]
    for key in OF_THE_WHOLE:
        if key in said:
            made[key] = said.pop(key)
    if "C3" in made["mission"] or made["mission"].get("insertion") == "with coast":
        stages[1]["engines"] = [{**SECOND["engines"][0], "ignitions": "2"}]
    if "strapped to" in said:
        return {**made, "stages": [stages[0], {**STRAPPED, **said}, stages[1]]}
    stage = stages[1] if "nuclear" in block else stages[0]
    pair = said.pop("pair", None)
    if pair is not None:
        stage["propellant"] = {"pair": pair, "mass": "20 t"}
    stage.update(said)
    return {**made, "stages": stages}


@pytest.mark.parametrize("number", range(len(BLOCKS)))
def test_every_block_is_read_as_it_stands(number):
    import io

    out = io.StringIO()
    YAML().dump(whole(BLOCKS[number]), out)
    assert loads(out.getvalue()).stages


def test_there_are_blocks():
    assert len(BLOCKS) >= 12
