"""A newcomer goes from the example to a three-stage concept of their own, by what is to be seen on the page alone.

The second walk is done by somebody without a mouse.  Every step is taken by visible words or accessible names.
"""

import re

import pytest
from browsing import HOME, PATIENT, SAVED, payload, settled
from playwright.sync_api import expect


@pytest.fixture(autouse=True)
def nothing_left(shared):
    yield
    for path in shared.folder.glob("snow-bunting*"):
        path.unlink()


def press(page, name, exact=False):
    page.get_by_role("button", name=name, exact=exact).first.click()


def changed(page, label, value):
    """Open a value by what it is called, type another, and close the sheet."""
    press(page, re.compile(f"^{label}:"))
    page.keyboard.press("Control+a")
    page.keyboard.type(value)
    page.keyboard.press("Enter")


def answered(page, *words):
    page.wait_for_timeout(300)
    page.wait_for_selector(HOME, timeout=PATIENT)
    for each in words:
        expect(page.locator("#verdict")).to_contain_text(each, timeout=PATIENT)


def test_a_newcomer_makes_a_three_stage_concept_of_their_own(page, shared):
    two_stages = payload(page)
    settled(page, lambda: press(page, "Add a stage on top"))
    expect(page.get_by_role("heading", level=2)).to_contain_text(["first", "second", "third"])
    expect(page.locator("#because")).to_have_text("added the stage third")
    answered(page, "Dunlin carries")
    assert payload(page) > 1.05 * two_stages

    changed(page, "name of the vehicle", "Snow Bunting")
    changed(page, "what it is for", "Three stages for small probes.")
    changed(page, "name of stage 3", "kick")
    changed(page, "mission apogee", "2000")
    answered(page, "Snow Bunting carries", "2 000 km".replace(" ", "\u202f", 1).replace(" ", "\u00a0"))
    for label, value in (
        ("kick, engine, thrust vacuum", "35"),
        ("kick, engine, isp vacuum", "345"),
        ("kick, structural fraction", "14"),
        ("first, dry mass", "7.2"),
    ):
        changed(page, label, value)
        expect(page.get_by_role("button", name=re.compile(f"^{label}: {re.escape(value)} "))).to_be_visible()
    before = page.locator("#because").inner_text()
    changed(page, "first, engine, count", "8")
    expect(page.locator("#because")).to_contain_text("count: 7 → 8")
    assert before != page.locator("#because").inner_text()
    answered(page)

    # what becomes of each stage stands below what is said of it, and in full on a tab
    first, second, third = (page.locator("section.stage").nth(number) for number in range(3))
    expect(first).to_contain_text(re.compile(r"comes home .* km out, at 2 m/s".replace(" ", r"\s")))
    expect(second).to_contain_text(re.compile(r"comes down .* out, at"))
    expect(third).to_contain_text("it stays in an orbit")
    page.get_by_role("tab", name="Way home").click()
    expect(page.get_by_role("tabpanel")).to_contain_text("Coming home costs")
    expect(page.get_by_role("tabpanel")).to_contain_text("landing burn begins")

    # saving asks which file is meant, since the example is called otherwise
    example = shared.file()
    press(page, "Save", exact=True)
    press(page, "Save as snow-bunting.yaml, and leave dunlin.yaml as it was")
    expect(page.locator("#state")).to_have_text("snow-bunting.yaml – saved")
    expect(page.locator("#notices")).to_contain_text("Saved as snow-bunting.yaml")
    assert shared.file() == example
    made = (shared.folder / "snow-bunting.yaml").read_text(encoding="utf-8")
    assert "name: kick" in made
    assert "# a guess, and how far it may be off" in made
    answered(page)
    flown = payload(page)
    page.reload()
    answered(page, "Snow Bunting carries")
    assert payload(page) == pytest.approx(flown, rel=1e-3)
    expect(page.locator("#state")).to_have_text("snow-bunting.yaml – saved")
    expect(page.locator("#notices")).not_to_contain_text("Saved")


