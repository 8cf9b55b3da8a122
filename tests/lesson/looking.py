"""Looking at what was made: words with their boxes on paper and frames, and the page in a browser."""

import contextlib
import shutil
import subprocess
from xml.etree import ElementTree

ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update",
    "--disable-sync",
]  # fmt: skip
XHTML = "{http://www.w3.org/1999/xhtml}"


def tool(*names):
    """A program, by the first name that is there; a clear word, never a silent skip, where none is."""
    found = next((path for path in map(shutil.which, names) if path), None)
    assert found, f"{' or '.join(names)} is not there: run scripts/test, which installs it"
    return found


@contextlib.contextmanager
def browser():
    """A Chromium that asks nothing of a network."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        made = playwright.chromium.launch(
            executable_path=tool("chromium", "chromium-browser"), args=ARGUMENTS
        )
        yield made
        made.close()


def words(pdf, folder):
    """[(page's width, height, [(word, left, top, right, bottom)])] of a PDF, in points."""
    (folder / "looked.pdf").write_bytes(pdf)
    done = subprocess.run(
        [tool("pdftotext"), "-bbox", str(folder / "looked.pdf"), "-"], capture_output=True, check=True
    )
    text = done.stdout.decode().replace("\x0c", "")
    pages = []
    for page in ElementTree.fromstring(text).iter(f"{XHTML}page"):
        boxes = [
            (w.text or "", *(float(w.get(key)) for key in ("xMin", "yMin", "xMax", "yMax")))
            for w in page.iter(f"{XHTML}word")
        ]
        pages.append((float(page.get("width")), float(page.get("height")), boxes))
    return pages


def meetings(boxes, share=0.35):
    """Pairs of words that lie on one another: over so much of the smaller one's area.

    Boxes are as high as the font, so neighbours above and below touch a little; an index or an exponent
    touches its letter.  The dot above a letter lies within its box.
    """
    found = []
    boxes = [one for one in boxes if one[0] != "˙"]
    for i, (one, a, b, c, d) in enumerate(boxes):
        for other, e, f, g, h in boxes[i + 1 :]:
            wide, high = min(c, g) - max(a, e), min(d, h) - max(b, f)
            if wide > 0.0 and high > 0.0:
                least = min((c - a) * (d - b), (g - e) * (h - f))
                if wide * high > share * least > 0.0:
                    found.append((one, other))
    return found
