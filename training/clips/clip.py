"""A scene of the catalogue, with what it is there for and what must be told about it."""

from collections.abc import Sequence
from dataclasses import dataclass

from training.clips.camera import Camera
from training.clips.face import Look
from training.clips.glass import Glass
from training.clips.indicator import Fault, Indicator
from training.clips.load import Load
from training.clips.looks import GLASS, LOOKS
from training.clips.scene import Place, Scene, Unit

__all__ = ["LEFT", "RIGHT", "Clip", "scale", "scene", "two_displays"]

HAND = Camera()
LEFT = Place(300, 230, yaw=8)
RIGHT = Place(665, 245, yaw=-6, roll=2)


@dataclass(frozen=True, slots=True)
class Clip:
    """``lines`` of the tester's list that the scene covers. ``doubts``: for each, one of its codes
    must be told. ``at_least``: the peak has no upper end, for a display could not be read then.
    ``peaks``: its breaks are found and their intervals judged. ``wide``: the displays could not
    be read for so many s around the peak, so that no narrow interval can be asked for."""

    scene: Scene
    lines: tuple[str, ...]
    doubts: tuple[tuple[str, ...], ...] = ()
    at_least: bool = False
    wide: bool = False
    peaks: bool = True
    marked_at: float = 0.0


def scale(
    indicator: Indicator,
    *,
    place: Place = LEFT,
    look: str | Look = "grey",
    glass: str | Glass = "quick",
) -> Unit:
    """Return a display by the names of its look and glass."""
    return Unit(
        indicator,
        LOOKS[look] if isinstance(look, str) else look,
        GLASS[glass] if isinstance(glass, str) else glass,
        place,
    )


def two_displays(
    *,
    looks: Sequence[str | Look] = ("grey", "green"),
    glass: str | Glass = "quick",
    faults: Sequence[Sequence[Fault]] = ((), ()),
    refresh: Sequence[float] = (0.25, 0.25),
    lag: Sequence[float] = (0.0, 0.0),
    places: Sequence[Place] = (LEFT, RIGHT),
    capacity: Sequence[float] = (50.0, 50.0),
    over: Sequence[str] = ("OL", "OL"),
) -> tuple[Unit, ...]:
    """Return two scales that share the load 0.47 to 0.53 and take it at different moments."""
    return tuple(
        scale(
            Indicator(
                name,
                share=((0.0, share),),
                refresh=refresh[n],
                phase=phase,
                lag=lag[n],
                capacity=capacity[n],
                over=over[n],
                faults=tuple(faults[n]),
            ),
            place=places[n],
            look=looks[n],
            glass=glass,
        )
        for n, (name, share, phase) in enumerate((("left", 0.47, 0.05), ("right", 0.53, 0.17)))
    )


def scene(
    name: str, load: Load, units: tuple[Unit, ...], *, camera: Camera = HAND, after: float = 0.9
) -> Scene:
    """Return a scene that goes on for ``after`` s when the last piece has broken."""
    return Scene(name, round(load.breaks[-1] + after, 2), load, units, camera)
