"""Breakwright: from breaking loads to an honest answer. The public names, made on first use."""

from typing import TYPE_CHECKING, Any

from breakwright.version import VERSION

if TYPE_CHECKING:
    from breakwright.bootstrap import answer as answer

__version__ = VERSION
__all__ = ["__version__", "answer"]


def __getattr__(name: str) -> Any:
    # Importing the package must stay light: the command line imports it before it knows
    # whether numpy will be needed at all.
    if name == "answer":
        from breakwright.bootstrap import answer

        return answer
    raise AttributeError(f"module 'breakwright' has no attribute {name!r}")
