"""Reads what the writers wrote and computes it, so that the text itself is checked, not only the tree."""

import math
import re
from xml.etree import ElementTree

FUNCTIONS = {
    "ln": math.log, "log": math.log10, "exp": math.exp, "sin": math.sin, "cos": math.cos, "tan": math.tan,
    "arcsin": math.asin, "arccos": math.acos, "min": min, "max": max, "sqrt": math.sqrt, "absolute": abs,
    "arctan": lambda *x: math.atan2(*x) if len(x) == 2 else math.atan(*x), "pi": math.pi, "e": math.e,
}  # fmt: skip
OPERATORS = {
    "−": "-",
    "⋅": "*",
    "×": "*",
    "\u2061": "",
    "≤": "<=",
    "≥": ">=",
    "(": "(",
    ")": ")",
    "+": "+",
    ",": ",",
    "<": "<",
    ">": ">",
}
NAMES = {"π": "pi"}


def digits(text):
    """Digits as Python reads them, always with a point: whole numbers would be computed without bounds."""
    plain = text.replace("\u2009", "").replace("−", "-")
    return plain if "." in plain or not plain.strip("-").isdigit() else f"{plain}.0"


def mathml(text):
    """The number that MathML with numbers put in stands for."""
    return _computed(_python(ElementTree.fromstring(f"<math>{text}</math>")))


def _python(node):
    kind, text = node.tag, node.text or ""
    if kind == "mtable":
        (yes, condition), (no, _) = ([_python(cell) for cell in row] for row in node)
        return f"(({yes}) if {condition} else ({no}))"
    inside = [_python(child) for child in node]
    if kind in ("math", "mrow"):
        if inside[:1] == ["|"]:
            return f"absolute({''.join(inside[1:-1])})"
        if inside[:1] == ["{"]:
            return inside[1]
        return "(" + "".join(inside) + ")" if kind == "mrow" and "," not in inside else "".join(inside)
    if kind == "mn":
        return digits(text)
    if kind in ("mtext", "mspace"):
        return ""  # a unit
    if kind == "mo":
        return OPERATORS.get(text, text)
    if kind == "mi":
        return NAMES.get(text, text)
    if kind == "mfrac":
        return f"(({inside[0]})/({inside[1]}))"
    if kind == "msup":
        return f"(({inside[0]})**({inside[1]}))"
    if kind == "msqrt":
        return f"sqrt({''.join(inside)})"
    if kind == "mroot":
        return f"(({inside[0]})**(1/({inside[1]})))"
    if kind == "mtd":
        return "".join(inside)
    raise AssertionError(f"no reading for {ElementTree.tostring(node)}")


TYPST = (
    (r' thin "[^"]*"', ""),  # units
    (r'"([^"]*)"', lambda match: digits(match[1])),
    (r"upright\((.)\)", r"\1"),
    ("π", " pi "),
    (r"\btimes\b|dot\.op", "*"),
    ("−", "-"),
    (r"\^", "**"),
    (r"\babs\(", "absolute("),
)


def typst(text):
    """The number that Typst mathematics with numbers put in stands for."""
    for pattern, by in TYPST:
        text = re.sub(pattern, by, text)
    return _computed(text)


def _computed(code):
    known = {**FUNCTIONS, "frac": lambda a, b: a / b, "root": lambda n, x: x ** (1.0 / n)}
    return eval(code.strip(), {"__builtins__": {}}, known)
