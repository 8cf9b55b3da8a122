"""How one value of a concept file is read: each reader turns typed text into a value, or refuses it.

A reader is put beside a type, `Annotated[Quantity, Reads(MASS)]`; the reference page is written from
what it says of itself (`words`, `example`).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from pydantic import GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from wetmass.concept.find import Find
from wetmass.concept.wording import nearest, wrong
from wetmass.record.refusal import Complaint, Refusal


class Reader:
    """A value reader; subclasses give `read` (from text), `takes` (a value that is read already)."""

    example = ""

    def read(self, text: str, info: Any) -> Any:
        raise NotImplementedError

    def takes(self, value: Any) -> bool:
        return False

    def words(self) -> str:
        """What is accepted, for messages and the reference page."""
        raise NotImplementedError

    def __call__(self, value: Any, info: Any) -> Any:
        if self.takes(value):
            return value
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            value = repr(value)
        if not isinstance(value, str):
            raise wrong(value, self.words(), self.give())
        return self.read(value, info)

    def give(self) -> str:
        return f'give it as in "{self.example}"' if self.example else f"give {self.words()}"

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self)


class ReadBy:
    """What is not one value but a list or an entry of one, read whole by a function (value, info)."""

    def __init__(self, function: Callable[[Any, Any], Any]) -> None:
        self.function = function

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.function)


class AtMost:
    """A list of so many entries at most, counted before they are read."""

    def __init__(self, most: int) -> None:
        self.most = most

    def __call__(self, value: Any) -> Any:
        if isinstance(value, (list, tuple)) and len(value) > self.most:
            accepted, remedy = f"{self.most} at most", "keep what the vehicle needs"
            raise Refusal(Complaint("", f"{len(value)} entries", accepted, remedy))
        return value

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self, handler(source))


class Whole(Reader):
    """A whole number, or `find` where it may be left open."""

    def __init__(self, least: int, most: int, find: bool = False) -> None:
        self.least, self.most, self.find = least, most, find
        self.example = str(max(least, 1))

    def takes(self, value: Any) -> bool:
        if isinstance(value, int) and not isinstance(value, bool):
            return self.least <= value <= self.most
        return isinstance(value, Find) and self.find

    def words(self) -> str:
        return f"a whole number from {self.least} to {self.most}" + ("; or find" if self.find else "")

    def read(self, text: str, info: Any) -> int | Find:
        typed = text.strip()
        if typed.casefold().startswith("find") and self.find:
            return self.read_find(typed)
        if re.fullmatch(r"[0-9]{1,6}", typed, re.ASCII) and self.least <= int(typed) <= self.most:
            return int(typed)
        raise wrong(text, self.words(), f'give a whole number, such as "{self.example}"')

    def read_find(self, text: str) -> Find:
        rest = text[4:].strip(" ,")
        match = re.fullmatch(
            r"(?:(?:from )?([0-9]{1,6}) to ([0-9]{1,6})|at least ([0-9]{1,6})|at most ([0-9]{1,6}))?", rest
        )
        if match is None:
            raise wrong(text, self.words(), 'write "find" or, with bounds, "find from 5 to 9"')
        low, high = match[1] or match[3], match[2] or match[4]
        for bound in (low, high):
            if bound and not self.least <= int(bound) <= self.most:
                raise wrong(text, self.words(), f"keep the bounds between {self.least} and {self.most}")
        if low and high and int(low) >= int(high):
            raise wrong(text, "bounds from less to more", 'write "find from 5 to 9"')
        return Find(float(low) if low else None, float(high) if high else None, "", text)


class Choice(Reader):
    """One of a few words."""

    def __init__(self, *words: str) -> None:
        self.choices = words
        self.example = words[0]

    def words(self) -> str:
        return " | ".join(self.choices)

    def read(self, text: str, info: Any) -> str:
        typed = text.strip()
        if typed in self.choices:
            return typed
        near = nearest(typed, self.choices) if typed else None
        remedy = f'write "{near}", if that is meant' if near else "write one of these words"
        raise wrong(text, self.words(), remedy)


class YesNo(Reader):
    """yes or no; true and false are read too."""

    example = "yes"

    def takes(self, value: Any) -> bool:
        return isinstance(value, bool)

    def words(self) -> str:
        return "yes or no"

    def read(self, text: str, info: Any) -> bool:
        word = text.strip().casefold()
        if word in ("yes", "true", "on"):
            return True
        if word in ("no", "false", "off"):
            return False
        raise wrong(text, self.words(), 'write "yes" or "no"')


class Line(Reader):
    """A name or a line of text."""

    def __init__(self, longest: int, name: bool = False, example: str = "first") -> None:
        self.longest, self.name, self.example = longest, name, example

    def words(self) -> str:
        kind = "a name with at least one letter and no /" if self.name else "a text"
        return f"{kind}, {self.longest} characters at most"

    def read(self, text: str, info: Any) -> str:
        written = " ".join(text.split())
        if len(written) > self.longest:
            raise wrong(text, self.words(), f"shorten it, it has {len(written)} characters")
        if self.name and (not any(map(str.isalpha, written)) or "/" in written):
            raise wrong(text, self.words(), f'give a name, such as "{self.example}"')
        return written


class StageName(Reader):
    """The name of a stage of the same file."""

    example = "first"

    def words(self) -> str:
        return "the name of a stage of this file"

    def read(self, text: str, info: Any) -> str:
        names = (info.context or {}).get("stage names", ()) if info is not None else ()
        written = " ".join(text.split())
        if not names or written in names:
            return written
        near = nearest(written, names)
        advice = f'did you mean "{near}"?' if near else "check the name"
        raise wrong(text, f"a stage of this file: {', '.join(names)}", f"write one of these; {advice}")
