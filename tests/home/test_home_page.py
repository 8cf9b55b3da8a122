"""The page docs/how-to-bring-a-stage-home.md says what the program does."""

import contextlib
import io
import re
from pathlib import Path

from wetmass.record.homecoming import By

PAGE = (Path(__file__).parents[2] / "docs" / "how-to-bring-a-stage-home.md").read_text(encoding="utf-8")


def test_the_example_of_the_page_gives_the_output_of_the_page():
    code = re.search(r"```python\n(.*?)```", PAGE, re.DOTALL).group(1)
    output = re.search(r"```output\n(.*?)```", PAGE, re.DOTALL).group(1)
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        exec(code, {})
    assert said.getvalue() == output


def test_every_way_is_told():
    for by in By:
        assert f"By.{by.name}" in PAGE
