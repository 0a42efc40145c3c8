"""What is in front of the camera: displays on their places, light, and things that move."""

from dataclasses import dataclass

from training.clips.camera import Camera
from training.clips.face import Look
from training.clips.glass import Glass
from training.clips.indicator import Indicator
from training.clips.load import Knots, Load

__all__ = ["Glare", "Hand", "Place", "Scene", "Shade", "Unit"]


HELD = Camera()


@dataclass(frozen=True, slots=True)
class Place:
    """Where a display hangs: ``x``, ``y`` (px of the scene) is the middle of its face, ``digit``
    the height of a digit (px). ``yaw``, ``pitch``, ``roll`` (degrees) turn it away from the
    camera; from ``swing_from`` s on it swings by ``swing`` px about a hook above it."""

    x: float
    y: float
    digit: float = 42.0
    yaw: float = 0.0
    pitch: float = 0.0
    roll: float = 0.0
    swing: float = 0.0
    swing_from: float = 0.0
    swing_period: float = 0.9


@dataclass(frozen=True, slots=True)
class Unit:
    """One display: its electronics, its glass, its looks, its place."""

    indicator: Indicator
    look: Look
    glass: Glass
    place: Place


@dataclass(frozen=True, slots=True)
class Glare:
    """A bright spot that moves along ``x``, ``y`` (s, px), ``reach`` px in radius, ``strength``
    the brightness it adds in its middle (of 255)."""

    x: Knots
    y: Knots
    reach: float = 60.0
    strength: float = 120.0


@dataclass(frozen=True, slots=True)
class Shade:
    """A shadow with an upright edge at ``x`` (s, px), ``width`` px wide, that leaves ``left`` of
    the light."""

    x: Knots
    width: float = 200.0
    left: float = 0.5


@dataclass(frozen=True, slots=True)
class Hand:
    """A gloved hand with its sleeve; the middle of the hand moves along ``x``, ``y`` (s, px)."""

    x: Knots
    y: Knots
    size: float = 70.0


@dataclass(frozen=True, slots=True)
class Scene:
    """All of one film. ``seconds`` is its length; ``sound`` gives it a track with a thud at each
    break; ``plate`` is written on a small plate on the bench. The film begins at ``began`` s of the
    scene's clock, in which all other times here are."""

    name: str
    seconds: float
    load: Load
    units: tuple[Unit, ...]
    camera: Camera = HELD
    glares: tuple[Glare, ...] = ()
    shades: tuple[Shade, ...] = ()
    hands: tuple[Hand, ...] = ()
    sound: bool = False
    plate: str = ""
    began: float = 0.0
