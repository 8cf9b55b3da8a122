"""A whole launch vehicle, as stated."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, PrivateAttr, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block, complain
from wetmass.concept.fields import AtMost, Line
from wetmass.concept.find import Find
from wetmass.concept.measures import Objective, Requirement
from wetmass.concept.model.asked import Asked, Claimed
from wetmass.concept.model.fairing import Dropped, Fairing
from wetmass.concept.model.limits import Limits
from wetmass.concept.model.mission import Mission
from wetmass.concept.model.open_values import Open, open_values
from wetmass.concept.model.places import NamedPlace
from wetmass.concept.model.site import Site
from wetmass.concept.model.stage import Stage
from wetmass.concept.model.waiting import not_yet_computed
from wetmass.concept.model.whole import complaints
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.record.refusal import Place

MOST_STAGES = 12
OpenPayload = Annotated[
    Quantity | Find, Reads(d.MASS, at_least="0 kg", at_most="10 000 t", find=True, example="1.2 t")
]


class Concept(Block):
    """A whole launch vehicle, as stated: what is known, what is open, and what is asked."""

    name: Annotated[str, Line(80, name=True, example="Dunlin")] = Field(
        description="what the vehicle is called"
    )
    story: Annotated[str, Line(2000, example="Two-stage methane launcher for weather satellites.")] = Field(
        default="", description="what it is for, in a sentence or two"
    )
    site: Site = Field(description="where it is launched from")
    places: Annotated[tuple[NamedPlace, ...], AtMost(30)] = Field(
        default=(), description="places a stage may come home to, beside the site"
    )
    mission: Mission = Field(description="where to: an orbit, an escape, a destination by name, or a height")
    payload: OpenPayload = Field(description="mass to be delivered")
    fairing: Fairing | None = Field(default=None, description="the shell over the payload")
    also_dropped: Annotated[tuple[Dropped, ...], AtMost(50)] = Field(
        default=(), description="other parts let go on the way"
    )
    stages: Annotated[tuple[Stage, ...], AtMost(MOST_STAGES)] = Field(
        description="the stages, the one lit on the ground first"
    )
    performance_reserve: Annotated[
        Quantity, Reads(d.SPEED, at_least="0 m/s", at_most="3 km/s", spread=False, example="100 m/s")
    ] | None = Field(
        default=None, description="delta-v kept in the last stage at the target orbit"
    )  # fmt: skip
    require: Annotated[tuple[Asked, ...], AtMost(60)] = Field(
        default=(), description="what must hold (at least, at most, exactly), and at most one objective"
    )
    limits: Limits = Field(default=Limits.model_construct(), description="what the flight may not exceed")
    claims: Annotated[tuple[Claimed, ...], AtMost(100)] = Field(
        default=(), description="what someone says of it, to be checked"
    )

    _document: Any = PrivateAttr(default=None)

    @model_validator(mode="after")
    def _whole(self) -> Concept:
        complain(*complaints(self))
        return self

    @property
    def requirements(self) -> tuple[Requirement, ...]:
        """The requirements, without the objective."""
        return tuple(entry for entry in self.require if isinstance(entry, Requirement))

    @property
    def objective(self) -> Objective | None:
        """What is made best of the freedom left, None where nothing was named."""
        return next((entry for entry in self.require if isinstance(entry, Objective)), None)

    def open_values(self) -> tuple[Open, ...]:
        """The values to be found."""
        return open_values(self)

    def not_yet_computed(self) -> tuple[tuple[str, str], ...]:
        """Stated and checked, but without effect on the result yet: (path, why) of each."""
        return not_yet_computed(self)

    @property
    def document(self) -> Any:
        """The file this was read from (`wetmass.concept.document.Document`), None when made in Python."""
        return self._document

    def place(self, path: str) -> Place | None:
        """Where a field stands in the file, such as "stages/first/dry mass", or else its block."""
        return self._document.place(path) if self._document is not None else None

    def __repr__(self) -> str:
        stages = ", ".join(stage.name for stage in self.stages)
        return f"<Concept {self.name}: payload {self.payload}, stages {stages}>"

    __str__ = __repr__
