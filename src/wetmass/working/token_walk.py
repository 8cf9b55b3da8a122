"""A walk along the tokens of a side, and the ways its doubtful points may be taken."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from wetmass.working.tokens import Token, Unreadable
from wetmass.working.tree import Node

FUNCTION_NAMES = {
    "sqrt": "sqrt",
    "root": "sqrt",
    "cbrt": "cbrt",
    "ln": "ln",
    "LN": "ln",
    "Ln": "ln",
    "log": "log",
    "Log": "log",
    "log10": "log10",
    "lg": "log10",
    "log_10": "log10",
    "exp": "exp",
    "sin": "sin",
    "cos": "cos",
    "tan": "tan",
    "asin": "asin",
    "arcsin": "asin",
    "acos": "acos",
    "arccos": "acos",
    "atan": "atan",
    "arctan": "atan",
    "abs": "abs",
    "min": "min",
    "max": "max",
    "loge": "ln",
    "log_e": "ln",
    "sinh": "sinh",
    "cosh": "cosh",
    "tanh": "tanh",
    "log2": "log2",
    "SQRT": "sqrt",
    "EXP": "exp",
    "Sqrt": "sqrt",
    "Sin": "sin",
    "Cos": "cos",
    **{name.upper(): name for name in ("sin", "cos", "tan", "asin", "acos", "atan", "abs", "cbrt", "log10")},
    "LOG": "log",
}

Lookup = Callable[[str], Node | None]


@dataclass(frozen=True, slots=True)
class Reading:
    """How the two doubtful points of a line are taken."""

    names_first: bool = False  # in "2 h" h is the height of the page, not the hour
    tight: bool = False  # in "a / b c" the product b c is divided by
    grams: bool = True  # "g" after a number is the gram, not the acceleration


DEEPEST = 24


class TokenWalk:
    """Where the reader stands."""

    def __init__(
        self, tokens: list[Token], lookup: Lookup, reading: Reading, letters: Lookup | None = None
    ) -> None:
        self.tokens, self.lookup, self.reading = tokens, lookup, reading
        self.letters = letters or lookup  # the same, and single letters by what they usually stand for
        self.at = 0
        self.depth = 0
        self.doubtful = {"names": False, "tight": False, "grams": False}

    def peek(self, ahead: int = 0) -> Token | None:
        index = self.at + ahead
        return self.tokens[index] if index < len(self.tokens) else None

    def is_sign(self, *texts: str) -> bool:
        token = self.peek()
        return token is not None and token.kind == "sign" and token.text in texts

    def deeper(self) -> None:
        self.depth += 1
        if self.depth > DEEPEST:
            raise Unreadable(f"brackets more than {DEEPEST} deep")

    def name_at(self, index: int) -> tuple[Node, int] | None:
        """The longest known name that starts at `index`, and how many tokens it takes."""
        raise NotImplementedError
