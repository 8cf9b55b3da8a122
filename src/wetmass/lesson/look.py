"""Colours and type of everything that is drawn: one look, light and dark, safe for colour-blind readers.

Colours of lines and fills are CSS variables, so that one picture serves both; the page, a picture saved on
its own, and paper all set the same names.  Hues for series are those of M. Okabe and K. Ito, Color Universal
Design (2008), darkened or lightened to stand out from each ground.
"""

from __future__ import annotations

import re

FONT = "'Source Sans 3', 'STIX Two Math', 'Segoe UI', 'Helvetica Neue', Arial, sans-serif"

LIGHT: dict[str, str] = {
    "paper": "#fdfcf9", "card": "#ffffff", "ink": "#1c2530", "quiet": "#56616d", "hair": "#d5d2c8",
    "link": "#0b5394", "mark": "#fff3c9", "skin": "#f4f2ec", "shade": "#c9c6bd", "edge": "#3b4652",
    "line": "#3c4753",
    "metal": "#8b929a", "gas": "#f0f1f2", "land": "#e4dfd0", "sea": "#eef3f6",
    "one": "#0072b2", "two": "#c04e00", "three": "#00795a", "four": "#a0527f", "five": "#8a6d00",
    "bad": "#b3261e", "good": "#00795a",
    "lox": "#7db7dd", "methane": "#e8b75f", "kerosene": "#c98474", "hydrogen": "#c3add9",
    "solid": "#b0a79a", "storable": "#b3bd6a", "peroxide": "#8fcdb2", "other": "#bdbdbd",
}  # fmt: skip

DARK: dict[str, str] = {
    "paper": "#12171d", "card": "#1a2129", "ink": "#e9edf1", "quiet": "#a7b1bb", "hair": "#37414c",
    "link": "#8cc4f5", "mark": "#4a3f17", "skin": "#c9ccd0", "shade": "#878d94", "edge": "#0d1116",
    "line": "#9aa5b0",
    "metal": "#6f7780", "gas": "#dfe2e5", "land": "#39424a", "sea": "#1d2731",
    "one": "#62b5ea", "two": "#f0975a", "three": "#4fc9a2", "four": "#dc9cc2", "five": "#dcbf4f",
    "bad": "#ff8a80", "good": "#4fc9a2",
    "lox": "#5b9cc7", "methane": "#d19a3c", "kerosene": "#b56d5c", "hydrogen": "#a98fc4",
    "solid": "#938a7d", "storable": "#98a24e", "peroxide": "#6db394", "other": "#9a9a9a",
}  # fmt: skip

SERIES = ("one", "two", "three", "four", "five")

_PROPELLANTS = {
    "LOX": "lox", "LCH4": "methane", "RP-1": "kerosene", "kerosene": "kerosene", "LH2": "hydrogen",
    "solid": "solid", "H2O2": "peroxide", "N2O4": "kerosene", "NTO": "kerosene", "MMH": "storable",
    "UDMH": "storable", "hydrazine": "storable",
}  # fmt: skip


def propellant_colour(name: str) -> str:
    """The variable a propellant is coloured by.

    >>> propellant_colour("LOX"), propellant_colour("ammonia")
    ('lox', 'other')
    """
    return _PROPELLANTS.get(name, "other")


def variables(colours: dict[str, str]) -> str:
    """The colours as CSS."""
    return "".join(f"--{name}:{colour};" for name, colour in colours.items())


DRAWING = f"""
.d text{{fill:var(--ink);font-family:{FONT}}}
.d .quiet{{fill:var(--quiet)}}
.d .skin{{fill:var(--skin);stroke:var(--edge);stroke-width:1.1;stroke-linejoin:round}}
.d .wall{{fill:var(--gas);stroke:var(--edge);stroke-width:1;stroke-linejoin:round}}
.d .hull{{fill:none;stroke:var(--line);stroke-width:1.1;stroke-linejoin:round}}
.d .bell{{fill:var(--metal);stroke:var(--edge);stroke-width:.9;stroke-linejoin:round}}
.d .seam{{stroke:var(--edge);stroke-width:.7;opacity:.55;fill:none}}
.d .room{{fill:none;stroke:var(--quiet);stroke-width:1;stroke-dasharray:4 3}}
.d .dim{{stroke:var(--quiet);stroke-width:.9;fill:none}}
.d .lead{{stroke:var(--quiet);stroke-width:.8;fill:none}}
.d .man{{fill:var(--ink)}}
.d .ground{{stroke:var(--quiet);stroke-width:1.2}}
.d .ring{{fill:none;stroke:var(--edge);stroke-width:1.2}}
.d .disc{{fill:var(--skin);stroke:var(--edge);stroke-width:1.2}}
"""


def fixed(svg: str, colours: dict[str, str]) -> str:
    """A picture whose colours are these and no longer variables, for what knows no CSS but classes.

    >>> fixed('<svg><path style="fill:var(--ink)"/></svg>', LIGHT)
    '<svg xmlns="http://www.w3.org/2000/svg"><path style="fill:#1c2530"/></svg>'
    """
    rules = re.sub(r"\.d (\w+|\.\w+)", r"\1", DRAWING) if 'class="d"' in svg else ""
    head, _, rest = svg.partition(">")
    if "xmlns=" not in head:
        head += ' xmlns="http://www.w3.org/2000/svg"'
    style = f"<style>{rules}</style>" if rules else ""
    return re.sub(r"var\(--(\w+)\)", lambda found: colours[found[1]], f"{head}>{style}{rest}")
