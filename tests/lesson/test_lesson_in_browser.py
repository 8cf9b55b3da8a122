"""The page as it is seen: in Chromium, at three widths, light and dark; nothing asked of a network."""

import pytest

from lesson.looking import browser, meetings
from lesson.pages import lesson

WIDTHS = (390, 820, 1280)
BOXES = """() => {
  const found = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const text = node.textContent.trim();
    const parent = node.parentElement;
    if (!text || parent.closest('script,style,title,desc,.skip,.cursor')) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      if (box.width < 1 || box.height < 1) continue;
      found.push([text.slice(0, 40), box.left, box.top + scrollY, box.right, box.bottom + scrollY,
                  !!parent.closest('.wide,.eq,.charts')]);
    }
  }
  return found;
}"""


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    path = tmp_path_factory.mktemp("page") / "dunlin-lesson.html"
    path.write_text(lesson(), encoding="utf-8")
    return path.as_uri()


@pytest.fixture(scope="module")
def opened():
    with browser() as made:
        yield made


@pytest.mark.parametrize("wide", WIDTHS)
def test_nothing_lies_on_another_or_sticks_out(opened, file, wide):
    page = opened.new_page(viewport={"width": wide, "height": 900})
    asked, wrong = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: wrong.append(message.text))
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(file)
    boxes = page.evaluate(BOXES)
    assert len(boxes) > 500
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    for text, left, _, right, _, moves in boxes:
        if not moves:  # what is wide may be moved sideways in a frame of its own
            assert left >= -0.5 and right <= wide + 0.5, text
    near = sorted((tuple(one[:5]) for one in boxes), key=lambda one: one[2])
    met = []
    for i in range(0, len(near), 40):  # sorted from the top: only neighbours can meet
        met += meetings(near[i : i + 80], 0.4)
    assert not met
    assert {url for url in asked if not url.startswith(("file:", "data:"))} == set()
    assert not wrong
    assert page.evaluate("[...document.fonts].filter(f => f.status === 'error').length") == 0
    page.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_reader_is_shut_out(opened, file, scheme):
    from axe_playwright_python.sync_playwright import Axe

    page = opened.new_page(viewport={"width": 1280, "height": 900}, color_scheme=scheme)
    page.goto(file)
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
    assert found.violations_count == 0, found.generate_report()
    page.close()


def test_a_cursor_goes_through_all_charts_at_once(opened, file):
    page = opened.new_page(viewport={"width": 1280, "height": 900})
    page.goto(file)
    charts = page.locator("[data-moments]")
    charts.focus()
    for _ in range(40):
        page.keyboard.press("ArrowRight")
    told = page.locator(".read .cursor-words").all_text_contents()
    assert len(told) == page.locator("svg[data-axes]").count() >= 6
    assert len({words.partition(" s: ")[0] for words in told}) == 1  # one moment for all
    assert all(words.split()[-1] for words in told)
    page.keyboard.press("Escape")
    assert page.locator(".read").count() == 0
    page.close()


def test_what_the_cursor_reads_is_what_was_flown(opened, file):
    import numpy as np

    from lesson.pages import dunlin

    page = opened.new_page(viewport={"width": 1280, "height": 900})
    page.goto(file)
    page.locator("[data-moments]").focus()
    for _ in range(60):
        page.keyboard.press("ArrowRight")
    words = page.locator("#chart-height .cursor-words").text_content()
    time, _, rest = words.partition(" s: ")
    height = float(rest.split()[0].replace("\u2009", ""))
    track = dunlin()[1].flight.trajectory
    expected = float(np.interp(float(time), track["time"], track["height"])) / 1e3
    # the time is told to half a second, and it climbs less than a kilometre in that
    assert height == pytest.approx(expected, abs=1.0)
    page.close()


def test_on_paper_the_page_is_light_and_whole(opened, file):
    page = opened.new_page(color_scheme="dark")
    page.goto(file)
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert page.evaluate("getComputedStyle(document.querySelector('nav')).display") == "none"
    page.close()
