"""What a sheet holds, column by column, before it is checked as a whole and made into trials."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from breakwright.model.trial import Ending, Reading, Trial

__all__ = ["Rows"]


@dataclass(frozen=True, slots=True)
class Rows:
    """Every field has one entry a row of the sheet, in its order; loads in N, rates in N/s."""

    lines: Sequence[int]
    specimens: Sequence[str]
    groups: Sequence[str]
    readings: Sequence[tuple[Reading, ...]]
    endings: Sequence[Ending]
    failures: Sequence[str | None]
    voids: Sequence[str | None]
    together: Sequence[float | None]
    rates: Sequence[float | None]
    blocks: Sequence[str | None]
    orders: Sequence[int | None]
    dates: Sequence[dt.date | None]
    notes: Sequence[str | None]
    covariates: Sequence[Mapping[str, float]]
    words: Sequence[Mapping[str, str]]

    def trials(self) -> tuple[Trial, ...]:
        """Return one trial a row; only for rows in which no problem was found."""
        return tuple(
            Trial(
                specimen=self.specimens[i],
                group=self.groups[i],
                readings=self.readings[i],
                ending=self.endings[i],
                failure=self.failures[i],
                void=self.voids[i],
                together=self.together[i],
                rate=self.rates[i],
                block=self.blocks[i],
                order=self.orders[i],
                date=self.dates[i],
                note=self.notes[i],
                covariates=self.covariates[i],
                words=self.words[i],
                line=line,
            )
            for i, line in enumerate(self.lines)
        )
