"""The grammar of a line: sides joined by relation signs, each side an expression.

    line       :=  [label] sign side (sign side)* [note]
    side       :=  term (("+" | "−") term)*
    term       :=  power (("·" | "/" | nothing) power)*
    power      :=  atom ["^" exponent | superscript]
    atom       :=  number [unit] | name | function atom | "(" side ")" | "−" atom

Text is parsed, never evaluated as code.  Depth and length are bounded.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from wetmass.working.names import key
from wetmass.working.tokens import Token, Unreadable
from wetmass.working.tree import Leaf, Node, Op, Unknown, exactly
from wetmass.working.units import CELSIUS, DEGREE, GRAVITY_UNITS, NONE, UNITS, Dimension, Unit, times

DEEPEST = 24

_FUNCTION_NAMES = {
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
_PAIRS = {"(": ")", "[": "]", "{": "}"}
_EACH = {"each", "apiece", "per", "total", "abs", "absolute", "gauge", "altogether", "vac", "vacuum"}

Lookup = Callable[[str], Node | None]


@dataclass(frozen=True, slots=True)
class Reading:
    """How the two doubtful points of a line are taken."""

    names_first: bool = False  # in "2 h" h is the height of the page, not the hour
    tight: bool = False  # in "a / b c" the product b c is divided by
    grams: bool = True  # "g" after a number is the gram, not the acceleration


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a line: its tree and where it ended."""

    tree: Node
    end: int  # index of the first token not used
    value: bool  # a lone number with or without its unit


