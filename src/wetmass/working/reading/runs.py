"""Where in a sentence the sums and the amounts stand: runs of tokens that may be working."""

from __future__ import annotations

from wetmass.working.token_walk import FUNCTION_NAMES
from wetmass.working.tokens import Token
from wetmass.working.units import UNITS

SMALL_WORDS = frozenset(
    [
        "a",
        "an",
        "the",
        "of",
        "to",
        "in",
        "on",
        "at",
        "as",
        "so",
        "is",
        "it",
        "we",
        "or",
        "by",
        "be",
        "do",
        "if",
        "no",
        "up",
        "and",
        "for",
        "are",
        "was",
        "has",
        "had",
        "our",
        "its",
        "per",
        "with",
        "from",
        "that",
        "this",
        "than",
        "then",
        "thus",
        "into",
        "over",
        "when",
        "only",
        "just",
        "most",
        "must",
        "may",
        "can",
        "will",
        "need",
        "needs",
        "give",
        "gives",
        "makes",
        "take",
        "about",
        "which",
        "where",
        "each",
        "all",
        "both",
        "does",
        "did",
        "how",
        "not",
        "but",
        "now",
        "also",
        "more",
        "less",
        "out",
        "off",
        "still",
        "after",
        "before",
    ]
)


def _mathematical(cut: list[Token], at: int) -> bool:
    """Whether a token may stand in a sum."""
    token = cut[at]
    if token.kind in ("number", "sign", "power", "relation", "open", "close"):
        return not (
            token.kind == "sign" and token.text == "-" and _prose(cut, at - 1) and _prose(cut, at + 1)
        )
    if token.kind != "word":
        return False
    word = token.text
    before = cut[at - 1] if at else None
    if word in FUNCTION_NAMES or word in ("π", "pi", "x", "×", "°", "%"):
        return word not in ("x", "root") or (
            before is not None and before.kind in ("number", "close", "word")
        )
    if word in UNITS or (word[-1:] in "23" and word[:-1] in UNITS):
        behind = before is not None and (
            before.kind in ("number", "close", "power")
            or (before.kind == "sign" and before.text in "*/" and at > 1 and cut[at - 2].kind == "word")
            or (before.kind == "sign" and before.text in "/")
            or (before.kind == "word" and before.text in UNITS and len(word) < 3)
        )
        if behind:
            return word != "in" or not _prose(cut, at + 1)
    if word.lower() in SMALL_WORDS or word in ("us", "OK", "ok", "I", "i.e", "e.g", "vs"):
        return False
    return (
        len(word) <= 2
        or "_" in word
        or word[-1].isdigit()
        or word in ("Δv", "Isp", "isp", "rho", "mdot", "dv")
    )


def _prose(cut: list[Token], at: int) -> bool:
    return 0 <= at < len(cut) and cut[at].kind == "word" and len(cut[at].text) > 1


def sums(cut: list[Token]) -> list[tuple[int, int]]:
    """The runs of tokens round each relation sign: (first, last)."""
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(cut):
        if cut[at].kind != "relation":
            at += 1
            continue
        first = last = at
        floor = found[-1][1] + 1 if found else 0
        while first - 1 >= floor and _mathematical(cut, first - 1):
            first -= 1
        while last + 1 < len(cut) and _mathematical(cut, last + 1):
            last += 1
        first, last = _closed(cut, first, last, at)
        if any(token.kind == "number" for token in cut[at + 1 : last + 1]):
            found.append((first, last))
        at = last + 1
    return found


def _closed(cut: list[Token], first: int, last: int, at: int) -> tuple[int, int]:
    """The run without brackets that open or close outside of it, and without a sign at its ends."""
    while True:
        depth = low = 0
        for token in cut[first : last + 1]:
            depth += {"open": 1, "close": -1}.get(token.kind, 0)
            low = min(low, depth)
        if low < 0 and cut[last].kind == "close":
            last -= 1
        elif (depth > 0 and first < at and low == 0) or (
            first < at and cut[first].kind in ("sign", "close", "power") and cut[first].text not in "-√"
        ):
            first += 1
        elif last > at and cut[last].kind in ("sign", "open"):
            last -= 1
        elif (
            first + 1 < at
            and cut[first].kind == "word"
            and cut[first].text not in FUNCTION_NAMES
            and cut[first].text not in ("π", "pi")
            and cut[first + 1].kind == "number"
            and cut[first + 1].spaced
        ):
            first += 1  # "share of pc 1.4/7.2 = …"
        else:
            return first, last


def amounts(cut: list[Token], spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Numbers with a unit outside of the sums: (first token, last token)."""
    taken = {i for first, last in spans for i in range(first, last + 1)}
    found = []
    at = 0
    while at < len(cut):
        if at in taken or cut[at].kind != "number":
            at += 1
            continue
        last = at
        while last + 1 < len(cut) and last + 1 not in taken and _of_unit(cut, at, last + 1):
            last += 1
        found.append((at, last))
        at = last + 1
    return found


def _of_unit(cut: list[Token], start: int, at: int) -> bool:
    token = cut[at]
    if token.kind == "word":
        if token.text == "per":
            return at - start >= 1 and at + 1 < len(cut) and cut[at + 1].text in UNITS
        if token.text == "in" and _prose(cut, at + 1):
            return False
        return token.text in UNITS or (token.text[-1:] in "23" and token.text[:-1] in UNITS)
    if token.kind == "sign":
        return (
            token.text in "/*^"
            and at - start >= 1
            and at + 1 < len(cut)
            and (
                cut[at + 1].text.rstrip("23") in UNITS
                or (token.text == "^" and cut[at + 1].kind == "number")
                or (token.text == "/" and _bracketed(cut, at + 1))
            )
        )
    if token.kind in ("open", "close"):
        return any(
            cut[i].kind == "sign" and cut[i].text == "/" and _bracketed(cut, i + 1) for i in range(start, at)
        ) and not any(other.kind == "close" for other in cut[start:at])
    return token.kind == "power" and at - start >= 1


def _bracketed(cut: list[Token], at: int) -> bool:
    """Whether a bracket of units alone starts here: kg/(kgf h)."""
    if at >= len(cut) or cut[at].kind != "open":
        return False
    for token in cut[at + 1 : at + 5]:
        if token.kind == "close":
            return True
        if token.kind != "sign" and token.text not in UNITS:
            return False
    return False
