"""A hostile file gets one clear error, and soon; nothing but a Refusal ever leaves the reader."""

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from wetmass import concept
from wetmass.concept.tree import DEEPEST, LARGEST_FILE, MOST_VALUES
from wetmass.record.refusal import Refusal

DUNLIN = (Path(__file__).parents[2] / "examples" / "dunlin.yaml").read_text(encoding="utf-8")

LAUGHS = "a: &a [lol, lol]\nb: &b [*a, *a, *a]\nc: &c [*b, *b, *b]\n"

HOSTILE = {
    "aliases that explode": (LAUGHS, "anchors and aliases are not read"),
    "an anchor that holds itself": ("a: &a [*a]\n", "anchors and aliases are not read"),
    "an alias to nothing": ("a: *nothing\n", "anchors and aliases are not read"),
    "a tag that builds an object": ("name: !!python/object/apply:os.system [ls]\n", "tags are not read"),
    "a tag of its own": ("name: !dunlin {a: 1}\n", "tags are not read"),
    "a tag on a word": ("name: !!int 3\n", "tags are not read"),
    "a scalar of 10 MB": ("name: " + "x" * 10_000_000, f"{LARGEST_FILE // 1024} KiB at most"),
    "10 MB of blank lines": ("\n" * 10_000_000, f"{LARGEST_FILE // 1024} KiB at most"),
    "brackets without end": ("[" * 60_000, f"{DEEPEST} at most"),
    "braces without end": ("{" * 60_000, f"{DEEPEST} at most"),
    "blocks without end": ("".join(" " * depth + "a:\n" for depth in range(300)), f"{DEEPEST} at most"),
    "a list without end": ("a: [" + "1," * 30_000, f"{MOST_VALUES} at most"),
    "keys without end": ("".join(f"{i:x}:\n" for i in range(MOST_VALUES)), f"{MOST_VALUES} at most"),
    "a null byte": ("name: Dun\x00lin\n", "U+0000"),
    "an escape sequence": ("name: \x1b[31mDunlin\n", "U+001B"),
    "text turned round": ("name: \u202enilnuD\n", "U+202E"),
    "an invisible space": ("na\u200bme: Dunlin\n", "U+200B"),
    "a line break some do not see": ("name: Dunlin\u2028payload: find\n", "U+2028"),
    "not a number": (DUNLIN.replace("mass: 600 kg", "mass: .nan"), "a mass"),
    "infinity": (DUNLIN.replace("mass: 600 kg", "mass: .inf kg"), "a mass"),
    "a number past all numbers": (DUNLIN.replace("mass: 600 kg", "mass: 1e400 kg"), "a computer can hold"),
    "a number of many digits": (DUNLIN.replace("600 kg", "9" * 5000), "120 characters at most"),
    "a merge key": (DUNLIN + "<<: {name: other}\n", 'the key "<<"'),
    "an empty file": ("", "start with the smallest one"),
    "comments alone": ("# nothing\n", "start with the smallest one"),
    "a list": ("- name: Dunlin\n", "a block of keys"),
    "a word": ("Dunlin\n", "a block of keys"),
    "two documents": (DUNLIN + "---\nname: other\n", "one concept a file"),
    "an impossible version": ("%YAML 99999999999999999999.1\n---\na: 1\n", "a % or ! line"),
    "a tag directive": ("%TAG ! tag:example.com,2000:\n---\na: 1\n", None),
    "a key that is a list": ("[1, 2]: a\n", "a word before each colon"),
    "a key that is a block": ("{a: 1}: b\n", "a word before each colon"),
    "a key past all keys": ("? " + "k" * 5000 + "\n: 1\n", "the key"),
    "half a surrogate": ("name: \ud800\n", "U+D800"),
}  # fmt: skip


# what is read to its end, so that the blocks it lacks are told too
READ_ON = {"a tag directive", "a key that is a list", "a key that is a block", "a key past all keys"}


@pytest.mark.parametrize("what", HOSTILE)
def test_a_hostile_text_gets_one_clear_error(what):
    text, words = HOSTILE[what]
    with pytest.raises(Refusal) as refused:
        concept.loads(text, "hostile.yaml")
    if words is not None:
        assert any(words in str(one) for one in refused.value.complaints), str(refused.value)
    assert all(one.place is not None for one in refused.value.complaints)
    assert all(len(str(one)) < 2500 for one in refused.value.complaints)
    if what not in READ_ON:
        assert len(refused.value.complaints) == 1, str(refused.value)


