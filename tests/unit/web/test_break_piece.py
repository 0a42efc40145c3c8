"""The page of one piece: amending, settling, leaving out, taking back, all of it on record."""

import pytest
from break_here import PIECES, Rig, shown

from breakwright.model.event import Entry, ReadingEntered
from breakwright.usecases.bench.state import Standing

HERE = f"/s/pegs/piece/{PIECES[0]}"


@pytest.fixture
def rig(tmp_path):
    return Rig(tmp_path)


def _amend(rig, **more):
    data = {"id": "e" * 32, "load0": "42", "load1": "41", "unit": "kgf", "end": "broke"}
    bases = rig.piece(0).reading.event
    return rig.post(f"{HERE}/amend", data={**data, "bases": bases, **more})


def test_an_amendment_keeps_the_first_reading_its_day_and_its_place(rig):
    rig.enter("40", "41")
    assert _amend(rig, failure="pull-out", reason="misread").status_code == 303
    piece = rig.piece(0)
    assert [v.entry.loads for v in piece.versions] == [("40", "41"), ("42", "41")]
    assert piece.reading.entry.loads == ("42", "41")
    assert (piece.reading.entry.date, piece.reading.entry.order) == ("2026-01-31", 1)
    words = shown(rig.get(HERE))
    assert "read: 40 + 41, kgf; broke: pull-out" in words
    assert "amended to 42 + 41, kgf; broke: pull-out (misread)" in words


def test_an_amendment_without_a_reason_or_with_a_slip_is_asked_about(rig):
    rig.enter("40", "41")
    for more in ({}, {"load0": "1,234", "reason": "misread"}):
        answer = _amend(rig, **more)
        assert answer.status_code == 422
        assert f'value="{more.get("load0", "42")}"' in answer.text
    assert len(rig.piece(0).versions) == 1


def _clash(rig):
    for load, order in (("40", 1), ("45", 2)):
        rig.record(ReadingEntered(PIECES[0], Entry((load, "41"), "kgf", order=order)))
    assert rig.piece(0).standing is Standing.CLASH


def test_readings_that_clash_are_shown_and_one_is_chosen(rig):
    _clash(rig)
    words = shown(rig.get(HERE))
    assert "Two devices read this piece" in words
    assert "40 + 41, kgf" in words
    assert "45 + 41, kgf" in words
    heads = [v.event for v in rig.piece(0).heads]
    data = {"bases": " ".join(heads), "chosen": heads[1], "reason": "filmed"}
    rig.post(f"{HERE}/settle", data=data)
    assert rig.piece(0).standing is Standing.READ
    assert rig.piece(0).reading.entry.loads == ("45", "41")
    assert rig.piece(0).reading.bases == tuple(heads)


def test_readings_that_clash_may_both_be_wrong(rig):
    _clash(rig)
    heads = [v.event for v in rig.piece(0).heads]
    data = {"bases": " ".join(heads), "chosen": "typed", "reason": "filmed", "unit": "kgf"}
    rig.post(f"{HERE}/settle", data={**data, "load0": "44", "load1": "41", "end": "stopped"})
    assert rig.piece(0).reading.entry.loads == ("44", "41")


def test_a_clash_needs_a_choice_and_a_reason(rig):
    _clash(rig)
    first = rig.piece(0).heads[0].event
    for data in ({"reason": "filmed"}, {"chosen": first}, {"chosen": "typed", "reason": "so"}):
        assert rig.post(f"{HERE}/settle", data=data).status_code == 422
    assert rig.piece(0).standing is Standing.CLASH


def test_left_out_and_counted_again_each_for_a_reason(rig):
    rig.enter("40", "41")
    assert rig.post(f"{HERE}/leave-out", data={}).status_code == 422
    rig.post(f"{HERE}/leave-out", data={"reason": "a knot"})
    assert rig.piece(0).standing is Standing.VOID
    assert "Left out: a knot." in shown(rig.get(HERE))
    assert rig.post(f"{HERE}/count-again", data={"reason": ""}).status_code == 422
    rig.post(f"{HERE}/count-again", data={"reason": "far from the joint"})
    assert rig.piece(0).standing is Standing.READ


def test_anything_in_the_history_can_be_taken_back_and_stays_to_be_seen(rig):
    rig.enter("40", "41")
    rig.post(f"{HERE}/undo", data={"id": "d" * 32, "event": rig.piece(0).reading.event})
    assert rig.piece(0).standing is Standing.WAITING
    assert "<s>read: 40 + 41" in rig.get(HERE).text
    # Taking back the taking back brings the reading back.
    rig.post(f"{HERE}/undo", data={"event": "d" * 32})
    assert rig.piece(0).standing is Standing.READ


def test_what_people_typed_cannot_become_part_of_the_page(rig):
    rig.enter("40", "41", end="other", failure="<b>'\"&</script>", note="<img src=x>")
    for address in ("/s/pegs/break", HERE):
        text = rig.get(address).text
        assert "<img src=x" not in text
        assert "<b>'" not in text
        assert "&</script>" not in text


def test_a_piece_is_found_by_its_label_too_and_one_that_is_not_there_is_said(rig):
    assert rig.get("/s/pegs/piece/P1").status_code == 200
    assert rig.get("/s/pegs/piece/P99").status_code == 404
