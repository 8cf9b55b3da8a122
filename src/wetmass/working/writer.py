"""Our own working written as a script that a person could have written, and that checks clean."""

from __future__ import annotations

import math
from collections.abc import Iterable

from wetmass.record.digits import superscript
from wetmass.record.expression import Expression, Number, Operation, Symbol
from wetmass.record.step import Put, Step

_FIGURES = 7  # enough that no step is off by rounding; the reader may round
_FUNCTIONS = {
    "sqrt": "sqrt",
    "exp": "exp",
    "log": "ln",
    "log10": "log10",
    "sin": "sin",
    "cos": "cos",
    "tan": "tan",
    "asin": "asin",
    "acos": "acos",
    "atan": "atan",
    "absolute": "abs",
    "least": "min",
    "greatest": "max",
}
_SUM, _PRODUCT, _SIGN, _POWER, _ATOM = range(5)


def write(steps: Iterable[Step], title: str = "Working") -> str:
    """A Markdown script of the steps: a heading a part, a block a step, its source beside it.

    Every result is worked out with its numbers written in, so each line can be checked on its own.
    Steps without a formula state their number.

    >>> from wetmass.physics.rocket import ideal_speed_gain
    >>> print(write([ideal_speed_gain.step(exhaust_speed=3000.0, start_mass=4000.0, end_mass=1000.0)]))
    # Working
    <BLANKLINE>
    ```
    # ideal speed gain — R. A. Braeunig, Rocket and Space Technology, Rocket Propulsion, eq. 1.20, http://www.braeunig.us/space/propuls.htm
    # Δv = c·ln(m₀/m₁)
    effective exhaust speed = 3000 m/s
    mass at ignition = 4000 kg
    mass at burn-out = 1000 kg
    ideal speed gain = 3000 m/s·ln(4000 kg/(1000 kg)) = 4158.883 m/s
    ```
    <BLANKLINE>
    """
    rows = [f"# {title}", ""]
    part: str | None = None
    stated: dict[tuple[str, str], str] = {}
    for step in steps:
        if step.part != part and step.part:
            rows += [f"## {step.part[0].upper()}{step.part[1:]}", ""]
            stated = {}
        part = step.part
        rows += ["```", *_block(step, stated), "```", ""]
        if step.remark:
            rows += [step.remark, ""]
    return "\n".join(rows)


def _block(step: Step, stated: dict[tuple[str, str], str]) -> list[str]:
    from wetmass.record.plain import formula

    name = _speakable(step.words, step.symbol)
    rows = [f"# {step.words or step.symbol} — {step.source}"]
    result = _quantity(step.result, step.unit)
    if step.formula is None:
        return [*rows, f"{name} = {result}"]
    rows.append(f"# {step.symbol} = {formula(step.formula)}".replace("\n", " "))
    for put in step.inputs:
        words = _speakable(put.words, put.symbol)
        amount = _quantity(put.value, put.unit)
        if stated.get((part_of(step), words)) != amount:
            rows.append(f"{words} = {amount}")
            stated[(part_of(step), words)] = amount
    stated[(part_of(step), name)] = result
    body = _written(step)
    return [*rows, f"{name} = {body} = {result}" if body is not None else f"{name} = {result}"]


def part_of(step: Step) -> str:
    """The part of the vehicle a step belongs to."""
    return step.part


def _name(words: str) -> str:
    """A name without the signs a line of working is cut at."""
    for sign in "=≈→:;,":
        words = words.replace(sign, " ")
    return " ".join(words.split())


def _speakable(words: str, symbol: str) -> str:
    """The words of a quantity where they read as a name, else its letter."""
    name = _name(words)
    if not name or name[0].isdigit() or any(sign in name for sign in "+*·×^²³√/()") or " - " in name:
        return _name(symbol)
    return name


def _number(value: float) -> str:
    if value == 0.0:
        return "0"
    if not math.isfinite(value):
        return str(value)
    exponent = math.floor(math.log10(abs(value)))
    if -4 <= exponent <= 9:
        text = f"{value:.{max(0, _FIGURES - 1 - exponent)}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
        if float(text) != 0.0:
            return text.replace("-", "−")
    mantissa, power = f"{value:.{_FIGURES - 1}e}".split("e")
    mantissa = mantissa.rstrip("0").rstrip(".")
    return f"{mantissa}e{int(power)}".replace("-", "−", 1) if value < 0 else f"{mantissa}e{int(power)}"


def _quantity(value: float, unit: str) -> str:
    unit = unit.strip()
    if unit in ("", "1", "-", "–"):
        return _number(value)
    if unit.startswith("1/"):
        unit = unit[1:]
    return _number(value) + (unit if unit in ("%", "°") else f" {unit}")


def _written(step: Step) -> str | None:
    """The formula with its numbers written in; None where a branch leaves nothing to write."""
    values = {put.symbol: put for put in step.inputs}
    try:
        chosen = _without_branches(step.formula, {put.symbol: put.value for put in step.inputs})  # type: ignore[arg-type]
    except (KeyError, ArithmeticError, ValueError):
        return None
    if not _plain_enough(step, chosen):
        return None
    text, _ = _text(chosen, values, _unit_of(step))
    return text if len(text) < 480 else None


