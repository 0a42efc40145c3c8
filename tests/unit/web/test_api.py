"""The JSON API over a store in memory: events, readings, jobs, and what it says of itself."""

import dataclasses
from pathlib import Path
from typing import Any

import pytest
from doors_here import PIECES, STUDY, Caller, services_at

from breakwright.usecases.bench.ports import (
    IdTaken,
    Job,
    JobState,
    StoreFull,
    StoreUnfit,
    StoreUnreachable,
)
from breakwright.web.services import Services

READINGS = "/api/v1/studies/pegs/readings"


@pytest.fixture
def call(tmp_path: Path) -> Caller:
    return Caller(services_at(tmp_path))


def read_event(event: str, load: str, piece: str = PIECES[0]) -> dict[str, Any]:
    return {
        "id": event * 32,
        "study": STUDY,
        "made": "2026-01-31T09:31:00Z",
        "kind": "reading-entered",
        "body": {"piece": piece, "entry": {"loads": [load], "unit": "kgf"}},
    }


def test_an_event_sent_twice_is_kept_once(call: Caller) -> None:
    given = {"events": [read_event("d", "412")]}
    first, again = (call("POST", "/api/v1/events", json=given) for _ in range(2))
    assert (first.status_code, first.json()) == (200, {"new": [4], "known": 0})
    assert (again.status_code, again.json()) == (200, {"new": [], "known": 1})


def test_the_same_id_saying_something_else_is_a_clash(call: Caller) -> None:
    call("POST", "/api/v1/events", json={"events": [read_event("d", "412")]})
    other = call("POST", "/api/v1/events", json={"events": [read_event("d", "413")]})
    assert other.status_code == 409
    assert other.json()["problems"][0]["code"] == "id-taken"


def test_one_bad_event_keeps_all_out(call: Caller) -> None:
    bad = read_event("e", "4l2")
    bad["body"]["entry"]["unit"] = "stone"
    given = {"events": [read_event("d", "412"), bad]}
    refused = call("POST", "/api/v1/events", json=given)
    assert refused.status_code == 422
    problem = refused.json()["problems"][0]
    assert problem["column_name"] == "events[1].body.entry.unit"
    assert "kgf" in problem["allowed"]
    assert call("GET", "/api/v1/studies/pegs").json()["last"] == 3


def test_a_load_that_is_none_is_refused_by_the_readers_own_check(call: Caller) -> None:
    refused = call("POST", "/api/v1/events", json={"events": [read_event("d", "4l2")]})
    assert refused.status_code == 422
    assert refused.json()["problems"][0]["read"] == "4l2"


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"[]",
        b'{"events": []}',
        b'{"events": [null]}',
        b'{"events": [{"kind": "\\ud800"}]}',
        b'{"events": [{"kind": "undone", "\\ud800": 1, "body": {}}]}',
        b'{"events": [{"kind": "undone", "body": NaN}]}',
        b'{"events": ' + b"[" * 100_000,
        b'{"events": [{"kind": "undone", "body": ' + b"[" * 600 + b"]" * 600 + b"}]}",
        b"\xff\xfe",
    ],
)
def test_nonsense_is_refused_in_words(call: Caller, body: bytes) -> None:
    json = {"content-type": "application/json"}
    refused = call("POST", "/api/v1/events", content=body, headers=json)
    assert refused.status_code in (400, 422)
    assert refused.json()["problems"][0]["message"]


@pytest.mark.parametrize(
    ("error", "status", "code"),
    [
        (IdTaken("taken"), 409, "id-taken"),
        (StoreFull("the disk is full"), 507, "disk-full"),
        (StoreUnreachable("no answer from the store"), 503, "store-unreachable"),
        (StoreUnfit("made by version 9"), 503, "store-unfit"),
    ],
)
def test_what_the_store_says_reaches_the_sender(
    tmp_path: Path, error: Exception, status: int, code: str
) -> None:
    class Troubled:
        def __init__(self, store: object) -> None:
            self._store = store

        def __getattr__(self, name: str) -> object:
            return getattr(self._store, name)

        def append(self, *_: object, **__: object) -> None:
            raise error

    services = services_at(tmp_path)
    services.bench.store = Troubled(services.bench.store)  # type: ignore[assignment]
    call = Caller(services)
    refused = call("POST", "/api/v1/events", json={"events": [read_event("d", "412")]})
    assert refused.status_code == status
    problem = refused.json()["problems"][0]
    assert (problem["code"], problem["message"]) == (code, str(error))
    assert problem["do"]