def test_the_parser_is_not_asked_to_read_what_is_too_large(monkeypatch):
    import wetmass.concept.reading as reading

    def never(*_):
        raise AssertionError("parsed")

    monkeypatch.setattr(reading, "tree", never)
    with pytest.raises(Refusal, match="KiB at most"):
        concept.loads("x" * (LARGEST_FILE + 1))


def test_stages_and_claims_without_end_are_not_compared_with_one_another():
    text = DUNLIN.split("stages:")[0] + "stages:\n" + "".join(f"  - {{name: s{i}}}\n" for i in range(300))
    text += "claims:\n" + "".join(f"  - {{first burnout spee{i}: 3 km/s}}\n" for i in range(500))
    with pytest.raises(Refusal) as refused:
        concept.loads(text, "many.yaml")
    told = {one.field: one for one in refused.value.complaints}
    assert told["stages"].accepted == "12 at most"


def test_a_file_of_a_thousand_errors_tells_the_first_and_counts_the_rest():
    with pytest.raises(Refusal) as refused:
        concept.loads(DUNLIN + "".join(f"key{i}: 1\n" for i in range(1000)), "many.yaml")
    assert len(refused.value.complaints) == 41
    assert refused.value.complaints[-1].got == "960 more errors"


# ── files ────────────────────────────────────────────────────────────────────────────────────────


def refusal_of(path):
    with pytest.raises(Refusal) as refused:
        concept.load(path)
    assert len(refused.value.complaints) == 1
    return refused.value.complaints[0]


def test_a_missing_file_is_told_with_the_nearest_name(tmp_path):
    (tmp_path / "dunlin.yaml").write_text(DUNLIN, encoding="utf-8")
    one = refusal_of(tmp_path / "dunlim.yaml")
    assert one.got == "no such file"
    assert 'did you mean "dunlin.yaml"?' in one.remedy


def test_a_folder_a_large_file_and_a_broken_encoding_are_told(tmp_path):
    assert refusal_of(tmp_path).got == "a folder"
    large = tmp_path / "large.yaml"
    large.write_bytes(b"x" * 10_000_000)
    assert "KiB at most" in refusal_of(large).accepted
    latin = tmp_path / "latin.yaml"
    latin.write_bytes("name: Dunlin\nstory: Möwe\n".encode("latin-1"))
    one = refusal_of(latin)
    assert (one.place.line, one.place.column) == (2, 9)
    assert "0xf6" in one.got and "UTF-8" in one.remedy


def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.yaml")
    assert refusal_of(tmp_path / "pipe.yaml").got == "something that is not a plain file"


def test_a_name_no_file_can_have_is_told():
    assert "null byte" in refusal_of("dun\x00lin.yaml").got
    assert refusal_of("x" * 5000 + ".yaml").accepted == "a readable file"


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read every file")
def test_a_file_without_permission_is_told(tmp_path):
    closed = tmp_path / "closed.yaml"
    closed.write_text(DUNLIN, encoding="utf-8")
    closed.chmod(0)
    assert "permissions" in refusal_of(closed).remedy


# ── anything at all ──────────────────────────────────────────────────────────────────────────────

_WORDS = (
    *("name", "payload", "stages", "engines", "require", "most", "find", "3 t", "é"),
    *("- ", ": ", "{", "}", "[", "]", ",", "\n", "\n  ", "\n    ", "\t", "'", '"', "#"),
    *("&a", "*a", "!!str", "|", ">", "?", "%YAML", "---", "..."),
)
_words = st.sampled_from(_WORDS)


@given(st.text(max_size=200) | st.lists(_words, max_size=40).map("".join))
@settings(max_examples=400, deadline=None)
def test_no_text_raises_anything_but_a_refusal(text):
    with pytest.raises(Refusal):
        concept.loads(text)


@given(st.integers(0, len(DUNLIN)), st.integers(0, 30), st.text(max_size=8) | _words)
@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_damage_to_a_sound_file_raises_anything_but_a_refusal(at, cut, put):
    damaged = DUNLIN[:at] + put + DUNLIN[at + cut :]
    try:
        concept.loads(damaged)
    except Refusal as refusal:
        assert all(one.place is not None and one.got and one.remedy for one in refusal.complaints)
