"""Vertical climbs and steep entries against the worked examples that were read."""

import math
import re

import pytest
from worked_cases import inputs, published

from wetmass.physics import entry, vertical


def test_a_model_rocket_climbs_as_published():
    # The asker takes the mean mass: the rocket equation for a mass that hardly changes.  Speed and height are the
    # asker's own figures, rounded on the way: 2 % off.
    given = inputs("vertical-03")
    ratio = 1.0 + 1e-6
    exhaust = given["T"] * given["burn"] / given["mean mass"] / math.log(ratio)
    speed = vertical.vertical_speed_gain(exhaust, ratio, given["burn"], 9.81)
    height = vertical.vertical_height_gain(exhaust, ratio, given["burn"], 9.81)
    assert height == published("vertical-03", "h", 2)
    assert speed == pytest.approx(46.0, rel=0.025)
    assert height + vertical.coasting_height(speed, 9.81) == pytest.approx(136.0, rel=0.02)


def test_the_steepest_entry_for_a_limit_of_deceleration_is_as_published():
    given = inputs("entry-03")
    low, high = 1e-4, 0.5
    for _ in range(60):
        middle = 0.5 * (low + high)
        over = entry.peak_deceleration(given["VE"], middle, 1.0 / given["beta"]) > given["a"]
        low, high = (low, middle) if over else (middle, high)
    assert math.degrees(low) == published("entry-03", "angle", 3)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: vertical.vertical_speed_gain(0.0, 2.0, 10.0, 9.8), "exhaust_speed must be above 0"),
        (lambda: vertical.vertical_height_gain(3e3, 1.0, 10.0, 9.8), "ratio must lie between"),
        (lambda: vertical.vertical_height_gain(3e3, 2.0, -1.0, 9.8), "duration must be 0 or more"),
        (lambda: vertical.coasting_height(-1.0, 9.8), "speed must be 0 or more"),
        (lambda: vertical.coasting_height(1.0, 0.0), "gravity must be above 0"),
        (lambda: entry.peak_deceleration(0.0, 0.1, 7e3), "speed must be above 0"),
        (lambda: entry.peak_deceleration(7e3, 2.0, 7e3), "angle"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        call()
