"""A lesson made once for all tests of it: Dunlin closed and flown; and a reading of the page."""

import functools
from html.parser import HTMLParser
from pathlib import Path

import wetmass
from wetmass.lesson import as_html

EXAMPLES = Path(__file__).parents[2] / "examples"
VOID = {"meta", "link", "img", "br", "hr", "input", "wbr", "mspace", "stop", "circle", "line", "rect"}


@functools.cache
def dunlin():
    """(concept, closed) of the first example."""
    concept = wetmass.load(EXAMPLES / "dunlin.yaml")
    return concept, wetmass.fly(concept)


@functools.cache
def lesson():
    """Its page."""
    concept, closed = dunlin()
    return as_html(concept, closed, file="dunlin.yaml", version="0")


class Page(HTMLParser):
    """What a reader and a screen reader find in a page."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.tags, self.ids, self.links, self.headings, self.words = [], [], [], [], []
        self.open, self.left_open = [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        self.tags.append((tag, found))
        if "id" in found:
            self.ids.append(found["id"])
        if tag == "a":
            self.links.append(found.get("href", ""))
        if tag in ("h1", "h2", "h3", "h4", "h5"):
            self.headings.append([int(tag[1]), ""])
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        if tag in VOID:
            return
        if not self.open or self.open.pop() != tag:
            self.left_open.append(tag)

    def handle_data(self, data):
        if any(tag in ("style", "script") for tag in self.open):
            return
        self.words.append(data)
        if any(tag in ("h1", "h2", "h3", "h4", "h5") for tag in self.open):
            self.headings[-1][1] += data

    def having(self, tag):
        """The attributes of every element of that name."""
        return [attrs for name, attrs in self.tags if name == tag]
