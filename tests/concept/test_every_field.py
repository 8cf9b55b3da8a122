"""Every key of every block, given what is wrong for it: one clear error at its place, never a traceback.

The schema is walked, not listed: a key that is added is tried without a line here.  What is put in is put
into the tree that was read, so that a file is parsed once and a thousand wrong ones cost a few seconds.
"""

import itertools
import re
from pathlib import Path

import pytest

from wetmass.concept import reading
from wetmass.concept.document import Document
from wetmass.concept.fields import Line, StageName
from wetmass.concept.model import Concept
from wetmass.concept.reference import SMALLEST, _below, blocks, example_of, reader_of
from wetmass.concept.tree import Node, tree
from wetmass.record.refusal import Refusal

ROOT = Path(__file__).parents[2]
FILES = [
    *sorted((ROOT / "tests" / "data" / "every_key").glob("*.yaml")),
    *sorted((ROOT / "examples").glob("*.yaml")),
]
HOSTS = {"smallest": SMALLEST, **{path.name: path.read_text(encoding="utf-8") for path in FILES}}
KEYS = {block: {str(field.alias): field for field in block.model_fields.values()} for block in blocks()}

WRONG = (
    "wrong", "12 parsecs", "-5", "0", "7", "1e20", "1e400", "nan", ".inf", "é", "3 t 5 kg", "12 m 40 cm",
    "2026-11-25", "find from 5 to 3", "1 to 2 to 3", "± 5 %", "1 ± 2 ± 3", "~", "true", "x" * 3000, "1,5 m",
    "١٢ t", "１２ m", "-5 t", "1e20 kg", "-3 m", "1e12 m", "-5 s", "1e9 s", "-50 %", "500 %", "5 m/s",
    "1000 deg", "find at least 3", "like nothing", "by part", "from tank", "9 at 5 s", "3e7 kN", "[1", "FIRST",
)  # fmt: skip
EACH = 6  # of those for each key, another six for the next

PYTHON = re.compile(r"Value error|Input should|Traceback|\bNone\b|<class|object at|[a-z]_[a-z]|\d\.\d{9}")
VERBS = re.compile(
    "(add|begin|build|change|check|choose|close|correct|delete|drop|give|go|keep|leave|loosen|lower|make|name|open|put"
    "|raise|rename|retype|say|shorten|sort|stay|swap|take|turn|write) "
)


def said(text, like):
    """A scalar at the place of another node."""
    return Node("text", like.start, like.start + len(text), like.line, like.column, text)


def listed(items, like):
    return Node("list", like.start, like.end, like.line, like.column, flow=True, items=items)


def block(like, **values):
    made = Node("block", like.start, like.end, like.line, like.column, flow=True)
    for key, value in values.items():
        made.entries.append((said(key, like), said(value, like)))
        made.keys[key] = made.entries[-1]
    return made


def blocks_in(node, model):
    """(node, model) of a block and of all within it."""
    yield node, model
    for key, value in node.entries:
        field = KEYS[model].get(key.text)
        below = next(_below(field.annotation), None) if field is not None else None
        for one in () if below is None else (value, *value.items):
            if one.kind == "block":
                yield from blocks_in(one, below)


class Trial:
    """A sound file, in which one key at a time is spoilt."""

    def __init__(self, name):
        root, _ = tree(HOSTS[name], name)
        self.document, self.root = Document(HOSTS[name], name, root), root
        reading.concept_of(self.document)

    def complaints(self):
        """What is said of it as it stands; [] where it is accepted.  Anything but a refusal is a defect."""
        try:
            reading.concept_of(self.document)
        except Refusal as refusal:
            return list(refusal.complaints)
        return []

    def with_value(self, node, key, value):
        """The complaints where `key` of a block holds another value."""
        old = node.keys.get(key)
        name = old[0] if old else said(key, node)
        at = node.entries.index(old) if old else len(node.entries)
        node.entries[at : at + 1] = [(name, value)]
        node.keys[key] = (name, value)
        found = self.complaints()
        node.entries[at : at + 1] = [old] if old else []
        node.keys.pop(key)
        if old:
            node.keys[key] = old
        return found

    def without(self, node, key, mistyped=None):
        """The complaints where `key` of a block is missing, or mistyped."""
        old = node.keys.pop(key)
        at = node.entries.index(old)
        node.entries[at : at + 1] = [(said(mistyped, old[0]), old[1])] if mistyped else []
        if mistyped:
            node.keys[mistyped] = node.entries[at]
        found = self.complaints()
        node.entries[at : at + (1 if mistyped else 0)] = [old]
        node.keys.pop(mistyped or "", None)
        node.keys[key] = old
        return found


