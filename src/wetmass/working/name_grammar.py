"""Names of a line: the longest known one, letters run together, and unknown ones."""

from __future__ import annotations

from wetmass.working.token_walk import FUNCTION_NAMES, TokenWalk
from wetmass.working.tokens import Token
from wetmass.working.tree import Leaf, Node, Op, Unknown, exactly
from wetmass.working.units import UNITS

PI = Leaf(3.141592653589793, text="π", constant="π", bare=True, half=0.0)


class NameGrammar(TokenWalk):
    """Reads names."""

    def cross(self) -> bool:
        """An x between two numbers is a times sign."""
        after = self.peek(1)
        return after is not None and after.kind in ("number", "open", "word")

    def has_numbers_inside(self) -> bool:
        """A bracket that holds working, not a remark such as (vac) or (rounded up)."""
        depth = 0
        known = False
        for index in range(self.at, len(self.tokens)):
            token = self.tokens[index]
            if token.kind == "open":
                depth += 1
            elif token.kind == "close":
                depth -= 1
                if depth == 0:
                    break
            elif token.kind in ("number", "sign"):
                known = True
            elif token.kind == "word":
                if self.name_at(index) is not None or token.text in FUNCTION_NAMES:
                    known = True
                elif not known or token.text.lower() in ("of", "the"):  # noqa: SIM102
                    # "(with 2 % kept)" is a remark; "(1 − f)" is working
                    if not (len(token.text) <= 3 or token.text in UNITS):
                        return False
            elif token.kind in ("relation",):
                return False
        return known

    def name_at(self, index: int) -> tuple[Node, int] | None:
        """The longest known name that starts at `index`, and how many tokens it takes."""
        best: tuple[Node, int] | None = None
        text = ""
        depth = 0
        for ahead in range(9):
            if index + ahead >= len(self.tokens):
                break
            token = self.tokens[index + ahead]
            if token.kind == "word" and token.text in FUNCTION_NAMES and ahead:
                break
            if token.kind == "open" and ahead and depth == 0:
                depth = 1
            elif token.kind == "close" and depth == 1:
                depth = 0
            elif (
                token.kind == "sign"
                and token.text == "/"
                and ahead == 1
                and text in ("T", "O", "L", "F", "W")
            ):
                text += "/"
                continue
            elif not (token.kind == "word" or (token.kind == "number" and ahead)):
                break
            if token.kind == "number" and not token.text.isdigit():
                break
            if text.endswith("/"):
                text += token.text
            else:
                text = f"{text} {token.text}" if text else token.text
            if depth == 0:
                found = self.lookup(text) if ahead else self.letters(text)
                if found is not None:
                    best = (found, ahead + 1)
        return best

    def name(self) -> Node:
        token = self.tokens[self.at]
        found = self.name_at(self.at)
        if found is not None:
            self.at += found[1]
            return found[0]
        split = self.split_word(token)
        if split is not None:
            self.at += 1
            return split
        if token.text in ("π", "pi", "Pi", "PI"):
            self.at += 1
            return PI
        # an unknown name: all words up to the next sign
        words = [token.text]
        self.at += 1
        while (after := self.peek()) is not None:
            if after.kind == "word" and after.text not in FUNCTION_NAMES and self.name_at(self.at) is None:
                if after.text in ("x", "X") and self.cross():
                    break
                words.append(after.text)
                self.at += 1
            elif after.kind == "number" and after.text.isdigit() and words[-1].lower() in ("stage", "step"):
                words.append(after.text)
                self.at += 1
            elif after.kind == "open" and not self.has_numbers_inside():
                depth = 0
                while (inner := self.peek()) is not None:
                    depth += {"open": 1, "close": -1}.get(inner.kind, 0)
                    words.append(inner.text)
                    self.at += 1
                    if depth == 0:
                        break
            else:
                break
        return Unknown(" ".join(words))

    def split_word(self, token: Token) -> Node | None:
        """`at²` is a·t², `thrust-weight` a difference, where the parts are names of the page."""
        text = token.text
        if "-" in text:
            parts = [self.lookup(part) for part in text.split("-")]
            if all(part is not None for part in parts):
                node = parts[0]
                for part in parts[1:]:
                    node = Op("-", (node, part))
                return node
        if 2 <= len(text) <= 3 and text.isalpha():
            parts = [PI if letter == "π" else self.letters(letter) for letter in text]
            if all(part is not None for part in parts):
                node = parts[0]
                for part in parts[1:]:
                    node = Op("*", (node, part))
                # the power that follows belongs to the last letter
                after = self.peek(1)
                if after is not None and after.kind == "power":
                    node = Op("*", (_first(node), Op("^", (parts[-1], exactly(after.value)))))
                    self.tokens = self.tokens[: self.at + 1] + self.tokens[self.at + 2 :]
                return node
        if text[0] == "π" and len(text) > 1:
            rest = self.lookup(text[1:])
            return Op("*", (PI, rest if rest is not None else Unknown(text[1:])))
        return None


def _first(node: Node) -> Node:
    assert isinstance(node, Op)
    return node.parts[0]
