"""What a part lacks: a material that no table has, a number that nothing gives."""

from collections.abc import Iterable

from breakwright.model.part import Part
from breakwright.strength.fill import keys_of_material, material_words
from breakwright.strength.gathering import Collected, applicable, missing_keys
from breakwright.strength.materials import UnknownMaterial, find_material
from breakwright.strength.mechanism import Kind
from breakwright.strength.metals import UnknownMetal, find_metal
from breakwright.strength.part_problem import PartProblem, did_you_mean, listed

__all__ = ["gaps", "material_problems"]


def material_problems(part: Part, collected: Collected) -> Iterable[PartProblem]:
    kind, known = collected.kind, collected.known
    missing = set(missing_keys(collected))
    for word in material_words(kind):
        name = known.words.get(word)
        if name is None or kind.words[word] is not None:
            continue
        prefix = word[: -len("material")]
        own = [k for k in keys_of_material(kind, word).values() if k.default is None]
        lacking = [k.name for k in own if k.name in missing]
        try:
            material = find_material(name)
        except UnknownMaterial as unknown:
            # A material of one's own needs no table where its values are given.
            if lacking or not any(k.name in known.numbers for k in own):
                needed = lacking or [k.name for k in own]
                better = _better_name(kind, name, unknown.nearest)
                joint = " Or" if better.endswith("?") else "; or"
                do = f"{better}{joint} give {listed(needed)} of a material of your own"
                yield PartProblem(
                    part.name,
                    word,
                    f"no table has a material called {name!r}",
                    read=name,
                    allowed=listed(unknown.nearest) if unknown.nearest else "see docs/materials.md",
                    do=do,
                )
            continue
        for key in lacking:
            yield PartProblem(
                part.name,
                key,
                f"the table knows no {key.removeprefix(prefix)} of {material.name}",
                allowed="a number of your own",
                do=_how_to_know(key),
            )


def _better_name(kind: Kind, name: str, nearest: tuple[str, ...]) -> str:
    if "metal" in kind.words:
        try:
            return f"write metal = {find_metal(name).name!r} in place of it"
        except UnknownMetal:
            pass
    return did_you_mean(nearest) or "use a name of the table"


def _how_to_know(key: str) -> str:
    for end in ("specific_gravity", "density_kg_m3"):
        if key.endswith(end):
            weighed = key.removesuffix(end) + "density_kg_m3"
            return f"weigh and measure a piece and give {weighed}"
    return f"give {key}, from a data sheet or your own tests"


def gaps(part: Part, collected: Collected) -> Iterable[PartProblem]:
    if not applicable(collected):
        yield PartProblem(
            part.name,
            None,
            f"nothing is known of how this {collected.kind.name!r} would break",
            allowed="words for which the kind has an equation",
            do="change its words, or make it a part of kind 'own tests' with loads you measured",
        )
        return
    missing = missing_keys(collected)
    follows = _follow_from_others(collected, missing)
    for key in missing:
        found = next((k for k in collected.kind.keys if k.name == key), None)
        word = _word_of(collected.kind, key)
        if word in collected.known.words or key in follows:
            continue  # told with the material, or known as soon as the others are
        do = f"give {key}"
        if word is not None:
            do += f", or name the {word}"
        yield PartProblem(
            part.name,
            key,
            f"a {collected.kind.name!r} needs {key}" + (f" ({found.meaning})" if found else ""),
            allowed=None if found is None else f"{found.low:g} to {found.high:g}",
            do=do,
        )


def _word_of(kind: Kind, key: str) -> str | None:
    """The word of a material that would give the key."""
    for word in material_words(kind):
        if any(k.name == key for k in keys_of_material(kind, word).values()):
            return word
    return None


def _follow_from_others(collected: Collected, missing: tuple[str, ...]) -> set[str]:
    """Which of the missing keys the kind would work out itself, were the others given."""
    if collected.kind.complete is None:
        return set()
    low = {k.name: k.low for k in collected.kind.keys}
    follows: set[str] = set()
    for key in missing:
        others = {k: low[k] for k in missing if k in low and k != key and k not in follows}
        tried = {**collected.known.numbers, **others}
        if key in collected.kind.complete(tried, collected.known.words):
            follows.add(key)
    return follows
