"""Whatever a person writes of a part: problems, or predictions, and never a crash."""

import math

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from breakwright.model.part import Part
from breakwright.strength.catalogue import kinds
from breakwright.strength.resolve import PartRefused, part_problems, predictions

KINDS = list(kinds())
WORDS = ("hard maple", "birch plywood", "mdf", "pla", "nonsense", "yes", "end", "M8", "8.8", "nds")


@st.composite
def parts(draw: st.DrawFn) -> Part:
    kind = kinds()[draw(st.sampled_from(KINDS))]
    numbers = {}
    for key in kind.keys:
        if draw(st.integers(0, 3)):
            inside = st.floats(key.low, min(key.high, 1e4))
            numbers[key.name] = draw(inside if draw(st.integers(0, 9)) else st.floats())
    words = {}
    for word, allowed in kind.words.items():
        if draw(st.booleans()):
            words[word] = draw(st.sampled_from((*(allowed or ()), *WORDS)))
    return Part(
        "part",
        kind.name,
        numbers,
        words,
        count=draw(st.integers(1, 6)),
        breaks=draw(st.sampled_from((None, "withdrawal", "oops"))),
        own_tests=tuple(draw(st.lists(st.floats(1.0, 1e5), max_size=4))),
    )


@settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
@given(parts())
def test_a_part_is_refused_or_predicted(part: Part) -> None:
    problems = part_problems(part)
    for problem in problems:
        assert problem.part == "part"
        assert problem.message
    if problems:
        return
    try:
        found = predictions(part, None)
    except PartRefused:
        return
    assert found
    for prediction in found:
        assert 0.0 < prediction.p5 <= prediction.median <= prediction.p95 < math.inf
