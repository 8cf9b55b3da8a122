"""Typst source: words, numbers and pictures written so that nothing a user types is taken for markup."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import as_file, files

from wetmass.lesson.content.inline import Link, Words
from wetmass.lesson.content.matter import THOUSANDS
from wetmass.lesson.look import LIGHT

FONTS = ("source-sans-3-400.ttf", "source-sans-3-600.ttf", "stix-two-math.ttf")


def quoted(words: str) -> str:
    """A text of Typst's.

    >>> print(quoted('a "b" \\\\ #c'))
    "a \\"b\\" \\\\ #c"
    """
    inside = words.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ")
    return f'"{inside}"'


def line(words: Words | str, *, links: bool = True) -> str:
    """Words in a line, as content."""
    if isinstance(words, str):
        words = (words,)
    made = []
    for span in words:
        if isinstance(span, str):
            made.append(_unbroken(span.replace("`", "")))
        elif isinstance(span, Link):
            text = _unbroken(span.words)
            made.append(f"#link(label({quoted(span.anchor)}))[{text}]" if links else text)
        else:
            made.append(f"#{span.kind}[{_unbroken(span.words)}]")
    return f"[{''.join(made)}]"


def _unbroken(words: str) -> str:
    """Words as content; no line ends within a number."""
    pieces = THOUSANDS.split(words)
    return "".join(
        f"#box[#{quoted(piece)}]" if i % 2 else f"#{quoted(piece)}" for i, piece in enumerate(pieces) if piece
    )


def formula(pieces: tuple[str, ...] | str, alt: str) -> str:
    """A formula in the line, large as on a blackboard, with its words for those who cannot see it."""
    inside = pieces if isinstance(pieces, str) else " ".join(pieces)
    return f"math.equation(alt: {quoted(alt)}, $display({inside})$)"


def colours(look: Mapping[str, str]) -> str:
    """The colours of a look as Typst's."""
    listed = ", ".join(f'"{name}": rgb("{colour}")' for name, colour in look.items())
    return f"#let look = ({listed})\n"


@cache
def template(name: str) -> str:
    """A file of the layout that is shipped."""
    return files("wetmass.lesson").joinpath(f"assets/{name}").read_text(encoding="utf-8")


def compiled(source: str, pictures: Mapping[str, str] | None = None, **how: object) -> object:
    """Source compiled with our fonts alone and nothing from a network.

    pictures  SVG by the name it is used under
    how       format, ppi, pdf_standards: as Typst takes them
    """
    import tempfile
    from pathlib import Path

    import typst

    with tempfile.TemporaryDirectory(prefix="wetmass-") as folder, as_file(_assets()) as fonts:
        root = Path(folder)
        for name, svg in (pictures or {}).items():
            (root / f"{name}.svg").write_text(svg, encoding="utf-8")
        (root / "main.typ").write_text(source, encoding="utf-8")
        return typst.compile(
            str(root / "main.typ"), root=folder, font_paths=[str(fonts)], ignore_system_fonts=True, **how
        )


def _assets():
    return files("wetmass.lesson").joinpath("assets")


__all__ = ["FONTS", "LIGHT", "colours", "compiled", "formula", "line", "quoted", "template"]
