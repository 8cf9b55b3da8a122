"""The grammar of a line: sides joined by relation signs, each side an expression.

    line       :=  [label] sign side (sign side)* [note]
    side       :=  term (("+" | "−") term)*
    term       :=  power (("·" | "/" | nothing) power)*
    power      :=  atom ["^" exponent | superscript]
    atom       :=  number [unit] | name | function atom | "(" side ")" | "−" atom

Text is parsed, never evaluated as code.  Depth and length are bounded.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from wetmass.working.name_grammar import PI, NameGrammar
from wetmass.working.shared_units import give_unit, shared_units, terms, terms_any
from wetmass.working.token_walk import FUNCTION_NAMES, Lookup, Reading
from wetmass.working.tokens import Unreadable
from wetmass.working.tree import Leaf, Node, Op, exactly
from wetmass.working.unit_grammar import UnitGrammar

_PAIRS = {"(": ")", "[": "]", "{": "}"}


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a line: its tree and where it ended."""

    tree: Node
    end: int  # index of the first token not used
    value: bool  # a lone number with or without its unit


class Parser(NameGrammar, UnitGrammar):
    """Reads one side at a time from a list of tokens."""

    def side(self) -> Side:
        """One side, as far as it can be read."""
        start = self.at
        tree = shared_units(self.sum())
        body = tree.parts[0] if isinstance(tree, Op) and tree.kind == "neg" else tree
        lone = isinstance(body, Leaf) and not body.constant and body.page < 0
        return Side(tree, self.at, lone and self.at > start)

    def sum(self) -> Node:
        self.deeper()
        left = self.product()
        while self.is_sign("+", "-"):
            sign = self.tokens[self.at].text
            self.at += 1
            left = Op(sign, (left, self.product()))
        self.depth -= 1
        return left

    def product(self) -> Node:
        left = self.unary()
        while True:
            token = self.peek()
            if token is None:
                return left
            if token.kind == "sign" and token.text in "*/":
                self.at += 1
                right = self.unary()
                if token.text == "/":
                    while self.juxtaposed():
                        self.doubtful["tight"] = True
                        if not self.reading.tight:
                            break
                        right = Op("*", (right, self.unary()))
                left = Op(token.text, (left, right))
            elif (token.kind == "word" and token.text in ("x", "X") and self.cross()) or (
                token.kind == "word"
                and (
                    token.text == "times"
                    or (token.text == "of" and self.tokens[self.at - 1].text in ("%", "percent", "½", "half"))
                )
            ):
                self.at += 1
                left = Op("*", (left, self.unary()))
            elif self.juxtaposed():
                left = Op("*", (left, self.power()))
            else:
                return left

    def juxtaposed(self) -> bool:
        """Whether the next token starts a factor written without a sign."""
        token = self.peek()
        if token is None:
            return False
        if token.kind == "open":
            return self.has_numbers_inside()
        if token.kind == "word":
            if token.text in ("x", "X") and self.cross():
                return False
            if token.text in FUNCTION_NAMES or token.text in ("π", "pi"):
                return True
            return self.name_at(self.at) is not None
        if token.kind != "number":
            return False
        before = self.tokens[self.at - 1]
        after_pi = before.text in ("π", "pi") or (
            before.kind == "power" and self.tokens[self.at - 2].text in ("π", "pi")
        )
        return token.text[0] in "½¼¾⅓⅔" or (after_pi and token.spaced)

    def unary(self) -> Node:
        if self.is_sign("-"):
            self.at += 1
            self.deeper()
            node = self.unary()
            self.depth -= 1
            if isinstance(node, Leaf) and node.page < 0 and not node.constant:
                return replace(node, typed=-node.typed)
            return Op("neg", (node,))
        if self.is_sign("+"):
            self.at += 1
            self.deeper()
            node = self.unary()
            self.depth -= 1
            return node
        return self.power()

    def power(self) -> Node:
        base = self.atom()
        token = self.peek()
        if token is not None and token.kind == "power":
            self.at += 1
            return Op("^", (base, exactly(token.value)))
        if self.is_sign("^"):
            self.at += 1
            return Op("^", (base, self.exponent()))
        return base

    def exponent(self) -> Node:
        self.deeper()
        negative = False
        while self.is_sign("-", "+"):
            negative ^= self.tokens[self.at].text == "-"
            self.at += 1
        token = self.peek()
        if token is not None and token.kind == "number":
            self.at += 1
            node: Node = Leaf(token.value, text=token.text, half=0.0)
        else:
            node = self.power()
        self.depth -= 1
        return Op("neg", (node,)) if negative else node

    def atom(self) -> Node:
        token = self.peek()
        if token is None:
            raise Unreadable("the line stops where a number or a name should follow")
        if token.kind == "number":
            self.at += 1
            return self.with_unit(token)
        if token.kind == "open":
            return self.bracket()
        if token.kind == "word":
            function = FUNCTION_NAMES.get(token.text)
            if function and self.lookup(token.text) is None:
                return self.function(function)
            if token.text == "e" and self.peek(1) is not None and self.peek(1).text == "^":
                after = self.peek(2)
                if self.lookup("e") is None or (after is not None and after.text in ("(", "-", "{")):
                    self.at += 2
                    return Op("exp", (self.exponent(),))
            return self.name()
        if token.kind == "power" and self.at == 0:
            raise Unreadable(f"“{token.text}” has nothing below it")
        raise Unreadable(f"“{token.text}” stands where a number or a name should")

    def bracket(self) -> Node:
        opening = self.tokens[self.at]
        self.at += 1
        node = self.sum()
        token = self.peek()
        if token is None or token.kind != "close" or token.text != _PAIRS[opening.text]:
            raise Unreadable(f"a bracket {opening.text} is not closed")
        self.at += 1
        node = shared_units(node)
        # "(300 + 22) t": the unit after the bracket is that of every term
        if not any(leaf.unit for leaf in terms(node)) and all(isinstance(t, Leaf) for t in terms_any(node)):
            unit = self.unit()
            if unit is not None:
                node = give_unit(node, unit)
        return node

    def function(self, name: str) -> Node:
        self.at += 1
        token = self.peek()
        if token is not None and token.kind == "power" and name in ("sin", "cos", "tan"):
            self.at += 1
            if token.value == -1.0:
                return Op("a" + name, (self.argument(),))
            return Op("^", (Op(name, (self.argument(),)), exactly(token.value)))
        if token is not None and token.kind == "open" and name in ("min", "max"):
            self.at += 1
            parts = [self.sum()]
            while self.peek() is not None and self.peek().text == ",":
                self.at += 1
                parts.append(self.sum())
            if self.peek() is None or self.peek().kind != "close":
                raise Unreadable("a bracket ( is not closed")
            self.at += 1
            node: Node = parts[0]
            for part in parts[1:]:
                node = Op(name, (node, part))
            return node
        return Op(name, (self.argument(),))

    def argument(self) -> Node:
        self.deeper()
        token = self.peek()
        if token is not None and token.kind == "open":
            node = self.bracket()
            unit = self.unit() if isinstance(node, Leaf) and not node.unit else None
            if unit is not None:
                node = give_unit(node, unit)
        else:
            node = self.unary()
        self.depth -= 1
        return node


__all__ = ["PI", "Lookup", "Parser", "Reading", "Side"]
