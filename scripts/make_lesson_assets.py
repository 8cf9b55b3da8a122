"""Makes the fonts, letter widths and outline map of the lesson from the open packages they come from.

    npm pack @fontsource/source-sans-3@5.3.1 @fontsource/stix-two-math@5.3.0 world-atlas@2.0.2
    (unpack each), then: python scripts/make_lesson_assets.py SOURCE-SANS-3 STIX-TWO-MATH WORLD-ATLAS

Needs fonttools and brotli.  Source Sans 3 and STIX Two Math: SIL Open Font License 1.1.  The outline of
land: Natural Earth 1:110 million, public domain.  What it makes is kept in src/wetmass/lesson/assets.
"""

from __future__ import annotations

import io
import json
import shutil
import sys
from pathlib import Path

ASSETS = Path(__file__).resolve().parent.parent / "src" / "wetmass" / "lesson" / "assets"
# letters, Greek, their slanted forms in mathematics, indices, operators, arrows, fences, accents
MATH = [
    *range(0x20, 0x7F), *range(0xA0, 0x100), *range(0x370, 0x400), *range(0x1D434, 0x1D468),
    *range(0x1D6E2, 0x1D71C), 0x210E, *range(0x2070, 0x209D), *range(0x2000, 0x2010), 0x2013, 0x2014, 0x2018,
    0x2019, 0x201C, 0x201D, 0x2026, 0x2032, 0x2061, 0x2062, 0x2190, 0x2192, 0x2212, 0x2215, 0x221A, 0x221B,
    0x221E, 0x2248, 0x2260, 0x2264, 0x2265, 0x22C5, 0x2211, 0x222B, 0x0307, 0x02D9, 0x1E41, 0x2153, 0x2154,
]  # fmt: skip


def subset(source: Path, codes: list[int], to: Path) -> None:
    """The glyphs of some characters, with what mathematics needs of them."""
    from fontTools import subset as tool

    options = tool.Options(flavor="woff2", layout_features=["*"], hinting=False, notdef_outline=True)
    font = tool.load_font(str(source), options)
    chosen = tool.Subsetter(options)
    chosen.populate(unicodes=codes)
    chosen.subset(font)
    tool.save_font(font, str(to), options)


def widths(files: list[Path]) -> dict[str, float]:
    """Advance of each character in ems, the first file that has it."""
    from fontTools.ttLib import TTFont

    found: dict[str, float] = {}
    for file in files:
        font = TTFont(io.BytesIO(file.read_bytes()))
        unit, advances = font["head"].unitsPerEm, font["hmtx"]
        for code, name in font.getBestCmap().items():
            if code < 0x2300:
                found.setdefault(chr(code), round(advances[name][0] / unit, 4))
    return found


def for_paper(parts: list[Path], weight: int, to: Path) -> None:
    """Latin and Greek as one plain font, with figures set low: Typst reads no woff2 and takes one file a weight.

    The licence names no reserved font name.
    """
    from fontTools.merge import Merger, Options
    from fontTools.pens.recordingPen import DecomposingRecordingPen
    from fontTools.pens.transformPen import TransformPen
    from fontTools.pens.ttGlyphPen import TTGlyphPen
    from fontTools.ttLib import woff2

    plain = [part.with_suffix(".ttf") for part in parts]
    for part, file in zip(parts, plain, strict=True):
        woff2.decompress(str(part), str(file))
    options = Options()
    options.drop_tables = ["STAT", "BASE"]
    font = Merger(options=options).merge([str(file) for file in plain])
    style = {400: "Regular", 600: "SemiBold"}[weight]
    family = "Source Sans 3" if weight == 400 else f"Source Sans 3 {style}"
    for number in (1, 2, 3, 4, 6, 16, 17, 25):
        font["name"].removeNames(nameID=number)
    for number, text in (
        (1, family), (2, "Regular"), (4, f"Source Sans 3 {style}"), (6, f"SourceSans3-{style}"),
        (16, "Source Sans 3"), (17, style),
    ):  # fmt: skip
        font["name"].setName(text, number, 3, 1, 0x409)
    font["OS/2"].usWeightClass = weight
    glyphs, known = font.getGlyphSet(), font.getBestCmap()
    for figure in range(10):
        name, drawn = f"uni208{figure}", DecomposingRecordingPen(glyphs)
        glyphs[known[ord("0") + figure]].draw(drawn)
        pen = TTGlyphPen(None)
        drawn.replay(TransformPen(pen, (0.62, 0, 0, 0.62, 0, -150)))
        font["glyf"][name] = pen.glyph()
        font["glyf"][name].recalcBounds(font["glyf"])
        advance = round(font["hmtx"][known[ord("0") + figure]][0] * 0.64)
        font["hmtx"][name] = (advance, font["glyf"][name].xMin)
        for table in font["cmap"].tables:
            if table.isUnicode():
                table.cmap[0x2080 + figure] = name
    font["maxp"].numGlyphs = len(font.getGlyphOrder())
    font.save(to)
    for file in plain:
        file.unlink()


def land(topology: dict) -> list[list[list[list[float]]]]:
    """Polygons of land, each its rings as (longitude, latitude) in degrees, to a hundredth."""
    (sx, sy), (tx, ty) = topology["transform"]["scale"], topology["transform"]["translate"]
    arcs = []
    for arc in topology["arcs"]:
        x = y = 0
        points = []
        for dx, dy in arc:
            x, y = x + dx, y + dy
            points.append([round(x * sx + tx, 2), round(y * sy + ty, 2)])
        arcs.append(points)
    made = []
    for geometry in topology["objects"]["land"]["geometries"]:
        polygons = geometry["arcs"] if geometry["type"] == "MultiPolygon" else [geometry["arcs"]]
        for polygon in polygons:
            rings = []
            for ring in polygon:
                points: list[list[float]] = []
                for index in ring:
                    piece = arcs[index] if index >= 0 else arcs[~index][::-1]
                    points += piece[1:] if points else piece
                rings.append(points)
            made.append(rings)
    return made


def main(sans: Path, math: Path, atlas: Path) -> None:
    """Make everything."""
    ASSETS.mkdir(exist_ok=True)
    texts = []
    for weight in (400, 600):
        for script in ("latin", "greek"):
            to = ASSETS / f"source-sans-3-{script}-{weight}.woff2"
            shutil.copyfile(sans / "files" / f"source-sans-3-{script}-{weight}-normal.woff2", to)
            texts.append(to)
    to = ASSETS / "stix-two-math.woff2"
    subset(math / "files" / "stix-two-math-latin-400-normal.woff2", MATH, to)
    from fontTools.ttLib import woff2

    woff2.decompress(str(to), str(to.with_suffix(".ttf")))
    for weight, pair in ((400, texts[:2]), (600, texts[2:])):
        for_paper(pair, weight, ASSETS / f"source-sans-3-{weight}.ttf")
    for name, package in (("source-sans-3", sans), ("stix-two-math", math)):
        shutil.copyfile(package / "LICENSE", ASSETS / f"{name}.license.txt")
    table = {"400": widths([texts[0], texts[1], to]), "600": widths([texts[2], texts[3], to])}
    (ASSETS / "widths.json").write_text(json.dumps(table, ensure_ascii=False), encoding="utf-8")
    polygons = land(json.loads((atlas / "land-110m.json").read_text(encoding="utf-8")))
    source = "Natural Earth 1:110m land, public domain, by way of the npm package world-atlas 2.0.2"
    text = json.dumps({"source": source, "polygons": polygons}, separators=(",", ":"))
    (ASSETS / "land.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:4]))