class Parser:
    """Reads one side at a time from a list of tokens."""

    def __init__(
        self, tokens: list[Token], lookup: Lookup, reading: Reading, letters: Lookup | None = None
    ) -> None:
        self.tokens, self.lookup, self.reading = tokens, lookup, reading
        self.letters = letters or lookup  # the same, and single letters by what they usually stand for
        self.at = 0
        self.depth = 0
        self.doubtful = {"names": False, "tight": False, "grams": False}

    # ── helpers ──

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

    # ── the rules ──

    def side(self) -> Side:
        """One side, as far as it can be read."""
        start = self.at
        tree = _shared_units(self.sum())
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

    def cross(self) -> bool:
        """An x between two numbers is a times sign."""
        after = self.peek(1)
        return after is not None and after.kind in ("number", "open", "word")

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
            if token.text in _FUNCTION_NAMES or token.text in ("π", "pi"):
                return True
            return self.name_at(self.at) is not None
        if token.kind != "number":
            return False
        before = self.tokens[self.at - 1]
        after_pi = before.text in ("π", "pi") or (
            before.kind == "power" and self.tokens[self.at - 2].text in ("π", "pi")
        )
        return token.text[0] in "½¼¾⅓⅔" or (after_pi and token.spaced)

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
                if self.name_at(index) is not None or token.text in _FUNCTION_NAMES:
                    known = True
                elif not known or token.text.lower() in ("of", "the"):  # noqa: SIM102
                    # "(with 2 % kept)" is a remark; "(1 − f)" is working
                    if not (len(token.text) <= 3 or token.text in UNITS):
                        return False
            elif token.kind in ("relation",):
                return False
        return known

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
            function = _FUNCTION_NAMES.get(token.text)
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
        node = _shared_units(node)
        # "(300 + 22) t": the unit after the bracket is that of every term
        if not any(leaf.unit for leaf in _terms(node)) and all(isinstance(t, Leaf) for t in _terms_any(node)):
            unit = self.unit()
            if unit is not None:
                node = _give_unit(node, unit)
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
                node = _give_unit(node, unit)
        else:
            node = self.unary()
        self.depth -= 1
        return node

    # ── numbers with units ──

    def with_unit(self, token: Token) -> Node:
        unit = self.unit()
        if unit is None:
            return Leaf(token.value, half=token.half, text=token.text)
        text = token.text + (unit.text if unit.text in "°%" else " " + unit.text)
        return Leaf(
            token.value,
            unit.factor,
            unit.dimension,
            False,
            token.half,
            unit.text,
            text=text,
            angle=unit.angle,
            shift=273.15 if unit.celsius else 0.0,
        )

    def unit(self) -> Unit | None:
        """The unit that stands here, as long as it goes; None where there is none."""
        start = self.at
        factor, dimension, parts = 1.0, NONE, 0
        sign = 1.0
        while True:
            here = self.at
            joiner = None
            if parts:
                token = self.peek()
                if token is None:
                    break
                if token.kind == "sign" and token.text in "*/":
                    joiner = token.text
                    self.at += 1
                elif token.kind == "word" and token.text == "per":
                    joiner = "/"
                    self.at += 1
                elif token.text == "in":
                    break  # "30° in radians"
                elif token.kind != "word" or not token.spaced:  # noqa: SIM102
                    if not (token.kind == "word" and parts):
                        break
            elif (
                self.is_sign("/") and self.peek(1) is not None and self.peek(1).text in ("h", "s", "hr", "d")
            ):
                joiner = "/"  # "0.60 /h"
                self.at += 1
            piece = self.unit_piece(first=parts == 0, joiner=joiner)
            if piece is None:
                self.at = here
                break
            value, its_dimension = piece
            sign = -1.0 if joiner == "/" else 1.0
            factor *= value**sign
            dimension = times(dimension, its_dimension, sign)
            parts += 1
            if parts > 8:
                raise Unreadable("a unit of more than eight parts")
        if not parts:
            self.at = start
            return None
        text = _unit_text(self.tokens[start : self.at])
        if text.startswith(("lb/lbf", "lb/(lbf", "lbm/lbf")):
            self.doubtful["grams"] = True
            if not self.reading.grams:  # weight of fuel per thrust and hour
                factor, dimension = factor * GRAVITY_UNITS["g"][0], times(dimension, GRAVITY_UNITS["g"][1])
        celsius = text in CELSIUS
        return Unit("°C" if celsius else text, factor, dimension, celsius)

    def unit_piece(self, first: bool, joiner: str | None) -> tuple[float, Dimension] | None:
        token = self.peek()
        if token is None:
            return None
        if token.kind == "open" and joiner == "/":
            return self.unit_bracket()
        if token.kind != "word":
            return None
        two = self.peek(1)
        if two is not None and two.kind == "word" and f"{token.text}-{two.text}" in UNITS:
            self.at += 2
            return UNITS[f"{token.text}-{two.text}"]
        name, power = token.text, 1.0
        if name not in UNITS and name not in CELSIUS:
            if len(name) > 1 and name[-1] in "234" and name[:-1] in UNITS:
                name, power = name[:-1], float(name[-1])
            else:
                return None
        if name in CELSIUS:
            self.at += 1
            return 1.0, UNITS["K"][1]
        after = self.peek(1)
        if after is not None and after.kind == "open" and len(name) == 1 and after.end - after.start == 1:  # noqa: SIM102
            if not after.spaced and self.name_at(self.at) is not None:
                return None
        if not self.unit_not_name(token, first, joiner):
            return None
        self.at += 1
        value, dimension = UNITS[name]
        if name == "g" and (first or joiner == "*") and not self.reading.grams:
            value, dimension = GRAVITY_UNITS["g"]
        if name == "g" and first:
            self.doubtful["grams"] = True
        token = self.peek()
        if token is not None and token.kind == "power":
            self.at += 1
            power *= token.value
        elif self.is_sign("^"):
            sign = 1.0
            ahead = 1
            while self.peek(ahead) is not None and self.peek(ahead).text in ("-", "(", "{", "+"):
                sign = -sign if self.peek(ahead).text == "-" else sign
                ahead += 1
            number = self.peek(ahead)
            if number is not None and number.kind == "number":
                power *= sign * number.value
                self.at += ahead + 1
                token = self.peek()
                if token is not None and token.kind == "close" and ahead > 1:
                    self.at += 1
        if abs(power) > 12:
            raise Unreadable("a unit to a power beyond 12")
        return value**power, times(NONE, dimension, power)

    def unit_bracket(self) -> tuple[float, Dimension] | None:
        start = self.at
        self.at += 1
        factor, dimension = 1.0, NONE
        count = 0
        while True:
            token = self.peek()
            if token is None or count > 6:
                self.at = start
                return None
            if token.kind == "close" and count:
                self.at += 1
                return factor, dimension
            if token.kind == "sign" and token.text == "*" and count:
                self.at += 1
            piece = self.unit_piece(first=False, joiner="*")
            if piece is None:
                self.at = start
                return None
            factor *= piece[0]
            dimension = times(dimension, piece[1])
            count += 1

    def unit_not_name(self, token: Token, first: bool, joiner: str | None) -> bool:
        """Whether a word that is both a unit and a name of the page is meant as the unit."""
        if token.text in "°%":
            return True
        known = self.lookup(token.text) is not None
        longer = self.name_at(self.at)
        if longer is not None and longer[1] > 1:
            return False  # "2 t burn" where "t burn" is a name of the page
        if not known:
            return not (joiner == "*" and token.spaced and len(token.text) == 1 and self.symbol_here())
        self.doubtful["names"] = True
        if joiner is not None:
            # kg/m written tight is a unit; "30 kN / m" with room around the sign may be a division
            return not (token.spaced or self.reading.names_first)
        return not self.reading.names_first

    def symbol_here(self) -> bool:
        """`· a` where a stands alone: a letter of the formula rather than a unit."""
        return self.tokens[self.at].text in ("g", "h", "d", "t")

    # ── names ──

    def name_at(self, index: int) -> tuple[Node, int] | None:
        """The longest known name that starts at `index`, and how many tokens it takes."""
        best: tuple[Node, int] | None = None
        text = ""
        depth = 0
        for ahead in range(9):
            if index + ahead >= len(self.tokens):
                break
            token = self.tokens[index + ahead]
            if token.kind == "word" and token.text in _FUNCTION_NAMES and ahead:
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
            if after.kind == "word" and after.text not in _FUNCTION_NAMES and self.name_at(self.at) is None:
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


