"""Messages of a page: limits on size, rate and form, each refusal in words."""

import asyncio
import json

import pytest

from wetmass.app import asking
from wetmass.app.deeds import DEEDS
from wetmass.app.folder import Folder
from wetmass.app.hall import Hall
from wetmass.record.refusal import Refusal


@pytest.mark.parametrize("text", ["", "no json", "[]", "3", "{}", '{"type": 3}', "[" * 5000])
def test_what_is_no_message_is_refused(text):
    with pytest.raises(Refusal, match="an object with a type"):
        asking.message(text)


def test_a_message_too_large_is_refused():
    with pytest.raises(Refusal, match="at most"):
        asking.message(json.dumps({"type": "check", "text": "x" * asking.LARGEST_MESSAGE}))


@pytest.mark.parametrize(
    "path", [None, "a", [], ["a"] * 9, [""], ["x" * 121], [True], [-1], [1000], [1.5], [None]]
)
def test_a_path_of_another_form_is_refused(path):
    with pytest.raises(Refusal, match="keys and numbers"):
        asking.path({"type": "set", "path": path})


def test_texts_are_one_line_and_not_too_long():
    with pytest.raises(Refusal, match="2000 at most"):
        asking.words({"value": "x" * 2001}, "value")
    with pytest.raises(Refusal, match="one line"):
        asking.words({"value": "a\nb"}, "value")
    with pytest.raises(Refusal, match="a text"):
        asking.words({"value": 3}, "value")


def test_a_page_may_ask_only_so_fast():
    rate = asking.Rate()
    start = 1000.0
    rate._at = start
    assert all(rate.takes(start) for _ in range(int(asking.BURST)))
    assert not rate.takes(start)
    assert rate.takes(start + 1.5 / asking.RATE)
    assert not rate.takes(start + 1.5 / asking.RATE)


class Socket:
    """A socket that says what it is given, and remembers what it was told."""

    def __init__(self, *messages):
        self.messages, self.told, self.closed = messages, [], None

    async def accept(self):
        pass

    async def iter_text(self):
        for message in self.messages:
            if self.closed is None:
                yield message if isinstance(message, str) else json.dumps(message)
                await asyncio.sleep(0)

    async def send_text(self, text):
        self.told.append(json.loads(text))

    async def close(self, code, reason=""):
        self.closed = (code, reason)


class Silent:
    """A computer that is asked and never answers."""

    def __init__(self):
        self.asked = []

    def ask(self, kind, hears, **job):
        self.asked.append((kind, hears, job))
        return len(self.asked)


def talked(folder, *messages):
    hall = Hall(Folder(folder), "dunlin.yaml")
    hall.desk, hall.clerk = Silent(), Silent()
    socket = Socket(*messages)

    async def talk():
        await hall.talk(socket)
        await asyncio.sleep(0.01)

    asyncio.run(talk())
    return hall, socket


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("WETMASS_STATE", str(tmp_path / "state"))
    work = tmp_path / "work"
    work.mkdir()
    with open("examples/dunlin.yaml", encoding="utf-8") as file:
        (work / "dunlin.yaml").write_text(file.read(), encoding="utf-8")
    return work


OPEN = {"type": "open", "file": ""}


def told(socket, kind):
    return [one for one in socket.told if one["type"] == kind]


def test_a_page_that_floods_is_let_go(folder):
    _, socket = talked(folder, *[{"type": "nothing"}] * 400)
    assert socket.closed[0] == 1008
    assert "too many messages" in socket.closed[1]


def test_a_file_outside_is_not_opened(folder):
    hall, socket = talked(folder, {"type": "open", "file": "../secret.yaml"})
    assert not hall.rooms
    assert "concept file in this folder" in told(socket, "refused")[0]["complaints"][0]["accepted"]


def test_what_cannot_be_asked_is_refused(folder):
    _, socket = talked(folder, OPEN, {"type": "__init__"}, {"type": "tell"})
    assert len(told(socket, "refused")) == 2


def test_two_pages_do_not_overwrite_each_other_unseen(folder):
    path = ["stages", 0, "dry mass"]
    first = {"type": "set", "path": path, "value": "7.7 t", "was": "7.6 t ± 8 %", "label": "first, dry mass"}
    late = {**first, "value": "9 t"}  # had not seen the change to 7.7 t
    hall, socket = talked(folder, OPEN, first, late)
    overtaken = told(socket, "overtaken")[0]
    assert (overtaken["now"], overtaken["value"]) == ("7.7 t", "9 t")
    assert hall.rooms["dunlin.yaml"].book.document.get("stages/first/dry mass") == "7.7 t"


