"""A line of working cut into tokens: numbers with their digits, words, signs."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

LONGEST_LINE = 600  # characters; a longer line is not read
MOST_TOKENS = 240

_SUPER = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺", "0123456789-+")
_SUB = str.maketrans("₀₁₂₃₄₅₆₇₈₉ₐₑₒₓₕₖₗₘₙₚₛₜᵢᵥ", "0123456789aeoxhklmnpstiv")
_FRACTIONS = {"½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅓": (1, 3), "⅔": (2, 3), "⅛": (1, 8), "⅕": (1, 5)}
_LATEX = {
    r"\cdot": "·", r"\times": "×", r"\approx": "≈", r"\sim": "~", r"\ln": "ln", r"\log": "log", r"\sqrt": "sqrt",  # noqa: E501
    r"\pi": "π", r"\Delta": "Δ", r"\rho": "ρ", r"\sin": "sin", r"\cos": "cos", r"\tan": "tan", r"\left": "",
    r"\right": "", r"\,": " ", r"\;": " ", r"\dot{m}": "ṁ", r"\mu": "μ", r"\sigma": "σ", r"\text": "",
    r"\mathrm": "", r"\to": "→", r"\quad": " ", r"\%": "%",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Token:
    """`kind` is number, word, sign, relation, power, open, close or mark."""

    kind: str
    text: str
    start: int
    end: int
    value: float = 0.0
    half: float = 0.0  # half of the last digit written
    spaced: bool = False  # white space stands before it


class Unreadable(ValueError):
    """A line that is not working, or working we cannot read; `reason` is said to the reader."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


_THIN = "\u2009\u202f\u00a0"
_NUMBER = re.compile(
    rf"""(?:\d{{1,3}}(?:[ ,'_{_THIN}]\d{{3}})+(?!\d)(?:\.\d+)?|\d+\.\d+|\d+\.(?!\w)|\.\d+|\d+)
         (?:[eE][+\-−]?\d{{1,3}}(?![\w.]))?
         (?:\s*[x×·*∙⋅]\s*10\s*(?:(?:\^|\*\*)\s*(?:[({{]\s*[+\-−]?\d{{1,3}}\s*[)}}]|[+\-−]?\d{{1,3}})|[⁻⁺]?[⁰¹²³⁴-⁹]{{1,3}}))?""",
    re.VERBOSE,
)
_SQUARED_TEN = re.compile(r"\s*[*·∙⋅]\s*10\s*(?:(?:\^|\*\*)\s*[12]|[¹²])\s*$")
_POWER_OF_TEN = re.compile(
    r"^10\s*(?:\^|\*\*)\s*(?:[({]\s*([+\-−]?\d{1,3})\s*[)}]|([+\-−]?\d{1,3}))|^10([⁻⁺]?[⁰¹²³⁴-⁹]{1,3})"
)
_WORD = re.compile(r"[^\W\d_⁰¹²³⁴-⁹ªº][^\W⁰¹²³⁴-⁹]*(?:-(?=[^\W\d_])[^\W⁰¹²³⁴-⁹]+)*[′']?")
_SUPERSCRIPT = re.compile(r"[⁻⁺]?[⁰¹²³⁴-⁹]+")
_RELATION = re.compile(r"==|:=|=>|->|-->|~=|=~|[=≈≃≅→⇒≡]")
_DECIMAL_COMMA = re.compile(r"(?<![\d.,])\d+,(?:\d{1,2}|\d{4,})(?![\d,])|(?<![\d.,])0,\d+")


def plain(text: str) -> str:
    """Letters in one spelling: composed accents, low digits set level, typesetting marks undone."""
    text = unicodedata.normalize("NFC", text)
    if "\\" in text:
        for mark, sign in sorted(_LATEX.items(), key=lambda pair: -len(pair[0])):
            text = text.replace(mark, sign)
    return text.translate(_SUB).replace("∆", "Δ").replace("≅", "≈").replace("µ", "μ")


def tokens(text: str) -> list[Token]:
    """The tokens of `text` (already `plain`).

    Raises Unreadable for a line that is too long or has a comma in a decimal.

    >>> [token.text for token in tokens("2 π² · 6.2 m")]
    ['2', 'π', '²', '*', '6.2', 'm']
    """
    if len(text) > LONGEST_LINE:
        raise Unreadable(f"the line is longer than {LONGEST_LINE} characters; break it in two")
    comma = _DECIMAL_COMMA.search(text)
    if comma:
        raise Unreadable(
            f"“{comma.group()}” has a comma where a decimal point belongs; write "
            f"{comma.group().replace(',', '.')} (commas only set thousands apart, as in 12,500)"
        )
    found: list[Token] = []
    at = 0
    while at < len(text):
        if len(found) > MOST_TOKENS:
            raise Unreadable("the line has too many parts to read; break it in two")
        letter = text[at]
        if letter.isspace():
            at += 1
            continue
        token = _one(text, at)
        spaced = at > 0 and text[at - 1].isspace()
        found.append(
            Token(token.kind, token.text, at, token.end, token.value, token.half, spaced) if spaced else token
        )
        at = token.end
    return found


