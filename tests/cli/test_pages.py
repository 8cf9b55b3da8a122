"""Pages written from the code are what the code writes; the README shows what the program prints."""

import importlib.util
import re
from pathlib import Path

import pytest

import builders
from wetmass.cli import keys
from wetmass.cli.exports import record
from wetmass.record.flight import COLUMNS

ROOT = Path(__file__).parents[2]
_spec = importlib.util.spec_from_file_location("write_pages", ROOT / "scripts" / "write_pages.py")
write_pages = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(write_pages)

NUMBER = re.compile(r"[−-]?\d[\d\u2009]*(?:\.\d+)?")
VERDICT_OFF = 2e-3  # other processors round otherwise, and the search ends within 1e-5 of the best
MOST_OFF = (
    2e-2  # the optimum is flat: steering, and q-alpha with it, may differ by a percent for the same payload
)


def skeleton(text):
    """The words of a text, and its numbers with the worth of their last digit."""
    numbers = []
    for match in NUMBER.finditer(text):
        plain = match[0].replace("\u2009", "").replace("−", "-")
        numbers.append((float(plain), 10.0 ** -len(plain.partition(".")[2])))
    return " ".join(NUMBER.sub("#", text).split()), numbers


def same(one, other, most_off=VERDICT_OFF):
    """Same words; numbers within the tolerance, or one in their last digit."""
    words, numbers = skeleton(one)
    other_words, other_numbers = skeleton(other)
    if words != other_words:
        return False
    return all(
        abs(a - b) <= max(1.01 * last, 1.01 * other_last, most_off * abs(a))
        for (a, last), (b, other_last) in zip(numbers, other_numbers, strict=True)
    )


def test_the_readme_shows_what_the_program_prints():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown, printed = write_pages.BLOCK.search(readme)[0], write_pages.dunlin_page()
    assert len(shown.splitlines()) > 60
    assert same(shown, printed, MOST_OFF), f"run: python scripts/write_pages.py\n{printed}"
    verdict, other = (text.partition("\nMasses")[0] for text in (shown, printed))
    assert "q-alpha" in verdict
    leave_out = re.compile(r".*q-alpha.*\n")
    assert same(leave_out.sub("", verdict), leave_out.sub("", other)), "run: python scripts/write_pages.py"


def test_the_comparison_sees_a_changed_number_and_a_changed_word():
    text = "Dunlin carries 3\u2009421 kg into an orbit 520 km high, lost −1\u2009704 m/s, felt 4.50"
    assert same(text, text.replace("421", "422"))
    assert same(text, text.replace("520 km high", "520\nkm  high"))
    assert not same(text, text.replace("421", "521"))
    assert not same(text, text.replace("4.50", "4.52"))
    assert not same(text, text.replace("carries", "lifts"))
    assert not same(text, text.replace("−1\u2009704", "1\u2009704"))


def test_the_page_of_keys_is_what_the_code_writes():
    page = (ROOT / "docs" / "json-keys.md").read_text(encoding="utf-8")
    assert page == keys.page(), "run: python -m wetmass.cli.keys > docs/json-keys.md"


def _undocumented(value, name, known):
    """Keys that are printed but stand on no table of the page, each with where it is."""
    if isinstance(value, dict):
        unknown = [f"{name}/{key}" for key in value if key not in known]
        return unknown + [
            one for key, below in value.items() for one in _undocumented(below, f"{name}/{key}", known)
        ]
    if isinstance(value, list):
        return [one for below in value[:3] for one in _undocumented(below, name, known)]
    return []


def test_every_key_that_is_printed_is_on_the_page():
    page = keys.page()
    known = set(re.findall(r"^\| `([a-z_]+)` \|", page, re.MULTILINE)) | {"file", "text"}
    printed = record(builders.dunlin(), builders.closed())
    assert not _undocumented(printed, "", known)
    assert list(printed)[3:] == list(keys.keys(keys.Closed))


@pytest.mark.parametrize("kind", keys.records(), ids=lambda kind: kind.__name__)
def test_every_record_has_a_section_with_its_keys(kind):
    assert keys.keys(kind)


def test_every_column_is_on_the_page():
    page = keys.page()
    assert all(f"| `{column.key}` | {column.unit} | {column.words} |" in page for column in COLUMNS)


def test_every_decision_is_listed_and_every_link_leads_somewhere():
    folder = ROOT / "docs" / "decisions"
    listing = (folder / "README.md").read_text(encoding="utf-8")
    assert listing == write_pages.decisions(), "run: python scripts/write_pages.py"
    for page in (ROOT / "README.md", ROOT / "docs" / "index.md", folder / "README.md"):
        for link in re.findall(r"\]\(([^)#:]+)\)", page.read_text(encoding="utf-8")):
            assert (page.parent / link).exists(), f"{page.name}: {link}"


def test_every_page_is_listed_in_the_index():
    index = (ROOT / "docs" / "index.md").read_text(encoding="utf-8")
    for file in (ROOT / "docs").rglob("*.md"):
        link = str(file.relative_to(ROOT / "docs"))
        if file.name != "index.md" and not link.startswith("decisions/2"):
            assert f"]({link})" in index, f"list {link} in docs/index.md"


def test_ci_runs_the_command_the_readme_gives():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "sh scripts/test" in readme
    assert "exec sh scripts/test" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")
