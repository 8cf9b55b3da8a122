"""From an altair chart to a picture in the page: no network, our type, colours light and dark at once."""

from __future__ import annotations

import re
from html import escape
from typing import Any

from wetmass.lesson.look import LIGHT

_COLOUR = {colour: name for name, colour in reversed(LIGHT.items())}
_PAINTED = re.compile(r'\b(fill|stroke)="(#[0-9a-f]{6})"')
_TAG = re.compile(r"<(\w+)([^<>]*?)(/?)>")
_TOLD = re.compile(r' (?:role="graphics-[^"]*"|aria-[a-z]+="[^"]*")')
_ID = re.compile(r'(id="|url\(#|href="#)(clip|gradient)')
FONT = "Source Sans 3"


def themed(chart: Any) -> Any:
    """The chart with our type and lines."""
    axis = {
        "labelColor": LIGHT["quiet"], "titleColor": LIGHT["quiet"], "domainColor": LIGHT["quiet"],
        "tickColor": LIGHT["quiet"], "gridColor": LIGHT["hair"], "labelFont": FONT, "titleFont": FONT,
        "labelFontSize": 12, "titleFontSize": 12, "titleFontWeight": "normal", "labelPadding": 4,
    }  # fmt: skip
    return (
        chart.configure(background="transparent", font=FONT, aria=False, padding=4)
        .configure_axis(**axis)
        .configure_view(stroke=None)
        .configure_text(font=FONT, fontSize=12, color=LIGHT["ink"])
        .configure_title(font=FONT, fontSize=14, fontWeight=600, color=LIGHT["ink"], anchor="start")
    )


def svg(chart: Any, name: str, title: str, words: str) -> str:
    """The chart drawn.  `title` and `words` tell what is to be seen to those who cannot."""
    import vl_convert

    made = vl_convert.vegalite_to_svg(themed(chart).to_dict(validate=False))
    made = _TOLD.sub("", made[made.index("<svg") :])  # the picture tells itself as a whole, below
    made = _TAG.sub(_painted, made)
    made = _ID.sub(rf"\1{name}-\2", made)
    head, _, rest = made.partition(">")
    size = re.search(r'viewBox="[^"]*"', head)
    wide = re.search(r'width="([\d.]+)"', head)
    high = re.search(r'height="([\d.]+)"', head)
    assert size and wide and high
    return (
        f'<svg class="chart" id="{name}" role="img" aria-labelledby="{name}-title {name}-words" '
        f'{size[0]} width="{wide[1]}" height="{high[1]}"><title id="{name}-title">{escape(title)}</title>'
        f'<desc id="{name}-words">{escape(words)}</desc>{rest}'
    )


def _painted(tag: re.Match[str]) -> str:
    """Colours of ours as variables, so that they follow light and dark."""
    kind, inside, end = tag.groups()
    styles: list[str] = []

    def taken(match: re.Match[str]) -> str:
        name = _COLOUR.get(match[2])
        if name is None:
            return match[0]
        styles.append(f"{match[1]}:var(--{name})")
        return ""

    inside = _PAINTED.sub(taken, inside)
    if not styles:
        return tag[0]
    found = re.search(r'style="([^"]*)"', inside)
    if found:
        inside = inside.replace(found[0], f'style="{found[1]};{";".join(styles)}"')
    else:
        inside += f' style="{";".join(styles)}"'
    return f"<{kind}{inside}{end}>"
