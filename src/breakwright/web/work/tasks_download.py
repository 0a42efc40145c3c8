"""Files to take home: the report, the pictures, the data package."""

import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from breakwright.web.work.tasks_answer import answer_of
from breakwright.web.work.tools import Tell, Tools

__all__ = ["package", "pictures", "report"]


def report(given: Mapping[str, Any], tell: Tell, tools: Tools) -> Mapping[str, Any]:
    """The whole report as one HTML file."""
    from breakwright.bootstrap.sheets import write_report

    tell("drawing the charts and writing the report", 0.1)
    path = tools.made("html")
    write_report(answer_of(given, tools), path)
    return _result(path, f"{given['handle']}-report.html", "text/html; charset=utf-8")


def pictures(given: Mapping[str, Any], tell: Tell, tools: Tools) -> Mapping[str, Any]:
    """Every chart as SVG and PNG, light and dark, in one ZIP file."""
    from breakwright.report.pictures import pictures as draw

    made = draw(answer_of(given, tools), progress=tell)
    path = tools.made("zip")
    part = path.with_suffix(".part")
    with zipfile.ZipFile(part, "w") as archive:
        for name, data in made.items():
            archive.writestr(f"{given['handle']}-pictures/{name}", data)
    part.replace(path)
    return _result(path, f"{given['handle']}-pictures.zip", "application/zip")


def package(given: Mapping[str, Any], tell: Tell, tools: Tools) -> Mapping[str, Any]:
    """The study folder with its readings and media, zipped: what ``import`` reads."""
    from breakwright.bootstrap.folders import export_study

    tell("writing the study folder", 0.1)
    path = tools.made("zip")
    part = path.with_suffix(".part.zip")
    part.unlink(missing_ok=True)
    export_study(tools.store, tools.state(), part)
    part.replace(path)
    return _result(path, f"{given['handle']}.zip", "application/zip")


def _result(path: Path, name: str, media: str) -> Mapping[str, Any]:
    return {"file": path.name, "name": name, "media": media, "size": path.stat().st_size}
