"""What a slip is: an edit of a tree, and what is known around the line."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from wetmass.working.scope import Scope
from wetmass.working.tree import PLAIN, Leaf, Meaning, Node, Op


@dataclass(frozen=True, slots=True)
class Edit:
    """One slip put into a tree.  `cause` completes "comes out when …", `cure` "… it is"."""

    kind: str
    tree: Node
    cause: str
    cure: str
    weight: float = 1.0
    factor: float = 1.0  # the result is multiplied by this too
    meaning: Meaning = PLAIN
    also: tuple[str, ...] = ()  # other names the same deed goes by


@dataclass(frozen=True, slots=True)
class Context:
    """What is known around the line."""

    tags: frozenset[str]  # ideas in the name of the line
    unit: str  # unit of the stated number
    imperial: bool
    scope: Scope
    line: int = 0
    words: str = ""  # text of the line, lower case
    counts: tuple[tuple[float, str], ...] = ()  # numbers of engines and the like on the page
    spent: dict[str, int] = field(default_factory=lambda: {"pairs": 0})  # effort so far, shared by a page


def parent_of(tree: Node, path: tuple[int, ...]) -> Op | None:
    node = tree
    above = None
    for index in path:
        assert isinstance(node, Op)
        above = node
        node = node.parts[index]
    return above


def in_exponent(tree: Node, path: tuple[int, ...]) -> bool:
    node = tree
    for index in path:
        assert isinstance(node, Op)
        if node.kind == "^" and index == 1:
            return True
        node = node.parts[index]
    return False


def divides(tree: Node, path: tuple[int, ...]) -> bool:
    """Whether the node divides."""
    node = tree
    under = False
    for index in path:
        assert isinstance(node, Op)
        if node.kind == "/" and index == 1:
            under = not under
        node = node.parts[index]
    return under


def is_factor(tree: Node, path: tuple[int, ...]) -> bool:
    """Whether the node is a plain factor of the tree or of a bracket in it."""
    above = parent_of(tree, path)
    return (above is not None and above.kind in "*/") or not path


def spoken(leaf: Leaf) -> str:
    return leaf.name or leaf.text


def said(leaf: Leaf) -> str:
    text = leaf.text or f"{leaf.typed:g}"
    if leaf.name and leaf.name != text and not leaf.linked:
        return f"{leaf.name} ({text})"
    return text


def nodes_down_to(tree: Node, path: tuple[int, ...]) -> list[Node]:
    found = [tree]
    node = tree
    for index in path:
        assert isinstance(node, Op)
        node = node.parts[index]
        found.append(node)
    return found


def is_number(node: Node, value: float) -> bool:
    return isinstance(node, Leaf) and node.bare and node.typed == value


def leaf_at(tree: Node, path: tuple[int, ...]) -> Leaf:
    node = tree
    for index in path:
        assert isinstance(node, Op)
        node = node.parts[index]
    assert isinstance(node, Leaf)
    return node


def re_any(text: str, pieces: tuple[str, ...]) -> bool:
    return any(piece in text for piece in pieces)


def imperial_words(text: str) -> bool:
    """Whether a line or page speaks in feet, pounds and miles."""
    return _IMPERIAL_WORDS.search(text.lower()) is not None


_IMPERIAL_WORDS = re.compile(
    r"(?<![^\W\d_])(?:k?lbf?|lbs|lbm|ft|feet|foot|inch(?:es)?|psi|psia|psf|ksi|miles?|nmi|slugs?|pounds?|tons?)(?![^\W\d_])"
    r"|\d\s?in(?![^\W\d_])"
)

IMPERIAL = {
    "lbf",
    "lb",
    "lbs",
    "lbm",
    "ft",
    "feet",
    "foot",
    "in",
    "inch",
    "inches",
    "psi",
    "psia",
    "psf",
    "mi",
    "miles",
    "nmi",
    "slug",
    "klbf",
    "US ton",
    "US tons",
    "UK tons",
    "short tons",
    "long tons",
    "ton",
    "tons",
    "kip",
    "kips",
    "ft/s",
    "ft/s2",
    "ft/s²",
    "mph",
    "lb/s",
    "kgf",
    "tf",
    "nautical miles",
    "nm",
    "NM",
    "ksi",
}