def every_key():
    """(trial, node, model, key): each key of each block once, where it is stated if a file states it."""
    trials = [Trial(name) for name in HOSTS]
    places = {}
    for trial, stated in itertools.product(trials, (True, False)):
        for node, model in blocks_in(trial.root, Concept):
            for key in KEYS[model]:
                if (key in node.keys) is stated:
                    known = places.get((model, key))
                    if known is None or (stated and key not in known[1].keys):
                        places[model, key] = (trial, node)
    return [(trial, node, model, key) for (model, key), (trial, node) in places.items()]


PLACES = every_key()


def well_said(one, name):
    """Assert that a complaint has its five parts, in the words of people."""
    words = str(one)
    lines = HOSTS[name].splitlines()
    assert one.place is not None and one.place.file == name, words
    assert 1 <= one.place.line <= len(lines), words
    assert 1 <= one.place.column <= len(lines[one.place.line - 1]) + 1, words
    for part in (one.field, one.got, one.accepted, one.remedy):
        assert part.strip(), words
    assert not PYTHON.search(words), words
    assert VERBS.match(one.remedy), f"no advice on what to do: {words}"
    assert len(words) < 1500, words


def test_every_key_of_every_block_is_tried_where_a_file_states_it():
    assert {(model, key) for _, _, model, key in PLACES} == {(m, k) for m, keys in KEYS.items() for k in keys}
    never = [f"{model.__name__} / {key}" for _, node, model, key in PLACES if key not in node.keys]
    assert not never, f"state it in a file of tests/data/every_key: {never}"


@pytest.mark.parametrize("block_name", [model.__name__ for model in KEYS])
def test_a_wrong_value_gets_a_clear_error_at_its_key(block_name):
    values = itertools.cycle(WRONG)
    for trial, node, model, key in PLACES:
        reader = reader_of(KEYS[model][key].annotation, KEYS[model][key].metadata)
        if model.__name__ != block_name:
            for _ in range(EACH):
                next(values)
            continue
        at = node.keys[key][1]
        text = isinstance(reader, Line)
        for wrong in (*itertools.islice(values, EACH), "", listed([said("x", at)], at), block(at, x="y")):
            value = said(wrong, at) if isinstance(wrong, str) else wrong
            found = trial.with_value(node, key, value)
            for one in found:
                well_said(one, trial.document.name)
            garbage = wrong in ("wrong", "~", "nan", ".inf", "12 parsecs", "") or not isinstance(wrong, str)
            if garbage and not (text and isinstance(wrong, str)):
                assert any(f"/ {key}" in f"/ {one.field}" for one in found), (block_name, key, wrong, found)
            if not isinstance(reader, (Line, StageName)) and wrong in ("wrong", "12 parsecs", "nan"):
                assert sum(one.got.startswith(f'"{wrong}"') for one in found) == 1, [
                    str(one) for one in found
                ]


def test_a_missing_or_mistyped_key_is_told_with_the_one_that_is_meant():
    for trial, node, _, key in PLACES:
        for one in trial.without(node, key):
            well_said(one, trial.document.name)
        if len(key) < 3:
            continue
        found = trial.without(node, key, mistyped=key[:-1])
        for one in found:
            well_said(one, trial.document.name)
        told = [one for one in found if one.got == f'the key "{key[:-1]}"']
        assert [one.remedy for one in told] == [f'write "{key}", if that is meant'], [
            str(one) for one in found
        ]


