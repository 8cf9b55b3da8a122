"""Writes what is written from the code: the output shown in README.md, and the pages of reference.

    python scripts/write_pages.py

Tests fail when a page and the code part (`tests/cli/test_pages.py`, `tests/concept/test_reference_page.py`).
"""

from __future__ import annotations

import io
import re
import shlex
import subprocess
import sys
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


SHOWN = re.compile(
    r"(<!-- output of: wetmass (?P<command>[^\n]*) -->\n```text\n)(?P<text>.*?)(?=```)", re.DOTALL
)
RATE = re.compile(r"\n  [^\n]*flights a second(?:[^\n]*\n  )*?[^\n]*at most\.\n")  # differs from run to run
STUDIES = ROOT / "docs" / "how-to-ask-what-if.md"


def printed(command: str) -> str:
    """What a command of ours prints where it is not a terminal, without how fast it was."""
    done = subprocess.run(
        [sys.executable, "-m", "wetmass", *shlex.split(command)],
        cwd=ROOT, capture_output=True, text=True, encoding="utf-8", check=False,
    )  # fmt: skip
    if done.returncode not in (0, 1):
        raise SystemExit(done.stderr)
    return RATE.sub("\n", done.stdout)


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
    text = STUDIES.read_text(encoding="utf-8")
    STUDIES.write_text(SHOWN.sub(lambda m: m[1] + printed(m["command"]), text), encoding="utf-8")
    (ROOT / "docs" / "decisions" / "README.md").write_text(decisions(), encoding="utf-8")
    (ROOT / "docs" / "json-keys.md").write_text(keys_page(), encoding="utf-8")
    (ROOT / "docs" / "concept-file.md").write_text(concept_page(), encoding="utf-8")


if __name__ == "__main__":
    main()
