"""A chart as a file: picture, page or specification, made without a network."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from wetmass.lesson.charts.drawn import FONT, themed
from wetmass.lesson.look import LIGHT
from wetmass.record.refusal import Complaint, Refusal

KINDS = (".svg", ".png", ".html", ".json")
SHARP = 2.0  # pixels of a PNG for each unit of length of the chart
_PLAIN_FONT = "Liberation Sans, Arial, Helvetica, sans-serif"  # the first comes with vl-convert


def checked(path: str, option: str = "--chart") -> str:
    """The path, if its ending is one that is written.  Raises Refusal."""
    if Path(path).suffix.casefold() not in KINDS:
        raise Refusal(
            Complaint(
                option, f'"{path}"', f"a file ending in {', '.join(KINDS)}", 'name it as in "study.svg"'
            )
        )
    return path


def write(chart: Any, path: str, option: str = "--chart") -> None:
    """Write the chart by the ending of `path`; .html holds all it needs, .json is the Vega-Lite of it.

    Raises Refusal when the file cannot be written.
    """
    import json

    import vl_convert

    made = json.loads(themed(chart).to_json().replace(f'"{FONT}"', f'"{_PLAIN_FONT}"'))
    made["config"] |= {"background": LIGHT["paper"], "padding": 14}
    kind = Path(checked(path, option)).suffix.casefold()
    if kind == ".png":
        data = vl_convert.vegalite_to_png(made, scale=SHARP)
    elif kind == ".svg":
        data = vl_convert.vegalite_to_svg(made).encode("utf-8")
    elif kind == ".html":
        data = vl_convert.vegalite_to_html(made, bundle=True).encode("utf-8")
    else:
        data = json.dumps(made, ensure_ascii=False, indent=1).encode("utf-8")
    try:
        Path(path).write_bytes(data)
    except OSError as error:
        raise Refusal(
            Complaint(
                option, f'"{path}", which cannot be written ({error.strerror})', "a file in a folder that is there",
                "check the folder and its permissions",
            )
        ) from None  # fmt: skip
