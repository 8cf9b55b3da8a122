"""Guesses: read as stated, drawn as they say, together where they belong together."""

from pathlib import Path

import numpy as np
import pytest

from wetmass.concept import loads
from wetmass.concept.guesses import correlated, guesses
from wetmass.record.refusal import Refusal

TEXT = (Path(__file__).parents[2] / "examples" / "dunlin.yaml").read_text(encoding="utf-8")
EVEN = (np.arange(100_000) + 0.5) / 100_000


def guess(stated):
    return guesses(loads(TEXT.replace("7.6 t ± 8 %", stated)))[0]


@pytest.mark.parametrize(
    ("stated", "mean", "sigma"),
    [
        ("7.6 t ± 8 %", 7600.0, 0.08 * 7600.0 / 1.959964),  # 95 % within the ±
        ("7 to 8 t", 7500.0, 1000.0 / 12**0.5),
        ("7.6 t (7 to 9 t)", 23600.0 / 3.0, ((49 + 81 + 57.76 - 63 - 53.2 - 68.4) / 18.0) ** 0.5 * 1e3),
        ("7 or 7.5 or 9.5 t", 8000.0, (3.5e6 / 3.0) ** 0.5),
    ],
)
def test_what_is_drawn_has_the_mean_and_deviation_of_its_distribution(stated, mean, sigma):
    one = guess(stated)
    drawn = one.drawn(EVEN)
    assert (one.mean, one.sigma) == pytest.approx((mean, sigma), rel=1e-5)
    # even chances: only the far tails of a normal distribution are cut short, by some 1e-4
    assert drawn.mean() == pytest.approx(mean, rel=1e-4)
    assert drawn.std() == pytest.approx(sigma, rel=3e-4)


def test_half_of_what_is_drawn_of_a_normal_guess_lies_either_side_and_95_percent_within():
    drawn = guess("7.6 t ± 8 %").drawn(EVEN)
    assert np.mean(np.abs(drawn - 7600.0) < 608.0) == pytest.approx(0.95, abs=1e-4)


def test_figures_of_one_engine_are_drawn_together():
    text = TEXT.replace("sea level: 309 s, vacuum: 341 s", "sea level: 309 s ± 1 %, vacuum: 341 s ± 1 %")
    found = guesses(loads(text))
    assert [one.words for one in found] == ["first, dry mass", "first, isp"]
    low, high = (float(text.split()[0]) for _, text in found[1].written(0.9))
    assert (low / 309.0, high / 341.0) == pytest.approx((high / 341.0, low / 309.0), rel=1e-12)


def test_guesses_said_beside_the_file_stand_in_its_place():
    found = {
        one.words: one for one in guesses(loads(TEXT), ["first, dry mass = 7 to 9 t", "second isp = ± 1 %"])
    }
    assert found["first, dry mass"].nominal == 8000.0
    assert found["second, isp"].sigma == pytest.approx(3.63 / 1.959964, rel=1e-5)
    with pytest.raises(Refusal, match="a spread"):
        guesses(loads(TEXT), ["second isp = 370 s"])


def test_chances_that_go_together_stay_even_and_have_the_correlation_said():
    rng = np.random.default_rng(4)
    made = correlated(rng.random((40_000, 3)), [(0, 2, 0.7)])
    from scipy.special import ndtri

    found = np.corrcoef(ndtri(made), rowvar=False)
    assert found[0, 2] == pytest.approx(0.7, abs=0.01)  # 40 000 draws: 1/√n is 0.005
    assert abs(found[0, 1]) < 0.02
    assert np.abs(np.quantile(made[:, 2], [0.1, 0.5, 0.9]) - [0.1, 0.5, 0.9]).max() < 0.01
    with pytest.raises(ValueError, match="contradict"):
        correlated(made, [(0, 1, 0.9), (1, 2, 0.9), (0, 2, -0.9)])
