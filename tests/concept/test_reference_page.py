"""The reference page and the code agree, and no field is without a description."""

from pathlib import Path

import pytest

from wetmass import concept
from wetmass.concept.fields import Line
from wetmass.concept.measures import MEASURES, Measure
from wetmass.concept.reference import SMALLEST, blocks, example_of, page, reader_of
from wetmass.concept.statement import parse_quantity

PAGE = Path(__file__).parents[2] / "docs" / "concept-file.md"


def test_the_page_is_what_the_code_writes():
    written = PAGE.read_text(encoding="utf-8")
    assert written == page(), "run: python -m wetmass.concept.reference > docs/concept-file.md"


def test_the_smallest_concept_of_the_page_is_read():
    smallest = concept.loads(SMALLEST)
    assert len(smallest.stages) == 2
    assert not smallest.not_yet_computed()


@pytest.mark.parametrize("model", blocks(), ids=lambda model: model.__name__)
def test_every_block_and_every_field_is_described(model):
    assert (model.__doc__ or "").strip()
    for name, field in model.model_fields.items():
        assert field.description, f"{model.__name__}.{name}"
        assert field.description[0].islower() or field.description[0].isdigit()


@pytest.mark.parametrize("model", blocks(), ids=lambda model: model.__name__)
def test_every_example_is_read_by_its_own_field(model):
    for name, field in model.model_fields.items():
        reader = reader_of(field.annotation, field.metadata)
        if reader is not None:
            reader(example_of(field), None)
            assert isinstance(reader, Line) or reader.words(), name


def test_every_measure_is_explained():
    assert set(MEASURES) == set(Measure)


@pytest.mark.parametrize("model", blocks(), ids=lambda model: model.__name__)
def test_the_bounds_of_every_field_are_read_back(model):
    for field in model.model_fields.values():
        reader = reader_of(field.annotation, field.metadata)
        for text, value in ((getattr(reader, "low_text", ""), getattr(reader, "low", None)),
                            (getattr(reader, "high_text", ""), getattr(reader, "high", None))):  # fmt: skip
            if text:
                assert parse_quantity(text, reader.dimensions).value == value