def test_readings_in_the_simple_form_go_to_the_piece_whose_turn_it_is(call: Caller) -> None:
    kept = call("POST", READINGS, json={"loads": [412.5]}).json()
    assert (kept["piece"]["label"], kept["piece"]["standing"]) == ("P1", "read")
    assert kept["next"]["label"] == "G1"
    # 412.5 kgf at 9.80665 m/s2, the standard acceleration (3rd CGPM, 1901).
    assert kept["understood"]["lower"] == pytest.approx(412.5 * 9.80665)
    assert kept["understood"]["upper"] == pytest.approx(412.5 * 9.80665)
    assert kept["piece"]["reading"]["date"] == "2026-01-31"
    over = {"piece": "G1", "loads": [">500"], "ended": "over-range", "unit": "lbf"}
    second = call("POST", READINGS, json=over).json()
    assert second["understood"]["upper"] is None
    assert second["next"] is None
    done = call("POST", READINGS, json={"loads": ["1"]})
    assert done.status_code == 409


def test_a_repeated_reading_does_not_go_to_the_next_piece(call: Caller) -> None:
    given = {"loads": ["412"], "id": "d" * 32}
    first, again = (call("POST", READINGS, json=given) for _ in range(2))
    assert first.json()["piece"]["label"] == again.json()["piece"]["label"] == "P1"
    assert (again.json()["new"], again.json()["known"]) == ([], 1)
    other = call("POST", READINGS, json={**given, "loads": ["413"]})
    assert other.status_code == 409
    assert len(call("GET", "/api/v1/studies/pegs/events").json()["events"]) == 4


def test_a_piece_with_a_reading_is_not_read_again_in_passing(call: Caller) -> None:
    call("POST", READINGS, json={"piece": "P1", "loads": ["412"]})
    again = call("POST", READINGS, json={"piece": "P1", "loads": ["500"]})
    assert again.status_code == 409
    assert call("POST", READINGS, json={"piece": "Q9", "loads": ["5"]}).status_code == 404


def test_a_reading_not_understood_is_not_kept(call: Caller) -> None:
    for given in ({"loads": ["4l2"]}, {"loads": [float("-5")]}, {"loads": [], "unit": "kN"}):
        assert call("POST", READINGS, json=given).status_code == 422
    assert call("GET", "/api/v1/studies/pegs").json()["next"]["label"] == "P1"


def test_a_study_is_told_as_it_stands(call: Caller) -> None:
    lines = call("GET", "/api/v1/studies").json()["studies"]
    assert [(line["handle"], line["pieces"], line["read"]) for line in lines] == [("pegs", 2, 0)]
    study = call("GET", f"/api/v1/studies/{STUDY}").json()
    assert study == call("GET", "/api/v1/studies/pegs").json()
    assert (study["unit"], study["groups"], study["reference"]) == (
        "kgf",
        ["plain", "glued"],
        "plain",
    )
    assert [piece["standing"] for piece in study["pieces"]] == ["waiting", "waiting"]
    since = call("GET", "/api/v1/studies/pegs/events?after=2").json()
    assert [event["seq"] for event in since["events"]] == [3]


def test_events_come_back_as_they_may_be_sent(call: Caller) -> None:
    events = [e["event"] for e in call("GET", "/api/v1/studies/pegs/events").json()["events"]]
    again = call("POST", "/api/v1/events", json={"events": events})
    assert again.json() == {"new": [], "known": 3}


def test_work_is_found_and_stopped(call: Caller) -> None:
    job = Job(
        id="e" * 32,
        study=STUDY,
        kind="answer",
        key="k",
        given="{}",
        state=JobState.QUEUED,
        made="2026-01-31T09:30:00Z",
        beat="2026-01-31T09:30:00Z",
    )
    call.services.jobs.ask(dataclasses.replace(job))
    assert call("GET", f"/api/v1/jobs/{job.id}").json()["state"] == "queued"
    assert call("POST", f"/api/v1/jobs/{job.id}/cancel").json()["state"] == "cancelled"
    assert call("GET", f"/api/v1/jobs/{'f' * 32}").status_code == 404


def test_the_schema_tells_every_kind_of_event_and_every_error(call: Caller) -> None:
    from jsonschema import Draft202012Validator

    schema = call("GET", "/api/v1/openapi.json").json()
    assert all(path.startswith("/api/v1/") for path in schema["paths"])
    assert schema["components"]["securitySchemes"]["token"]["scheme"] == "bearer"
    for item in schema["paths"].values():
        for operation in item.values():
            told = set(operation["responses"])
            assert {"401", "403", "413", "421", "422", "503"} <= told
            assert told & {"200", "201", "204"}
    whole = {**schema, "$ref": "#/components/schemas/Event"}
    event = Draft202012Validator(whole)
    for kept in call("GET", "/api/v1/studies/pegs/events").json()["events"]:
        event.validate(kept["event"])
    event.validate(read_event("d", "412"))
    assert not event.is_valid({**read_event("d", "412"), "kind": "undone"})


def test_services_leave_a_repeat_unchecked(tmp_path: Path) -> None:
    """What was true when an event came first may be true no longer."""
    services: Services = services_at(tmp_path)
    first = services.bench.store.events(STUDY)[0].event
    assert services.record([first]).known == 1
