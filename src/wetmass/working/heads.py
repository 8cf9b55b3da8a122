"""What stands before the first sign of a line: the name of its number, its unit, its stage."""

from __future__ import annotations

import re

from wetmass.working.names import IDEAS, stage_of, tags
from wetmass.working.units import UNITS

_WHERE = re.compile(
    r"\b(?:at|of|with|and|for|from|to|by|in|on|after|below|above|over|under)\s+[\d][\d.,]*\s*[^\W\d_]*(?:/[^\W\d_]+)?[²³]?"
)

_AMOUNT = re.compile(r"(?<=\s)[\d][\d.,]*\s*(?:[^\W\d_]+\^?[²³\d]?(?:/[^\W\d_]+\^?[²³\d]?)*(?=\s|$|,)|%|°)?")

_SYMBOLIC = re.compile(r"[+*^·×²³√−]|\bln\b|\blog\b|\bsqrt\b|(?<=\s)-(?=\s)")


def label_of(text: str) -> tuple[str, str | None]:
    """What stands before the first sign, and the rest from that sign on (None: no sign at all)."""
    sign = re.search(r"==|:=|=>|-->|->|[=≈≃≅→⇒≡]", text)
    colon = re.search(r":(?!=)(?=\s|$)|(?<=[^\W\d]):(?=\d)", text)
    if colon and (sign is None or colon.start() < sign.start()):
        head, tail = text[: colon.start()], text[colon.end() :]
        if re.match(r"\s*[^\W\d][^:=\d]{0,40}:\s", tail):
            return label_of(tail.lstrip())  # "Step 3: put together: …"
        if sign is not None:
            between = text[colon.end() : sign.start()]
            if not re.search(r"\d", between) or re.fullmatch(r"\s*[^\W\d]\w{0,4}\s*", between):
                # "Stage 1: Δv = …" or "max q: q = …"
                inner = between.strip()
                stage = stage_of(head)
                name = f"{inner} (stage {stage})" if stage and not stage_of(inner) else inner
                if (
                    not stage
                    and not re.search(r"[+*/^·×]", inner)
                    and len(head.split()) <= 6
                    and len(inner) <= 4
                    and (len(inner) <= 2 or not tags(inner) & IDEAS)
                ):
                    name = f"{head} {inner}"
                return name, text[sign.start() :]
            if (
                _is_name(between.strip())
                and re.search(r"[^\W\d_]{3,}", between)
                and len(between.split()) < 15
            ):
                return f"{head} {between.strip()}", text[
                    sign.start() :
                ]  # "deorbit: perigee down to 50 km = …"
        if len(head.split()) > 12:
            return "", None
        return head, "= " + tail.lstrip()
    if sign is not None and colon and colon.start() < sign.start():
        said = re.match(r"\s*((?:[^\W\d]{2,}\s+){1,5})(?:is|are)\s+(?=[\d(√π½])", text[colon.end() :])
        if said:  # "the nose is a cone: its volume is π·0.3²·1.1/3 = …"
            return f"{text[: colon.start()]} {said.group(1).strip()}", "= " + text[colon.end() + said.end() :]
    if sign is None:
        return "", None
    head = text[: sign.start()].strip()
    rest = text[sign.start() :]
    if not head:
        return "", rest
    if _is_name(head):
        return head, rest
    # an expression stands first: it is a side of its own
    return ("", text) if re.search(r"\d", head) or "(" in head else (head, text)


def _is_name(head: str) -> bool:
    if re.match(r"(?:a?sin|a?cos|a?tan|ln|log|exp|sqrt)\s*\(", head):
        return False
    if len(re.findall(r"(?<![\w/])[^\W\d_]{2,}(?![\w/])", head.replace("_", " "))) >= 1:
        head = _AMOUNT.sub("", head)  # "heat flux 40 MW/m² over 0.05 m²"
    head = re.sub(r"[\[(]\s*[^\W\d_°%][\w²³/·%°^\-]*\s*[\])]\s*$", "", head)  # "load volume (m³)"
    head = re.sub(r"\d+(?:\.\d+)?\s*(?:km|m|t|kg)/s", "", head)  # "below 3 km/s" in a name
    head = _WHERE.sub("", head)  # "q at 400 m/s and 0.5 kg/m³"
    if _SYMBOLIC.search(head):
        return False
    if "/" in head and not re.fullmatch(
        r".*\b(T/W|O/F|L/D|F/W|thrust/weight|thrust / weight|thrust-to-weight)\b.*", head
    ):
        return False
    # a number in a name is part of a name: "stage 1", "density at 11 km"; a factor is not: "7 × 210"
    return not re.match(r"^[\d.½(]", head) or bool(re.fullmatch(r"\d+\s*%?\s+[^\W\d]{3,}[^\d/]*", head))


