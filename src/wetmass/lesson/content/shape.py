"""How big it is: the whole vehicle, each stage cut open, and engines from below."""

from __future__ import annotations

from dataclasses import replace

from wetmass.lesson import drawing
from wetmass.lesson.content.blocks import Block, Picture, Pictures
from wetmass.lesson.content.matter import Matter
from wetmass.lesson.drawing import Drawing
from wetmass.lesson.words import said
from wetmass.record.say import sentence

SCREEN = 430.0  # of the picture's units: as tall on a screen, so that its words are large enough


def drawn(made: Drawing, caption: str, kind: str = "") -> Picture:
    """A drawing with its caption."""
    return Picture(made.name, made.title, made.words, caption, lambda: made, kind)


def whole(matter: Matter) -> list[Block]:
    """The whole vehicle, outside and cut open."""
    words = [said("figures/whole", name=matter.closed.name), said("page/room")]
    if matter.closed.vehicle.strap_ons:
        words.append(said("page/caps"))
    if matter.laid_out and matter.geometry.assumed:
        words.append(said("page/assumed_layout", assumed="; ".join(matter.geometry.assumed)))
    geometry, vehicle = matter.geometry, matter.closed.vehicle
    picture = drawn(drawing.whole(geometry, vehicle), matter.drawn(*words), "tall")
    return [replace(picture, alone=lambda: drawing.whole(geometry, vehicle, high=SCREEN))]


def one_stage(matter: Matter, part: str) -> Picture | None:
    """One stage, outside and cut open; None for a part that is no stage."""
    names = [one.name for one in matter.geometry.stages]
    if part not in names:
        return None
    picture = drawing.stage(
        matter.geometry, matter.closed.vehicle, part, f"stage-{names.index(part) + 1}"
    )  # fmt: skip
    return drawn(picture, matter.drawn(said("figures/stage", part=part)))


def engines(matter: Matter) -> list[Block]:
    """Engines of every stage from below, all stages at one scale."""
    laid_out = [one for one in matter.geometry.stages if one.engines]
    made = []
    for i, laid in enumerate(laid_out, 1):
        picture = drawing.engines(laid, f"engines-{i}")
        told = f"{said('figures/engines', part=laid.name)}  {sentence(drawing.engines_words(laid))}"
        made.append(drawn(picture, told))
    return [Pictures("engines-below", tuple(made))] if made else []
