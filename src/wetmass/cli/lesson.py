"""`wetmass lesson`: read, close, fly, and write the lesson: page, paper, frames, film, and tables."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from wetmass.cli.checking import guarded
from wetmass.cli.flying import CLOSES, DOES_NOT_CLOSE, answer
from wetmass.cli.screen import errors, screen
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.lesson.content import Lesson
    from wetmass.record.closed import Closed

SHEETS = (".xlsx", ".csv", ".parquet", ".json")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be written beside the page."""

    out: str = "."
    pdf: bool = False
    frames: str | None = None  # a folder
    svg: bool = False  # frames as SVG too
    only: tuple[str, ...] = ()
    light: bool = False  # frames and film; else dark
    size: str = "1920x1080"
    film: str | None = None
    seconds: float = 24.0
    tables: tuple[str, ...] = ()


def lesson(file: str, wanted: Wanted) -> int:
    """Write the lesson of a concept; returns the exit status."""

    def work() -> int:
        size = _size(wanted.size)
        _endings(wanted)
        concept, closed = answer(file, quiet=False)
        for target in written(file, concept, closed, wanted, size):
            screen().print(str(target), soft_wrap=True, highlight=False)
        return CLOSES if closed.closes else DOES_NOT_CLOSE

    return guarded(work, [file])


def written(
    file: str, concept: Concept, closed: Closed, wanted: Wanted, size: tuple[int, int] = (1920, 1080)
) -> list[Path]:
    """Write everything wanted, and say where it is.  Raises Refusal."""
    import wetmass
    from wetmass.lesson.content import lesson_of
    from wetmass.lesson.page.document import page

    name = stem(file, closed.name)
    made = lesson_of(concept, closed)
    said = {"file": Path(file).name, "version": wetmass.__version__}
    targets = [_save(Path(wanted.out) / f"{name}-lesson.html", page(made, **said).encode(), "--out")]
    if wanted.pdf:
        from wetmass.lesson.paper.document import pdf

        targets.append(_save(Path(wanted.out) / f"{name}-lesson.pdf", pdf(made, **said), "--out"))
    if wanted.frames is not None:
        targets += _frames(made, wanted, size)
    if wanted.tables:
        targets += [
            _guarded(Path(one), "--table", lambda path: _table(path, concept, closed))
            for one in wanted.tables
        ]
    if wanted.film is not None:
        targets.append(_film(closed, wanted, size))
    return targets


def _table(target: Path, concept: Concept, closed: Closed) -> None:
    if target.suffix.lower() == ".json":
        from wetmass.cli.exports import json_text

        target.write_text(json_text(concept, closed) + "\n", encoding="utf-8")
        return
    from wetmass.lesson.tables import write

    try:
        write(target, concept, closed)
    except ValueError as error:
        raise Refusal(Complaint("--table", f'"{target}"', "a table of a flight", str(error))) from None


def _frames(made: Lesson, wanted: Wanted, size: tuple[int, int]) -> list[Path]:
    from wetmass.lesson.frames import frames_of, pngs, svgs

    assert wanted.frames is not None
    try:
        chosen = frames_of(made, wanted.only)
    except ValueError as error:
        got = ", ".join(f'"{name}"' for name in wanted.only)
        accepted = f"names of frames or sections ({error})"
        raise Refusal(Complaint("--only", got, accepted, "write one of these")) from None
    folder = Path(wanted.frames)
    for write, ending in ((pngs, "png"), *(((svgs, "svg"),) if wanted.svg else ())):
        for frame, data in zip(chosen, write(made, chosen, dark=not wanted.light, size=size), strict=True):
            _save(folder / f"{frame.stem}.{ending}", data, "--frames")
    return [folder]


def _film(closed: Closed, wanted: Wanted, size: tuple[int, int]) -> Path:
    from rich.progress import Progress as Bar

    from wetmass.lesson.film import NoEncoder, film

    assert wanted.film is not None
    target = Path(wanted.film)
    console = errors()
    with Bar(console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task("filming", total=None)

        def write(path: Path) -> None:
            film(
                closed, path, seconds=wanted.seconds, dark=not wanted.light, size=size,
                told=lambda done, whole: bar.update(task, completed=done, total=whole),
            )  # fmt: skip

        try:
            return _guarded(target, "--film", write)
        except NoEncoder as error:
            raise Refusal(
                Complaint("--film", f'"{target}"', "a film, with ffmpeg there", str(error))
            ) from None
        except ValueError as error:
            raise Refusal(
                Complaint("--film", f'"{target}", {wanted.size}', "a film of a flight", str(error))
            ) from None


def _endings(wanted: Wanted) -> None:
    from wetmass.lesson.film.encode import ENDINGS

    named = [("--film", wanted.film, ENDINGS)] if wanted.film is not None else []
    named += [("--table", one, SHEETS) for one in wanted.tables]
    for option, name, endings in named:
        if Path(name).suffix.lower() not in endings:
            raise Refusal(
                Complaint(option, f'"{name}"', f"a file ending in {', '.join(endings)}", "name it so")
            )


def _size(text: str) -> tuple[int, int]:
    match = re.fullmatch(r"(\d{3,4})\s*[x×]\s*(\d{3,4})", text.strip())
    if match is None:
        raise Refusal(
            Complaint("--size", f'"{text}"', "width x height in pixels, 240 to 8192 each", "write 1920x1080")
        )
    return int(match[1]), int(match[2])


def _save(target: Path, data: bytes, option: str) -> Path:
    return _guarded(target, option, lambda path: path.write_bytes(data))


def _guarded(target: Path, option: str, write: Callable[[Path], object]) -> Path:
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        write(target)
    except OSError as error:
        raise Refusal(
            Complaint(
                option, f'"{target.parent}", in which nothing can be written ({error.strerror or error})',
                "a folder, which is made if it is not there",
                f'check its name and its permissions, or leave out "{option}"',
            )
        ) from None  # fmt: skip
    return target


def stem(file: str, name: str) -> str:
    """What the page is called by: the concept's file, or its name where it was read from elsewhere.

    >>> stem("examples/dunlin.yaml", "Dunlin"), stem("-", "Snow Bunting")
    ('dunlin', 'snow-bunting')
    """
    plain = Path(file).stem if file != "-" else name
    return re.sub(r"[^\w.]+", "-", plain.casefold()).strip("-") or "concept"
