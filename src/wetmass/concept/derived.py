"""Values that follow from the rest: a dry mass by parts, a load from tanks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from wetmass.concept.find import Find
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.wording import nearest, wrong
from wetmass.physics.stages_flown import STAGES, flown_stage


@dataclass(frozen=True, slots=True)
class ByParts:
    """A dry mass added up from published relations for each part."""

    def __str__(self) -> str:
        return "by parts"


@dataclass(frozen=True, slots=True)
class Like:
    """A dry mass with the structural fraction of a stage that flew."""

    stage: str

    def __str__(self) -> str:
        return f"like {self.stage}"


@dataclass(frozen=True, slots=True)
class FromTanks:
    """A propellant mass that follows from tanks whose sizes are stated."""

    def __str__(self) -> str:
        return "from tanks"


class ReadsDryMass(Reads):
    """A mass, `find`, `by parts`, or `like` a stage that flew."""

    def takes(self, value: Any) -> bool:
        return isinstance(value, (Quantity, Find, ByParts, Like))

    def words(self) -> str:
        return f"{super().words()}; or by parts; or like a stage that flew, such as like Saturn V S-IVB"

    def read(self, text: str, info: Any) -> Any:
        said = " ".join(text.split())
        if said.casefold() == "by parts":
            return ByParts()
        if said.casefold().startswith("like "):
            return self._like(text, said[5:])
        if nearest(said, ["by parts"]):
            raise wrong(text, self.words(), 'write "by parts", if that is meant')
        return super().read(text, info)

    def _like(self, text: str, name: str) -> Like:
        try:
            return Like(flown_stage(name).name)
        except ValueError:
            near = nearest(name, STAGES)
            advice = f'write "like {near}", if that is meant' if near else "write one of these"
            raise wrong(text, f"like {' | '.join(STAGES)}", advice) from None


class ReadsLoad(Reads):
    """A mass, `find`, or `from tanks`."""

    def takes(self, value: Any) -> bool:
        return isinstance(value, (Quantity, Find, FromTanks))

    def words(self) -> str:
        return f"{super().words()}; or from tanks, whose sizes are stated then"

    def read(self, text: str, info: Any) -> Any:
        said = " ".join(text.split()).casefold()
        if said == "from tanks":
            return FromTanks()
        if nearest(said, ["from tanks"]):
            raise wrong(text, self.words(), 'write "from tanks", if that is meant')
        return super().read(text, info)
