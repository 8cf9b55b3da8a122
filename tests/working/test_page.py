"""The page docs/how-to-check-a-working.md says what the program does."""

from __future__ import annotations

import re
from pathlib import Path

from wetmass import working

PAGE = (Path(__file__).parents[2] / "docs" / "how-to-check-a-working.md").read_text()


def test_the_example_of_the_page_gives_the_output_of_the_page():
    text = re.search(r"````markdown\n(.*?)````", PAGE, re.DOTALL).group(1)
    output = re.search(r"```output\n(.*?)```", PAGE, re.DOTALL).group(1)
    assert working.plain(working.check(text, "script.md")) == output.rstrip("\n")


def test_every_verdict_and_public_name_is_told():
    for word in ("right", "approximation", "off", "unclear"):
        assert f"**{word}**" in PAGE
    for name in working.__all__:
        assert f"working.{name}" in PAGE, name
