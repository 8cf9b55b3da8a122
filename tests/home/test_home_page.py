"""The page docs/how-to-bring-a-stage-home.md says what the program does."""

import contextlib
import io
import re
from pathlib import Path

import pytest

from wetmass.record.homecoming import By

PAGE = (Path(__file__).parents[2] / "docs" / "how-to-bring-a-stage-home.md").read_text(encoding="utf-8")


def test_the_example_of_the_page_gives_the_output_of_the_page():
    code = re.search(r"```python\n(.*?)```", PAGE, re.DOTALL).group(1)
    output = re.search(r"```output\n(.*?)```", PAGE, re.DOTALL).group(1)
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        exec(code, {})
    words, numbers = told(said.getvalue())
    of_page, shown = told(output)
    assert words == of_page
    # where it brakes hardly matters to what it takes: heights move by 1 or 2 % with the order of sums
    assert numbers == pytest.approx(shown, rel=0.03, abs=1.0)


def told(text):
    """The words of an output, and its numbers in order."""
    number = re.compile(r"\d+(?:[\u2009,]\d{3})*(?:\.\d+)?")
    return number.sub("#", text), [float(re.sub("[\u2009,]", "", one)) for one in number.findall(text)]


def test_every_way_is_told():
    for by in By:
        assert f"By.{by.name}" in PAGE
