"""What a stage burns: the pair, its mixture ratio, the load, and what of it is not burnt."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block, complain
from wetmass.concept.derived import FromTanks, ReadsLoad
from wetmass.concept.find import Find
from wetmass.concept.model.values import HEAVY, Mass, ShareOrMass
from wetmass.concept.pairs import PairName, pair_of
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.wording import shown
from wetmass.record.refusal import Complaint

Load = Annotated[
    Quantity | Find | FromTanks,
    ReadsLoad(
        d.MASS, at_least="1 kg", at_most=HEAVY, why="g alone is a gram here", find=True, example="68 t"
    ),
]
MixtureRatio = Annotated[Quantity, Reads(d.NUMBER, above="0", at_most="1000", example="3.4")]


class Propellant(Block):
    """What a stage burns.  What stays unused, what goes before lift-off and after cut-off are apart."""

    needs_too = ("mixture ratio",)

    pair: Annotated[str, PairName()] = Field(description="oxidiser and fuel, or a single propellant")
    mixture_ratio: MixtureRatio | None = Field(
        default=None, description="oxidiser to fuel by mass; none for a single propellant"
    )
    mixture_ratio_by_volume: MixtureRatio | None = Field(
        default=None, description="oxidiser to fuel by volume, instead: the densities as loaded convert it"
    )
    mass: Load = Field(description="all that is loaded: residuals and start loss are part of it")
    extra_fuel: Mass | None = Field(
        default=None,
        description="fuel in that load beyond the mixture ratio, for jets on the same tank; what they burn "
        "where nothing is said",
    )
    residuals: ShareOrMass | None = Field(
        default=None,
        description="unusable, still aboard after cut-off: a share of the mass loaded, or a mass",
    )
    start_loss: Mass | None = Field(
        default=None, description="used before the stage moves: chill, start, hold-down"
    )
    shut_down_loss: Mass | None = Field(
        default=None,
        alias="shut-down loss",
        description="leaves the engines after cut-off without counted thrust",
    )

    @model_validator(mode="after")
    def _sound(self) -> Propellant:
        complain(self._ratio(), self._left(), *self._losses())
        return self

    def _ratio(self) -> Complaint | None:
        pair, ratio, volumes = pair_of(self.pair), self.mixture_ratio, self.mixture_ratio_by_volume
        key = "mixture ratio" if volumes is None else "mixture ratio by volume"
        stated = ratio if volumes is None else volumes
        if pair is None:
            if stated is None:
                return None
            accepted = f"no {key}: {self.pair} is a single propellant"
            return Complaint(key, shown(stated), accepted, "delete this key")
        if ratio is not None and volumes is not None:
            accepted = f"a ratio by mass or one by volume, not both (by mass {ratio})"
            return Complaint(key, shown(volumes), accepted, "delete one of the two")
        low, high = (float(f"{end:.2g}") for end in pair.accepted)
        usual = f"{pair.usual[0]:g} to {pair.usual[1]:g}"
        band = f"{low:g} to {high:g} for {pair.name}, oxidiser to fuel by mass (usual: {usual})"
        if volumes is not None:
            dense = pair.oxidiser.density / pair.fuel.density
            if low <= volumes.value * dense <= high:
                return None
            band = f"{low / dense:.2g} to {high / dense:.2g} for {pair.name}, oxidiser to fuel by volume"
            return Complaint(key, shown(volumes), band, "check the number, and that it is by volume")
        if ratio is None:
            advice = f'add "mixture ratio: {pair.typical:.1f}" or what is meant'
            return Complaint("mixture ratio", "nothing", band, advice)
        reader = Reads(d.NUMBER, at_least=f"{low:g}", at_most=f"{high:g}")
        ends = (ratio.spread.low, ratio.spread.high) if ratio.spread else (ratio.value,)
        if all(map(reader.inside, ends)):
            return None
        turned = 1.0 / ratio.value
        if pair.usual[0] <= turned <= pair.usual[1]:
            advice = f"give oxidiser to fuel, not fuel to oxidiser; did you mean {turned:.2f}?"
        else:
            advice = reader.slipped(ratio) or "check the number"
        return Complaint("mixture ratio", shown(ratio), band, advice)

    def _left(self) -> Complaint | None:
        left = self.residuals
        if left is None:
            return None
        if left.dimension == d.NUMBER and not left.value <= 0.2:
            advice = (
                f'check it; did you mean "{left.number} %"?' if not left.unit.text else "check the number"
            )
            return Complaint("residuals", shown(left), "at most 20 % of the propellant", advice)
        if (
            left.dimension == d.MASS
            and isinstance(self.mass, Quantity)
            and left.value > 0.2 * self.mass.value
        ):
            return Complaint(
                "residuals", shown(left), f"at most 20 % of the propellant, {self.mass}", "check the unit"
            )
        return None

    def _losses(self) -> list[Complaint]:
        if not isinstance(self.mass, Quantity):
            return []
        pairs = (
            ("start loss", self.start_loss), ("shut-down loss", self.shut_down_loss),
            ("extra fuel", self.extra_fuel),
        )  # fmt: skip
        return [
            Complaint(key, shown(loss), f"at most 20 % of the propellant, {self.mass}", "check the unit")
            for key, loss in pairs
            if loss is not None and loss.value > 0.2 * self.mass.value
        ]
