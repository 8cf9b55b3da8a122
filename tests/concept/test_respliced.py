"""A value changed in the tree alone: the same tree as of the text read anew, on every value of every example."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wetmass.concept.document import document
from wetmass.concept.respliced import respliced

EXAMPLES = sorted(Path("examples").glob("*.yaml"))
WRITTEN = (
    "7.65 t ± 8 %",
    "-12.5 deg",
    "find",
    "x",
    "1 2  3",
    "at most 1.30",
    "LOX/LCH4",
    "no",
    "2.4 km/s (hand)",
)


def values(node, path=()):
    if node.kind == "text":
        yield path, node
    for key, value in node.entries:
        yield from values(value, (*path, key.text))
    for number, item in enumerate(node.items):
        yield from values(item, (*path, number))


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_every_value_of_an_example_is_changed_as_if_it_were_read_anew(file):
    doc = document(file.read_text(encoding="utf-8"), file.name)
    quick = 0
    for number, (path, node) in enumerate(values(doc.root)):
        written = WRITTEN[number % len(WRITTEN)]
        made = respliced(doc.root, node, doc.text, written)
        if made is not None:
            quick += 1
            assert (
                made == document(doc.text[: node.start] + written + doc.text[node.end :], file.name).root
            ), path
    assert quick > 30  # not a way that is never gone


TEXT = """a: 5 t   # why
b: {c: 3 s, d: find, e: "5 m", f: [1 kg, 2 kg], g: }
list: [{h: 1}, {i: 2,j: 3}, 4 ,5]
k:
  - 9 m ± 5 %
  -   l: 1 %
      m: |
        several
        lines
  - n
o: 'p'
"""


@settings(max_examples=300, deadline=None)
@given(st.text(alphabet="ab09 .,:#-±%·/()[]{}'\"&*!|>\t\n", min_size=1, max_size=8), st.integers(0, 99))
def test_any_text_is_changed_as_if_it_were_read_anew_or_left_to_that(written, which):
    doc = document(TEXT, "text")
    listed = list(values(doc.root))
    _, node = listed[which % len(listed)]
    made = respliced(doc.root, node, doc.text, written)
    if made is not None:
        assert made == document(TEXT[: node.start] + written + TEXT[node.end :], "text").root


def test_setting_a_value_goes_the_quick_way(monkeypatch):
    doc = document(TEXT, "text")
    monkeypatch.setattr("wetmass.concept.document.tree", None)  # nothing is read
    changed = doc.set("a", "6 t").set("b/d", "7.2 t ± 8 %").set("list/4", "8")
    assert (changed.get("a"), changed.get("b/d"), changed.get("k/1")) == ("6 t", "7.2 t ± 8 %", "9 m ± 5 %")
    assert "{c: 3 s, d: 7.2 t ± 8 %, e: " in changed.text
