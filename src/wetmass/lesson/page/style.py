"""The look of the page: type, room, light and dark, paper."""

from __future__ import annotations

import base64
from importlib.resources import files

from wetmass.lesson.look import DARK, DRAWING, FONT, LIGHT, variables

_GREEK = "U+0370-03FF"
_FACES = (
    ("Source Sans 3", "source-sans-3-latin-400", 400, ""),
    ("Source Sans 3", "source-sans-3-latin-600", 600, ""),
    ("Source Sans 3", "source-sans-3-greek-400", 400, _GREEK),
    ("Source Sans 3", "source-sans-3-greek-600", 600, _GREEK),
    ("STIX Two Math", "stix-two-math", 400, ""),
)


def faces() -> str:
    """The fonts, in the file itself."""
    made = []
    for family, name, weight, only in _FACES:
        data = files("wetmass.lesson").joinpath(f"assets/{name}.woff2").read_bytes()
        text = base64.b64encode(data).decode("ascii")
        range_ = f"unicode-range:{only};" if only else ""
        made.append(
            f"@font-face{{font-family:'{family}';font-weight:{weight};font-style:normal;{range_}"
            f"font-display:swap;src:url(data:font/woff2;base64,{text}) format('woff2')}}"
        )
    return "".join(made)


_PAGE = """
*{box-sizing:border-box}
html{scroll-behavior:smooth;-webkit-text-size-adjust:100%}
@media(prefers-reduced-motion:reduce){html{scroll-behavior:auto}}
body{margin:0;background:var(--paper);color:var(--ink);font:400 1.0625rem/1.55 FONT}
math{font-family:'STIX Two Math',math;font-size:1.06em}
a{color:var(--link);text-underline-offset:.18em}
code{font:inherit;font-weight:600}
.whole,a.num{white-space:nowrap}
a.num{color:inherit;text-decoration-color:var(--link);text-decoration-thickness:1px}
a:hover{text-decoration-thickness:2px}
:focus-visible{outline:3px solid var(--link);outline-offset:2px;border-radius:2px}
.skip{position:absolute;left:-9999px}
.skip:focus{left:1rem;top:1rem;background:var(--card);padding:.5rem 1rem;z-index:2}
.frame{max-width:76rem;margin:0 auto;padding:0 1.25rem}
header.top{padding:3.2rem 0 2.2rem;display:grid;grid-template-columns:minmax(0,1fr) max-content;gap:3rem;
 align-items:end}
.portrait svg{display:block;height:25rem;width:auto;max-width:22rem}
h1,h2,h3,h4{line-height:1.22;font-weight:600;margin:0}
h1{font-size:clamp(2.1rem,5vw,3.2rem);letter-spacing:-.015em}
h2{font-size:1.75rem;letter-spacing:-.01em;margin-bottom:.6rem}
h3{font-size:1.2rem;margin:2.1rem 0 .6rem}
h4{font-size:1.0625rem}
.story{font-size:1.2rem;color:var(--quiet);margin:.4rem 0 1.2rem;max-width:44rem}
.verdict{font-size:1.28rem;line-height:1.45;max-width:46rem;margin:0}
.verdict.fails{color:var(--bad)}
.tiles{display:grid;grid-template-columns:repeat(3,minmax(0,1fr));gap:1px;margin:2rem 0 0;
 padding:1px}
.tiles div{background:var(--card);padding:.8rem 1rem;display:flex;flex-direction:column;
 box-shadow:0 0 0 1px var(--hair)}
.tiles dt{font-size:.9rem;color:var(--quiet);order:2}
.tiles dd{margin:0;font-size:1.5rem;font-weight:600;white-space:nowrap}
.body{display:grid;grid-template-columns:15rem minmax(0,1fr);gap:3rem;align-items:start;padding-bottom:5rem}
nav.contents{position:sticky;top:1.2rem;font-size:.95rem;line-height:1.35;padding-top:1.6rem}
nav.contents h2{font-size:.95rem;color:var(--quiet);letter-spacing:0}
nav.contents ol{margin:0;padding:0;list-style:none}
nav.contents a{display:block;padding:.32rem 0;text-decoration:none;color:var(--ink)}
nav.contents a:hover{color:var(--link);text-decoration:underline}
main>section{padding:2.6rem 0 .6rem;border-top:1px solid var(--hair)}
main>section:first-child{border-top:0;padding-top:1.6rem}
main p,main li{max-width:44rem}
.lead{font-size:1.16rem;line-height:1.5;margin:.2rem 0 1.2rem}
.rounded{color:var(--quiet);font-size:.95rem}
.step{padding:1.15rem 0 1rem;border-top:1px solid var(--hair);scroll-margin-top:1rem}
h3+.step,.lead+.step{border-top:0}
.step:target{background:linear-gradient(var(--mark),var(--mark)) -1rem 0/calc(100% + 2rem) no-repeat;
 box-shadow:0 0 0 .6rem var(--mark)}
.step h3,.step h4{margin:0 0 .15rem;font-size:1.0625rem}
.no{font-weight:400;color:var(--quiet);text-decoration:none;margin-right:.35rem;white-space:nowrap}
.no:hover{text-decoration:underline}
.why{margin:.1rem 0 .5rem}
.eq{display:grid;grid-template-columns:max-content minmax(0,1fr);gap:.7rem .4rem;align-items:baseline;
 overflow-x:auto;overflow-y:hidden;padding:.35rem 0 .45rem;margin:.35rem 0}
.eq>div:nth-child(odd){text-align:right;min-width:3.2rem}
.eq math{display:inline-block math;line-height:1.9}
.eq .result math{font-weight:400}
.result{white-space:nowrap}
.aside{color:var(--quiet);margin-left:.3rem}
.with{list-style:none;margin:.1rem 0;padding:0;font-size:.95rem;line-height:1.4;color:var(--quiet);
 display:flex;flex-wrap:wrap;gap:.05rem 1.3rem}
@media(min-width:66rem){
 .worked{display:flex;flex-wrap:wrap;gap:0 2.5rem;align-items:flex-start}
 .worked .eq{flex:1 1 auto;min-width:0;max-width:100%}
 .worked .with{flex:0 0 17.5rem;display:grid;grid-template-columns:max-content 1fr;gap:.35rem .7rem;padding-top:.7rem}
 .worked .with li{display:grid;grid-template-columns:subgrid;grid-column:1/-1;align-items:baseline}
 .worked .with li math{text-align:right}
}
.remark,.hand{margin:.45rem 0 0;font-size:1rem}
.hand{border-left:3px solid var(--five);padding-left:.75rem}
.source{margin:.45rem 0 0;font-size:.86rem;color:var(--quiet);overflow-wrap:anywhere}
figure{margin:1.4rem 0 1.6rem}
figcaption{font-size:.95rem;color:var(--quiet);max-width:44rem;margin-top:.5rem}
figure svg{max-width:100%;height:auto;display:block}
@media(min-width:60rem){figure.tall{display:grid;grid-template-columns:max-content minmax(0,1fr);gap:3rem;
 align-items:end}}
.row{display:flex;flex-wrap:wrap;gap:1rem 3rem;align-items:end}
.row figure{margin:1rem 0;max-width:20rem}
.charts{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,22rem),1fr));gap:1.4rem 1rem}
.chart text{font-family:FONT}
.cursor{visibility:hidden}
.read .cursor{visibility:visible}
.cursor-rule{stroke:var(--ink);stroke-width:1}
.cursor-dot{fill:var(--ink);stroke:var(--paper);stroke-width:1.5}
.cursor-words{fill:var(--ink);font-size:12px;font-weight:600}
svg[data-axes]{cursor:crosshair;touch-action:pan-y}
.wide{overflow-x:auto}
table{border-collapse:collapse;font-size:.98rem;margin:1.1rem 0 1.6rem;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:600;padding:0 0 .35rem}
th,td{text-align:left;font-weight:400;padding:.3rem 1.3rem .3rem 0;border-bottom:1px solid var(--hair);
 vertical-align:baseline}
thead th{color:var(--quiet);font-size:.9rem;vertical-align:bottom}
.n{text-align:right;white-space:nowrap}
th.n,td.n{padding-left:.8rem}
td:nth-child(2):not(.n){min-width:9rem}
tr.sum>*{font-weight:600;border-bottom:0}
tr:target{background:var(--mark)}
.binds{font-weight:600}
.broken{color:var(--bad);font-weight:600}
.finding{padding:.9rem 0;border-top:1px solid var(--hair)}
.finding h3{margin:0 0 .2rem;font-size:1.0625rem}
.finding p{margin:.2rem 0}
.badge{font-size:.82rem;font-weight:600;border:1px solid currentColor;border-radius:99px;padding:.08rem .6rem;
 margin-right:.35rem;color:var(--quiet);white-space:nowrap}
.finding.fails .badge{color:var(--bad)}
.finding.doubt .badge{color:var(--two)}
.caution{border-left:3px solid var(--two);padding-left:.75rem}
footer{border-top:1px solid var(--hair);padding:1.4rem 0 3rem;color:var(--quiet);font-size:.95rem}
@media(max-width:60rem){
 header.top{display:block}
 .portrait{display:none}
 .body{display:block}
 nav.contents{position:static;padding:1.2rem 0 0;border-top:1px solid var(--hair)}
 nav.contents ol{columns:2 14rem;column-gap:2rem}
}
@media(max-width:34rem){
 header.top{padding-top:2rem}
 .eq{grid-template-columns:max-content minmax(0,1fr)}
 .eq>div:nth-child(odd){min-width:2.2rem}
 .tiles{grid-template-columns:repeat(2,minmax(0,1fr))}
 .tiles dd{font-size:1.25rem}
}
@page{size:A4;margin:18mm 16mm}
@media print{
 body{font-size:10pt;background:#fff}
 nav.contents,.skip{display:none}
 .worked{display:block}
 .body{display:block;padding:0}
 .step,figure,.finding,tr,.tiles{break-inside:avoid}
 h2,h3,h4,.lead{break-after:avoid}
 main>section{padding:1.2rem 0 .2rem}
 figure.tall svg{max-height:215mm}
 .wide,.eq{overflow:visible}
 a.num{text-decoration:none}
}
"""


def style() -> str:
    """All of it."""
    light, dark = variables(LIGHT), variables(DARK)
    return (
        f"{faces()}:root{{color-scheme:light dark;{light}}}"
        f"@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}"
        f"{_PAGE.replace('FONT', FONT)}{DRAWING}"
    )
