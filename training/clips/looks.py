"""The displays' looks, by name: three kinds of liquid crystal, four of glowing ones."""

from training.clips.face import Look
from training.clips.glass import Glass
from training.clips.glyphs import Variants
from training.clips.shapes import Manner

__all__ = ["GLASS", "LOOKS"]

LOOKS = {
    "grey": Look(),
    "green": Look(
        ink=(30, 50, 34),
        ground=(96, 190, 150),
        housing=(150, 148, 140),
        manner=Manner.POINTED,
        thick=0.12,
        slant=0.12,
        variants=Variants(seven_hook=True),
    ),
    "blue-back": Look(
        ink=(250, 236, 214),
        ground=(190, 92, 30),
        housing=(40, 42, 46),
        manner=Manner.MITRED,
        thick=0.14,
        slant=0.0,
        dead=0.02,
        variants=Variants(six_tail=False, nine_tail=False),
    ),
    "pale": Look(
        ink=(96, 104, 98),
        ground=(176, 186, 180),
        housing=(206, 204, 198),
        manner=Manner.BLUNT,
        thick=0.11,
        gap=0.03,
        slant=0.05,
        dead=0.06,
    ),
    "red": Look(
        ink=(60, 50, 255),
        ground=(22, 12, 30),
        housing=(36, 34, 34),
        glows=True,
        manner=Manner.POINTED,
        thick=0.12,
        gap=0.025,
        slant=0.15,
        dead=0.05,
        icons=False,
    ),
    "green-lamp": Look(
        ink=(90, 250, 70),
        ground=(16, 26, 14),
        housing=(70, 66, 60),
        glows=True,
        manner=Manner.ROUND,
        thick=0.13,
        gap=0.02,
        slant=0.1,
        dead=0.03,
        icons=False,
    ),
    "blue-lamp": Look(
        ink=(255, 130, 40),
        ground=(34, 16, 10),
        housing=(50, 46, 44),
        glows=True,
        manner=Manner.BLUNT,
        thick=0.12,
        gap=0.025,
        slant=0.06,
        dead=0.04,
        icons=False,
    ),
}

GLASS = {
    "quick": Glass(),
    "slow": Glass(rise=0.035, fall=0.09),
    "piecemeal": Glass(rise=0.01, fall=0.02, cascade=0.03),
    "lamp": Glass(rise=0.0, fall=0.0),
    "in-turns": Glass(rise=0.0, fall=0.0, cycle=0.0101),
}
