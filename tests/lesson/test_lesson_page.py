"""The page of a lesson: one file, no network, in order, for every reader; its numbers are the record's."""

import base64
import dataclasses
import hashlib
import itertools
import re

import pytest

import builders
from lesson.pages import Page, dunlin, lesson
from wetmass.lesson import as_html
from wetmass.lesson.content.order import Order
from wetmass.lesson.look import DARK, LIGHT
from wetmass.lesson.words import kind_of, kinds, topics
from wetmass.record.digits import fixed
from wetmass.record.expression import Symbol
from wetmass.record.say import said
from wetmass.record.step import Put, Step


@pytest.fixture(scope="module")
def page():
    return Page(lesson())


# ── one file ─────────────────────────────────────────────────────────────────────────────────────


def test_nothing_is_loaded_from_anywhere(page):
    for tag, attrs in page.tags:
        assert tag not in ("iframe", "object", "embed", "link"), tag
        for name in ("src", "srcset", "href", "xlink:href", "action", "poster"):
            assert (attrs.get(name) or "#").startswith("#"), (tag, name, attrs[name])
    style = re.search(r"<style>(.*?)</style>", lesson(), re.DOTALL)[1]
    for address in re.findall(r"url\(([^)]*)\)", style):
        assert address.startswith("data:font/woff2;base64,"), address[:60]
    assert "@import" not in style
    policy = next(a["content"] for a in page.having("meta") if "http-equiv" in a)
    assert policy.startswith("default-src 'none'")
    script = re.search(r"<script>(.*?)</script>", lesson(), re.DOTALL)[1]
    mark = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert f"script-src 'sha256-{mark}'" in policy  # this one script, and no other
    assert lesson().count("<script") == 1


def test_every_element_is_closed_and_every_id_is_there_once(page):
    assert not page.left_open and not page.open
    assert len(page.ids) == len(set(page.ids))


def test_every_link_leads_somewhere(page):
    assert len(page.links) > 40
    assert {link.removeprefix("#") for link in page.links} <= set(page.ids)
    for _, attrs in page.tags:
        for name in ("aria-labelledby", "aria-describedby"):
            assert set((attrs.get(name) or "").split()) <= set(page.ids)


# ── for every reader ─────────────────────────────────────────────────────────────────────────────


def test_headings_go_down_one_level_at_a_time(page):
    levels = [level for level, _ in page.headings]
    assert levels.count(1) == 1 and levels[0] == 1
    assert all(below - above <= 1 for above, below in itertools.pairwise(levels))
    assert all(words.strip() for _, words in page.headings)


def test_there_are_landmarks_a_language_and_a_way_past_the_contents(page):
    names = [tag for tag, _ in page.tags]
    assert all(names.count(tag) == 1 for tag in ("main", "header", "nav", "footer"))
    assert page.having("html") == [{"lang": "en"}]
    assert page.links[0] == "#lesson"
    assert "<title>Dunlin: the lesson</title>" in lesson()


def test_every_picture_is_described(page):
    pictures = page.having("svg")
    assert len(pictures) > 10
    described = [attrs for attrs in pictures if attrs.get("role") == "img"]
    assert len(described) == len(pictures)
    for attrs in described:
        title, words = attrs["aria-labelledby"].split()
        for name in (title, words):
            text = re.search(rf'id="{name}">([^<]*)<', lesson())[1]
            assert len(text) > 3, name


def test_every_table_has_a_caption_and_headings_for_columns_and_rows(page):
    tables = re.findall(r"<table.*?</table>", lesson(), re.DOTALL)
    assert len(tables) >= 4
    for table in tables:
        assert "<caption>" in table and 'scope="col"' in table and 'scope="row"' in table


def test_what_moves_sideways_can_be_reached_by_keyboard(page):
    moving = [a for _, a in page.tags if set((a.get("class") or "").split()) & {"wide", "eq"}]
    moving += [a for _, a in page.tags if "data-moments" in a]  # a cursor moves in these
    assert moving and all(a.get("tabindex") == "0" and a.get("aria-label") for a in moving)


