"""Writes what is written from the code: the output shown in README.md, and the pages of reference.

    python scripts/write_pages.py

Tests fail when a page and the code part (`tests/cli/test_pages.py`, `tests/concept/test_reference_page.py`).
"""

from __future__ import annotations

import io
import re
from pathlib import Path

from rich.console import Console

import wetmass
from wetmass.cli.keys import page as keys_page
from wetmass.cli.layout import page
from wetmass.cli.screen import PLAIN_WIDTH
from wetmass.concept.reference import page as concept_page

ROOT = Path(__file__).resolve().parent.parent
BLOCK = re.compile(
    r"(?<=<!-- output of: wetmass fly examples/dunlin\.yaml -->\n```text\n).*?(?=```)", re.DOTALL
)
SPENT = re.compile(r"\n[^\n]*flights in[^\n]*\n$")  # differs from run to run


def dunlin_page() -> str:
    """What `wetmass fly examples/dunlin.yaml` prints where it is not a terminal, without the time it took."""
    concept = wetmass.load(ROOT / "examples" / "dunlin.yaml")
    text = io.StringIO()
    page(concept, wetmass.fly(concept), PLAIN_WIDTH).show(
        Console(file=text, width=PLAIN_WIDTH, highlight=False)
    )
    return SPENT.sub("", text.getvalue())


def decisions() -> str:
    """The list of decisions, by date."""
    lines = [
        "# Decisions",
        "",
        "A choice worth arguing gets a dated half-page: the question, what was chosen, what was turned down, "
        "why.",
        "",
        "| date | page |",
        "| --- | --- |",
    ]
    for file in sorted((ROOT / "docs" / "decisions").glob("2*.md")):
        title = file.read_text(encoding="utf-8").partition("\n")[0].removeprefix("# ")
        lines.append(f"| {file.name[:10]} | [{title}]({file.name}) |")
    return "\n".join(lines) + "\n"


def main() -> None:
    """Write the pages."""
    readme = ROOT / "README.md"
    text = readme.read_text(encoding="utf-8")
    if not BLOCK.search(text):
        raise SystemExit("README.md has no block for the output of wetmass fly examples/dunlin.yaml")
    output = dunlin_page()
    readme.write_text(BLOCK.sub(lambda match: output, text), encoding="utf-8")
    (ROOT / "docs" / "decisions" / "README.md").write_text(decisions(), encoding="utf-8")
    (ROOT / "docs" / "json-keys.md").write_text(keys_page(), encoding="utf-8")
    (ROOT / "docs" / "concept-file.md").write_text(concept_page(), encoding="utf-8")


if __name__ == "__main__":
    main()
