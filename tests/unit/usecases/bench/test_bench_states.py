"""A study found by id or handle, its state brought up to date with whatever came since."""

from bench_log import NOW, STUDY, added, amended, entered, loads, made

from breakwright.store.memory import MemoryStore
from breakwright.usecases.bench import bench as module
from breakwright.usecases.bench.bench import Bench


def test_a_state_at_hand_sees_what_another_process_wrote() -> None:
    store = MemoryStore()
    bench, other = Bench(store), Bench(store)
    bench.record([made(), added("A1")], received=NOW)
    first = bench.state("pegs")

    other.record([entered("r1", "A1")], received=NOW)
    second = bench.state(STUDY)

    assert first is not None
    assert second is not None
    assert loads(first) == ()
    assert loads(second) == ("412",)
    assert bench.state("pegs") is second
    other.record([amended("r2", "A1", ("r1",), "421")], received=NOW)
    third = bench.state("pegs")
    assert third is not None
    assert loads(third) == ("421",)
    assert third == other.state("pegs")


def test_nothing_there_and_a_beginning_on_its_way() -> None:
    bench = Bench(MemoryStore())

    assert bench.state("pegs") is None
    bench.record([added("A1")], received=NOW)
    assert bench.state(STUDY) is None
    bench.record([made()], received=NOW)
    found = bench.state("pegs")
    assert found is not None
    assert [piece.label for piece in found.pieces] == ["A1"]


def test_a_repeat_changes_nothing() -> None:
    bench = Bench(MemoryStore())
    bench.record([made(), added("A1")], received=NOW)
    before = bench.state("pegs")

    receipt = bench.record([added("A1"), made()], received=NOW)

    assert (receipt.new, receipt.known) == ((), 2)
    assert bench.state("pegs") == before


def test_many_studies_do_not_pile_up(monkeypatch) -> None:
    import dataclasses

    monkeypatch.setattr(module, "_AT_HAND", 3)
    bench = Bench(MemoryStore())
    for i in range(8):
        event = dataclasses.replace(made(), id=f"{i:032x}", study=f"{i + 100:032x}")
        bench.record([event], received=NOW)
        assert bench.state(event.study) is not None

    assert len(bench._states) == 3
    assert bench.state(f"{100:032x}") is not None