def _luminance(colour):
    channels = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    """WCAG 2.2, definition of contrast ratio."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_measure_of_contrast_is_that_of_the_standard():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)  # WCAG 2.2: from 1 to 21


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
def test_text_stands_out_as_the_standard_asks(look):
    # WCAG 2.2, 1.4.3 (AA): 4.5 to 1 for text; 1.4.11: 3 to 1 for what must be seen of a picture
    for name in ("ink", "quiet", "link", "bad", "good", "two"):
        for ground in ("paper", "card"):
            assert contrast(look[name], look[ground]) >= 4.5, (name, ground)
    for name in ("ink", "quiet"):
        assert contrast(look[name], look["mark"]) >= 4.5, name
    for name in ("one", "two", "three", "four", "five", "line"):
        assert contrast(look[name], look["paper"]) >= 3.0, name
    assert contrast(look["ink"], look["land"]) >= 4.5


def test_light_and_dark_name_the_same_colours():
    assert LIGHT.keys() == DARK.keys()


# ── what it says ─────────────────────────────────────────────────────────────────────────────────


def test_topics_stand_in_teaching_order(page):
    order = [name for name, _, _ in topics()]
    found = [name for name in page.ids if name in order]
    assert found == [name for name in order if name in found]
    assert {"tanks", "masses", "thrust", "ideal", "flown", "sure", "caution"} <= set(found)


def test_every_step_is_on_the_page_once_with_its_result_and_source(page):
    _, closed = dunlin()
    order = Order(closed.steps)
    assert len(order.placed) == len(closed.steps)
    for placed in order.placed:
        text = re.search(rf'<article class="step" id="{placed.anchor}">.*?</article>', lesson(), re.DOTALL)[0]
        assert "<math" in text and 'class="source"' in text
        assert f"<mtext>{placed.step.unit}</mtext>" in text or not placed.step.unit


def test_every_step_of_the_example_has_words_of_its_own():
    _, closed = dunlin()
    assert {kind_of(step).pattern for step in closed.steps}.isdisjoint({"*"})
    assert kinds()[-1].pattern == "*"  # and any other step still finds a place


def test_the_numbers_of_the_head_are_those_of_the_record(page):
    _, closed = dunlin()
    words = "".join(page.words)
    assert f"carries {said(closed.payload, 'kg')} into" in words
    for value in (closed.vehicle.lift_off_mass,):
        assert said(value, "kg") in words
    assert said(closed.flight.losses.ideal, "m/s") in words


def test_the_mass_table_adds_up_as_printed(page):
    rows = re.search(r'<table id="mass-table">.*?</table>', lesson(), re.DOTALL)[0]
    rows = rows.replace('<span class="whole">', "").replace("</span>", "").replace("\u2009", "")
    cells = re.findall(r"<td class=n>(\d+)</td>", rows)
    assert len(cells) > 5
    assert sum(map(int, cells[:-1])) == int(cells[-1])


def test_every_event_is_a_row_with_its_numbers(page):
    _, closed = dunlin()
    table = re.search(r'<table id="events">.*?</table>', lesson(), re.DOTALL)[0]
    for event in closed.flight.events:
        assert event.what in table and fixed(event.time, 1) in table


def test_findings_and_cautions_are_all_there(page):
    _, closed = dunlin()
    words = " ".join("".join(page.words).split())
    for finding in closed.findings:
        assert " ".join(finding.remedy.split()).rstrip(".") in words, finding.rule


def test_numbers_lead_back_to_the_step_that_made_them():
    one = Step("m", "mass of the first stage", None, (), 9600.0, "kg", "definition", "first")
    m, a = Symbol("m"), Symbol("a")
    puts = (Put("m", "mass", 9600.0, "kg"), Put("a", "pull", 9.0, "m/s²"))
    two = Step("F", "thrust at lift-off", m * a, puts, 86_400.0, "N", "definition")
    order = Order((two, one))
    user = order.of("thrust")[0]
    assert order.source_of(two.inputs[0], user).step is one
    assert order.source_of(two.inputs[1], user) is None
    assert (
        order.source_of(Put("n", "count", 9600.0, ""), user) is None
    )  # a pure number may be the same by chance


# ── concepts that do not close, and words that users type ────────────────────────────────────────


def test_a_concept_that_does_not_close_has_a_lesson_that_says_why():
    concept, closed = (
        builders.dunlin(),
        builders.closed(closes=False, flight=None, reason="second, propellant mass ran away", found=()),
    )
    text = as_html(concept, closed)
    read = Page(text)
    words = "".join(read.words)
    assert "does not close: second, propellant mass ran away." in words
    assert "It was not flown" in words
    assert not read.left_open and len(read.ids) == len(set(read.ids))


def test_where_nothing_is_laid_out_the_drawing_says_so():
    closed = builders.closed()
    assert closed.geometry is None
    assert "drawn from volumes alone" in as_html(builders.dunlin(), closed)
    assert "drawn from volumes alone" not in lesson()


def test_what_a_user_types_is_shown_and_never_run():
    nasty = '<script>alert("x")</script>{name}&'
    concept = builders.dunlin().model_copy(update={"story": nasty})
    vehicle = dataclasses.replace(builders.vehicle(), name=nasty)
    closed = builders.closed(name=nasty, vehicle=vehicle, reason=nasty, closes=False)
    text = as_html(concept, closed, file=nasty)
    assert text.count("<script") == 1 and "<script>alert" not in text  # the one of ours
    assert nasty in "".join(Page(text).words)
