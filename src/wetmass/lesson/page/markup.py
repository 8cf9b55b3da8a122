"""Small pieces of HTML."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from html import escape

from wetmass.lesson.words import said

_THOUSANDS = re.compile(r"\d+(?:\u2009\d{3})+")


def text(words: str) -> str:
    """Words as they are; no line ends within a number."""
    return _THOUSANDS.sub(r'<span class="whole">\g<0></span>', escape(words, quote=False))


def paragraph(words: str, kind: str = "") -> str:
    """A paragraph of HTML; nothing for no words."""
    if not words.strip():
        return ""
    return f'<p class="{kind}">{words}</p>' if kind else f"<p>{words}</p>"


def sentence(words: str) -> str:
    """Begins with a capital and ends with a stop."""
    words = words.strip()
    if not words:
        return ""
    words = words[:1].upper() + words[1:]
    return words if words[-1] in ".!?" else f"{words}."


def heading(words: str) -> str:
    """Begins with a capital."""
    return words[:1].upper() + words[1:]


def table(
    name: str, caption: str, heads: Sequence[tuple[str, bool]], rows: Iterable[Sequence[str]],
    marked: Sequence[int] = (),
) -> str:  # fmt: skip
    """A table with a caption and a heading for each column and row.

    heads   (words, whether its cells are numbers)
    rows    cells as HTML; the first heads its row
    marked  rows set in bold
    """
    top = "".join(
        f'<th scope="col"{" class=n" if number else ""}>{escape(words)}</th>' for words, number in heads
    )
    body = []
    for place, row in enumerate(rows):
        cells = [f'<th scope="row"{" class=n" if heads[0][1] else ""}>{row[0]}</th>']
        cells += [
            f"<td{' class=n' if number else ''}>{cell}</td>"
            for cell, (_, number) in zip(row[1:], heads[1:], strict=True)
        ]
        strong = ' class="sum"' if place in marked else ""
        body.append(f'<tr id="{name}-{place + 1}"{strong}>{"".join(cells)}</tr>')
    return (
        f'<div class="wide" role="region" tabindex="0" aria-label="{escape(caption)}"><table id="{name}">'
        f"<caption>{escape(caption)}</caption><thead><tr>{top}</tr></thead><tbody>{''.join(body)}</tbody>"
        "</table></div>"
    )


def figure(picture: str, caption: str, kind: str = "") -> str:
    """A picture with what is to be seen in it."""
    return (
        f'<figure class="{kind}"><div class="wide" role="region" tabindex="0" '
        f'aria-label="{escape(caption)}">{picture}</div><figcaption>{caption}</figcaption></figure>'
    )


def link(anchor: str, words: str) -> str:
    """A number that leads to where it was made."""
    return f'<a class="num" href="#{anchor}">{words}</a>'


def step_words(number: int) -> str:
    """ "from step 4"."""
    return said("page/from_step", number=number)
