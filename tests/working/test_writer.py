"""Our own working, written and read back: it must pass clean."""

from __future__ import annotations

import importlib
import pkgutil
import random

import pytest

import wetmass.physics
from wetmass.physics.pattern import RELATIONS
from wetmass.record.step import Step
from wetmass.record.working import Verdict
from wetmass.working import check, write

for _module in pkgutil.walk_packages(wetmass.physics.__path__, "wetmass.physics."):
    importlib.import_module(_module.name)


@pytest.mark.parametrize("name", sorted(RELATIONS))
def test_steps_of_every_relation_check_clean(name):
    relation = RELATIONS[name]
    rng = random.Random(name)  # the same values in every run
    made = 0
    for _ in range(12):
        values = {
            argument: (
                letter.low * (letter.high / letter.low) ** rng.random()
                if letter.low > 0
                else rng.uniform(letter.low, letter.high)
            )
            for argument, letter in relation.letters.items()
        }
        try:
            step = relation.step(**values)
        except ValueError:
            continue  # arguments that the relation itself refuses together
        made += 1
        page = check(write([step]), "own.md")
        assert page.lines
        for line in page.lines:
            # random values need not be those of a real vehicle, so published ranges may speak up
            assert line.verdict is not Verdict.UNCLEAR, (line.text, line.sentence)
            assert line.verdict is not Verdict.OFF or "outside what has been seen" in line.sentence, (
                line.text,
                line.sentence,
            )
    assert made or relation.letters


def test_parts_become_headings_and_sources_stand_beside_their_step():
    step = Step(
        "m", "dry mass", None, (), 9400.0, "kg", "stated", part="first stage", remark="From the script."
    )
    text = write([step], title="Dunlin")
    assert text.startswith("# Dunlin\n\n## First stage\n")
    assert "# dry mass — stated" in text
    assert "dry mass = 9400 kg" in text
    assert check(text, "own.md").lines[0].name == "dry mass"


@pytest.mark.parametrize("example", ["dunlin", "godwit", "sanderling", "turnstone"])
def test_the_working_of_every_example_checks_clean(example, tmp_path, monkeypatch):
    from pathlib import Path

    from typer.testing import CliRunner

    from wetmass.cli.commands import APP

    out = tmp_path / "own.md"
    source = Path(__file__).parents[2] / "examples" / f"{example}.yaml"
    made = CliRunner().invoke(APP, ["working", str(source), "--out", str(out)])
    assert made.exit_code == 0, made.output
    page = check(out.read_text(), "own.md")
    assert len(page.lines) > 50
    assert page.clean, [(line.text, line.sentence) for line in page.having(Verdict.OFF)]