def test_what_moves_entries_needs_the_newest_revision(folder):
    remove = {"type": "remove", "path": ["stages", 1], "label": "second", "revision": 1}
    _, socket = talked(folder, OPEN, remove, remove)
    assert "had not seen the last change" in told(socket, "refused")[0]["complaints"][0]["got"]


def test_a_change_is_kept_as_a_draft_when_the_page_goes(folder, tmp_path):
    talked(
        folder, OPEN, {"type": "set", "path": ["payload"], "value": "3 t", "was": "find", "label": "payload"}
    )
    _, socket = talked(folder, OPEN)
    assert "unsaved work" in told(socket, "concept")[0]["notice"]


def test_a_file_whose_vehicle_was_renamed_is_saved_once_it_is_said_to_be_meant(folder):
    name = {"type": "set", "path": ["name"], "value": "../Ruff", "was": "Dunlin", "label": "name"}
    before = (folder / "dunlin.yaml").read_text(encoding="utf-8")
    _, socket = talked(folder, OPEN, name, {"type": "save"})
    assert told(socket, "which") == [{"type": "which", "proposed": "ruff"}]
    assert (folder / "dunlin.yaml").read_text(encoding="utf-8") == before
    _, socket = talked(folder, OPEN, {"type": "save", "sure": True})
    assert told(socket, "saved")[0]["words"] == "Saved in dunlin.yaml."
    assert (folder / "dunlin.yaml").read_text(encoding="utf-8") == before.replace(
        "name: Dunlin", "name: ../Ruff"
    )


def test_an_answer_whose_process_ended_is_asked_for_once_more_unless_it_took_too_long(folder):
    hall, _ = talked(folder, OPEN)
    asked = hall.desk.asked
    ended = {"stage": "ended", "words": "It ended.", "late": False}
    asked[-1][1](ended)
    assert len(asked) == 2
    asked[-1][1](ended)  # again: it is told
    asked[-1][1]({**ended, "late": True})
    assert len(asked) == 2
    assert asked[0][2]["document"] is asked[1][2]["document"]


def test_only_so_many_pages(folder, monkeypatch):
    monkeypatch.setattr("wetmass.app.hall.MOST_PAGES", 0)
    _, socket = talked(folder, OPEN)
    assert socket.closed[0] == 1013


ODD_PATHS = [
    [], ["stages"], ["stages", 0], ["stages", 99], ["stages", 0, "engines", 0, "count"], ["stages", 0, "tanks", 7],
    ["require", 0], ["require", 0, "most"], ["name"], ["nothing"], ["site", "latitude", "deeper"], ["0"], [0], ["/", ".."],
    ["stages", "first", "home", "propellant"], None, "stages", [[]], [{}],
]  # fmt: skip
ODD_WORDS = [
    "",
    "find",
    "7 t",
    '"',
    "{",
    "- a",
    "# no",
    "a: b",
    "&x",
    "*x",
    "!t",
    "\u200b",
    "x" * 1999,
    "…",
    None,
    7,
    [],
]


@pytest.mark.parametrize("kind", [deed for deed in DEEDS if deed != "make"])
def test_whatever_a_page_sends_is_done_or_refused_and_the_line_stays_open(folder, kind):
    messages = [OPEN]
    for number, path in enumerate(ODD_PATHS):
        for word in ODD_WORDS[number % 3 :: 3]:
            messages.append({
                "type": kind, "path": path, "value": word, "was": word, "label": word, "what": word, "name": word,
                "view": word, "text": word, "as": "", "system": word, "take": word, "by": word, "gesture": word,
                "revision": number,
            })  # fmt: skip
    hall, socket = talked(folder, *messages[:180])
    assert not told(socket, "defect")
    assert socket.closed is None
    assert hall.rooms["dunlin.yaml"].book.document.text  # still a text that is read


def test_only_known_things_are_made(folder):
    _, socket = talked(folder, OPEN, {"type": "make", "what": "coffee"})
    assert "frames" in told(socket, "refused")[0]["complaints"][0]["accepted"]


def test_the_whole_file_can_be_changed_as_text(folder):
    text = "name: A\npayload: 1 t\n"
    hall, _ = talked(folder, OPEN, {"type": "text", "text": text, "revision": 1})
    assert hall.rooms["dunlin.yaml"].book.text == text
