"""The printed page: fits, adds up as printed, and says the verdict first."""

import dataclasses
import io
import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.console import Console

import builders
from wetmass.cli.layout import page, verdict_line
from wetmass.cli.layout.sheet import BENDS, LEFT, RIGHT, Row, Sheet
from wetmass.findings import judge
from wetmass.record.closed import Beside, Found, Held
from wetmass.record.digits import adding_up, fixed
from wetmass.record.flight import Losses
from wetmass.record.say import duration, said
from wetmass.record.vehicle import MassItem, Origin

CONCEPT = builders.dunlin()


def text(closed=None, concept=CONCEPT, width=80, **console):
    file = io.StringIO()
    made = Console(file=file, width=width, highlight=False, **console)
    page(concept, judge(concept, closed or builders.closed()), width).show(made)
    return file.getvalue()


def section(printed, heading):
    """Lines below a heading, to the next empty line."""
    lines = printed.split("\n")
    start = next(i for i, line in enumerate(lines) if line.startswith(heading))
    end = next(i for i in range(start, len(lines)) if not lines[i])
    return lines[start + 1 : end]


def numbers(line):
    """Numbers of a line of a table, thousands joined; what stands before two spaces is words."""
    plain = line.replace("\u2009", "").replace("−", "-").replace("\u00a0%", "")
    return [float(cell) for cell in re.split(r"\s{2,}", plain.strip())[1:] if re.fullmatch(r"-?[\d.]+", cell)]


FAILED = builders.closed(
    closes=False,
    reason="the first, propellant mass ran away. Loosen it.",
    flight=None,
    short_by=0.0,
    most_payload=None,
)
SHORT = builders.closed(closes=False, short_by=212.4, left_over=-300.0, most_payload=2400.0, reason="short")


# ── the verdict ──────────────────────────────────────────────────────────────────────────────────


def test_the_verdict_comes_before_any_table():
    lines = text().split("\n")
    assert lines[0] == "Dunlin"
    assert lines[3].startswith(
        "Dunlin carries 3\u2009000\u00a0kg into an orbit 520\u00a0km high, inclined 97.5°, 51"
    )


@pytest.mark.parametrize(
    ("closed", "words"),
    [
        (FAILED, "Dunlin does not close: the first, propellant mass ran away. Loosen it."),
        (
            SHORT,
            "Dunlin does not reach an orbit 520 km high, inclined 97.5° with 3 000 kg: "
            "it is 212 m/s short, and would carry 2 400 kg.",
        ),
        (dataclasses.replace(SHORT, most_payload=None), "with 3 000 kg: it is 212 m/s short."),
        (builders.closed(payload_asked=3000.0, most_payload=3120.0), ", and could carry 3 120 kg."),
        (
            builders.closed(payload_asked=3000.0, most_payload=3001.0),
            "after lift-off. It lifts off at 115.3 t; 2.6 %",
        ),
    ],
)
def test_the_verdict_says_what_a_newcomer_understands(closed, words):
    assert words in verdict_line(CONCEPT, closed).replace("\u2009", " ").replace("\u00a0", " ")


def test_a_limit_that_is_not_kept_stands_beside_the_verdict():
    held = (Held("greatest q-alpha", "at most", 2094.0, 2500.0, "Pa·rad", False, False),)
    assert text(builders.closed(held=held)).split("\n")[5] == "Not kept: greatest q-alpha."


# ── fits ─────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("width", [60, 80, 100, 120, 200])
@pytest.mark.parametrize("closed", [builders.closed(), FAILED, SHORT], ids=["closes", "fails", "short"])
def test_no_line_is_wider_than_the_screen_or_hard_to_read(width, closed):
    printed = text(closed, width=width)
    longest = max(printed.split("\n"), key=len)
    # the timeline has seven columns of numbers and cannot be narrower than 80
    assert len(longest) <= max(80, min(width, 100)), longest


def test_plain_text_has_no_boxes_and_no_escapes():
    printed = text()
    assert not re.search(r"[\u2500-\u257f\x1b]", printed)
    assert not re.search(r"[ \t]+\n", printed)


def test_a_number_never_parts_from_its_unit():
    sheet = Sheet(60)
    sheet.paragraph("word " * 9 + said(123_400.0, "kg") + " and on", indent=0)
    assert any("123.4\u00a0t" in line.plain for line in sheet.lines)


def test_a_long_cell_goes_on_below_itself():
    sheet = Sheet(60)
    sheet.table((LEFT, RIGHT, BENDS), [Row(("name", "1", "some words " * 8)), Row(("other", "22", "short"))])
    assert all(len(line.plain) <= 60 for line in sheet.lines)
    assert sheet.lines[1].plain.startswith(" " * 13 + "some")
    assert sheet.lines[-1].plain.split() == ["other", "22", "short"]


# ── adds up ──────────────────────────────────────────────────────────────────────────────────────


