"""A ``study.toml`` changed from a form: comments, order and all that was not touched stay."""

import tomllib
from collections.abc import Mapping, Sequence
from difflib import SequenceMatcher
from typing import TYPE_CHECKING, Any

from breakwright.model.errors import ImpossibleValue

if TYPE_CHECKING:
    from tomlkit.container import Container
    from tomlkit.items import AoT, Table

    Box = Container | Table

__all__ = ["moved_item", "retold", "study_table", "with_item", "with_keys", "without_item"]


def study_table(text: str) -> dict[str, Any]:
    """Return what ``text`` says as plain values. Raises ImpossibleValue where it is not TOML."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ImpossibleValue(f"the study's text is not valid TOML: {error}") from error


def with_keys(
    text: str, values: Mapping[str, object], *, within: str | None = None, order: Sequence[str] = ()
) -> str:
    """Return ``text`` with these keys of the file, or of its table ``within``.

    A value that is None, '' or an empty list or table takes its key away; ``order`` is unused
    where the key is there already, and a table that loses its last key goes with it.
    """
    data = study_table(text)
    box = data if within is None else data.setdefault(within, {})
    for key in sorted(values, key=lambda k: order.index(k) if k in order else len(order)):
        value = values[key]
        if value is None or value == "" or value == [] or value == {}:
            box.pop(key, None)
        else:
            box[key] = value
    if within is not None and not box:
        del data[within]
    return retold(text, data)


def with_item(text: str, kind: str, index: int | None, item: Mapping[str, object]) -> str:
    """Return ``text`` with the table ``[[kind]]`` number ``index`` (from 0; None: a new one at
    the end) saying what ``item`` says. Raises ImpossibleValue where there is none."""
    data = study_table(text)
    items = data.setdefault(kind, [])
    if index is None:
        items.append(dict(item))
    else:
        _demand(items, kind, index)
        items[index] = dict(item)
    return retold(text, data)


def without_item(text: str, kind: str, index: int) -> str:
    """Return ``text`` without the table ``[[kind]]`` number ``index``."""
    data = study_table(text)
    items = data.get(kind, [])
    _demand(items, kind, index)
    del items[index]
    if not items:
        del data[kind]
    return retold(text, data)


def moved_item(text: str, kind: str, index: int, *, to: int) -> str:
    """Return ``text`` with the table ``[[kind]]`` number ``index`` at place ``to``."""
    data = study_table(text)
    items = data.get(kind, [])
    _demand(items, kind, index)
    _demand(items, kind, to)
    items.insert(to, items.pop(index))
    return retold(text, data)


def _demand(items: Sequence[object], kind: str, index: int) -> None:
    if not 0 <= index < len(items):
        raise ImpossibleValue(f"the study has no {kind} number {index + 1}")


def retold(text: str, wanted: Mapping[str, Any]) -> str:
    """Return ``text`` so that it says ``wanted``, with every line that says so already kept.

    Raises ImpossibleValue where that cannot be done by changing single lines; ``text`` as a
    whole must then be edited by hand.
    """
    import tomlkit

    document = tomlkit.parse(text)
    _tell(document, wanted)
    made = tomlkit.dumps(document)
    if study_table(made) != wanted:
        raise ImpossibleValue(
            "this study.toml is written in a way that a form cannot change; change it as text"
        )
    spaced = _with_gaps(made)
    return spaced if study_table(spaced) == wanted else made


def _tell(box: "Box", wanted: Mapping[str, Any]) -> None:
    from tomlkit.items import AoT, Table

    for key in [key for key in box if key not in wanted]:
        del box[key]
    for key, value in wanted.items():
        there = box.get(key)
        if there is not None and _plain(there) == value and type(_plain(there)) is type(value):
            continue
        if isinstance(there, Table) and isinstance(value, Mapping):
            _tell(there, value)
        elif isinstance(there, AoT) and _is_tables(value):
            _tell_tables(there, value)
        elif there is not None and not isinstance(there, AoT | Table):
            box[key] = _item(value, inline=isinstance(value, Mapping | list))
        else:
            if there is not None:
                del box[key]
            _add(box, key, value)


def _tell_tables(there: "AoT", wanted: Sequence[Mapping[str, Any]]) -> None:
    before = [_plain(table) for table in there]
    told = SequenceMatcher(
        None, [repr(t) for t in before], [repr(t) for t in wanted], autojunk=False
    )
    # From the back, so that the places in front stay where they are.
    for tag, a, b, c, d in reversed(told.get_opcodes()):
        if tag == "equal":
            continue
        both = min(b - a, d - c)
        for place in range(both):
            _tell(there[a + place], wanted[c + place])
        for place in reversed(range(a + both, b)):
            del there[place]
        for place in range(both, d - c):
            there.insert(a + place, _item(wanted[c + place], inline=False))


def _add(box: "Box", key: str, value: Any) -> None:
    from tomlkit import TOMLDocument
    from tomlkit.items import AoT, Table

    is_table = isinstance(value, Mapping) or _is_tables(value)
    item = _item(value, inline=not is_table)
    if isinstance(box, TOMLDocument) and not is_table:
        last = None
        for name, there in box.body:
            if isinstance(there, Table | AoT):
                break
            last = name or last
        if last is not None:
            # Behind the last plain key; appending would put it behind the remarks that belong
            # to the first table.
            box._insert_after(last, key, item)
            return
    box[key] = item


def _item(value: Any, *, inline: bool) -> Any:
    import tomlkit

    if isinstance(value, Mapping):
        table: Any = tomlkit.inline_table() if inline else tomlkit.table()
        for key, inner in value.items():
            nested = isinstance(inner, Mapping) and not inline
            # 'hole_mm = { value = 2.5, cv = 0.02 }' reads better than a table of its own.
            deep = nested and any(isinstance(v, Mapping) for v in inner.values())
            table[key] = _item(inner, inline=not deep)
        return table
    if _is_tables(value) and not inline:
        return tomlkit.item(list(value))
    if isinstance(value, list):
        array = tomlkit.array()
        for inner in value:
            array.append(_item(inner, inline=True))
        return array
    return tomlkit.item(value)


def _plain(item: Any) -> Any:
    return item.unwrap() if hasattr(item, "unwrap") else item


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, Mapping) for v in value)


def _with_gaps(text: str) -> str:
    """Put an empty line in front of tables that were added without one."""
    lines = text.splitlines()
    spaced: list[str] = []
    for line in lines:
        if line.startswith("[") and spaced and spaced[-1] and not spaced[-1].startswith("#"):
            spaced.append("")
        spaced.append(line)
    return "\n".join(spaced).strip("\n") + "\n"
