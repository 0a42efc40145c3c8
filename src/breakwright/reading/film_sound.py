"""Two films brought onto one clock by what both heard: the crack of the break, a clap."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.model.errors import BreakwrightError

__all__ = ["Offset", "SoundRefused", "offset_by_sound"]

# The envelope has so many values a second; a film shorter than this has no onset to go by.
_ENVELOPE_RATE = 500.0
_SHORTEST_S = 0.5
# Another peak so far away (s) must be lower by this factor, or it may as well be that one.
_APART_S = 0.08
_CLEAR = 1.25
# Loudness below this share of the film's loudest is silence: a hiss has no onsets.
_QUIET = 1e-3

Samples = NDArray[np.float32]
Floats = NDArray[np.float64]


class SoundRefused(BreakwrightError):
    """The sound of two films does not tell how their clocks lie to each other."""


@dataclass(frozen=True, slots=True)
class Offset:
    """What happens at t in the second film happens at t + ``seconds`` on the first one's clock,
    within ``uncertainty`` (s). ``sharpness`` is how many times higher this fit is than the next
    best; sound takes 3 ms a metre, which is not in it."""

    seconds: float
    uncertainty: float
    sharpness: float


def offset_by_sound(a: Samples, rate_a: float, b: Samples, rate_b: float) -> Offset:
    """Return how the clock of ``b`` lies to that of ``a``: mono samples, so many a second.

    Compared is how much louder each moment is than the one before, since two phones hear the
    same crack with other voices. Raises SoundRefused where one film is silent or too short, and
    where no offset fits clearly best.
    """
    first, second = _onsets(a, rate_a, "first"), _onsets(b, rate_b, "second")
    size = 1 << int(np.ceil(np.log2(len(first) + len(second))))
    fit = np.fft.irfft(np.fft.rfft(first, size) * np.conj(np.fft.rfft(second, size)), size)
    # Lags from -(len(second) - 1) to len(first) - 1.
    fit = np.concatenate([fit[-(len(second) - 1) :], fit[: len(first)]])
    place = int(fit.argmax())
    near = int(_APART_S * _ENVELOPE_RATE)
    rest = np.concatenate([fit[: max(0, place - near)], fit[place + near + 1 :]])
    other = float(rest.max()) if len(rest) else 0.0
    sharpness = float(fit[place]) / other if other > 0.0 else np.inf
    if fit[place] <= 0.0 or sharpness < _CLEAR:
        raise SoundRefused(
            "the sound of the two films does not tell how their clocks lie to each other: no "
            f"offset fits clearly better than all others (best over next {sharpness:.2f}, at "
            f"least {_CLEAR} is needed). Clap your hands once in both films, or give the offset "
            "by hand"
        )
    lag = place - (len(second) - 1) + _parabola(fit, place)
    width = _half_width(fit, place)
    certain = min(1.0, (_CLEAR - 1.0) / (sharpness - 1.0)) if np.isfinite(sharpness) else 0.0
    uncertainty = (0.5 + width * (0.25 + 0.75 * certain)) / _ENVELOPE_RATE
    return Offset(float(lag / _ENVELOPE_RATE), float(uncertainty), float(min(sharpness, 1e6)))


def _onsets(samples: Samples, rate: float, which: str) -> Floats:
    """How much louder each moment is than before, at ``_ENVELOPE_RATE``."""
    if len(samples) < _SHORTEST_S * rate:
        raise SoundRefused(
            f"the {which} film has {len(samples) / rate:.2f} s of sound; at least {_SHORTEST_S} s "
            "are needed to compare it. Give the offset by hand"
        )
    # The difference of samples takes off rumble and hum.
    sharp = np.diff(np.asarray(samples, np.float64), prepend=float(samples[0]))
    edges = np.arange(0.0, len(sharp), rate / _ENVELOPE_RATE).astype(np.intp)
    edges = edges[np.append(True, np.diff(edges) > 0)]
    power = np.add.reduceat(sharp**2, edges) / np.diff(np.append(edges, len(sharp)))
    loud = np.sqrt(power)
    top = float(loud.max())
    if not np.isfinite(top) or top <= 0.0:
        raise SoundRefused(
            f"the {which} film is silent, so that its clock cannot be compared. Give the offset "
            "by hand"
        )
    level = np.log(np.maximum(loud, _QUIET * top))
    quiet = np.convolve(level, np.ones(5) / 5.0, "full")[: len(level)]
    rise = np.zeros(len(level))
    rise[5:] = np.maximum(level[5:] - quiet[4:-1], 0.0)
    # A loud onset counts for more than as great a rise out of silence.
    flux = np.asarray(rise * np.sqrt(loud / top), np.float64)
    return flux - float(flux.mean())


def _parabola(fit: Floats, place: int) -> float:
    if not 0 < place < len(fit) - 1:
        return 0.0
    left, top, right = (float(fit[n]) for n in (place - 1, place, place + 1))
    bend = left - 2.0 * top + right
    return 0.0 if bend >= 0.0 else float(np.clip(0.5 * (left - right) / bend, -0.5, 0.5))


def _half_width(fit: Floats, place: int) -> float:
    """Half the width of the peak at half its height, in values of the envelope."""
    half = fit[place] / 2.0
    left = right = place
    while left > 0 and fit[left] > half:
        left -= 1
    while right < len(fit) - 1 and fit[right] > half:
        right += 1
    return (right - left) / 2.0
