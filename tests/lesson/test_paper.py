"""The paper: tagged, outlined, only our letters, nothing on one another, nothing beyond the margin."""

import functools
import io
import re

import pytest

import builders
from lesson.looking import meetings, words
from lesson.pages import dunlin
from wetmass.lesson import as_pdf
from wetmass.lesson.content import lesson_of
from wetmass.lesson.paper.document import written
from wetmass.lesson.paper.typeset import compiled, quoted

MARGIN = 22.0 / 25.4 * 72.0  # points, as the layout sets it at the sides


@functools.cache
def paper():
    concept, closed = dunlin()
    return as_pdf(concept, closed, file="dunlin.yaml", version="0")


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    return words(paper(), tmp_path_factory.mktemp("paper"))


def reader():
    from pypdf import PdfReader

    return PdfReader(io.BytesIO(paper()))


def test_the_paper_is_tagged_and_says_what_it_is():
    root = reader().trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in root and root["/Lang"] == "en"
    assert reader().metadata.title == "Dunlin: the lesson"
    # PDF/UA-1 names itself so (ISO 14289-1, 5); Typst refuses to write it for what does not keep to it
    assert b"<pdfuaid:part>1</pdfuaid:part>" in root["/Metadata"].get_object().get_data()


def test_every_section_is_in_the_outline():
    concept, closed = dunlin()

    def listed(items):
        for item in items:
            if isinstance(item, list):
                yield from listed(item)
            else:
                yield item.title

    titles = set(listed(reader().outline))
    assert {section.heading for section in lesson_of(concept, closed).sections} <= titles


def test_every_picture_and_formula_has_words():
    def walk(node):
        node = node.get_object()
        if node.get("/S") in ("/Figure", "/Formula"):
            yield node
        kids = node.get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            kid = kid.get_object() if hasattr(kid, "get_object") else kid
            if isinstance(kid, dict) and "/S" in kid:
                yield from walk(kid)

    found = list(walk(reader().trailer["/Root"]["/StructTreeRoot"]["/K"][0]))
    assert len(found) > 100
    assert all(str(node.get("/Alt", "")).strip() for node in found)


def test_only_fonts_that_are_shipped_are_in_it():
    names = set()
    for page in reader().pages:
        for font in (page["/Resources"].get("/Font") or {}).values():
            names.add(re.sub(r"^/[A-Z]{6}\+", "", str(font.get_object()["/BaseFont"])))
    assert names and all(name.startswith(("SourceSans3", "STIXTwoMath")) for name in names), names


def test_no_letter_is_missing(pages):
    text = " ".join(word for _, _, boxes in pages for word, *_ in boxes)
    assert "\ufffd" not in text and "\u25a1" not in text
    for said in ("Dunlin", "LOX", "Step", "oxidiser", "felt"):
        assert said in text


def test_no_two_words_lie_on_one_another(pages):
    found = {number: meetings(boxes) for number, (_, _, boxes) in enumerate(pages, 1)}
    assert not {number: pairs for number, pairs in found.items() if pairs}


def test_nothing_stands_beyond_the_margin(pages):
    for number, (wide, high, boxes) in enumerate(pages, 1):
        for word, left, top, right, bottom in boxes:
            assert left >= MARGIN - 1.0 and right <= wide - MARGIN + 1.0, (number, word)
            assert top >= 20.0 and bottom <= high - 20.0, (number, word)


def test_every_step_stands_on_paper_with_its_result(pages):
    _, closed = dunlin()
    text = "".join(word for _, _, boxes in pages for word, *_ in boxes)
    for number in range(1, len(closed.steps) + 1):
        assert f"Step{number}" in text, number


def test_the_layout_finds_every_font_it_asks_for():
    import typst

    concept, closed = dunlin()
    source, _ = written(lesson_of(concept, closed))
    asked = set(re.findall(r'font: (?:\("([^"]+)", "([^"]+)"\)|"([^"]+)")', source))
    families = {name for group in asked for name in group if name}
    import wetmass.lesson

    fonts = typst.Fonts(False, False, [f"{wetmass.lesson.__path__[0]}/assets"])
    assert families and families <= set(fonts.families())


def test_what_a_user_types_is_never_taken_for_markup():
    nasty = '#panic("x") "quoted" \\ $x$ *b* _i_ @ref <label> `raw` // comment'
    made = compiled(f"#set page(width: 400pt, height: auto)\n#{quoted(nasty)}", format="svg")
    assert made
    concept = builders.dunlin().model_copy(update={"story": nasty})
    closed = builders.closed(name=nasty, closes=False, reason=nasty, flight=None)
    assert as_pdf(concept, closed).startswith(b"%PDF")


def test_the_same_lesson_makes_the_same_paper():
    concept, closed = dunlin()
    assert as_pdf(concept, closed, file="dunlin.yaml", version="0") == paper()