PI = Leaf(3.141592653589793, text="π", constant="π", bare=True, half=0.0)


def _first(node: Node) -> Node:
    assert isinstance(node, Op)
    return node.parts[0]


def _unit_text(pieces: list[Token]) -> str:
    text = ""
    for token in pieces:
        if token.kind == "sign":
            text += {"*": "·", "/": "/", "^": "^", "-": "-"}.get(token.text, token.text)
        elif token.text == "per":
            text += "/"
        elif text and text[-1].isalnum() and token.kind == "word":
            text += " " + token.text
        else:
            text += token.text
    return text


def _terms(node: Node) -> list[Leaf]:
    return [leaf for leaf in _terms_any(node) if isinstance(leaf, Leaf)]


def _terms_any(node: Node) -> list[Node]:
    if isinstance(node, Op) and node.kind in "+-":
        return [leaf for part in node.parts for leaf in _terms_any(part)]
    return [node]


def _shared_units(node: Node) -> Node:
    """`300 + 22 t`: a sum where the unit stands only once is all in that unit."""
    if isinstance(node, Op) and node.kind in "+-":
        terms = _terms(node)
        units = {leaf.unit: leaf for leaf in terms if leaf.unit and leaf.page < 0 and leaf.dimension != NONE}
        everything = _terms_any(node)
        if len(units) == 1 and all(isinstance(term, Leaf) for term in everything):
            (example,) = units.values()
            return _each_term(node, lambda leaf: _in_unit(leaf, example))
    return node


def _in_unit(leaf: Leaf, example: Leaf) -> Leaf:
    if leaf.bare and leaf.page < 0 and not leaf.constant:
        return replace(
            leaf, factor=example.factor, dimension=example.dimension, bare=False, unit=example.unit
        )
    return leaf


def _each_term(node: Node, change: Callable[[Leaf], Leaf]) -> Node:
    if isinstance(node, Op) and node.kind in "+-":
        return Op(node.kind, tuple(_each_term(part, change) for part in node.parts))
    return change(node) if isinstance(node, Leaf) else node


def _give_unit(node: Node, unit: Unit) -> Node:
    def give(leaf: Leaf) -> Leaf:
        if not leaf.bare or leaf.page >= 0 or leaf.constant:
            return leaf
        return replace(
            leaf, factor=unit.factor, dimension=unit.dimension, bare=False, unit=unit.text, angle=unit.angle
        )

    return _each_term(node, give)


__all__ = ["DEGREE", "PI", "Lookup", "Parser", "Reading", "Side", "key"]
