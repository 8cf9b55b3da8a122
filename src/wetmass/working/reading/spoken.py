"""Spoken turns in front of a sum set into signs: "nine engines of 840 kN" is 9 · 840 kN."""

from __future__ import annotations

import re

from wetmass.working.units import UNITS

NUMBERS = {
    "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "twenty": 20,
}  # fmt: skip
_UNITS = (
    (re.compile(r"(?<=\d )per ?cent\b", re.I), "%"),
    (re.compile(r"(?<=\d )kilos a second\b", re.I), "kg/s"),
    (re.compile(r"\bnautical[\s-]miles?\b", re.I), "nmi"),
    (re.compile(r"\bstatute[\s-]miles?\b", re.I), "mi"),
    (re.compile(r"\bcubic met(?:re|er)s?\b", re.I), "m³"),
    (re.compile(r"\bsquare met(?:re|er)s?\b", re.I), "m²"),
    (re.compile(r"\bcubic f(?:oo|ee)t\b", re.I), "ft³"),
    (re.compile(r"\bsquare f(?:oo|ee)t\b", re.I), "ft²"),
    (re.compile(r"\bmet(?:re|er)s? per second\b", re.I), "m/s"),
    (re.compile(r"\bkilomet(?:re|er)s? per second\b", re.I), "km/s"),
    (re.compile(r"\bkilograms? per second\b", re.I), "kg/s"),
    (
        re.compile(r"(?<=\d )(kg|t|g|lb)\s+per\s+(m³|l|lit(?:re|er)s?|ft³|s|second|h|hour|min|minute)\b"),
        r"\1/\2",
    ),
)
_EACH = re.compile(
    r"^(?P<count>"
    + "|".join(NUMBERS)
    + r"|\d{1,2})\s+(?P<what>(?:[a-z\-]+\s+)?(?:engines|boosters|tanks|fans|turbofans|motors|"
    r"thrusters|strap-ons))\s+(?:of|at|with|each|à)\s+(?P<amount>\d[\d., ]*\s*[^\W\d_]{1,4}[²³]?)\s*(?:each\s*)?(?==|≈)",
    re.IGNORECASE,
)
_CONVERTED = re.compile(
    r"^(?P<name>[^\W\d][^=≈:]{2,50}?)\s+(?P<amount>\d[\d., ]*\s?[^\W\d_]{1,5}[²³]?(?:/[^\W\d_]{1,4}[²³\d]?)?)\s*(?P<rest>[=≈]\s*[~≈]?\s*"
    r"\d[\d.,]*\s*[^\W\d_]{1,5}[²³]?(?:/[^\W\d_]{1,4}[²³\d]?)?\s*(?:\(.*)?)$"
)


_AMOUNT = r"(?:\d(?:[\d,]*\d)?(?:\.\d+)?|π|pi)"
_SPOKEN = (
    (
        re.compile(r"\b(two|three|four|half)\s+(?:times\s+)?(?:pi\b|π)", re.I),
        lambda m: f"{_FEW[m.group(1).lower()]} · π",
    ),
    (
        re.compile(r"(?<=[\dπ])\s+squared\b|\bpi\s+squared\b", re.I),
        lambda m: "π²" if "pi" in m.group().lower() else "²",
    ),
    (re.compile(r"(?<=[\dπ])\s+cubed\b"), "³"),
    (
        re.compile(
            rf"\bdivided by\s+({_AMOUNT})\s+times\s+({_AMOUNT}),\s+so by\s+{_AMOUNT}(?:,\s*which)?(?=,|\s)"
        ),
        r"/ (\1 · \2) ",
    ),
    (re.compile(rf"({_AMOUNT})\s+(?=/ \()"), r"\1 "),
    (re.compile(rf"({_AMOUNT}[²³]?),?\s+(?:times|multiplied by)\s+(?={_AMOUNT})"), r"\1 · "),
    (re.compile(rf"\b({_AMOUNT})\s+(?:over|divided by)\s+(?={_AMOUNT})"), r"\1 / "),
    (re.compile(rf"\b({_AMOUNT})\s+plus\s+(?={_AMOUNT})"), r"\1 + "),
    (re.compile(rf"\b({_AMOUNT})\s+minus\s+(?={_AMOUNT})"), r"\1 − "),
)
_FEW = {"two": "2", "three": "3", "four": "4", "half": "0.5"}
_RESULT = re.compile(
    rf"((?:\(?{_AMOUNT}[²³]?\s*(?:[·×*/+−]\s*)){{1,5}}{_AMOUNT}[²³]?\)?)\s*"
    r"(?:,?\s*(?:makes|is|that is|that's|that makes|which is|which makes|so that is|gives|which gives|comes to)|,|:)\s+"
    r"(?=\d[\d,]*(?:\.\d+)?\s*(?:[^\W\d_]|°|%))(?![^=≈]{0,30}[=≈·×*])"
)


def spoken_sums(text: str) -> str:
    """Sums said in words with their result behind a comma.

    >>> spoken_sums("exhaust speed, 282 times 9.81, 2766 m/s")
    'exhaust speed, 282 · 9.81 = 2766 m/s'
    """
    if not re.search(r"\b(?:times|multiplied by|over|divided by|plus|minus|squared|cubed)\b", text):
        return text
    said = text
    for pattern, sign in (*_UNITS[:2], *_SPOKEN):
        said = pattern.sub(sign, said)
    return _RESULT.sub(r"\1 = ", said) if said != text else text


def level(text: str) -> str:
    """The line with its spoken turns as signs.

    >>> level("Seven engines of 840 kN = 5880 kN")
    'engines total = 7 · 840 kN = 5880 kN'
    >>> level("sea-level thrust 845,000 lbf = 3759 kN")
    'sea-level thrust = 845,000 lbf = 3759 kN'
    """
    for pattern, sign in _UNITS:
        text = pattern.sub(sign, text)
    text = spoken_sums(text)
    match = _EACH.match(text)
    if match:
        word = match.group("count").lower()
        count = NUMBERS.get(word) or int(word)
        return (
            f"{match.group('what')} total = {count} · {match.group('amount').strip()} {text[match.end() :]}"
        )
    match = _CONVERTED.match(text)
    unit = re.sub(r"^[\d.,\s]+", "", match.group("amount")) if match else ""
    known = unit and all(part.rstrip("²³23") in UNITS for part in unit.split("/"))
    if (
        match
        and known
        and not re.search(r"\b(?:at|of|for|with|from|to|by|over|per|after)$", match.group("name"))
    ):
        return f"{match.group('name')} = {match.group('amount').strip()} {match.group('rest')}"
    return text
