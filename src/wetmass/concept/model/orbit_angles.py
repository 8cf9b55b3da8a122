"""Angles of an orbit that may be said by what they do."""

from __future__ import annotations

from typing import Any

from wetmass.concept import dimensions as d
from wetmass.concept.reads import Reads

SUN_SYNCHRONOUS, AT_THE_EQUATOR = "sun-synchronous", "at the equator"


class ReadsAngleOr(Reads):
    """An angle, or one word that stands for the angle that has a certain effect."""

    def __init__(self, word: str, at_most: str, example: str) -> None:
        super().__init__(d.ANGLE, at_least="0 deg", at_most=at_most, spread=False, example=example)
        self.word = word

    def takes(self, value: Any) -> bool:
        return super().takes(value) or value == self.word

    def words(self) -> str:
        return f"{super().words()}; or {self.word}"

    def read(self, text: str, info: Any) -> Any:
        return self.word if text.strip() == self.word else super().read(text, info)