def label_unit(label: str) -> tuple[str, str]:
    """`start mass [t]` or `thrust, kN`: the unit stands in the label."""
    match = re.search(
        r"[\[(]\s*([^\W\d_°%][\w²³/·%°^\-]*|%|°)\s*[\])]\s*$|,\s*(?:in\s+)?([^\W\d_]+)\s*$", label
    )
    if match:
        unit = match.group(1) or match.group(2)
        level = unit.replace("²", "2").replace("³", "3")
        if unit in UNITS or level in UNITS:
            return label[: match.start()], unit if unit in UNITS else level
        if "/" in level and all(part.rstrip("23") in UNITS for part in level.split("/")):
            return label[: match.start()], level
    return label, ""


_GIVEN = re.compile(
    r"(?:[A-Za-z][\w/*]{0,3}\s*=?\s*)?\d[\d.,]*\s*(?:%|°|[^\W\d_]{1,4}[²³]?(?:/[^\W\d_]{1,4}[²³\d]?)?)?(?:\s+[a-z]+)?"
)
_SHARES = frozenset(["residual", "reserve", "ullage", "growth", "margin", "boiloff"])


def last_phrase(label: str) -> str:
    """`second look, dry mass` names the dry mass; brackets keep their commas."""
    if "," in label and label.count("(") == label.count(")"):
        depth, cut = 0, 0
        for index, letter in enumerate(label):
            depth += (letter == "(") - (letter == ")")
            if letter == "," and depth == 0:
                cut = index + 1
        tail = label[cut:].strip()
        if _GIVEN.fullmatch(tail):
            return last_phrase(label[: cut - 1])  # what is given for it
        share = re.fullmatch(r"(?:and )?([^\W\d_][\w\-]*) \d[\d.]* ?%", tail)
        if share and tags(share.group(1)) & _SHARES:
            return share.group(1)  # "propellant 21 500 kg, residuals 1.5 %": the residuals are worked out
        if re.search(r"\d", tail) and not stage_of(tail):
            first = label.split(",")[0].strip()  # "pump power, dp 11 MPa, LOX 1141": what is given for it
            if len(first) > 2 and tags(re.sub(r"\d.*", "", first)) & IDEAS:
                return first
        if (
            tail
            and len(tail.split()) <= 6
            and tags(tail) & IDEAS
            and len(label[:cut].split()) > 1
            and not re.match(r"(at|in|for|of|with|per|sea|vac)", tail)
        ):
            return tail
    return label


_SAID_AMOUNT = re.compile(
    r"(?<![\w.])\d[\d.,]*(?:\s?(?:%|°|[^\W\d_]{1,5}[²³23]?(?:/\(?[^\W\d_]{1,5}[²³23]?\)?)*))(?![\w])|(?<![\w.])\d+[.,]\d+(?![\w])"
)


def without_amounts(label: str) -> str:
    """A name without the amounts said in it: "barrel 3.6 m across, 9 m long" is "barrel across, long".

    >>> without_amounts("max q at 480 m/s, 0.35 kg/m³"), without_amounts("stage 2 dry mass")
    ('max q', 'stage 2 dry mass')
    """

    def drop(match: re.Match[str]) -> str:
        unit = re.sub(r"^[\d.,\s]+", "", match.group())
        known = not unit or all(part.strip("()").rstrip("²³23") in UNITS for part in unit.split("/"))
        return " " if known else match.group()

    bare = _SAID_AMOUNT.sub(drop, label)
    if bare == label or not re.search(r"[^\W\d_]", bare):
        return label
    bare = re.sub(r"\s+", " ", re.sub(r"\s+([,;)])", r"\1", bare)).strip(" ,;(")
    while (
        shorter := re.sub(
            r"(?:^|[\s,]+)(?:at|of|for|with|from|to|by|and|in|under|over|on|a)$", "", bare
        ).strip(" ,")
    ) != bare:
        bare = shorter
    return bare or label
