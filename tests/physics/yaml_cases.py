"""The worked examples for structures and engines, as kept in tests/data with their sources."""

from functools import cache
from pathlib import Path

from ruamel.yaml import YAML

FILE = Path(__file__).resolve().parents[1] / "data" / "worked_examples_structures.yaml"


@cache
def _cases() -> dict[str, dict]:
    return {case["id"]: case for case in YAML(typ="safe").load(FILE)["examples"]}


def inputs(identity: str) -> dict[str, float]:
    """Inputs of a case whose source was read; others may not be used as checks."""
    case = _cases()[identity]
    assert case["source_status"].startswith("read"), f"{identity} was not read: it cannot serve as a check"
    return {name: entry["value"] for name, entry in case["inputs"].items()}


def answers(identity: str) -> dict[str, float]:
    """Published answers of a case whose source was read."""
    inputs(identity)
    return {entry["quantity"]: entry["published"] for entry in _cases()[identity]["answers"]}
