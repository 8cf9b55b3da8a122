"""A line of working parsed: what it names, the sides in order, and the number it states."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field, replace

from wetmass.working.grammar import Parser, Reading
from wetmass.working.names import IDEAS, stage_of, tags
from wetmass.working.page import RawLine
from wetmass.working.scope import Scope, constant_of
from wetmass.working.tokens import Token, Unreadable, plain, tokens
from wetmass.working.tree import Leaf, Node, Op, Unknown, leaves, mapped, put, unknowns, walk
from wetmass.working.units import NONE, UNITS

_ABOUT = {
    "about",
    "approx",
    "approximately",
    "roughly",
    "ca",
    "circa",
    "some",
    "nearly",
    "around",
    "c",
    "approx.",
}
_SAYS = re.compile(
    r"\s(?:is|are|equals|gives|makes|comes to|came to|works out at|works out to|becomes|was)\s+"
    r"(?=(?:about|roughly|approximately|some|nearly|around|≈|~|only|just)?\s*[−\-]?\d)",
    re.IGNORECASE,
)
_LEAD = re.compile(
    r"^(?:(?:so|then|hence|thus|therefore|now|and|next|this gives|which gives|giving|we get|we have|i get|with|"  # noqa: E501
    r"check|finally|result|answer|that is|i\.e\.|or|but|where|using|take|assume|assuming|let|given|say)\b[\s,:]*)+",  # noqa: E501
    re.IGNORECASE,
)


_WHERE = re.compile(
    r"\b(?:at|of|with|and|for|from|to|by|in|on|after|below|above|over|under)\s+[\d][\d.,]*\s*[^\W\d_]*(?:/[^\W\d_]+)?[²³]?"
)
_VERB = re.compile(
    r"^([^\W\d][^=≈:]{2,60}?)\s(?:must give|has to give|gives?|needs?|makes?|comes to|must be|takes|lasts|costs|weighs|reaches|requires|is)\s+"  # noqa: E501
    r"(?=[\d(√π½][^=≈]*[-+−*/·×][^=≈]*[=≈])"
)
_TERSE = re.compile(r"^([^\W\d][^\d=:]{1,48}?)\s+(\d[\d,. ]*\s?([^\W\d][\w/²³%]*|%))$")


_PER_TWO = re.compile(r"(?<=[^\W\d_])\s?/\s?\(([^\W\d_]+[²³23]?)[ ·*]([^\W\d_]+[²³23]?)\)")
_UNITLESS = frozenset(["mixture", "cf", "cd", "gamma", "mach", "count", "expansion", "twr", "efficiency"])
_COUNTED_OFF = re.compile(
    r"^(?:row|step|line|item|eq\.?|cell|no\.?|question|part)\s*#?\d{1,3}[a-z]?\s*[:.)]\s*(?=[^\W\d])",
    re.IGNORECASE,
)
_GIVEN_FOR = re.compile(
    r"^([^\W\d][^=≈:]{2,60}?),?\s(?:for|at|with|when|if|given)\s[^=≈:]{1,40}[=≈]\s*[^=≈:]{1,40}:\s+([^=≈:]{1,20}[=≈].*)$"
)
_AMOUNT = re.compile(r"(?<=\s)[\d][\d.,]*\s*(?:[^\W\d_]+\^?[²³\d]?(?:/[^\W\d_]+\^?[²³\d]?)*(?=\s|$|,)|%|°)?")
_LISTED = re.compile(
    r"^([^\W\d][^=≈:,\d]{1,40}):(?:\s*(?:[^\W\d][\w/]*\s){1,3}\d[\d.]*(?:\s?[^\W\d_][\w/²³]{0,6})?\s*(?:,|\.?$)){2,}$"
)
_TITLED = re.compile(r"^((?:[^\W\d][\w/\-]*,?\s+){1,5})(?=[\d(√π½])")


@dataclass(slots=True)
class Part:
    """One side of a line in each way it can be read, the likeliest first."""

    trees: list[Node]
    value: bool  # a lone stated number
    about: bool = False  # it follows ≈ or "about"
    text: str = ""


@dataclass(slots=True)
class Statement:
    """One parsed line."""

    raw: RawLine
    label: str
    stage: str
    parts: list[Part] = field(default_factory=list)
    claim: Leaf | None = None
    about: bool = False
    note: str = ""

    @property
    def expressions(self) -> list[Part]:
        """The sides that hold working, the stated number excluded."""
        return [part for part in self.parts if not part.value]


_SPLIT = re.compile(r"(?:[;,]|\s(?:->|→|=>|⇒))\s+(?:and\s+)?(?=[^\W\d][^=≈:;,()]{0,40}(?:=|≈|:\s)\s*[^=\s])")


def split(text: str) -> list[tuple[int, str]]:
    """The statements of a line that holds several, with their columns from 0.

    >>> split("R = 6.2 m, r = 1.4 m")
    [(0, 'R = 6.2 m'), (11, 'r = 1.4 m')]
    """
    listed = _LISTED.match(text)
    if listed:
        name, at = listed.group(1), listed.end(1) + 1
        pieces = []
        for part in text[at:].split(","):
            word, amount = re.match(r"\s*((?:[^\W\d][\w/]*\s)+)(.*)", part).groups()  # type: ignore[union-attr]
            pieces.append((at, f"{name} {word.strip()} = {amount.strip()}"))
            at += len(part) + 1
        return pieces
    found, start = [], 0
    for match in _SPLIT.finditer(text):
        before = text[start : match.start()]
        if before.count("(") != before.count(")") or not re.search(r"[=≈:]|->|→", before):
            continue
        if not re.search(r"\d", before):
            continue
        found.append((start, before))
        start = match.end()
    found.append((start, text[start:]))
    return found


def parse(raw: RawLine, text: str, scope: Scope, continued: str = "") -> Statement | None:
    """The statement in `text`, None where it states nothing.

    `continued` is the label of the statement above, for a line that starts with its sign.
    Raises Unreadable with a reason in words.
    """
    text = plain(text).strip()
    text = _PER_TWO.sub(_apart, text)
    if text.startswith("~"):
        text = "≈" + text[1:]
    text = re.sub(r"(?<=[=:>→]\s)~\s*(?=\d)|(?<=[=:>→])~\s*(?=\d)", "≈ ", text)
    text = re.sub(r"=\s*≈", "≈", text)
    text = re.sub(r"\s~\s*(?=\d)", " ≈ ", text)
    text = re.sub(r"\.\.+|…", " ", text)
    if not re.search(r"[=≈≃→⇒]|->|:", text):
        text = _SAYS.sub(" = ", text, count=1)
    text = _LEAD.sub("", text) or text
    text = _VERB.sub(r"\1 = ", text, count=1)
    if not re.search(r"[=≈≃→⇒]|->|:", text):
        bare = _TERSE.match(text)
        if (
            bare and raw.sure and all(u in UNITS for u in re.split(r"[/·]", bare.group(3).rstrip("²³")))
        ):  # "PROPELLANT 208,000 lb"
            text = f"{bare.group(1)} = {bare.group(2)}"
        plain_one = re.match(r"^([^\W\d][^\d=:]{1,40}?)\s+(\d+(?:\.\d+)?)$", text)
        if plain_one and raw.sure and tags(plain_one.group(1)) & _UNITLESS:  # "O/F 1.9"
            text = f"{plain_one.group(1)} = {plain_one.group(2)}"
    text = _COUNTED_OFF.sub("", text)
    within = _GIVEN_FOR.match(text)
    if within and within.group(2).count("=") + within.group(2).count("≈"):
        text = f"{within.group(1)}: {within.group(2)}"  # "speed for C3 = 12 km²/s²: v = …"
    label, rest = _label(text)
    if rest is None:
        return None
    if not label and not rest.strip():
        return None
    cut = tokens(rest)
    if not cut:
        return None
    if not label and cut[0].kind == "relation" and continued:
        label = continued
    titled = _TITLED.match(text) if not label else None
    if (
        titled
        and tags(titled.group(1)) & IDEAS
        and cut[0].kind == "word"
        and scope.exact(titled.group(1)) is None
    ):
        # "thrust 9·180 kN = 1620 kN": the name without a sign after it
        try:
            again = parse(raw, f"{titled.group(1).strip(' ,')}: {text[titled.end() :]}", scope)
        except Unreadable:
            again = None
        if again is not None and again.claim is not None and again.expressions:
            return again
    label, default_unit = _label_unit(label)
    label = _last_phrase(label)
    numbered = next((idea[6:] for idea in sorted(tags(label)) if idea.startswith("stage ")), "")
    statement = Statement(raw, label.strip(" *_"), stage_of(label) or numbered or raw.stage)
    scope.stage, scope.section = statement.stage, raw.section
    _sides(statement, rest, cut, scope)
    if statement.claim is not None and statement.claim.bare and default_unit in UNITS:
        factor, dimension = UNITS[default_unit]
        statement.claim = replace(
            statement.claim,
            factor=factor,
            dimension=dimension,
            bare=False,
            unit=default_unit,
            text=f"{statement.claim.text} {default_unit}",
        )
        for part in statement.parts:
            if part.value:
                part.trees = [statement.claim]
    return statement


def _apart(match: re.Match[str]) -> str:
    """ "BTU/(ft² h)" is "BTU/ft²/h"."""
    one, other = match.group(1), match.group(2)
    known = all(part.rstrip("²³23") in UNITS for part in (one, other))
    return f"/{one}/{other}" if known else match.group(0)


def _label(text: str) -> tuple[str, str | None]:
    """What stands before the first sign, and the rest from that sign on (None: no sign at all)."""
    sign = re.search(r"==|:=|=>|-->|->|[=≈≃≅→⇒≡]", text)
    colon = re.search(r":(?!=)(?=\s|$)|(?<=[^\W\d]):(?=\d)", text)
    if colon and (sign is None or colon.start() < sign.start()):
        head, tail = text[: colon.start()], text[colon.end() :]
        if re.match(r"\s*[^\W\d][^:=\d]{0,40}:\s", tail):
            return _label(tail.lstrip())  # "Step 3: put together: …"
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
                ):
                    name = f"{head} {inner}"
                return name, text[sign.start() :]
            if (
                _is_name(between.strip())
                and re.search(r"[^\W\d_]{3,}", between)
                and len(between.split()) < 10
            ):
                return f"{head} {between.strip()}", text[
                    sign.start() :
                ]  # "deorbit: perigee down to 50 km = …"
        if len(head.split()) > 12:
            return "", None
        return head, "= " + tail.lstrip()
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


_SYMBOLIC = re.compile(r"[+*^·×²³√−]|\bln\b|\blog\b|\bsqrt\b|(?<=\s)-(?=\s)")


def _is_name(head: str) -> bool:
    if re.match(r"(?:a?sin|a?cos|a?tan|ln|log|exp|sqrt)\s*\(", head):
        return False
    if len(re.findall(r"(?<![\w/])[^\W\d_]{2,}(?![\w/])", head.replace("_", " "))) >= 1:
        head = _AMOUNT.sub("", head)  # "heat flux 40 MW/m² over 0.05 m²"
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


def _label_unit(label: str) -> tuple[str, str]:
    """`start mass [t]` or `thrust, kN`: the unit stands in the label."""
    match = re.search(
        r"[\[(]\s*([^\W\d_°%][\w²³/·%°^\-]*|%|°)\s*[\])]\s*$|,\s*(?:in\s+)?([^\W\d_]+)\s*$", label
    )
    if match:
        unit = match.group(1) or match.group(2)
        if unit in UNITS:
            return label[: match.start()], unit
    return label, ""


def _last_phrase(label: str) -> str:
    """`second look, dry mass` names the dry mass; brackets keep their commas."""
    if "," in label and label.count("(") == label.count(")"):
        depth, cut = 0, 0
        for index, letter in enumerate(label):
            depth += (letter == "(") - (letter == ")")
            if letter == "," and depth == 0:
                cut = index + 1
        tail = label[cut:].strip()
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


def _sides(statement: Statement, text: str, cut: list[Token], scope: Scope) -> None:
    """Parse the sides between the signs of a line."""
    at = 0
    about = False
    while at < len(cut):
        token = cut[at]
        if token.kind == "relation":
            about = token.text in "≈≃≅~" or about
            at += 1
            while at < len(cut) and (
                (
                    cut[at].kind == "word"
                    and cut[at].text.lower() in _ABOUT
                    and not (cut[at].text == "c" and scope.exact("c") is not None)
                )
                or (cut[at].kind == "mark" and cut[at].text in ".~")
            ):
                about = True
                at += 1
            if at < len(cut) and cut[at].kind == "relation":
                continue
            if at >= len(cut):
                break
        end = next((i for i in range(at, len(cut)) if cut[i].kind == "relation"), len(cut))
        last = end == len(cut)
        start_at = at
        try:
            part, stop = _side(cut[at:end], scope, last)
        except Unreadable:
            if not last and _letters_only(cut[at:end]):
                at, about = end, False  # a formula in letters the page gives no values for
                continue
            if last and statement.parts and not any(t.kind == "number" for t in cut[at:end]):
                statement.note = text[cut[at].start :]
                break
            raise
        part.about = about
        span = cut[at : at + stop]
        part.text = text[span[0].start : span[-1].end] if span else ""
        statement.parts.append(part)
        if at + stop < end:
            statement.note = text[cut[at + stop].start :]
            if not last and part.value and "%" in statement.note[: cut[end].start - cut[at + stop].start]:
                statement.parts.pop()  # "36.9 m³ (+5 %) = 38.7 m³": the remark is part of the working
            at = end
            words = cut[stop_at:end] if (stop_at := start_at + stop) < end else []
            if not last and not part.value and not _aside(words):
                raise Unreadable(f"cannot read on from “{text[cut[at - 1].start :][:30]}”")
            continue
        at = end
        about = False
    values = [part for part in statement.parts if part.value]
    if values and statement.parts[-1].value:
        leaf = _number(statement.parts[-1].trees[0])
        statement.claim, statement.about = leaf, statement.parts[-1].about


def _aside(words: list[Token]) -> bool:
    """Whether the tail of a side is a remark of a few words: "at lift-off"."""
    return (
        0 < len(words) <= 5
        and words[0].kind == "word"
        and words[0].text in ("at", "for", "with", "in", "after", "before", "on", "during", "per")
        and all(token.kind == "word" or token.text in "-–" for token in words)
    )


def _letters_only(cut: list[Token]) -> bool:
    """A side without numbers of its own, small whole factors aside."""
    return all(
        token.kind != "number" or token.value in (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 0.5) for token in cut
    ) and any(token.kind == "word" for token in cut)


def _number(node: Node) -> Leaf | None:
    if isinstance(node, Leaf):
        return node
    if isinstance(node, Op) and node.kind == "neg" and isinstance(node.parts[0], Leaf):
        return replace(node.parts[0], typed=-node.parts[0].typed)
    return None


def _side(cut: list[Token], scope: Scope, last: bool) -> tuple[Part, int]:
    """One side in each of its readings; `last` sides may trail off into a remark."""
    value = _value(cut, scope) if cut else None
    if value is not None and (
        value[1] == len(cut) or (_remark(cut, value[1], scope) and (last or cut[value[1]].kind == "open"))
    ):
        return Part([value[0]] + value[2], True), value[1]
    trees: list[Node] = []
    stop = 0
    todo = [Reading()]
    tried: set[Reading] = set()
    problem: Unreadable | None = None
    while todo:
        reading = todo.pop(0)
        if reading in tried or len(tried) > 7:
            continue
        tried.add(reading)
        parser = Parser(cut, scope.lookup, reading, scope.letters)
        try:
            side = parser.side()
        except Unreadable as error:
            problem = problem or error
            side = None
        if side is not None:
            aside = not last and _aside(cut[side.end :])
            if side.end < len(cut) and not aside and not (last and _remark(cut, side.end, scope)):
                problem = problem or Unreadable(
                    f"cannot read on from “{cut[side.end].text}”: a sign, a unit or a name known on the page is missing"  # noqa: E501
                )
            else:
                tree = _turns(_resolved(side.tree, scope))
                if tree not in trees and (not trees or side.end == stop):
                    trees.append(tree)
                    stop = side.end
        if parser.doubtful["names"]:
            todo.append(replace(reading, names_first=True))
        if parser.doubtful["tight"]:
            todo.append(replace(reading, tight=True))
        if parser.doubtful["grams"]:
            todo.append(replace(reading, grams=False))
    if not trees:
        raise problem or Unreadable("cannot be read")
    trees.sort(key=lambda tree: len(unknowns(tree)))
    return Part(trees, False), stop


def _value(cut: list[Token], scope: Scope) -> tuple[Leaf, int, list[Node]] | None:
    """A lone number with its unit at the start of a side."""
    index = 0
    negative = False
    while index < len(cut) and cut[index].kind == "sign" and cut[index].text in "+-" and index < 2:
        negative ^= cut[index].text == "-"
        index += 1
    if index >= len(cut) or cut[index].kind != "number" or cut[index].text in "½¼¾⅓⅔":
        return None
    found: list[tuple[Leaf, int]] = []
    for reading in (Reading(), Reading(grams=False)):
        parser = Parser(cut, lambda _: None, reading)
        parser.at = index
        try:
            leaf = parser.atom()
        except Unreadable:
            return None
        if not isinstance(leaf, Leaf):
            return None
        # "6.2 m³" is a volume; "6.2³" is working
        if parser.at < len(cut) and (cut[parser.at].kind == "power" or cut[parser.at].text == "^"):
            return None
        leaf = replace(leaf, typed=-leaf.typed, text="−" + leaf.text) if negative else leaf
        found.append((leaf, parser.at))
        if not parser.doubtful["grams"]:
            break
    leaf, end = found[0]
    return leaf, end, [other for other, at in found[1:] if at == end and other != leaf]


def _remark(cut: list[Token], at: int, scope: Scope) -> bool:
    """Whether what follows a stated number is a remark rather than more working."""
    token = cut[at]
    if token.kind == "mark":
        return True
    if token.kind == "sign":
        return token.text == "-" and at + 1 < len(cut) and cut[at + 1].kind == "word" and token.spaced
    if token.kind == "word":
        if token.text in (
            "x",
            "X",
            "times",
            "sqrt",
            "ln",
            "log",
            "log10",
            "sin",
            "cos",
            "tan",
            "exp",
            "π",
            "pi",
        ):
            return False
        return not (scope.exact(token.text) is not None and len(token.text) <= 3)
    if token.kind == "open":
        inner = cut[at + 1 :]
        words = sum(1 for t in inner if t.kind == "word" and t.text not in UNITS)
        return words > 0 or (cut[-1].kind == "close" and not any(t.kind == "sign" for t in inner))
    return token.kind == "close"


def _resolved(tree: Node, scope: Scope) -> Node:
    """Unknown names looked up loosely, literals recognised as values of the page or constants."""
    for path, node in list(walk(tree)):
        if isinstance(node, Unknown):
            found = scope.resolve(node.name)
            if found is not None:
                tree = put(tree, path, found)
    return tree


_INVERSE = ("asin", "acos", "atan")


def _turns(tree: Node) -> Node:
    """An inverse sine over 180 or 360 is in degrees: it is a share of half a turn or of a whole one."""
    for path, node in list(walk(tree)):
        if not isinstance(node, Op) or node.kind != "/" or not isinstance(node.parts[1], Leaf):
            continue
        above, below = node.parts
        if not below.bare or below.typed not in (180.0, 360.0) or not isinstance(above, Op):
            continue
        kinds = [part.kind for _, part in walk(above) if isinstance(part, Op)]
        if not any(kind in _INVERSE for kind in kinds) or any(
            kind in ("sin", "cos", "tan") for kind in kinds
        ):
            continue
        if any(leaf.constant == "π" or leaf.angle for leaf in leaves(above)):
            continue
        half_turn = Leaf(math.pi * below.typed / 180.0, text=below.text, half=0.0)
        tree = put(tree, path, Op("/", (above, half_turn)))
    return tree


def linked(tree: Node, scope: Scope) -> Node:
    """The tree with its literals recognised as values of the page or constants of nature."""
    return links(tree, scope)[0]


def links(tree: Node, scope: Scope) -> list[Node]:
    """As `linked`, in each way that literals with the digits of several values can be taken."""
    bases: set[tuple[int, ...]] = set()
    exponents: set[tuple[int, ...]] = set()
    for path, node in walk(tree):
        if isinstance(node, Op) and node.kind == "^":
            bases.add((*path, 0))
            exponents.update((*path, 1, *inner) for inner, _ in walk(node.parts[1]))
        if isinstance(node, Op) and node.kind in ("ln", "log", "log10"):
            bases.update((*path, *inner) for inner, _ in walk(node))
    doubtful: list[tuple[tuple[int, ...], list[Leaf]]] = []
    for path, node in list(walk(tree)):
        if (
            isinstance(node, Leaf)
            and node.typed < 0.0
            and node.bare
            and path not in exponents
            and node.page < 0
        ):
            # −398600 is 398600 with a sign
            positive = replace(node, typed=-node.typed, text=node.text.lstrip("-−"))
            tree = put(tree, path, Op("neg", (positive,)))
            path, node = (*path, 0), positive
        if not isinstance(node, Leaf) or path in exponents:
            continue
        constant = constant_of(node)
        if constant is not None and not any(
            abs(e.leaf.typed - node.typed) < 1e-12 * abs(node.typed) and not e.leaf.constant and e.leaf.unit
            for e in scope.entries
        ):
            tree = put(tree, path, constant)
            continue
        choices = scope.link(node, path in bases)
        if choices:
            tree = put(tree, path, choices[0])
            if len(choices) > 1:
                doubtful.append((path, choices[1:]))
    found = [tree]
    for path, choices in doubtful[:4]:
        found += [put(old, path, choice) for old in found[:4] for choice in choices[:2]]
    return [_shared(one) for one in found[:9]]


def _shared(tree: Node) -> Node:
    """Numbers added up, or set over one another in a logarithm, are in one unit."""
    for path, node in list(walk(tree)):
        if not isinstance(node, Op) or node.kind not in ("+", "-", "ln", "log", "log10"):
            continue
        if node.kind in ("ln", "log", "log10"):
            inner = [(p, n) for p, n in walk(node, path) if p != path]
            if any(isinstance(n, Op) and n.kind not in "+-/" for _, n in inner):
                continue
        else:
            inner = [(p, n) for p, n in walk(node, path) if p != path]
            if any(isinstance(n, Op) and n.kind not in "+-" for _, n in inner):
                continue
        numbers = [(p, n) for p, n in inner if isinstance(n, Leaf) and not n.constant]
        example = next((n for _, n in numbers if n.linked and not n.bare and n.dimension != NONE), None)
        if example is None:
            continue
        for p, n in numbers:
            if n.bare and n.half and n.page < 0 and n.typed != 1.0:
                tree = put(
                    tree, p, replace(n, factor=example.factor, dimension=example.dimension, bare=False)
                )
    return tree


__all__ = ["Part", "Statement", "leaves", "linked", "links", "mapped", "parse", "split"]
