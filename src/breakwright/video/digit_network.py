"""The network that reads a row of digits, run by onnxruntime from the file in the package."""

from importlib.resources import files
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_ports import ALPHABET, STRIP_HEIGHT, DigitReader
from breakwright.video.trouble import FilmRefused, film_problem

if TYPE_CHECKING:
    from onnxruntime import InferenceSession

__all__ = ["digit_reader"]

_MODEL = "digits.onnx"


def digit_reader(*, threads: int = 1) -> DigitReader:
    """Return the packaged network; ``threads`` is how many cores it may use at once.

    Raises FilmRefused where onnxruntime is not installed.
    """
    model = files("breakwright.video").joinpath(_MODEL).read_bytes()
    return _Network(_session(model, threads))


class _Network:
    def __init__(self, session: "InferenceSession") -> None:
        self._session = session
        self._takes = session.get_inputs()[0].name

    def read(self, strips: NDArray[np.uint8]) -> NDArray[np.float32]:
        if strips.ndim != 3 or strips.shape[1] != STRIP_HEIGHT or strips.shape[2] % 4:
            raise ValueError(
                f"strips of the shape {strips.shape}; allowed is (n, {STRIP_HEIGHT}, width), "
                "width a multiple of 4"
            )
        if not len(strips):
            return np.empty((0, strips.shape[2] // 4, 1 + len(ALPHABET)), np.float32)
        gray = strips[:, None].astype(np.float32)
        gray *= 1.0 / 255.0
        (told,) = self._session.run(None, {self._takes: gray})
        return np.asarray(told, np.float32)


def _session(model: bytes, threads: int) -> "InferenceSession":
    ort = _library()
    options = ort.SessionOptions()
    # Decoding keeps the cores busy; threads that spin while they wait would slow it down.
    options.intra_op_num_threads = threads
    options.inter_op_num_threads = 1
    options.add_session_config_entry("session.intra_op.allow_spinning", "0")
    # Its hints are for those who made the network; errors still come as exceptions.
    options.log_severity_level = 3
    session: InferenceSession = ort.InferenceSession(
        model, options, providers=["CPUExecutionProvider"]
    )
    return session


def _library() -> Any:
    try:
        import onnxruntime
    except ImportError as missing:
        raise FilmRefused(
            [
                film_problem(
                    "extra-missing",
                    "reading displays off a film needs libraries that are not installed",
                    "onnxruntime",
                    allowed="the optional part 'video'",
                    do="Install it with: pip install 'breakwright[video]'.",
                )
            ]
        ) from missing
    return onnxruntime
