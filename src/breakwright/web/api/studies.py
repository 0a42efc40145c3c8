"""The studies, and one study as it stands."""

from breakwright.usecases.bench.state import StudyState
from breakwright.web.api.common import Key, api_router, study_of
from breakwright.web.api.shapes import (
    InstrumentOut,
    StudiesOut,
    StudyLineOut,
    StudyOut,
    piece_out,
)
from breakwright.web.services import ServicesHere

__all__ = ["default_unit", "router"]

router = api_router("studies")


@router.get("/studies")
def list_studies(services: ServicesHere) -> StudiesOut:
    """A line for each study."""
    lines = [StudyLineOut.model_validate(line) for line in services.bench.studies()]
    return StudiesOut(studies=lines)


@router.get("/studies/{key}")
def one_study(services: ServicesHere, key: Key) -> StudyOut:
    """A study with its groups, displays and pieces, and the piece whose turn it is."""
    return _summary(study_of(services, key))


def default_unit(state: StudyState) -> str:
    """Return the unit of the study's own loads."""
    from breakwright.bootstrap.editing import study_file

    file = study_file(state.toml)
    return "N" if file is None or file.unit is None else file.unit.value


def _summary(state: StudyState) -> StudyOut:
    from breakwright.bootstrap.editing import study_file

    file = study_file(state.toml)
    table = None if file is None else file.table
    groups = list(table.groups) if table else []
    groups = groups or list(dict.fromkeys(piece.group for piece in state.pieces))
    coming = state.next_piece
    return StudyOut(
        id=state.id,
        handle=state.handle,
        title=state.title,
        question=table.question if table else "",
        made=state.made,
        shelved=state.shelved,
        unit=default_unit(state),
        groups=groups,
        reference=table.reference if table else None,
        instruments=[
            InstrumentOut(
                name=one.name,
                unit=one.unit,
                capacity=one.capacity,
                resolution=one.resolution,
                refresh_s=one.refresh_s,
                tare=one.tare,
            )
            for one in (table.instrument if table else [])
        ],
        sharing=table.sharing if table else None,
        pieces=[piece_out(piece) for piece in state.pieces],
        next=None if coming is None else piece_out(coming),
        clashes=[piece.id for piece in state.clashes],
        last=state.last,
    )
