"""Something that was read wrongly, in words."""

from dataclasses import dataclass

__all__ = ["Fault"]


@dataclass(frozen=True, slots=True)
class Fault:
    """Something that was read wrongly: ``read`` on ``display`` at ``time`` (s), though ``true``."""

    kind: str
    time: float
    display: str
    read: str
    true: str

    def __str__(self) -> str:
        return f"{self.time:.3f} s «{self.display}» {self.kind}: read {self.read}, true {self.true}"
