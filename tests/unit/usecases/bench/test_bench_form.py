"""Events as dictionaries and back: every kind round-trips, everything else is refused by place."""

import json
from typing import Any

import pytest
from bench_log import entered, event, id_of
from hypothesis import given
from hypothesis import strategies as st

from breakwright.model.errors import InputRefused
from breakwright.model.event import KINDS, Body, Entry, Event, PieceMeasured, PreparationLogged
from breakwright.model.film import Shown
from breakwright.model.trial import Ending
from breakwright.usecases.bench.event_form import (
    LONGEST_TEXT,
    event_form,
    read_event,
    read_events,
)

IDS = st.integers(0, 16**32 - 1).map(lambda n: f"{n:032x}")
TEXTS = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\x00"), max_size=20)
TIMES = st.datetimes().map(lambda t: t.isoformat(timespec="seconds").zfill(19) + "Z")
DAYS = st.dates().map(str)
COUNTS = st.integers(0, 10**6)
MEDIA = st.integers(0, 16**64 - 1).map(lambda n: f"{n:064x}.jpg")
ENTRIES = st.builds(
    Entry,
    loads=st.lists(TEXTS, max_size=3).map(tuple),
    unit=st.sampled_from(("N", "kN", "kgf", "lbf")),
    ended=st.sampled_from(Ending),
    failure=st.none() | TEXTS,
    note=st.none() | TEXTS,
    decimal=st.none() | st.sampled_from(("point", "comma")),
    scale=st.none() | TEXTS,
    together=st.none() | TEXTS,
    rate=st.none() | TEXTS,
    date=st.none() | DAYS,
    order=st.none() | COUNTS,
)
BY_NAME: dict[str, st.SearchStrategy[Any]] = {
    "piece": IDS,
    "event": IDS,
    "base": IDS,
    "film": IDS,
    "reading": IDS,
    "video": st.none() | IDS,
    "number": COUNTS,
    "start": st.floats(0, 1e8),
    "end": st.floats(0, 1e8),
    "shown": st.sampled_from(Shown),
    "value": st.none() | TEXTS,
    "bases": st.lists(IDS, max_size=3).map(tuple),
    "pieces": st.lists(IDS, max_size=3).map(tuple),
    "lines": st.lists(TEXTS, max_size=3).map(tuple),
    "handle": st.from_regex(r"[a-z0-9]{1,5}(-[a-z0-9]{1,3})?", fullmatch=True),
    "started": TIMES,
    "day": st.none() | COUNTS,
    "order": st.none() | COUNTS,
    "size": COUNTS,
    "wait_h": st.none() | st.floats(0, 1e8),
    "media": MEDIA,
    "values": st.dictionaries(TEXTS, TEXTS, max_size=4),
    "entry": ENTRIES,
}


def _bodies(kind: type[Body]) -> st.SearchStrategy[Body]:
    names = kind.__match_args__
    fields = {name: BY_NAME.get(name, TEXTS) for name in names}
    if kind.__name__ == "SafetyRead":
        fields["day"] = DAYS
    if kind.__name__ in ("PhotoAdded", "TraceAdded", "VideoAdded"):
        fields["piece"] = st.none() | IDS
    return st.builds(kind, **fields)


EVENTS = st.builds(
    Event,
    id=IDS,
    study=IDS,
    made=TIMES,
    body=st.one_of(*map(_bodies, KINDS.values())),
    device=TEXTS,
    person=st.none() | TEXTS,
)


@given(EVENTS)
def test_an_event_survives_json(sent: Event) -> None:
    text = json.dumps(event_form(sent))

    again = read_event(json.loads(text), file="test")

    assert again == sent
    assert json.dumps(event_form(again)) == text


def _form() -> dict[str, Any]:
    return event_form(entered("r1", "A1"))


def _set(form: dict[str, Any], path: str, value: object) -> dict[str, Any]:
    *parents, last = path.split(".")
    inner: Any = form
    for name in parents:
        inner = inner[name]
    if value is ...:
        del inner[last]
    else:
        inner[last] = value
    return form


@pytest.mark.parametrize(
    ("path", "value", "where"),
    [
        ("id", "F" * 32, "event.id"),
        ("id", "a" * 31, "event.id"),
        ("id", ..., "event.id"),
        ("id", 5, "event.id"),
        ("study", None, "event.study"),
        ("made", "yesterday", "event.made"),
        ("made", "2026-01-31 09:30:00Z", "event.made"),
        ("made", "2026-01-31T09:30:00", "event.made"),
        ("made", "٢٠٢٦-01-31T09:30:00Z", "event.made"),
        ("kind", "reading", "event.kind"),
        ("kind", ["reading-entered"], "event.kind"),
        ("extra", 1, "event.extra"),
        ("device", "x\x00y", "event.device"),
        ("device", "\ud800", "event.device"),
        ("person", "x" * (LONGEST_TEXT + 1), "event.person"),
        ("body", [], "event.body"),
        ("body", ..., "event.body"),
        ("body.piece", "A1", "event.body.piece"),
        ("body.colour", "red", "event.body.colour"),
        ("body.entry", "412", "event.body.entry"),
        ("body.entry.loads", "412", "event.body.entry.loads"),
        ("body.entry.loads", [412], "event.body.entry.loads[0]"),
        ("body.entry.loads", ["1"] * 2001, "event.body.entry.loads"),
        ("body.entry.unit", "kg", "event.body.entry.unit"),
        ("body.entry.ended", "exploded", "event.body.entry.ended"),
        ("body.entry.decimal", ",", "event.body.entry.decimal"),
        ("body.entry.date", "31.01.2026", "event.body.entry.date"),
        ("body.entry.order", -1, "event.body.entry.order"),
        ("body.entry.order", True, "event.body.entry.order"),
        ("body.entry.order", 1.5, "event.body.entry.order"),
    ],
)
def test_what_is_refused(path: str, value: object, where: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_event(_set(_form(), path, value), file="outbox")

    assert {p.code for p in refused.value.problems} == {"event-unreadable"}
    assert [(p.file, p.column_name) for p in refused.value.problems] == [("outbox", where)]
    assert all(p.allowed and p.do for p in refused.value.problems)


@pytest.mark.parametrize("value", [-1, float("nan"), float("inf"), "24", True])
def test_a_waiting_time_that_is_none(value: object) -> None:
    form = event_form(
        event("p", PreparationLogged("glued", (id_of("A1"),), "2026-01-01T00:00:00Z"))
    )
    form["body"]["wait_h"] = value

    with pytest.raises(InputRefused):
        read_event(form, file="outbox")


def test_measurements_are_texts() -> None:
    form = event_form(event("m", PieceMeasured(id_of("A1"), {"mass_g": "3"})))
    form["body"]["values"]["mass_g"] = 3

    with pytest.raises(InputRefused):
        read_event(form, file="outbox")


def test_every_problem_of_every_event_is_told() -> None:
    bad = _set(_set(_form(), "id", "x"), "body.entry.unit", "kg")

    with pytest.raises(InputRefused) as refused:
        read_events([_form(), bad, 7], file="outbox")

    assert [p.column_name for p in refused.value.problems] == [
        "events[1].body.entry.unit",
        "events[1].id",
        "events[2]",
    ]


@pytest.mark.parametrize("forms", [None, {}, [], "x", [{}] * 2001])
def test_a_list_of_events_is_asked_for(forms: object) -> None:
    with pytest.raises(InputRefused):
        read_events(forms, file="outbox")
    assert len(read_events([_form()], file="outbox")) == 1
