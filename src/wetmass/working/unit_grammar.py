"""Units behind a number, as long as they go."""

from __future__ import annotations

from wetmass.working.token_walk import TokenWalk
from wetmass.working.tokens import Token, Unreadable
from wetmass.working.tree import Leaf, Node
from wetmass.working.units import CELSIUS, GRAVITY_UNITS, NONE, UNITS, Dimension, Unit, times


class UnitGrammar(TokenWalk):
    """Reads units."""

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