def check_masses(printed):
    rows = [(line, numbers(line)) for line in section(printed, "Masses")[1:]]
    part, whole, pad = 0.0, 0.0, None
    for line, found in rows:
        words = line.strip()
        if words.startswith("together"):
            assert found[0] == part, line
            part = 0.0
        elif words.startswith("on the pad"):
            pad = found[0]
            assert pad == whole
        elif words.startswith("less the start loss"):
            lost = -found[0]
        elif words.startswith("at lift-off"):
            assert found[0] == pad - lost
        elif found:
            part += found[0]
            whole += found[0]
        if not line.startswith("    ") and not found:
            part = 0.0
    assert pad is not None


def test_the_mass_table_adds_up_as_printed():
    check_masses(text())


@given(st.lists(st.floats(0.4, 4e5), min_size=4, max_size=4))
@settings(max_examples=40, deadline=None)
def test_any_mass_table_adds_up_as_printed(masses):
    vehicle = builders.vehicle()
    items = tuple(MassItem("first", f"part {i}", mass, Origin.STATED) for i, mass in enumerate(masses))
    first = dataclasses.replace(vehicle.stages[0], dry_mass=math.fsum(masses), items=items)
    changed = dataclasses.replace(vehicle, stages=(first, vehicle.stages[1]))
    check_masses(text(builders.closed(vehicle=changed)))


def check_budget(printed):
    rows = {}
    for line in section(printed, "Speed")[1:]:
        rows[re.split(r"\s{2,}", line.strip())[0]] = numbers(line)
    ideal, gained = rows["ideal gain in vacuum"], rows["gained over the turning Earth"]
    losses = [found for words, found in rows.items() if words.startswith("lost to")]
    assert len(losses) == 4
    for column in range(len(ideal)):
        assert ideal[column] + sum(loss[column] for loss in losses) == gained[column]
    assert rows["speed in orbit"][0] == gained[-1] + rows["added by the Earth's turning"][0]
    for found in (ideal, gained, *losses):
        assert sum(found[:-1]) == (found[-1] if len(found) > 1 else 0.0)
    return rows


def test_the_loss_budget_is_an_identity_as_printed_down_and_across():
    rows = check_budget(text())
    assert len(rows["ideal gain in vacuum"]) == 3  # first, second, whole


@given(st.lists(st.floats(0.0, 3000.0), min_size=10, max_size=10), st.floats(-300.0, 460.0))
@settings(max_examples=40, deadline=None)
def test_any_loss_budget_is_an_identity_as_printed(terms, turning):
    def losses(five, rotation):
        return Losses(*five, five[0] - math.fsum(five[1:]), rotation)

    first, second = losses(terms[:5], 0.0), losses(terms[5:], turning)
    both = losses([one + other for one, other in zip(terms[:5], terms[5:], strict=True)], turning)
    shares = builders.flight().stages
    stages = (dataclasses.replace(shares[0], losses=first), dataclasses.replace(shares[1], losses=second))
    rows = check_budget(text(builders.closed(flight=builders.flight(losses=both, stages=stages))))
    assert rows["speed in orbit"][0] == pytest.approx(
        both.air_speed_gained + turning, abs=6.0
    )  # rounding of ten terms


def test_open_engine_counts_are_called_by_what_they_are():
    made = builders.closed(
        found=(Found("stages/first/engines/1/count", 6.0, ""), Found("stages/first/engines/2/scale", 1.2, ""))
    )
    lines = section(text(made), "Found")
    assert lines[0].split() == ["first,", "engine", "count", "6"]
    assert lines[1].split() == ["first,", "scale", "of", "engines", "2", "1.2"]


def test_a_climb_by_hand_stands_beside_the_flight():
    rows = (
        Beside("time of the climb", 78.0, 80.0, "s", "√(2·h/a)"),
        Beside("speed lost", 930.0, 0.0, "m/s", "ideal gain less burn-out speed"),
    )
    lines = section(text(builders.closed(by_hand=rows)), "By hand")
    assert re.split(r"\s{2,}", lines[1].strip()) == [
        "time of the climb", "78\u00a0s", "80\u00a0s", "−2.5\u00a0%", "√(2·h/a)",
    ]  # fmt: skip
    assert "%" not in lines[2]  # nothing to be held against
    assert "By hand" not in text()


def test_a_budget_whose_stages_do_not_give_the_whole_is_printed_whole():
    odd = dataclasses.replace(builders.WHOLE, gravity=1600.0, air_speed_gained=7521.0)
    rows = check_budget(text(builders.closed(flight=builders.flight(losses=odd))))
    assert rows["lost to gravity"] == [-1600.0]


