"""Telling of progress, and stopping where nobody wants the result."""

import pytest

from breakwright.web.work.registry import KINDS, kinds_of, task_of
from breakwright.web.work.tools import Stopped, Tell


def test_progress_is_noted_and_kept_between_nought_and_one():
    noted = []
    tell = Tell(lambda share, doing, early: noted.append((share, doing, early)) or True)
    tell("cutting", -1.0)
    tell.early({"ratio": 1.2})
    assert noted == [(0.0, "cutting", None), (0.0, "cutting", '{"ratio": 1.2}')]
    assert tell.beat()


def test_a_job_that_was_taken_away_stops_at_the_next_word():
    tell = Tell(lambda share, doing, early: False)
    assert not tell.beat()
    with pytest.raises(Stopped):
        tell("cutting", 0.5)


def test_stopping_is_no_fault_that_a_task_would_mend():
    assert not issubclass(Stopped, Exception)


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_has_its_function(kind):
    assert callable(task_of(kind))
    assert kind in kinds_of(KINDS[kind].lane)
