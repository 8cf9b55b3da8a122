"""Pages whose decimals are set with a comma: 28,4 t is 28.4 t, 1.250,5 is 1250.5."""

from __future__ import annotations

import re

_COMMA = re.compile(r"(?<![\d.,\w])(?:\d+(?:\.\d{3})*,\d{1,2}|0,\d+|\d+,\d{4,})(?![\d,]|\.\d)")
_POINT = re.compile(r"(?<![\d.,])\d+\.(?:\d{1,2}|\d{4,})(?![\d.])")
_NUMBER = re.compile(r"(?<![\d.,])(\d{1,3}(?:\.\d{3})+|\d+),(\d+)(?![\d,]|\.\d)")
_THOUSANDS = re.compile(r"(?<![\d.,])[1-9]\d{0,2}(?:\.\d{3})+(?![\d,.])")


def uses_commas(text: str) -> bool:
    """Whether the decimals of a page are set with commas: at least two, and far more than with points.

    >>> uses_commas("m0 = 28,4 t, mf = 6,0 t"), uses_commas("12,500 kg and 1.25")
    (True, False)
    """
    commas, points = len(_COMMA.findall(text)), len(_POINT.findall(text))
    return commas >= 2 and commas > 3 * points


def level(text: str) -> str:
    """The page with points for its decimal commas, each line as long as it was where no thousands are set.

    >>> level("Schub = 110.000 N, Fluss = 25,03 kg/s")
    'Schub = 110000 N, Fluss = 25.03 kg/s'
    """
    text = _NUMBER.sub(lambda match: f"{match.group(1).replace('.', '')}\0{match.group(2)}", text)
    text = _THOUSANDS.sub(lambda match: match.group().replace(".", ""), text)
    return text.replace("\0", ".")
