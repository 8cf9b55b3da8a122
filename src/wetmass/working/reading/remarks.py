"""Sums without the words at their numbers, and products said with "at"."""

from __future__ import annotations

import re

_UNIT_WORD = r"(?:%|°|[^\W\d_]{1,4}[²³23]?(?:/[^\W\d_]{1,4}[²³23]?)?)"


_REMARKED = re.compile(
    rf"(\d[\d.,]*\s*{_UNIT_WORD}?)\s+(?!(?:x|times|per|ln|log|sqrt|sin|cos|tan|exp)\b)((?:[a-z][a-z\-]{{2,}}\s*){{1,3}}|\([a-z][a-z \-]{{2,}}\)\s*)"
    r"(?=[+−*/×·=≈)]|-\s|$)"
)


# "propellant 14.41 t + dry 1.90 t": the names before the numbers of a sum
_NAMED_TERM = re.compile(
    r"(^|[+−]|\s-(?=\s))\s*(?!(?:ln|log|sqrt|sin|cos|tan|exp)\b)(?:[a-z][a-z\-]{2,}\s+){1,5}(?=\d)"
)


def bare_sum(text: str) -> str:
    """A sum without the words at its numbers: "85 t dry + 640 t LOX = 725 t".

    >>> bare_sum("full: 85 t dry + 640 t oxygen = 725 t")
    'full: 85 t + 640 t = 725 t'
    """
    head, sign, tail = text.partition(":") if ":" in text else ("", "", text)
    tail = _REMARKED.sub(lambda match: match.group(1) + " ", tail)
    first = _NAMED_TERM.match(tail)
    if first and sign and not re.search(r"[+−]|\s-\s", tail):
        head, tail = (
            f"{head} {tail[: first.end()].strip()}",
            tail[first.end() :],
        )  # "tanks: hydrogen 300/6.8 = …"
    return head + sign + _NAMED_TERM.sub(lambda match: match.group(1) + " ", tail)


_AT = re.compile(rf"(\d[\d.,]*\s*{_UNIT_WORD})\s+(?:at|for|of|by)\s+(?=\d[\d.,]*\s*{_UNIT_WORD}\s*[=≈])")


def spoken_products(text: str) -> str:
    """ "4.35 m³ at 1180 kg/m³ = 5133 kg" with its sign.

    >>> spoken_products("load: 4.35 m³ at 1180 kg/m³ = 5133 kg")
    'load: 4.35 m³ · 1180 kg/m³ = 5133 kg'
    """
    return _AT.sub(r"\1 · ", text)
