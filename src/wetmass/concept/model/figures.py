"""What one engine does: thrust and specific impulse, at sea level, in vacuum, or both."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.wording import wrong
from wetmass.record.refusal import Refusal

Force = Annotated[Quantity, Reads(d.FORCE, above="0 N", at_most="1 GN", example="210 kN")]
SecondsInAir = Annotated[Quantity, Reads(d.TIME, at_least="20 s", at_most="20 000 s", example="309 s")]
Seconds = Annotated[Quantity, Reads(d.TIME, at_least="20 s", at_most="20 000 s", example="341 s")]


def _placed(data: Any, figure: Any, what: str) -> Any:
    """The data of both figures; a figure alone is refused, for it does not say where it holds."""
    if not isinstance(data, str):
        return data
    accepted = f"{what} at sea level, in vacuum, or both"
    example = figure.__metadata__[0].example
    try:
        figure.__metadata__[0](data, None)
    except Refusal as refusal:
        what_is = refusal.accepted if data.strip() else accepted
        raise wrong(
            data, what_is, f"give it as in {{sea level: {example}}} or {{vacuum: {example}}}"
        ) from None
    raise wrong(data, accepted, f"say where it holds: {{sea level: {data}}} or {{vacuum: {data}}}")


class Thrust(Block):
    """Thrust of one engine at full throttle; at least one of the two figures."""

    sea_level: Force | None = Field(default=None, description="at sea level, 101 325 Pa")
    vacuum: Force | None = Field(default=None, description="in vacuum")

    @model_validator(mode="before")
    @classmethod
    def _where(cls, data: Any) -> Any:
        return _placed(data, Force, "thrust")

    @model_validator(mode="after")
    def _ordered(self) -> Thrust:
        _check_figures(self.sea_level, self.vacuum, "thrust", "210 kN")
        return self


class SpecificImpulse(Block):
    """Specific impulse; at least one of the two figures."""

    sea_level: SecondsInAir | None = Field(default=None, description="at sea level, 101 325 Pa")
    vacuum: Seconds | None = Field(default=None, description="in vacuum")

    needs_too = ("sea level", "vacuum")

    @model_validator(mode="before")
    @classmethod
    def _where(cls, data: Any) -> Any:
        return _placed(data, Seconds, "specific impulse")

    @model_validator(mode="after")
    def _ordered(self) -> SpecificImpulse:
        _check_figures(self.sea_level, self.vacuum, "specific impulse", "309 s")
        return self


def _check_figures(ground: Quantity | None, vacuum: Quantity | None, what: str, example: str) -> None:
    if ground is None and vacuum is None:
        raise wrong(
            "",
            f"{what} at sea level, in vacuum, or both",
            f'add "vacuum: {example}" or "sea level: {example}"',
        )
    if ground is not None and vacuum is not None and not ground.value < vacuum.value:
        accepted = f"less than in vacuum, {vacuum}: the air outside pushes back on the nozzle"
        raise wrong(ground, accepted, "swap the two figures, or check them", "sea level")
