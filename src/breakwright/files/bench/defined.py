"""What a ``study.toml`` says that a reading at the bench is held against."""

from dataclasses import dataclass
from functools import lru_cache

from breakwright.files.findings import Findings
from breakwright.files.planning import plan_source_of
from breakwright.files.study_file import read_study_text
from breakwright.model.errors import InputRefused
from breakwright.model.instrument import Instrument
from breakwright.model.study import Study
from breakwright.model.units import ForceUnit

__all__ = ["SHEET", "STUDY", "Defined", "defined", "defined_or_bare"]

STUDY = "study.toml"
SHEET = "trials.csv"


@dataclass(frozen=True, slots=True)
class Defined:
    """``study`` has no trials; ``groups`` is empty where the file lists none (any goes);
    ``unit`` is None where the file states none; ``sheet`` is the name it gives the sheet."""

    study: Study
    groups: tuple[str, ...]
    unit: ForceUnit | None
    sheet: str

    @property
    def instruments(self) -> tuple[Instrument, ...]:
        return self.study.instruments

    @property
    def displays(self) -> int:
        """How many loads are read of one piece: one, or one a display that shares the load."""
        return len(self.instruments) if self.shared else 1

    @property
    def shared(self) -> bool:
        return self.study.sharing is not None and len(self.instruments) > 1

    @property
    def by_scale(self) -> bool:
        """Must each reading name the instrument it was read on?"""
        return len(self.instruments) > 1 and not self.shared


@lru_cache(maxsize=64)
def defined(toml: str) -> Defined:
    """Return what ``toml`` says. Raises InputRefused with every problem in it."""
    study = plan_source_of(toml, file=STUDY).study
    file = read_study_text(toml, Findings(STUDY))
    assert file is not None
    return Defined(
        study=study,
        groups=tuple(group.strip() for group in file.table.groups),
        unit=file.unit,
        sheet=file.table.sheet,
    )


def defined_or_bare(toml: str) -> Defined:
    """Return what ``toml`` says; of one that cannot be read, as one of an older or newer version
    may be, that nothing is known: its readings can still be written out."""
    try:
        return defined(toml)
    except InputRefused:
        return Defined(Study((), ("pieces",), "pieces"), (), None, SHEET)