def _one(text: str, at: int) -> Token:
    letter = text[at]
    match = _NUMBER.match(text, at)
    if match:
        if not any(mark in match.group() for mark in "x×·*∙⋅"):
            power = _POWER_OF_TEN.match(text[at:])
            if power:
                exponent = int(
                    (power.group(1) or power.group(2) or power.group(3).translate(_SUPER)).replace("−", "-")
                )
                return Token("number", power.group(), at, at + power.end(), 10.0 ** _bounded(exponent), 0.0)
        written = match.group()
        short = _SQUARED_TEN.search(written)
        if short:  # 13.75·10² is as likely 13.75 times (10)²
            written = written[: short.start()]
        value, half = _value(written)
        return Token("number", written, at, at + len(written), value, half)
    if letter in _FRACTIONS:
        top, bottom = _FRACTIONS[letter]
        return Token("number", letter, at, at + 1, top / bottom, 0.0)
    match = _RELATION.match(text, at)
    if match:
        return Token("relation", match.group(), at, match.end())
    match = _SUPERSCRIPT.match(text, at)
    if match:
        return Token("power", match.group(), at, match.end(), float(match.group().translate(_SUPER)))
    if text.startswith(("°C", "°R"), at) and not text[at + 2 : at + 3].isalnum():
        return Token("word", text[at : at + 2], at, at + 2)
    if letter in "°%‰":
        return Token("word", letter, at, at + 1)
    match = _WORD.match(text, at)
    if match:
        word = _whole_word(match.group())
        if word in ("c", "A", "p", "T", "V", "a", "rho", "ρ") and _STARRED.match(text, at + len(word)):
            word += "*"  # c*, A*: values at the throat
        return Token("word", word, at, at + len(word))
    if text.startswith("**", at):
        return Token("sign", "^", at, at + 2)
    if letter in "+^":
        return Token("sign", letter, at, at + 1)
    if letter in "-−–":
        return Token("sign", "-", at, at + 1)
    if letter in "*×·⋅∙•✕":
        return Token("sign", "*", at, at + 1)
    if letter in "/÷∕⁄":
        return Token("sign", "/", at, at + 1)
    if letter in "√∛":
        return Token("word", "sqrt" if letter == "√" else "cbrt", at, at + 1)
    if letter in "([{":
        return Token("open", letter, at, at + 1)
    if letter in ")]}":
        return Token("close", letter, at, at + 1)
    return Token("mark", letter, at, at + 1)


_STARRED = re.compile(r"\*(?!\*)(?=\s*[=/:)·×≈,]|\s*$)")
_JOINED_BY = {"re", "de", "in", "on", "up", "q", "co", "un"}


def _whole_word(text: str) -> str:
    """A hyphen joins words ("lift-off", "delta-v") and takes letters apart ("m0-m1", "F-D")."""
    first, hyphen, _ = text.partition("-")
    if not hyphen or (first.isalpha() and (len(first) > 2 or first.lower() in _JOINED_BY)):
        return text
    return first


def _bounded(exponent: int) -> int:
    if abs(exponent) > 300:
        raise Unreadable(f"10^{exponent} is beyond any quantity of this trade")
    return exponent


def _value(text: str) -> tuple[float, float]:
    """The number written and half of its last digit; zeros that end a whole number may be filler."""
    mantissa, exponent = text, 0
    ten = re.search(r"\s*[x×·*∙⋅]\s*10\s*(?:\^|\*\*)?\s*[({]?\s*([⁻⁺⁰¹²³⁴-⁹+\-−\d]+)\s*[)}]?$", text)
    if ten and re.search(r"[x×·*∙⋅]", text):
        exponent = int(ten.group(1).translate(_SUPER).replace("−", "-"))
        mantissa = text[: ten.start()]
    match = re.search(r"[eE]([+\-−]?\d+)$", mantissa)
    if match:
        exponent += int(match.group(1).replace("−", "-"))
        mantissa = mantissa[: match.start()]
    exponent = _bounded(exponent)
    digits = re.sub(rf"[ ,'_{_THIN}]", "", mantissa)
    if len(digits) > 40:
        raise Unreadable("a number of more than 40 digits")
    value = float(f"{digits}e{exponent}")
    if "." in digits:
        last = -len(digits.split(".")[1])
    else:
        significant = digits.lstrip("0").rstrip("0")
        zeros = len(digits) - len(digits.rstrip("0")) if significant else 0
        # at least two figures are meant: 3000 may stand for 2950 to 3050, never for 2500 to 3500
        last = min(zeros, max(len(digits.lstrip("0")) - 2, 0))
    return value, 0.5 * 10.0 ** max(-300, min(300, last + exponent))
