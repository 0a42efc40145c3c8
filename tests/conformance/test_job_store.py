"""What every store of jobs does."""

import dataclasses
import threading

import pytest
from store_samples import NOW, a_job, later

from breakwright.usecases.bench.ports import JobState, JobStore


def test_a_job_asked_for_twice_is_one(store: JobStore) -> None:
    job = a_job(1)
    assert store.ask(job) == job
    assert store.ask(a_job(2)) == job
    assert store.job(job.id) == job
    assert store.job(a_job(2).id) is None
    other = a_job(3, key="another")
    assert store.ask(other) == other


def test_asking_queues_whatever_the_state_given(store: JobStore) -> None:
    asked = store.ask(dataclasses.replace(a_job(1), state=JobState.DONE))
    assert asked.state is JobState.QUEUED
    assert store.job(asked.id) == asked


def test_the_newest_is_the_one_asked_for_last(store: JobStore) -> None:
    assert store.newest("5" * 32, "answer") is None
    # The clock of a server may go back; the order of asking stays.
    store.ask(a_job(9, made=later(9)))
    last = store.ask(a_job(2, key="another", made=later(1)))
    store.ask(a_job(3, kind="plan"))
    assert store.newest("5" * 32, "answer") == last


def test_jobs_are_taken_in_order_each_once(store: JobStore) -> None:
    for number in (3, 1, 2):
        store.ask(a_job(number, key=str(number)))
    store.ask(a_job(4, kind="plan"))
    assert store.take(["film"], now=NOW) is None
    taken = [store.take(["answer", "other"], now=later(5)) for _ in range(4)]
    assert [job.id if job else None for job in taken] == [a_job(n).id for n in (3, 1, 2)] + [None]
    first = taken[0]
    assert first is not None
    assert (first.state, first.beat) == (JobState.RUNNING, later(5))
    assert store.job(first.id) == first
    assert store.take(["plan"], now=NOW) is not None


def test_no_two_workers_get_the_same_job(store: JobStore) -> None:
    for number in range(40):
        store.ask(a_job(number, key=str(number)))
    got: list[str] = []

    def work() -> None:
        while (job := store.take(["answer"], now=NOW)) is not None:
            got.append(job.id)

    workers = [threading.Thread(target=work) for _ in range(8)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert sorted(got) == [a_job(number).id for number in range(40)]


def test_a_running_job_tells_how_far_it_is(store: JobStore) -> None:
    job = store.ask(a_job(1))
    assert not store.tell(job.id, share=0.5, doing="early", early=None, now=NOW), "not taken yet"
    store.take(["answer"], now=NOW)
    assert store.tell(job.id, share=0.25, doing="fitting", early='{"a":1}', now=later(1))
    assert store.tell(job.id, share=0.5, doing="resampling", early=None, now=later(2))
    found = store.job(job.id)
    assert found is not None
    assert (found.share, found.doing, found.early) == (0.5, "resampling", '{"a":1}')
    assert found.beat == later(2)


@pytest.mark.parametrize(
    ("result", "trouble", "state"),
    [("[1]", None, JobState.DONE), (None, "no readings", JobState.FAILED)],
)
def test_a_job_ends_once(
    store: JobStore, result: str | None, trouble: str | None, state: JobState
) -> None:
    job = store.ask(a_job(1))
    store.take(["answer"], now=NOW)
    store.finish(job.id, result=result, trouble=trouble, now=later(3))
    ended = store.job(job.id)
    assert ended is not None
    assert (ended.state, ended.result, ended.trouble) == (state, result, trouble)
    assert (ended.share, ended.beat) == (1.0, later(3))
    store.finish(job.id, result="other", trouble=None, now=later(4))
    store.cancel(job.id)
    assert store.job(job.id) == ended
    assert not store.tell(job.id, share=0.1, doing="x", early=None, now=later(5))
    # What failed may be tried again, what is done is not done again.
    assert (store.ask(a_job(2)).id == job.id) is (state is JobState.DONE)


def test_a_cancelled_job_stays_cancelled(store: JobStore) -> None:
    waiting = store.ask(a_job(1))
    store.cancel(waiting.id)
    assert store.take(["answer"], now=NOW) is None
    running = store.ask(a_job(2))
    assert running.id == a_job(2).id
    store.take(["answer"], now=NOW)
    store.cancel(running.id)
    assert not store.tell(running.id, share=0.5, doing="x", early=None, now=NOW)
    store.finish(running.id, result="[]", trouble=None, now=NOW)
    found = store.job(running.id)
    assert found is not None
    assert (found.state, found.result) == (JobState.CANCELLED, None)


def test_a_job_without_a_sign_of_life_is_queued_again(store: JobStore) -> None:
    alive, lost = store.ask(a_job(1, key="1")), store.ask(a_job(2, key="2"))
    store.take(["answer"], now=later(1))
    store.take(["answer"], now=later(1))
    store.tell(lost.id, share=0.5, doing="x", early='"first"', now=later(2))
    store.tell(alive.id, share=0.5, doing="x", early=None, now=later(8))
    assert store.requeue(beat_before=later(5)) == 1
    assert store.requeue(beat_before=later(5)) == 0
    found = store.job(lost.id)
    assert found is not None
    assert (found.state, found.share, found.early) == (JobState.QUEUED, 0.0, '"first"')
    again = store.take(["answer"], now=later(9))
    assert again is not None
    assert (again.id, again.beat) == (lost.id, later(9))


def test_ended_jobs_are_forgotten_after_a_time(store: JobStore) -> None:
    old = store.ask(a_job(1, key="1", made=later(1)))
    kept = store.ask(a_job(2, key="2", made=later(1)))
    new = store.ask(a_job(3, key="3", made=later(9)))
    store.cancel(old.id)
    store.cancel(new.id)
    assert store.forget(made_before=later(5)) == 1
    assert store.job(old.id) is None
    assert store.job(kept.id) == kept
    assert store.job(new.id) is not None


def test_a_worker_whose_job_was_forgotten_is_told_to_stop(store: JobStore) -> None:
    gone = a_job(1).id
    assert not store.tell(gone, share=0.5, doing="x", early=None, now=NOW)
    store.finish(gone, result="[]", trouble=None, now=NOW)
    store.cancel(gone)
    assert store.job(gone) is None
