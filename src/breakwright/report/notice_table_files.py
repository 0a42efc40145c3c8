"""Sentences for what is noticed while a sheet or a study folder is read. See ``notice_words``."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["FILE_NOTICES"]

FILE_NOTICES: Mapping[str, str | tuple[str, ...]] = MappingProxyType(
    {
        "column-kept-as-words": "The column {column:quote} is kept as words and not as a "
        "measure: {numbers} of its {cells} cells are numbers.",
        "decimal-from-sheet": "{cell:quote} in {column:quote} could be read in two ways; the "
        "other cells of the sheet use the decimal {decimal}, so it is read that way.",
        "definitions-clash": "The study was changed in two places at once. The change that came "
        "last is used until you choose, on the page where the study is prepared.",
        "group-all-void": "Every piece of {groups} is left out, so nothing can be said of it.",
        "mass-unit-as-force": "The column {column:quote} is taken as a force in {unit}, as you "
        "said, not as a mass.",
        "mixed-signs-by-size": "{negative:load|loads} in {column:quote} {negative:/is|are} "
        "negative and {positive} positive; all were taken by their size, as you said.",
        "negative-by-size": "{negative:load|loads} in {column:quote} {negative:/is|are} "
        "negative, as a pull gauge shows them; they were taken by their size, as you said.",
        "one-piece-group": "{groups} {groups:has|have} only one piece. One piece shows no "
        "scatter: test three at least, five if you can.",
        "option-over-study": "{key} was given as {given:quote} beside the sheet and stands as "
        "{study:quote} in the study; the one given was used.",
        "readings-clash": "{pieces} {pieces:has|have} two readings that do not know of each "
        "other, as two devices may send. The first to arrive is used until you choose one.",
        "reference-from-order": "No reference was named, so the first group in the sheet, "
        "{group:quote}, is taken as the one to compare with.",
        "specimens-numbered": "The sheet names no specimens, so they are numbered, {first:quote} "
        "to {last:quote}.",
        "study-not-used": "There is a {study} beside this sheet. It was not used, because the "
        "sheet was named and not the folder.",
    }
)
