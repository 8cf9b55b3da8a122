"""Kinds of values that several blocks of a concept file have in common."""

from __future__ import annotations

from typing import Annotated

from wetmass.concept import dimensions as d
from wetmass.concept.fields import Line, Whole
from wetmass.concept.find import Find
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads, ReadsShareOrMass

HEAVY = "100 000 t"
Mass = Annotated[Quantity, Reads(d.MASS, at_least="0 kg", at_most=HEAVY, example="400 kg")]
PartMass = Annotated[
    Quantity, Reads(d.MASS, at_least="1 kg", at_most=HEAVY, why="g alone is a gram here", example="600 kg")
]
Diameter = Annotated[Quantity, Reads(d.LENGTH, at_least="0.05 m", at_most="50 m", example="3.1 m")]
Length = Annotated[Quantity, Reads(d.LENGTH, at_least="0.05 m", at_most="200 m", example="8 m")]
OpenLength = Annotated[
    Quantity | Find,
    Reads(d.LENGTH, at_least="0.01 m", at_most="200 m", spread=False, find=True, example="3.1 m"),
]
Room = Annotated[Quantity, Reads(d.LENGTH, at_least="0 m", at_most="50 m", spread=False, example="0.1 m")]
Area = Annotated[Quantity, Reads(d.AREA, above="0 m²", at_most="2000 m²", example="1.2 m²")]
Time = Annotated[Quantity, Reads(d.TIME, at_least="0 s", at_most="30 day", example="4 s")]
Share = Annotated[Quantity, Reads(d.NUMBER, at_least="0 %", below="100 %", example="5 %")]
ShareOrMass = Annotated[Quantity, ReadsShareOrMass()]
RuleHeight = Annotated[
    Quantity, Reads(d.LENGTH, at_least="100 m", at_most="2000 km", spread=False, example="90 km")
]
RuleMach = Annotated[Quantity, Reads(d.NUMBER, at_least="0.1", at_most="10", spread=False, example="1.6")]
Count = Annotated[int, Whole(1, 200)]
Name = Annotated[str, Line(40, name=True)]
