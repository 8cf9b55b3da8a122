"""Findings as they are read: whole sentences, whichever room made them."""

import re
from pathlib import Path

import pytest

import wetmass
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import sentence

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


def test_a_remedy_begins_with_a_capital_and_ends_with_a_stop():
    made = Finding("cannot hover", Weight.NOTE, "first", "1.2", "1", "a floor of 38 % would hover", "ours")
    assert made.remedy == "A floor of 38 % would hover."
    assert sentence(made.remedy) == made.remedy
    assert sentence("") == ""


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_finding_of_an_example_is_in_whole_sentences(path):
    closed = wetmass.fly(wetmass.load(path))
    told = [*closed.findings, *(one for way in closed.home.ways for one in way.findings)]
    assert told
    for one in told:
        assert re.match(r"[A-Z0-9“\"`−]", one.remedy), one
        assert re.search(r"[.!?]$", one.remedy), one
        for part in (one.rule, one.got, one.accepted, one.source):
            assert not part.endswith((".", ",", ";", ":")), (part, one)  # the page puts the stop behind it
        for part in (one.rule, one.got, one.accepted, one.remedy, one.source):
            words = part.replace("\u00a0", " ")
            assert not re.search(r"\.\.|  | [.,;:)]|\(\s|\bnan\b|\binf\b|None|\d\.\d{7}", words), (words, one)
            assert words.count("(") == words.count(")"), (words, one)
