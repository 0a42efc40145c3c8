"""The study and the piece that an address names, or the page that says there is none."""

from datetime import datetime

from fastapi import HTTPException

from breakwright.bootstrap.breaking import RigSide, rig_side
from breakwright.usecases.bench.state import PieceState, StudyState
from breakwright.web.services import Services

__all__ = ["bench_day", "piece_of", "side_of", "study_of"]


def study_of(services: Services, key: str) -> StudyState:
    """Return the study with this id or handle."""
    state = services.bench.state(key)
    if state is None:
        raise HTTPException(404, f"There is no study called {key!r} here. See the list of studies.")
    return state


def piece_of(state: StudyState, key: str) -> PieceState:
    """Return the piece with this id or label."""
    piece = state.piece(key)
    if piece is None:
        raise HTTPException(404, f"There is no piece {key!r} in this study. See its list on Break.")
    return piece


def side_of(state: StudyState) -> RigSide:
    """Return what the rig needs to know of the study. Raises InputRefused."""
    return rig_side(state.toml)


def bench_day(services: Services) -> str:
    """Return the day where the server stands, which is at the bench or near it."""
    local: datetime = services.clock().astimezone()
    return local.date().isoformat()
