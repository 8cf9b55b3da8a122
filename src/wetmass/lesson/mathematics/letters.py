"""A quantity's letter taken apart: what stands on the line, below it, and above it."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

_LOW = {ord(low): plain for low, plain in zip("₀₁₂₃₄₅₆₇₈₉ₐₑₒₚₙₜₓ", "0123456789aeopntx", strict=True)}
_LOWERED = "".join(chr(code) for code in _LOW)
_PARTS = re.compile(rf"^(?P<base>[^_{_LOWERED}]+)(?P<low>[{_LOWERED}]*)(?:_(?P<below>.+))?$")
_NAMED = {"Isp": ("I", "sp"), "TR": ("θ", "b")}
_DOT = "\u0307"


@dataclass(frozen=True, slots=True)
class Letter:
    """One letter of a formula."""

    base: str  # "m", "Δv"
    below: str = ""  # "dry", "1"
    dotted: bool = False  # a flow: the letter with a dot above
    starred: bool = False

    @property
    def single(self) -> str:
        """The base without its Δ."""
        return self.base.removeprefix("Δ") or self.base

    @property
    def difference(self) -> bool:
        """Whether a Δ stands before it."""
        return self.base.startswith("Δ") and len(self.base) > 1


def letter(symbol: str) -> Letter:
    """A symbol as it is named in a relation, taken apart.

    >>> letter("ṁ_f"), letter("Δv₁").below, letter("Isp_vac").below
    (Letter(base='m', below='f', dotted=True, starred=False), '1', 'sp,vac')
    """
    starred = symbol.endswith("*")
    match = _PARTS.match(symbol.rstrip("*"))
    if match is None:
        return Letter(symbol)
    base, below = match["base"], match["low"].translate(_LOW)
    if match["below"]:
        below = ",".join(part for part in (below, match["below"].translate(_LOW)) if part)
    if base in _NAMED:
        base, first = _NAMED[base]
        below = ",".join(part for part in (first, below) if part)
    plain = unicodedata.normalize("NFD", base)
    return Letter(plain.replace(_DOT, ""), below, _DOT in plain, starred)
