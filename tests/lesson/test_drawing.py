"""Drawings are to scale, tell what they show, and no two of their texts meet."""

import re

import pytest

import builders
from lesson.pages import dunlin
from wetmass.lesson import drawing
from wetmass.lesson.drawing import marks
from wetmass.lesson.drawing.shapes import below, fairing, inside, outside
from wetmass.lesson.drawing.svg import Drawing
from wetmass.lesson.drawing.type import Box, width
from wetmass.lesson.drawing.volumes import from_volumes
from wetmass.lesson.drawing.whole import extent
from wetmass.record.say import said

SEEN = ("whole", "first", "second", "engines-first", "engines-second", "staging")


def drawn(name):
    _, closed = dunlin()
    geometry, vehicle = closed.geometry, closed.vehicle
    if name == "whole":
        return drawing.whole(geometry, vehicle)
    if name == "staging":
        return drawing.staging(geometry, vehicle, closed.flight)
    if name.startswith("engines-"):
        laid = next(one for one in geometry.stages if name.endswith(one.name))
        return drawing.engines(laid, name)
    return drawing.stage(geometry, vehicle, name, name)


def meetings(boxes):
    return [(a.text, b.text) for i, a in enumerate(boxes) for b in boxes[i + 1 :] if a.meets(b)]


@pytest.mark.parametrize("name", SEEN)
def test_no_two_texts_meet_and_none_is_cut_off(name):
    picture = drawn(name)
    assert picture.texts
    assert not meetings(picture.texts)
    left, top, wide, high = picture.reach
    for one in picture.texts:
        assert left <= one.left and one.right <= left + wide and top <= one.top and one.bottom <= top + high


def test_the_test_of_boxes_sees_an_overlap():
    assert meetings([Box("a", 0, 0, 10, 10), Box("b", 9, 9, 20, 20)]) == [("a", "b")]
    assert not meetings([Box("a", 0, 0, 10, 10), Box("b", 10, 0, 20, 10)])


def test_widths_are_those_of_the_font_that_is_shipped():
    from fontTools.ttLib import TTFont

    import wetmass.lesson

    file = f"{wetmass.lesson.__path__[0]}/assets/source-sans-3-latin-600.woff2"
    font = TTFont(file)
    text = "LOX 68.3 t"
    units = sum(font["hmtx"][font.getBestCmap()[ord(letter)]][0] for letter in text)
    assert width(text, 13.0, bold=True) == pytest.approx(13.0 * units / font["head"].unitsPerEm, rel=1e-3)


def test_crowded_labels_stand_one_below_the_other():
    picture = Drawing("crowd", "a crowd", "a crowd", 1.0)
    wanted = [marks.Label(("one", "two"), 0.0, 50.0 + 0.1 * i) for i in range(8)]
    marks.labels(picture, wanted, 40.0, 0.0, 400.0)
    assert not meetings(picture.texts)
    assert all(box.top >= 0.0 and box.bottom <= 400.0 for box in picture.texts)


def test_the_whole_vehicle_is_as_tall_in_the_drawing_as_in_the_record():
    _, closed = dunlin()
    picture = drawn("whole")
    shapes = [*outside(closed.geometry, closed.vehicle), fairing(closed.geometry)]
    left, right, low, high = extent(shapes)
    assert low == pytest.approx(0.0, abs=1e-9)
    assert high == pytest.approx(closed.geometry.height, rel=1e-12)
    assert right - left == pytest.approx(closed.geometry.width, rel=1e-12)
    heights = [y for path in re.findall(r'class="skin" d="M([^"]*)Z"', picture.svg()) for y in _heights(path)]
    engine = closed.geometry.stages[0].engine_length
    # to a hundredth of the picture's unit; the body reaches down over half of the engines
    assert max(heights) - min(heights) == pytest.approx(
        picture.scale * (closed.geometry.height - 0.5 * engine), abs=0.02
    )


def _heights(path):
    return [float(point.split()[1]) for point in path.split("L")]


def test_the_person_and_the_bar_are_to_the_same_scale():
    picture = Drawing("p", "p", "p", 20.0)
    marks.person(picture, 0.0, 0.0)
    assert -picture.reach[1] - 6.0 == pytest.approx(20.0 * marks.PERSON, rel=0.01)  # less the pad round all
    marks.bar(picture, 0.0, 10.0, 115.0)
    assert "5\u00a0m" in [box.text for box in picture.texts]


def test_tanks_are_filled_to_the_level_of_the_record():
    _, closed = dunlin()
    for shape in inside(closed.geometry, closed.vehicle):
        if shape.tank is None:
            continue
        foot = next(s.foot for s in closed.geometry.stages if s.name == shape.stage) + shape.tank.foot
        assert max(z for _, z in shape.liquid) == pytest.approx(foot + shape.tank.level, rel=1e-9)
        assert min(z for _, z in shape.liquid) == pytest.approx(foot, rel=1e-9)


def test_a_shape_is_cut_at_a_level():
    cut = below([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)], 0.5)
    assert _area(cut) == pytest.approx(1.0)
    assert below([(0.0, 1.0), (1.0, 1.0), (1.0, 2.0)], 0.5) == ()


def _area(points):
    return 0.5 * abs(
        sum(a * d - c * b for (a, b), (c, d) in zip(points, [*points[1:], points[0]], strict=True))
    )


def test_figures_in_the_drawing_are_those_of_the_record():
    _, closed = dunlin()
    texts = [box.text for box in drawn("whole").texts]
    assert said(closed.geometry.height, "m", 3) in texts
    for stage in closed.geometry.stages:
        assert said(stage.length, "m", 3) in texts
        for tank in stage.tanks:
            assert f"{said(tank.mass, 'kg', 3)}, {said(tank.volume, 'm³', 3)}" in texts
    assert said(closed.payload, "kg") in texts


def test_as_many_exits_are_drawn_as_there_are_engines():
    _, closed = dunlin()
    for stage in closed.vehicle.stages:
        picture = drawn(f"engines-{stage.name}").svg()
        assert picture.count('class="bell"') == sum(group.count for group in stage.engines)


def test_a_part_that_is_let_go_is_gone_from_then_on():
    _, closed = dunlin()
    moments = drawing.partings(closed.geometry, closed.vehicle, closed.flight)
    assert [one.title for one in moments] == ["on the pad", "first let go", "fairing let go"]
    assert moments[1].leaves == ("first",) and moments[2].gone == ("first",)
    assert [one.shell for one in moments] == ["on", "on", "leaves"]


def test_a_vehicle_without_a_layout_is_drawn_from_its_volumes():
    vehicle = builders.vehicle()
    geometry = from_volumes(vehicle)
    first = geometry.stages[0]
    # mass over volume, less the free share: the bulk density of LOX and methane at 3.4, 0.8 to 0.9 t/m³
    density = vehicle.stages[0].propellant.load / (0.95 * first.tanks[0].volume)
    assert 750.0 < density < 900.0
    assert first.diameter == vehicle.stages[0].diameter
    picture = drawing.whole(geometry, vehicle)
    assert not meetings(picture.texts)


def test_a_picture_saved_on_its_own_brings_its_colours():
    text = drawn("whole").svg(alone=True)
    assert 'xmlns="http://www.w3.org/2000/svg"' in text and "--lox:" in text
    assert "--lox:" not in drawn("whole").svg()
