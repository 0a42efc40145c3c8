"""Whatever is in a study, there is an answer as valid data, or a reason why there is none."""

import datetime as dt
import math

import numpy as np
import pytest

from breakwright.model.instrument import Instrument
from breakwright.model.interval import Interval
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Reading, Trial
from breakwright.report.json_form import answer_json
from breakwright.report.page import answer_page
from breakwright.stats.curves import log_rank, log_rank_all
from breakwright.usecases.answer import answer_study
from breakwright.usecases.settings import Settings

QUICK = Settings(resamples=200, side_resamples=200)
SCATTER = (0.01, 0.1, 0.3, 1.0)


def any_study(seed: int) -> Study:
    """Tiny groups, any kinds of reading, coarse displays, boards, days and covariates at random."""
    rng = np.random.default_rng(seed)
    groups = tuple("abcd"[: rng.integers(2, 5)])
    step = float(rng.choice([0.0, 0.0, 1.0, 10.0, 50.0]))
    cap = rng.choice([math.inf, math.inf, 100.0, 80.0, 150.0])
    sigma = rng.choice(SCATTER)
    trials = []
    for g in groups:
        all_held = rng.random() < 0.1
        for i in range(int(rng.integers(1, 9))):
            load = float(100 * math.exp(sigma * rng.standard_normal()))
            if step:
                load = max(step, step * round(load / step))
            kind = rng.random()
            shown = Interval.exact(load)
            if all_held or kind < 0.1:
                shown = Interval.at_least(load)
            elif kind < 0.15:
                shown = Interval.at_most(load)
            elif kind < 0.2:
                shown = Interval(load * 0.8, load * 1.3)
            endings = [e.value for e in Ending]
            known = rng.random() < 0.8
            trials.append(
                Trial(
                    f"{g}{i}",
                    g,
                    (Reading(shown, str(load)),),
                    ending=Ending(rng.choice(endings, p=[0.8, 0.05, 0.05, 0.05, 0.05])),
                    failure=rng.choice([None, "pull", "split"]),
                    void="dropped" if rng.random() < 0.05 else None,
                    order=int(rng.integers(1, 99)) if rng.random() < 0.5 else None,
                    block=rng.choice([None, "A", "B"]),
                    date=dt.date(2030, 1, int(rng.integers(1, 4))),
                    covariates={"density": float(rng.normal(600, 20))} if known else {},
                )
            )
    capacity = None if math.isinf(cap) else float(cap)
    scale = (Instrument("s", capacity=capacity, resolution=step),) if rng.random() < 0.6 else ()
    return Study(
        tuple(trials),
        groups,
        "a",
        counts=rng.choice([None, "pull"]),
        worth=rng.choice([None, 1.2]),
        instruments=scale,
    )


@pytest.mark.parametrize("seed", range(16))
def test_any_study_is_answered_in_valid_data(seed):
    answer = answer_study(any_study(seed), QUICK)
    text = answer_json(answer)
    assert "NaN" not in text
    assert "Infinity" not in text
    assert answer_page(answer).startswith("<!")


def test_a_log_rank_test_needs_a_break_with_both_groups_at_risk():
    """The one group is gone before the other starts: nothing is compared."""
    early = np.array([10.0, 11.0]), np.array([np.inf, np.inf])
    late = np.array([20.0, 21.0]), np.array([20.0, 21.0])
    assert log_rank(early, late) is None
    assert log_rank_all([early, late, late]) is None
