"""The ways a kind of part can break, as data: an equation, what it needs, how far to trust it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from breakwright.strength.trust import Trust

__all__ = ["Floats", "Key", "KeyUse", "Kind", "Mechanism", "Values"]

Floats = NDArray[np.floating]
Values = Mapping[str, Floats]


class KeyUse(StrEnum):
    """What a number of a part is for, which decides how advice may change it."""

    SIZE = "size"  # a person can choose another
    PROPERTY = "property"  # of the material; comes from a table where it is not given
    SETTING = "setting"  # how the part is loaded: span, angle, offset


@dataclass(frozen=True, slots=True)
class Key:
    """A number that a kind of part has. ``name`` ends with its unit.

    ``low``..``high`` is what is allowed (ends included); ``cv`` the coefficient of variation it
    has where nothing better is known; ``default`` what is taken where it is left out (None: it
    must be given, or come from the material's table for a PROPERTY).
    """

    name: str
    meaning: str
    use: KeyUse
    low: float
    high: float
    cv: float = 0.0
    default: float | None = None


@dataclass(frozen=True)
class Mechanism:
    """One way of breaking.

    ``load`` takes the part's numbers (arrays of one shape, or scalars) and returns the load on
    ONE piece of the part at which it breaks this way (N), in the same shape. ``needs`` names the
    keys it uses; ``characteristic`` is True where the equation gives a 5th percentile and not a
    mean (then the prediction says so and turns it into a median with ``cv_if_characteristic``).
    ``trust`` may depend on the words and numbers given (a function) or not.
    """

    name: str
    load: Callable[[Values], Floats]
    needs: tuple[str, ...]
    trust: Trust
    source: str
    characteristic: bool = False
    cv_if_characteristic: float = 0.2
    notes: tuple[str, ...] = ()
    when: Callable[[Mapping[str, str]], bool] | None = None  # applies only with these words
    remark: Callable[[Values], str] | None = None  # what these numbers make of it, for a person


@dataclass(frozen=True)
class Kind:
    """A kind of part: its keys, the words it takes, the ways it can break.

    ``words`` maps a word key (``material``, ``thread``, ``grade`` …) to the values allowed, or to
    None where a table decides. ``deflection`` gives the give of one piece in mm under a load in N
    (for the stroke and the stored energy), where an equation exists.
    """

    name: str
    meaning: str
    keys: tuple[Key, ...]
    mechanisms: tuple[Mechanism, ...]
    words: Mapping[str, tuple[str, ...] | None] = field(
        default_factory=lambda: MappingProxyType({})
    )
    complete: Callable[[Mapping[str, float], Mapping[str, str]], Mapping[str, float]] | None = None
    deflection: Callable[[Values, Floats], Floats] | None = None
    check: Callable[[Mapping[str, float], Mapping[str, str]], tuple[str, ...]] | None = None
