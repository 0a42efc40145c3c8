"""What a study foretells of its own pieces, to be held against what they did."""

from breakwright.model.study import Study
from breakwright.usecases.result import Foretold

__all__ = ["foretell"]


def foretell(study: Study) -> tuple[Foretold, ...]:
    """Return what is foretold for each group, empty where the study says nothing ahead.

    It looks at parts and expectations only, never at the trials.
    """
    expected = study.expected
    stated = expected.median is not None or bool(expected.pilots)
    if not stated and not any(part.tested for part in study.parts):
        return ()
    from breakwright.rig.look import look_at
    from breakwright.usecases.rig import strength_catalogue

    pieces = look_at(study, strength_catalogue()).pieces
    return tuple(
        Foretold(
            group=group,
            median=piece.median,
            p5=piece.p5,
            p95=piece.p95,
            origin=piece.origin,
            trust=piece.trust,
            calibrated_on=piece.calibrated_on,
        )
        for group, piece in pieces.items()
    )