def _without_branches(node: Expression, values: dict[str, float]) -> Expression:
    """The formula along the branch that was taken."""
    from wetmass.record.expression import evaluate

    if isinstance(node, Operation):
        if node.kind == "select":
            condition, yes, no = node.parts
            return _without_branches(yes if evaluate(condition, values) else no, values)
        return Operation(node.kind, tuple(_without_branches(part, values) for part in node.parts))
    return node


def _plain_enough(step: Step, node: Expression) -> bool:
    """Formulas beyond the grammar (atan2, comparisons) or too long are stated by their result."""
    kinds = _kinds(node)
    return not kinds & {"atan2", "lt", "le", "gt", "ge", "select"} and _size(node) <= 60


def _kinds(node: Expression) -> set[str]:
    if isinstance(node, Operation):
        return {node.kind}.union(*(_kinds(part) for part in node.parts))
    return set()


def _size(node: Expression) -> int:
    return 1 + sum(_size(part) for part in node.parts) if isinstance(node, Operation) else 1


def _unit_of(step: Step) -> bool:
    """Whether the units of the inputs carry through to the unit of the result.

    A formula with constants that hold units of their own (a fit, a value in kelvin) is written with
    plain SI numbers instead.
    """
    from wetmass.working.tree import Unfit, evaluate

    if step.formula is None:
        return False
    try:
        node = _without_branches(step.formula, {put.symbol: put.value for put in step.inputs})
        tree = _as_tree(node, {put.symbol: put for put in step.inputs})
        result = evaluate(tree)
    except (Unfit, KeyError, ValueError, ArithmeticError):
        return False
    unit = _read_unit(step.unit)
    return (
        unit is not None
        and not result.fault
        and result.dimension == unit[1]
        and (math.isclose(result.value / unit[0], step.result, rel_tol=1e-9, abs_tol=1e-300))
    )


def _read_unit(unit: str) -> tuple[float, tuple[float, ...]] | None:
    from wetmass.working.grammar import Parser, Reading
    from wetmass.working.tokens import Unreadable, plain, tokens
    from wetmass.working.tree import Leaf

    if unit.strip() in ("", "1", "-", "–"):
        return 1.0, (0.0,) * 5
    try:
        cut = tokens(plain(f"1 {unit}"))
        parser = Parser(cut, lambda _: None, Reading())
        leaf = parser.atom()
    except Unreadable:
        return None
    if not isinstance(leaf, Leaf) or parser.at != len(cut) or leaf.shift:
        return None
    return leaf.factor, leaf.dimension


def _as_tree(node: Expression, puts: dict[str, Put]):  # type: ignore[no-untyped-def]
    from wetmass.working.tree import Leaf, Op

    if isinstance(node, Number):
        return Leaf(node.value, text="x", half=0.0)
    if isinstance(node, Symbol):
        put = puts[node.name]
        unit = _read_unit(put.unit)
        if unit is None:
            raise ValueError(put.unit)
        return Leaf(put.value, unit[0], unit[1], bare=False, unit=put.unit)
    assert isinstance(node, Operation)
    parts = tuple(_as_tree(part, puts) for part in node.parts)
    kind = {"add": "+", "sub": "-", "mul": "*", "div": "/", "pow": "^", "neg": "neg"}.get(node.kind)
    kind = kind or {"log": "ln", "absolute": "abs", "least": "min", "greatest": "max"}.get(
        node.kind, node.kind
    )
    return Op(kind, parts)


def _text(node: Expression, puts: dict[str, Put], units: bool) -> tuple[str, int]:
    if isinstance(node, Number):
        if node.name in ("π",):
            return "π", _ATOM
        text = _exact(node.value)
        return (text, _SIGN) if text.startswith("−") else (text, _ATOM)
    if isinstance(node, Symbol):
        put = puts[node.name]
        text = _quantity(put.value, put.unit) if units else _number(put.value)
        if " " in text:
            return text, _PRODUCT
        return text, _SIGN if text.startswith("−") else _ATOM
    assert isinstance(node, Operation)
    if node.kind in ("add", "sub", "mul", "div"):
        sign, rank = {
            "add": (" + ", _SUM),
            "sub": (" − ", _SUM),
            "mul": ("·", _PRODUCT),
            "div": ("/", _PRODUCT),
        }[node.kind]
        left, right = (_text(part, puts, units) for part in node.parts)
        return _wrap(left, rank) + sign + _wrap(right, rank + (node.kind in ("sub", "div"))), rank
    if node.kind == "neg":
        inner = _text(node.parts[0], puts, units)
        return "−" + _wrap(inner, _POWER), _SIGN
    if node.kind == "pow":
        base, exponent = node.parts
        below = _wrap(_text(base, puts, units), _ATOM)
        if (
            isinstance(exponent, Number)
            and exponent.value == int(exponent.value)
            and abs(exponent.value) < 100
        ):
            return below + superscript(int(exponent.value)), _POWER
        return f"{below}^({_text(exponent, puts, units)[0]})", _POWER
    inner = ", ".join(_text(part, puts, units)[0] for part in node.parts)
    return f"{_FUNCTIONS[node.kind]}({inner})", _ATOM


def _exact(value: float) -> str:
    """A constant of a formula with every digit it has."""
    if value == int(value) and abs(value) < 1e15:
        return str(int(value)).replace("-", "−")
    return repr(value).replace("-", "−", 1) if value < 0 else repr(value)


def _wrap(part: tuple[str, int], least: int) -> str:
    text, rank = part
    return text if rank >= least else f"({text})"
