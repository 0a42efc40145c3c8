"""The one place where the rooms are wired together: everything that the outside calls is here."""

from breakwright.bootstrap.sheets import *  # noqa: F403
from breakwright.bootstrap.sheets import __all__ as _sheets

__all__ = list(_sheets)