@given(st.lists(st.floats(-1e7, 1e7), max_size=12), st.sampled_from([1.0, 10.0, 0.01]))
def test_rounded_values_add_up_and_stay_within_one_step(values, step):
    rounded = adding_up(values, step)
    assert math.fsum(rounded) == pytest.approx(math.fsum(values), abs=0.51 * step + 1e-6)
    assert all(abs(one - other) <= step * 1.000001 + 1e-9 for one, other in zip(values, rounded, strict=True))


def test_what_cannot_add_up_is_refused():
    with pytest.raises(ValueError, match="finite values"):
        adding_up([1.0, math.inf])
    with pytest.raises(ValueError, match="step above 0"):
        adding_up([1.0], 0.0)


# ── says ─────────────────────────────────────────────────────────────────────────────────────────


def test_requirements_are_shown_as_typed_with_what_came_of_them():
    rows = [re.split(r"\s{2,}", line.strip()) for line in section(text(), "Asked")[1:]]
    assert rows[0] == ["lift-off thrust to weight", "at least", "1.30", "1.300", "binds"]
    assert rows[1] == ["lift-off mass", "at most", "120\u00a0t", "115.3\u00a0t", "kept"]
    assert rows[2] == ["greatest felt acceleration", "at most", "4.5\u00a0g", "4.50\u00a0g", "binds"]
    assert rows[4] == ["greatest q-alpha", "at most", "120\u00a0kPa·deg", "100.0\u00a0kPa·deg", "kept"]


def test_every_open_value_is_shown_with_the_bound_that_stopped_it():
    found = dataclasses.replace(builders.closed().found[1], bound="the most allowed")
    lines = section(text(builders.closed(found=(found,))), "Found")
    assert lines == ["  first, propellant mass  78.99\u00a0t  at the most allowed"]


def test_the_steering_law_and_greatest_q_alpha_stand_beside_the_payload():
    words = " ".join(" ".join(section(text(), "Payload and margin")).split())
    for part in (
        "3 000 kg",
        "84 kg of propellant in second, worth 80 m/s",
        "zero-lift turn",
        "100 kPa·deg at 150 s",
    ):
        assert part in words.replace("\u00a0", " ").replace("\u2009", " ")


def test_propellant_left_and_a_missing_reserve_are_said():
    printed = text(builders.closed(left_over=120.0, payload_asked=3000.0, most_payload=3100.0))
    assert "120\u00a0kg left over beyond it" in printed
    assert "the most it can carry is 3\u2009100\u00a0kg" in printed.replace("\n" + " " * 30, " ")


def test_every_event_has_its_row():
    rows = section(text(), "Flight")[2:]
    assert len(rows) == len(builders.EVENTS)
    # 3115.0 s, 520 km, 7591 m/s, 17 030 km, 0 kPa, 44.13 m/s² = 4.50 g₀
    assert rows[-1].replace("\u2009", "").split()[-5:] == ["520.0", "7591", "17030.0", "0.00", "4.50"]


def test_a_file_in_pounds_gets_its_mass_table_in_pounds():
    concept = builders.concept(
        swap={
            "dry mass: 7.6 t ± 8 %": "dry mass: 16755 lb ± 8 %",
            "mass: find, residuals: 0.6": "mass: 174 000 lb, residuals: 0.6",
        }
    )
    rows = section(text(concept=concept), "Masses")
    assert "lb" in rows[0]
    assert numbers(next(row for row in rows if "dry mass" in row))[0] == pytest.approx(
        7600.0 / 0.45359237, abs=1.0
    )


def test_findings_are_told_with_what_to_do_and_their_source():
    printed = text()
    assert printed.index("In doubt") < printed.index("Worth knowing") < printed.index("Caution")
    assert "Source: the claims of the concept file." in printed
    assert "local law" in printed


def test_nothing_in_doubt_is_said_too():
    concept = builders.concept(swap={"2.4 km/s": "2.5 km/s"})
    assert "Nothing stands out." in text(concept=concept)


def test_a_terminal_gets_styles_and_other_places_do_not():
    assert "\x1b[1m" in text(force_terminal=True, color_system="standard")
    assert "\x1b" not in text()


# ── words for numbers ────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (9_999.0, "kg", "9\u2009999\u00a0kg"),
        (10_000.0, "kg", "10\u00a0t"),
        (math.radians(120.0) * 1e3, "Pa·rad", "120\u00a0kPa·deg"),
        (math.radians(97.5), "rad", "97.5°"),
        (1.3, "1", "1.3"),
        (0.5, "", "0.5"),
        (-450.0, "kg", "−450\u00a0kg"),
        (12.0, "J", "12\u00a0J"),
    ],
)
def test_values_are_said_in_the_unit_people_use(value, unit, words):
    assert said(value, unit) == words


def test_times_and_columns_are_said():
    assert duration(59.6) == "1\u00a0min"
    assert duration(0.2) == "0\u00a0s"
    assert fixed(-0.04, 1) == "0.0"
    assert fixed(1234.5, 1) == "1\u2009234.5"
    assert fixed(math.nan) == "nan"
