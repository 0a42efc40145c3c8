"""What was chosen by option or in ``study.toml``; an option goes first, and says so."""

from breakwright.files.findings import Findings
from breakwright.files.load_units import StatedUnit
from breakwright.files.options import ReadOptions
from breakwright.files.study_checks import check_worth
from breakwright.files.study_file import StudyFile
from breakwright.files.whole import Settled
from breakwright.model.trial import Sharing

__all__ = ["Choices"]


class Choices:
    """Each method settles one question; ``study`` is None for a sheet on its own."""

    def __init__(self, options: ReadOptions, study: StudyFile | None, findings: Findings) -> None:
        self._options = options
        self._study = study
        self._findings = findings

    def unit(self) -> StatedUnit | None:
        """Return the unit stated outside the sheet; an option that disagrees is a problem."""
        asked = self._options.unit
        stated = self._study.unit if self._study else None
        if asked is not None and stated is not None and self._study and asked is not stated:
            self._findings.problem(
                "unit-disagrees",
                f"study.toml says {stated}, but --unit says {asked}",
                file=self._study.file,
                line=self._study.line("unit"),
                name="unit",
                read=stated.value,
                allowed="the same unit in both, or the unit in one of them only",
                do="Leave out --unit, or correct study.toml.",
            )
        if stated is not None:
            return StatedUnit(stated, "study.toml")
        return None if asked is None else StatedUnit(asked, "--unit")

    def groups(self) -> tuple[str, ...]:
        return tuple(g.strip() for g in self._study.table.groups) if self._study else ()

    def reference(self) -> Settled | None:
        stated = self._study.table.reference if self._study else None
        return self._settled("reference", self._options.reference, stated)

    def counts(self) -> Settled | None:
        stated = self._study.table.counts if self._study else None
        return self._settled("counts", self._options.counts, stated)

    def sharing(self) -> Sharing | None:
        stated = self._study.sharing if self._study else None
        settled = self._settled("sharing", self._options.sharing, stated)
        return None if settled is None else Sharing(settled.value)

    def worth(self) -> float | None:
        """Return the smallest ratio worth knowing; that of ``study.toml`` is checked before."""
        asked = self._options.worth
        stated = self._study.table.worth if self._study else None
        if asked is None:
            return stated
        check_worth(asked, "--worth", None, self._findings)
        if stated is not None and stated != asked:
            self._remark_over("worth", f"{stated:g}", f"{asked:g}")
        return asked

    def _settled(self, key: str, asked: str | None, stated: str | None) -> Settled | None:
        if asked is not None:
            if stated is not None and stated.strip() != asked.strip():
                self._remark_over(key, stated, asked)
            return Settled(asked.strip(), f"--{key}")
        if stated is None or self._study is None:
            return None
        return Settled(stated.strip(), "study.toml", self._study.file, self._study.line(key))

    def _remark_over(self, key: str, stated: str, asked: str) -> None:
        self._findings.remark(
            "option-over-study", {"key": key, "study": str(stated), "given": str(asked)}
        )