def test_saving_in_the_same_file_is_one_press_away_though_the_name_is_another(page, shared):
    changed(page, "name of the vehicle", "Lapwing")
    expect(page.locator("#verdict")).to_contain_text("Lapwing", timeout=PATIENT)
    page.keyboard.press("Control+s")
    press(page, "Save in dunlin.yaml")
    expect(page.locator("#state")).to_have_text(SAVED)
    expect(page.locator("#notices")).to_contain_text("Saved in dunlin.yaml")
    assert "name: Lapwing" in shared.file()
    changed(page, "name of the vehicle", "Dunlin")
    page.keyboard.press("Control+s")
    press(page, "Save in dunlin.yaml")
    expect(page.locator("#state")).to_have_text(SAVED)


def focused(page):
    return page.evaluate(
        "document.activeElement.getAttribute('aria-label') || document.activeElement.textContent"
    )


def tabbed(page, name, most=260, back=False):
    """Tab until what has the focus is called so."""
    seen = []
    for _ in range(most):
        page.keyboard.press("Shift+Tab" if back else "Tab")
        seen.append(focused(page))
        if seen[-1].startswith(name):
            return
    raise AssertionError(f"{name} was not reached by Tab: {seen}")


def test_the_same_without_a_mouse(page, shared):
    page.locator("body").focus()
    tabbed(page, "Go to the concept")  # the first thing there is
    page.keyboard.press("Enter")
    tabbed(page, "first, dry mass")
    page.keyboard.press("ArrowUp")
    expect(page.get_by_role("button", name="first, dry mass: 7.7 t ± 8 %")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_label("number", exact=True)).to_be_focused()
    page.keyboard.type("7.8")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="first, dry mass: 7.8 t ± 8 %")).to_be_focused()
    tabbed(page, "Add a stage on top")
    page.keyboard.press("Enter")
    expect(page.locator("#because")).to_contain_text("added the stage third", timeout=PATIENT)
    answered(page, "Dunlin carries")
    page.keyboard.press("Control+z")
    expect(page.locator("section.stage")).to_have_count(2)
    page.keyboard.press("Control+Shift+z")
    expect(page.locator("section.stage")).to_have_count(3)
    page.keyboard.press("Alt+3")
    expect(page.locator("#panel-home")).to_be_visible()
    tabbed(page, "Way home", back=True) if not focused(page).startswith("Way home") else None
    page.keyboard.press("ArrowRight")
    expect(page.locator("#panel-working")).to_be_visible()
    page.keyboard.press("ArrowRight")
    expect(page.locator("#panel-findings")).to_be_visible()
    tabbed(page, "More", back=True)
    page.keyboard.press("Enter")
    tabbed(page, "name of the new file")
    page.keyboard.press("Control+a")
    page.keyboard.type("snow-bunting")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#state")).to_have_text("snow-bunting.yaml – saved")
    page.keyboard.press("Escape")
    assert "name: third" in (shared.folder / "snow-bunting.yaml").read_text(encoding="utf-8")


def test_a_thing_to_hand_out_is_made_taken_along_and_another_cancelled(page, shared, tmp_path):
    page.get_by_role("tab", name="Hand out").click()
    press(page, "Film of the flight")
    expect(page.get_by_role("progressbar")).to_be_visible()
    expect(page.get_by_role("button", name="Workbook")).to_be_disabled()
    press(page, "Cancel", exact=True)
    expect(page.get_by_role("tabpanel")).to_contain_text("Cancelled; nothing was written.")
    assert sorted(path.name for path in shared.folder.iterdir()) == ["dunlin.yaml"]
    press(page, "Lesson, as a page")
    link = page.get_by_role("link", name="dunlin-lesson.html")
    expect(link).to_be_visible(timeout=PATIENT)
    with page.expect_download() as taken:
        link.click()
    taken.value.save_as(tmp_path / "taken.html")
    made = shared.folder / "dunlin-lesson.html"
    assert (tmp_path / "taken.html").read_bytes() == made.read_bytes()
    assert "Dunlin: the lesson" in made.read_text(encoding="utf-8")
    made.unlink()
