"""How charts look: colours for light and dark, sizes for a page, a phone and a video picture."""

from dataclasses import dataclass

__all__ = ["DARK", "LIGHT", "PAGE", "PHONE", "PICTURE", "Colours", "Size", "Theme"]


@dataclass(frozen=True, slots=True)
class Colours:
    """``palette`` colours the groups in turn; the others are for what all groups share."""

    name: str
    background: str
    ink: str
    muted: str
    grid: str
    band: str
    palette: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Size:
    """``width`` in px; ``height`` in px for the whole picture, None where the rows decide.

    ``text`` is the size of labels, ``small`` of tick labels, ``dot`` the radius of a reading,
    ``line`` the width of a curve, ``most`` how many readings of one group are drawn.
    """

    name: str
    width: int
    height: int | None
    text: int
    small: int
    title: int
    dot: float
    line: float
    most: int


@dataclass(frozen=True, slots=True)
class Theme:
    colours: Colours
    size: Size

    def colour(self, index: int) -> str:
        return self.colours.palette[index % len(self.colours.palette)]


# The eight colours that stay apart for colour-blind eyes: Okabe and Ito, Color Universal Design
# (2002); hexadecimal values from memory. Light and dark use those that stand out on each ground.
LIGHT = Colours(
    name="light",
    background="#fffefb",
    ink="#1d1f21",
    muted="#5c6166",
    grid="#dddcd6",
    band="#ecebe4",
    palette=("#0072b2", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#56b4e8"),
)
DARK = Colours(
    name="dark",
    background="#15181b",
    ink="#f0efeb",
    muted="#a9aeb3",
    grid="#34393e",
    band="#23282d",
    palette=("#56b4e9", "#e69f01", "#00b285", "#d68fb8", "#f0e442", "#f07a2a"),
)

PAGE = Size("page", 640, None, text=15, small=14, title=0, dot=5.0, line=2.5, most=400)
PHONE = Size("phone", 340, None, text=13, small=12, title=0, dot=4.0, line=2.0, most=250)
PICTURE = Size("picture", 960, 540, text=22, small=20, title=30, dot=7.0, line=4.0, most=800)
