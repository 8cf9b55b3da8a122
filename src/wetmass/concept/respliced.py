"""The tree of a text in which one plain value was changed, made from the tree before: nothing is read again.

`wetmass.concept.tree` is the plain way, and holds this one to account in a test.  A value that is nudged many
times a second cannot wait for a whole file to be read.
"""

from __future__ import annotations

import re

from wetmass.concept.tree import Node

# one line of words, numbers and units, which YAML reads back as it stands
_PLAIN = re.compile(r"(?:-(?=[0-9]))?\w(?:[\w.±%·/°²³()+− -]*[\w%°²³)])?")


def respliced(root: Node, changed: Node, text: str, written: str) -> Node | None:
    """The tree of `text` with `written` in the place of a value; None where only reading it again will tell.

    root     tree of `text`
    changed  the value in it
    """
    start, end = changed.start, changed.end
    typed = text[start:end]
    if changed.kind != "text" or changed.style or typed != changed.text or changed.spoiled:
        return None
    if changed.column == 1 or not (_PLAIN.fullmatch(typed) and _PLAIN.fullmatch(written)):
        return None
    return _moved(root, changed, written, len(written) - len(typed))


def _moved(node: Node, changed: Node, written: str, by: int) -> Node:
    """A node with what stands behind the change moved along; what stands before it is kept as it is."""
    behind = node.start >= changed.end
    if node.end < changed.end:
        return node
    made = Node(
        node.kind, node.start + by if behind else node.start, node.end + by, node.line,
        node.column + by if behind and node.line == changed.line else node.column,
        written if node is changed else node.text, node.style, node.flow, spoiled=node.spoiled,
    )  # fmt: skip
    for key, value in node.entries:
        pair = _moved(key, changed, written, by), _moved(value, changed, written, by)
        made.entries.append(pair)
        made.keys[key.text] = pair
    made.items = [_moved(item, changed, written, by) for item in node.items]
    return made
