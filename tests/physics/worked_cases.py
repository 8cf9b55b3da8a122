"""The worked examples for rockets, stages and orbits, as kept in tests/data with their sources."""

import math
from functools import cache
from pathlib import Path

import pytest
from ruamel.yaml import YAML

FILE = Path(__file__).resolve().parents[1] / "data" / "worked_examples.yaml"


@cache
def _cases():
    return {case["id"]: case for case in YAML(typ="safe").load(FILE)["examples"]}


def inputs(identity):
    """Inputs of a case, by name, in the units of the file."""
    case = _cases()[identity]
    assert case["source_status"].startswith("read"), f"{identity} was not read: it cannot serve as a check"
    return {name: entry["value"] for name, entry in case["inputs"].items()}


def published(identity, quantity, figures):
    """A published answer, held to one unit of its last printed figure.

    One unit and not half: the sources round their own intermediate results.
    """
    for answer in _cases()[identity]["answers"]:
        if answer["quantity"] == quantity:
            value = answer["published"]
            last = 10.0 ** (math.floor(math.log10(abs(value))) - figures + 1)
            return pytest.approx(value, rel=0.0, abs=last)
    raise KeyError(quantity)
