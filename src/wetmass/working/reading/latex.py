r"""A line of LaTeX as a plain line: \frac{F}{\dot m} is (F)/(ṁ)."""

from __future__ import annotations

import re

_GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "varepsilon": "ε", "zeta": "ζ",
    "eta": "η", "theta": "θ", "vartheta": "θ", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν",
    "xi": "ξ", "pi": "π", "rho": "ρ", "varrho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "varphi": "φ",
    "chi": "χ", "psi": "ψ", "omega": "ω", "Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ",
    "Sigma": "Σ", "Phi": "Φ", "Omega": "Ω",
}  # fmt: skip
_SIGNS = {
    "cdot": "·", "times": "×", "ast": "*", "div": "/", "approx": "≈", "simeq": "≈", "cong": "≈", "sim": "~",
    "Rightarrow": "⇒", "implies": "⇒", "rightarrow": "→", "to": "→", "equiv": "=", "pm": "±", "circ": "°",
    "degree": "°", "quad": " ", "qquad": " ", "left": "", "right": "", "big": "", "Big": "", "bigl": "",
    "bigr": "", "displaystyle": "", "limits": "", "nonumber": "", "rm": "", "hspace": "", "colon": ":",
    "percent": "%", "prime": "'", "ldots": "…", "dots": "…", "infty": "∞", "log": "log", "lg": "lg",
    "cdotp": "·", "le": "≤", "ge": "≥", "leq": "≤", "geq": "≥", "hline": "", "mid": " ", "newline": "",
}  # fmt: skip
_PLAIN = (
    "text", "mathrm", "mathit", "mathbf", "textrm", "textit", "textbf", "operatorname", "unit", "si", "mathsf",
    "boxed", "underline", "overline", "bar", "hat", "vec", "tilde", "mbox", "ensuremath", "mathbin", "num",
    "ce",
)  # fmt: skip
_ARGUMENT = r"\s*(?:\{((?:[^{}]|\{(?:[^{}]|\{[^{}]*\})*\})*)\}|([^\W_]|\\[A-Za-z]+))"
_FRACTION = re.compile(r"\\[dtc]?frac" + _ARGUMENT + _ARGUMENT)
_ROOT = re.compile(r"\\sqrt\s*(?:\[(\d)\])?" + _ARGUMENT)
_QUANTITY = re.compile(r"\\(?:SI|qty)" + _ARGUMENT + _ARGUMENT)
_DOTTED = re.compile(r"\\dot(?![A-Za-z])" + _ARGUMENT)
_WRAPPED = re.compile(r"\\(?:" + "|".join(_PLAIN) + r")\*?(?![A-Za-z])" + _ARGUMENT)
_BELOW = re.compile(r"_\s*\{([^{}]*)\}")
_ABOVE = re.compile(r"\^\s*\{([^{}]*)\}")
_COMMAND = re.compile(r"\\([A-Za-z]+)\*?(\s?)")


def level(text: str) -> str:
    r"""The line without its typesetting.

    >>> level(r"A_t = \frac{F}{C_F\,p_c} = 0.0547\,\mathrm{m^2}")
    'A_t = (F/(C_F p_c)) = 0.0547 m^2'
    """
    if "\\" not in text and "_{" not in text and "^{" not in text:
        return text
    if re.match(r"\s*\\(?:begin|end|label|tag|documentclass|usepackage|section|item\b)", text):
        text = re.sub(
            r"\\(?:begin|end|label|tag|documentclass|usepackage)\{[^{}]*\}(?:\[[^\]]*\])?", "", text
        )
        text = text.replace(r"\item", "- ")
    text = re.sub(r"(?<=\d)\{([.,])\}(?=\d)", ".", text)
    text = re.sub(r"\\\\\s*(?:\[[^\]]*\])?\s*$", "", text)
    text = re.sub(r"\\[,;:! ]|\\\s|~", " ", text).replace(r"\%", "%").replace(r"\$", "").replace(r"\&", "&")
    text = re.sub(r"\\[()\[\]]|(?<!\\)&", "", text)
    text = re.sub(r"(\w)\s*\^\s*(?:\{\s*\\?(?:ast|\*)\s*\}|\*)", r"\1*", text)  # c^*
    for _ in range(12):
        before = text
        text = _QUANTITY.sub(lambda m: f"{_of(m, 1)} {_of(m, 3)}", text)
        text = _DOTTED.sub(
            lambda m: {"m": "ṁ", "V": "Vdot", "Q": "Q"}.get(_of(m, 1).strip(), _of(m, 1)), text
        )
        text = _WRAPPED.sub(_bare, text)
        text = _BELOW.sub(lambda m: "_" + re.sub(r"[\s,{}]|\\[A-Za-z]+", "", m.group(1)), text)
        text = _ROOT.sub(lambda m: f" {'cbrt' if m.group(1) == '3' else 'sqrt'}({_of(m, 2)})", text)
        text = _FRACTION.sub(lambda m: f" ({_set(_of(m, 1))}/{_set(_of(m, 3))})", text)
        text = _ABOVE.sub(_power, text)
        if text == before:
            break
    text = re.sub(r"\\(ln|log|exp|sin|cos|tan|arcsin|arccos|arctan|lg|min|max)(?![A-Za-z])", r" \1 ", text)
    text = _COMMAND.sub(_command, text)
    text = re.sub(r"\^\s*°", "°", text).replace("{", "(").replace("}", ")").replace("\\", " ")
    return re.sub(r"[ \t]{2,}", " ", text).replace("( ", "(").strip()


def _of(match: re.Match[str], first: int) -> str:
    """The argument in braces, or the single letter without them."""
    return match.group(first) if match.group(first) is not None else (match.group(first + 1) or "")


def _set(side: str) -> str:
    """A side of a fraction, in brackets unless it is one number or name."""
    side = side.strip()
    return side if re.fullmatch(r"[\w.]+|[^\W\d]\*?", side) else f"({side})"


def _bare(match: re.Match[str]) -> str:
    inner = _of(match, 1)
    before = match.string[match.start() - 1 : match.start()]
    return f" {inner}" if before.isdigit() else inner


def _power(match: re.Match[str]) -> str:
    inner = match.group(1).strip()
    return f"^{inner}" if re.fullmatch(r"[\d.]+|\w", inner) else f"^({inner})"


def _command(match: re.Match[str]) -> str:
    name = match.group(1)
    if name in _GREEK:  # "Δ v" is one name, "π sqrt(…)" is not
        return _GREEK[name] + ("" if name in ("Delta", "delta") else match.group(2))
    return _SIGNS.get(name, name + " ")
