"""The page at the rig as a plain form: what is kept, what is asked, what is harmless."""

import io
import json

import pytest
from break_here import PIECES, STUDY, Rig, shown
from PIL import Image

from breakwright.model.event import ReadingEntered
from breakwright.model.trial import Ending
from breakwright.usecases.bench.event_form import event_form
from breakwright.usecases.bench.ports import StoreFull
from breakwright.usecases.bench.state import Standing


@pytest.fixture
def rig(tmp_path):
    return Rig(tmp_path)


def test_the_cautions_come_before_the_first_piece_of_a_day_once(rig):
    first = rig.get("/s/pegs/break").text
    assert '<section id="safety" aria-labelledby="safety-head">' in first
    assert '<div id="work" hidden>' in first
    answer = rig.post("/s/pegs/break/safety", data={})
    assert answer.status_code == 303
    rig.post("/s/pegs/break/safety", data={})
    assert (
        len([r for r in rig.state.events if r.event.body.__class__.__name__ == "SafetyRead"]) == 1
    )
    assert '<div id="work">' in rig.get("/s/pegs/break").text


def test_the_piece_is_shown_with_what_is_known_of_it(rig):
    words = shown(rig.get("/s/pegs/break"))
    assert "Piece 1 of 4 P1 plain · board A mass 12.5 g" in words
    assert "Not ready: 22 h 30 min still to wait." in shown(
        rig.get(f"/s/pegs/break?piece={PIECES[1]}")
    )


def test_a_reading_is_kept_as_typed_and_echoed_with_the_next_piece(rig):
    answer = rig.enter("412", "413,5")
    assert answer.status_code == 303
    entry = rig.piece(0).reading.entry
    assert entry.loads == ("412", "413,5")
    assert (entry.unit, entry.ended, entry.failure) == ("kgf", Ending.BROKE, "pull-out")
    assert (entry.date, entry.order) == ("2026-01-31", 1)
    words = shown(rig.get(answer.headers["location"]))
    assert "P1 412 kgf on the left scale; 413,5 kgf on the right scale; together" in words
    assert "counts as measured." in words
    assert "Piece 2 of 4" in words


@pytest.mark.parametrize(
    ("end", "ended"),
    [
        ("over-range", Ending.OVER_RANGE),
        ("screen-lost", Ending.SCREEN_LOST),
        ("stopped", Ending.STOPPED),
        ("rig-failed", Ending.RIG_FAILED),
    ],
)
def test_each_other_end_counts_as_at_least(rig, end, ended):
    answer = rig.enter("40", "41", end=end)
    assert rig.piece(0).reading.entry.ended is ended
    assert "counts as at least" in shown(rig.get(answer.headers["location"]))


def test_broke_another_way_asks_how_and_keeps_what_was_typed(rig):
    answer = rig.enter("40", "41", end="other")
    assert answer.status_code == 422
    assert rig.piece(0).standing is Standing.WAITING
    assert 'value="40"' in answer.text
    assert '<fieldset id="how" class="panel">' in answer.text
    rig.enter("40", "41", end="other", failure="shank")
    assert rig.piece(0).reading.entry.failure == "shank"
    # From now on it is a button, which needs no other word.
    assert '<button name="failure_is" value="shank">' in rig.get("/s/pegs/break").text
    rig.post(
        "/s/pegs/break", data={**rig.form(), "load0": "1", "load1": "2", "failure_is": "shank"}
    )
    assert rig.piece(1).reading.entry.failure == "shank"


def test_not_a_fair_test_needs_a_reason_and_keeps_the_reading(rig):
    assert rig.enter("40", "41", end="unfair").status_code == 422
    assert rig.piece(0).standing is Standing.WAITING
    answer = rig.enter("40", "41", end="unfair", reason="strap slipped")
    assert rig.piece(0).standing is Standing.VOID
    assert rig.piece(0).void == "strap slipped"
    assert rig.piece(0).reading.entry.loads == ("40", "41")
    assert "Left out: strap slipped." in shown(rig.get(answer.headers["location"]))


def test_not_a_fair_test_without_a_reading_leaves_the_piece_out(rig):
    rig.enter("", "", end="unfair", reason="cracked before")
    assert rig.piece(0).void == "cracked before"
    assert rig.piece(0).reading is None


def test_a_form_sent_twice_is_one_reading(rig):
    data = {**rig.form(), "load0": "40", "load1": "41", "end": "unfair", "reason": "slipped"}
    first, second = (rig.post("/s/pegs/break", data=data) for _ in range(2))
    assert (first.status_code, second.status_code) == (303, 303)
    assert first.headers["location"] == second.headers["location"]
    assert len(rig.piece(0).versions) == 1


def test_a_form_gone_back_to_and_changed_is_not_dropped_silently(rig):
    data = {**rig.form(), "load0": "40", "load1": "41", "end": "broke"}
    rig.post("/s/pegs/break", data=data)
    answer = rig.post("/s/pegs/break", data={**data, "load0": "48"})
    assert answer.status_code == 422
    assert "this form was sent before" in shown(answer)
    assert 'value="48"' in answer.text
    assert rig.piece(0).reading.entry.loads == ("40", "41")


@pytest.mark.parametrize("typed", ["1,234", "40 kg", "4l2", "", "-40", "40-50"])
def test_what_cannot_be_taken_is_asked_about_with_all_that_was_typed(rig, typed):
    answer = rig.enter(typed, "41", note="creaked early")
    assert answer.status_code == 422
    assert f'value="{typed}"' in answer.text
    assert "creaked early" in answer.text
    assert rig.piece(0).standing is Standing.WAITING
    assert 'role="alert">' in answer.text