def test_what_the_page_gives_as_an_example_of_a_key_is_read_there():
    """It may not go with its neighbours; by itself it is never refused as a wrong value."""
    for trial, node, model, key in PLACES:
        example = tree(example_of(KEYS[model][key]), "example")[0]
        for one in trial.with_value(node, key, example):
            well_said(one, trial.document.name)
            assert "number" not in one.accepted or key in ("count", "ignitions"), str(one)


def test_lists_may_be_short_or_say_a_thing_twice_and_are_never_a_traceback():
    for trial, node, _, key in PLACES:
        value = node.keys[key][1]
        if value.kind != "list":
            continue
        for items in ([], value.items[:1], value.items[1:], [*value.items, value.items[-1]]):
            for one in trial.with_value(node, key, listed(items, value)):
                well_said(one, trial.document.name)


def test_the_smallest_block_a_message_proposes_is_whole():
    """What is proposed for a list is a stage, a place, an engine that is accepted as it stands."""
    head = SMALLEST[: SMALLEST.index("stages:")]
    (stages,) = [example_of(field) for key, field in KEYS[Concept].items() if key == "stages"]
    (places,) = [example_of(field) for key, field in KEYS[Concept].items() if key == "places"]
    reading.loads(f"{head}stages: {stages}\nplaces: {places}\n")


def test_a_temperature_nobody_knows_is_told_where_the_chamber_needs_it():
    """The mixture ratio by volume asks for the density before the tank's own check is told."""
    trial = Trial("climb.yaml")
    (tank,) = [
        node for node, _ in blocks_in(trial.root, Concept) if "at" in node.keys and "holds" in node.keys
    ]
    (one,) = trial.with_value(tank, "at", said("320 K", tank))
    well_said(one, "climb.yaml")
    assert one.field == "stages / first / tanks / 2 / at"


def test_a_key_that_does_not_belong_there_is_told_once_whatever_its_value():
    trial = Trial("ellipse.yaml")
    (home,) = [node for node, model in blocks_in(trial.root, Concept) if model.__name__ == "Home"]
    (one,) = trial.with_value(home, "parachutes", listed([block(home, x="y")], home))
    assert one.accepted == "only with by: parachutes"


def test_a_key_in_the_wrong_block_is_told_where_it_belongs():
    trial = Trial("smallest")
    (stage, *_) = [node for node, model in blocks_in(trial.root, Concept) if model.__name__ == "Stage"]
    (one,) = trial.with_value(stage, "isp", said("300 s", stage))
    assert one.remedy == "move it to engines, where such a key belongs"
    (one,) = trial.with_value(stage, "perigee", said("300 km", stage))
    assert one.remedy.startswith("check the key")  # it is no key of a block within or around this one
    (group, *_) = [node for node, model in blocks_in(trial.root, Concept) if model.__name__ == "EngineGroup"]
    (one,) = trial.with_value(group, "diameter", said("3 m", group))
    assert one.remedy == 'write "exit diameter", if that is meant' or one.remedy.startswith(
        "move it to the stage"
    )


def test_a_block_said_in_one_word_is_begun_with_that_word():
    trial = Trial("smallest")
    (stage, *_) = [node for node, model in blocks_in(trial.root, Concept) if model.__name__ == "Stage"]
    (one,) = trial.with_value(stage, "propellant", said("LOX/RP-1", stage))
    assert one.remedy.startswith("write it as {pair: LOX/RP-1, mixture ratio: ")
    (one,) = trial.with_value(trial.root, "mission", said("Mars", trial.root))
    assert one.remedy.startswith("write it as {to: Mars}")
    (one,) = trial.with_value(trial.root, "site", said("Skerry", trial.root))
    assert one.remedy.startswith("write it as {latitude: 14.2 deg N, ")


def test_a_latitude_without_degrees_is_not_read_as_newtons():
    trial = Trial("smallest")
    (_, site) = trial.root.get("site")
    (one,) = trial.with_value(site, "latitude", said("14 N", site))
    assert (one.got, one.remedy) == ('"14 N"', 'write "14 deg N"')
