"""Small pieces of HTML."""

from __future__ import annotations

import re
from html import escape

from wetmass.lesson.content.inline import Link, Words
from wetmass.lesson.content.matter import THOUSANDS

_TYPED = re.compile(r"`([^`]+)`")


def text(words: str) -> str:
    """Words as they are; no line ends within a number, and `what is typed` looks so."""
    kept = THOUSANDS.sub(r'<span class="whole">\g<0></span>', escape(words, quote=False))
    return _TYPED.sub(r"<code>\1</code>", kept)


def line(words: Words) -> str:
    """Words in a line, numbers as links to where they were made."""
    made = []
    for span in words:
        if isinstance(span, str):
            made.append(text(span))
        elif isinstance(span, Link):
            made.append(link(span.anchor, text(span.words)))
        else:
            made.append(f'<span class="{span.kind}">{text(span.words)}</span>')
    return "".join(made)


def paragraph(words: str, kind: str = "") -> str:
    """A paragraph of HTML; nothing for no words."""
    if not words.strip():
        return ""
    return f'<p class="{kind}">{words}</p>' if kind else f"<p>{words}</p>"


def link(anchor: str, words: str) -> str:
    """A number that leads to where it was made."""
    return f'<a class="num" href="#{anchor}">{words}</a>'
