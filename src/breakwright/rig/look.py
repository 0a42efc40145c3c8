"""One look at a rig: every part's ways of breaking as contenders, by group of pieces."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from breakwright.model.foresight import Expected
from breakwright.model.part import Part
from breakwright.model.study import Study
from breakwright.rig.changing import group_of
from breakwright.rig.contenders import Contender, contender_of, the_piece
from breakwright.rig.findings import PieceStrength
from breakwright.rig.pieces import Asked, piece_strengths
from breakwright.strength.mechanism import Kind
from breakwright.strength.predict import Resolved
from breakwright.strength.prediction import Prediction

__all__ = ["Catalogue", "Look", "look_at", "with_part"]

_UNNAMED = "piece under test"
_ANY_WAY = "breaks"


@dataclass(frozen=True)
class Catalogue:
    """What the strength room offers: kinds by name, a part's numbers, a part's predictions.

    ``possible`` says whether a part can be at all (no hole larger than its thread).
    """

    kinds: Mapping[str, Kind]
    resolve: Callable[[Part, str | None], Resolved]
    predictions: Callable[[Part, str | None], tuple[Prediction, ...]]
    possible: Callable[[Part], bool]


@dataclass(frozen=True)
class Look:
    """All that the checks look at. ``rig_ways`` by part; ``piece_ways`` by group.

    ``intended`` is the stated way, or the only one; ``taken`` the weakest where none is stated.
    ``pieces`` by group, empty where nothing is known of their strength.
    """

    study: Study
    catalogue: Catalogue
    tested: Part | None
    intended: str | None
    taken: str | None
    rig_ways: Mapping[str, tuple[Prediction, ...]]
    piece_ways: Mapping[str, tuple[Prediction, ...]]
    pieces: Mapping[str, PieceStrength]

    @property
    def asked_way(self) -> str | None:
        """The way whose strength is asked about, stated or taken."""
        return self.intended or self.taken

    @property
    def rig_parts(self) -> tuple[Part, ...]:
        return tuple(p for p in self.study.parts if self.tested is None or p != self.tested)

    def strongest(self) -> PieceStrength:
        """The group whose strongest pieces (99 of 100 stay under) are the strongest."""
        return max(self.pieces.values(), key=lambda p: p.p99)

    def intended_in(self, group: str) -> Contender:
        """The way asked about, as the group's pieces have it."""
        piece = self.pieces[group]
        if self.tested is None or self.asked_way is None:
            return the_piece(_UNNAMED, _ANY_WAY, piece)
        for way in self.piece_ways[group]:
            if way.mechanism == self.asked_way:
                marked = self.intended is not None
                return contender_of(way, intended=marked, piece=piece)
        return the_piece(self.tested.name, self.asked_way, piece)

    def rivals_in_piece(self, group: str) -> tuple[Contender, ...]:
        """Other ways for the piece itself to break."""
        return tuple(
            contender_of(way, intended=False)
            for way in self.piece_ways.get(group, ())
            if way.mechanism != self.asked_way
        )

    def rivals_in(self, part: str) -> tuple[Contender, ...]:
        """The ways of one part of the rig."""
        return tuple(contender_of(way, intended=False) for way in self.rig_ways[part])

    def contenders(self, group: str) -> tuple[Contender, ...]:
        """Everything that can break while a piece of this group is loaded, the asked way first."""
        rig = tuple(c for part in self.rig_ways for c in self.rivals_in(part))
        return (self.intended_in(group), *self.rivals_in_piece(group), *rig)


def look_at(study: Study, catalogue: Catalogue) -> Look:
    """Predict every part of ``study``; the parts must have passed the strength room's checks."""
    tested = next((p for p in study.parts if p.tested), None)
    rig_ways = {p.name: catalogue.predictions(p, None) for p in study.parts if p is not tested}
    bare = Look(study, catalogue, tested, None, None, rig_ways, {}, {})
    return _with_pieces(bare, tested)


def with_part(look: Look, changed: Part) -> Look:
    """The same rig with one part changed, found by its name; only that part is predicted anew.

    What the person said of the pieces as they were (a median, pilots) is scaled by what the
    equation says of the change. Raises what the strength room raises where the changed part
    cannot be.
    """
    if look.tested is not None and changed.name == look.tested.name:
        return _with_pieces(look, changed)
    new = look.catalogue.predictions(changed, group_of(changed))
    return replace(look, rig_ways={**look.rig_ways, changed.name: new})


def _with_pieces(look: Look, tested: Part | None) -> Look:
    study = look.study
    ways: dict[str, tuple[Prediction, ...]] = {}
    taken = intended = None
    if tested is not None:
        ways = {g: look.catalogue.predictions(tested, g) for g in study.groups}
        intended = tested.breaks
        reference = ways[study.reference]
        if intended is None and len(reference) == 1:
            intended = reference[0].mechanism
        if intended is None and reference:
            taken = look.taken or min(reference, key=lambda w: w.median).mechanism
    way_asked = intended or taken
    predicted = {
        g: way for g, all_ways in ways.items() for way in all_ways if way.mechanism == way_asked
    }
    asked = Asked(
        groups=study.groups,
        reference=study.reference,
        expected=_scaled(study.expected, look, predicted),
        worth=study.worth,
        predicted=predicted,
        # A change made to try it out is every group's and makes no difference between them.
        differs=frozenset() if tested is None else _differing(look, tested),
        tested_before=bool(tested is not None and tested.own_tests),
    )
    pieces = {p.group: p for p in piece_strengths(asked)}
    return replace(look, intended=intended, taken=taken, piece_ways=ways, pieces=pieces)


def _differing(look: Look, tested: Part) -> frozenset[str]:
    original = tested if look.tested is None else look.tested
    return frozenset(g for g, numbers in original.by_group.items() if numbers)


def _scaled(expected: Expected, look: Look, predicted: Mapping[str, Prediction]) -> Expected:
    reference = look.study.reference
    before = {w.mechanism: w for w in look.piece_ways.get(reference, ())}
    now = predicted.get(reference)
    if now is None or now.mechanism not in before:
        return expected
    by = now.median / before[now.mechanism].median
    median = None if expected.median is None else expected.median * by
    return replace(expected, median=median, pilots=tuple(p * by for p in expected.pilots))
