"""From words that a person says of a part (thread, grade, metal) to numbers, or to a sentence."""

from collections.abc import Mapping, Sequence

from breakwright.strength.bolts import UnknownGrade, find_grade
from breakwright.strength.metals import UnknownMetal, find_metal
from breakwright.strength.thread_names import UnknownThread, find_thread

__all__ = [
    "did_you_mean",
    "grade_numbers",
    "grade_sentences",
    "metal_numbers",
    "metal_sentences",
    "thread_numbers",
    "thread_sentences",
]

_SAME = 0.005  # of a diameter or pitch that is given twice


def did_you_mean(nearest: Sequence[str]) -> str:
    """Return the end of a sentence about an unknown word: what it may have meant."""
    return f"; did you mean {' or '.join(repr(n) for n in nearest)}?" if nearest else "."


def thread_numbers(words: Mapping[str, str]) -> dict[str, float]:
    """Return diameter, pitch and stress area cut of the thread said; nothing where none is known.

    An unknown thread is told by ``thread_sentences``.
    """
    if "thread" not in words:
        return {}
    try:
        thread = find_thread(words["thread"])
    except UnknownThread:
        return {}
    return {
        "diameter_mm": thread.diameter_mm,
        "pitch_mm": thread.pitch_mm,
        "stress_area_cut": thread.cut,
    }


def thread_sentences(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    """Return what is wrong with the thread said, or with sizes given beside it."""
    if "thread" not in words:
        return ()
    try:
        thread = find_thread(words["thread"])
    except UnknownThread as trouble:
        return (f"{trouble}{did_you_mean(trouble.nearest)}",)
    found = []
    for key, meant in (("diameter_mm", thread.diameter_mm), ("pitch_mm", thread.pitch_mm)):
        given = numbers.get(key, meant)
        if abs(given - meant) > _SAME * meant:
            found.append(
                f"thread {words['thread']!r} has a {key} of {meant:.4g}, but {given:.4g} is given; "
                "leave one of the two out."
            )
    return tuple(found)


def grade_numbers(numbers: Mapping[str, float], words: Mapping[str, str]) -> dict[str, float]:
    """Return the least stresses of the grade said; nothing where grade or diameter isn't known."""
    diameter = numbers.get("diameter_mm")
    if "grade" not in words or diameter is None:
        return {}
    try:
        grade = find_grade(words["grade"], diameter)
    except UnknownGrade:
        return {}
    return {"proof_MPa": grade.proof_MPa, "tensile_MPa": grade.tensile_MPa}


def grade_sentences(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    """Return what is wrong with the grade said."""
    if "grade" not in words or "diameter_mm" not in numbers:
        return ()
    try:
        find_grade(words["grade"], numbers["diameter_mm"])
    except UnknownGrade as trouble:
        return (f"{trouble}{did_you_mean(trouble.nearest)}",)
    return ()


def metal_numbers(words: Mapping[str, str]) -> dict[str, float]:
    """Return the strengths and stiffness of the metal said; nothing where none is known."""
    if "metal" not in words:
        return {}
    try:
        metal = find_metal(words["metal"])
    except UnknownMetal:
        return {}
    return {
        "yield_MPa": metal.yield_MPa,
        "tensile_MPa": metal.tensile_MPa,
        "moe_MPa": metal.moe_MPa,
    }


def metal_sentences(words: Mapping[str, str]) -> tuple[str, ...]:
    """Return what is wrong with the metal said."""
    if "metal" not in words:
        return ()
    try:
        find_metal(words["metal"])
    except UnknownMetal as trouble:
        return (f"{trouble}{did_you_mean(trouble.nearest)}",)
    return ()