def test_a_full_disk_is_said_and_what_was_typed_stays(rig, monkeypatch):
    def full(events, *, received):
        raise StoreFull("the disk is full")

    with monkeypatch.context() as patched:
        patched.setattr(rig.services.bench.store, "append", full)
        answer = rig.enter("40", "41")
    assert "the disk is full" in shown(answer)
    assert 'value="40"' in answer.text
    assert rig.piece(0).standing is Standing.WAITING


def test_a_photo_is_kept_with_its_piece(rig):
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), (200, 80, 20)).save(picture, "PNG")
    answer = rig.post(
        "/s/pegs/break/photo",
        data={"piece": PIECES[0], "caption": "the glue line", "back": "piece"},
        files={"file": ("../break.png", picture.getvalue(), "image/png")},
    )
    assert answer.headers["location"] == f"/s/pegs/piece/{PIECES[0]}"
    (photo,) = rig.piece(0).photos
    assert photo.caption == "the glue line"
    assert (
        f'src="/media/{photo.media}" alt="the glue line"'
        in rig.get(answer.headers["location"]).text
    )


def test_a_number_with_two_meanings_is_kept_with_the_answer(rig):
    asked = rig.enter("1,234", "41")
    assert 'name="decimal" value="comma"' in asked.text
    rig.enter("1,234", "41", decimal="comma")
    assert rig.piece(0).reading.entry.decimal == "comma"


def test_undo_takes_back_a_reading_with_its_leaving_out(rig):
    answer = rig.enter("40", "41", end="unfair", reason="slipped")
    page = rig.get(answer.headers["location"]).text
    form = page[page.index('id="undo"') : page.index("</form>", page.index('id="undo"'))]
    fields = dict(
        part.split('" value="')
        for part in form.split('name="')[1:]
        for part in [part.split('">')[0]]
    )
    back = rig.post("/s/pegs/break/undo", data=fields)
    assert PIECES[0] in back.headers["location"]
    assert rig.piece(0).standing is Standing.WAITING
    # Once is enough: the same form again takes nothing more back.
    before = rig.state.last
    rig.post("/s/pegs/break/undo", data=fields)
    assert rig.piece(0).standing is Standing.WAITING
    assert rig.state.last == before


def test_a_piece_is_added_once_and_its_label_must_be_free(rig):
    data = {"id": "e" * 32, "label": "X9", "group": "wedged"}
    for _ in range(2):
        assert rig.post("/s/pegs/break/piece", data=data).status_code == 303
    assert [p.label for p in rig.state.pieces].count("X9") == 1
    taken = rig.post("/s/pegs/break/piece", data={"id": "f" * 32, "label": "P2", "group": "plain"})
    assert taken.status_code == 422
    assert "this label is taken" in shown(taken)


def test_the_file_of_waiting_readings_is_taken_whole_or_not_at_all(rig, tmp_path):
    other = Rig(tmp_path)
    other.enter("40", "41")
    made = [r.event for r in other.state.events if isinstance(r.event.body, ReadingEntered)]
    forms = [event_form(event) for event in made]
    good = json.dumps({"events": forms})
    bad = json.dumps({"events": [*forms, {**forms[0], "id": "f" * 32, "kind": "nonsense"}]})
    for text in (bad, "[", "[]", '{"events": 3}'):
        answer = rig.post("/s/pegs/break/file", files={"file": ("w.json", text)})
        assert answer.status_code == 422
        assert rig.piece(0).standing is Standing.WAITING
    for _ in range(2):
        assert rig.post("/s/pegs/break/file", files={"file": ("w.json", good)}).status_code == 303
    assert [v.entry.loads for v in rig.piece(0).versions] == [("40", "41")]


def test_the_scene_for_scripts_says_where_each_piece_stands(rig):
    rig.enter("40", "41")
    scene = rig.get("/s/pegs/break.json").json()
    assert [piece.get("stands") for piece in scene["pieces"]] == ["read", None, None, None]
    assert (scene["displays"], scene["order"]) == (["left scale", "right scale"], 2)
    assert (scene["study"], scene["last"]) == (STUDY, rig.state.last)


def test_what_was_understood_is_said_in_the_unit_of_this_person(rig):
    asked = {
        "piece": "P1",
        "entry": {"loads": ["412", "413"], "unit": "kgf", "failure": "pull-out"},
    }
    said = rig.post(
        "/api/v1/studies/pegs/understand", json=asked, headers={"Cookie": "breakwright-unit=kN"}
    ).json()
    # 412 kgf x 9.80665 N/kgf (exact, BIPM) = 4040.3 N; with 413 kgf 8090.5 N.
    assert said["line"].replace("\xa0", " ") == (
        "412 kgf on the left scale = 4.04 kN; 413 kgf on the right scale = 4.05 kN; "
        "together 8.09 kN; counts as measured."
    )
    assert said["cause"] == "measured"
    asked["entry"]["loads"] = ["1,234", "413"]
    refused = rig.post("/api/v1/studies/pegs/understand", json=asked)
    assert refused.status_code == 422
    assert [p["code"] for p in refused.json()["problems"]] == ["decimal-unclear"]
    assert rig.piece(0).standing is Standing.WAITING
