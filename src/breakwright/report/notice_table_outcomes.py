"""Sentences for what is noticed while trials become outcomes. Fields: see ``notice_words``."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["OUTCOME_NOTICES"]

OUTCOME_NOTICES: Mapping[str, str | tuple[str, ...]] = MappingProxyType(
    {
        "failure-modes-mixed": "The pieces broke in different ways ({modes}), and the study does "
        "not say which one counts. Strengths of different breaks are mixed here: say which way "
        "counts.",
        "failure-not-stated": (
            "{count:piece|pieces} {count:/does|do} not say how {count:/it|they} broke, and "
            "{count:/is|are} taken to have broken the way that counts ({counts}).",
            "{count:piece|pieces} {count:/does|do} not say how {count:/it|they} broke, and "
            "{count:/is|are} taken to have broken the way that counts.",
        ),
        "counted-mode-never-seen": "No piece broke the way that counts ({counts}); seen were "
        "{modes}. Check the spelling: as it stands, every piece only held 'at least' its load.",
        "sharing-not-stated": "{count:piece|pieces} had the load shared by more than one display, "
        "and the study does not say whether they were read at the same moment. Peaks of "
        "different moments must not be added up, so the load is known only between the larger "
        "peak and the sum.",
        "display-missing": "{count:piece|pieces} {count:/lacks|lack} the reading of one of the "
        "{displays} displays that shared the load. What the others show is only 'at least'.",
        "together-above-peaks": "{pieces}: the sum noted for one moment is more than all the "
        "peaks put together, which cannot be. Check the readings.",
        "nothing-learned": "{pieces}: nothing was learned, because the reading leaves every load "
        "possible. Say why it is void, or correct it.",
        "instrument-unclear": (
            "{count:piece|pieces} {count:/names|name} an instrument that the study does not "
            "know ({named}; known: {known}). Its capacity and resolution are taken as not stated.",
            "{count:piece|pieces} {count:/does|do} not say which instrument was read (known: "
            "{known}). Its capacity and resolution are taken as not stated.",
        ),
        "no-limit-stated": "The capacity of {instruments:quote?the scale} is not stated. State "
        "it: then nobody has to guess how often other pieces would have outlasted the scale.",
        "reading-above-capacity": (
            "{pieces}: up to {largest:load} read on {instrument:quote?the scale}, which by its "
            "stated capacity can show {usable:load} at most. Check the capacity and the readings.",
            "{pieces}: read above the stated capacity of the scale. Check the capacity and the "
            "readings.",
        ),
        "reading-at-capacity": (
            "{pieces}: read at the end of {instrument:quote?the scale} ({usable:load}), so taken "
            "as 'at least'.",
        ),
        "never-checked": (
            "{instruments:quote?The scale} was never checked with known weights. A scale that "
            "reads a tenth too high makes every load a tenth too high; ratios suffer less.",
            "{instrument:quote?The scale} was never checked with known weights. A scale that "
            "reads a tenth too high makes every load a tenth too high; ratios suffer less.",
            "{scale:quote?The scale} was never checked with known weights. A scale that reads a "
            "tenth too high makes every load a tenth too high; ratios suffer less.",
        ),
        "unverified-above": (
            "{instrument:quote?The scale} was checked with known weights up to "
            "{verified_up_to:load}, and up to {largest:load} was read on it. What lies above the "
            "check is unverified.",
            "The scale was checked with known weights up to {value_N:load}. Every load above "
            "that is unverified.",
        ),
        "calibration-wide": (
            "The checks leave {instrument:quote?the scale} free to be wrong by a factor from "
            "{smallest} to {largest}, which widens every reading. Without the check at "
            "{coarsest_weight:load}, the coarsest, it would be {smallest_without} to "
            "{largest_without}. Check with heavier weights.",
            "The checks leave {instrument:quote?the scale} free to be wrong by a factor from "
            "{smallest} to {largest}, which widens every reading. Check with heavier weights.",
        ),
        "missed-between-refreshes": (
            "Between two values of the display the load can rise by up to {most:load}, as much "
            "as {largest_share:percent} of a reading. The readings are widened upward by that "
            "much. Pull more slowly, or use a faster display.",
            "Between two values of the display the load can rise by up to {missed_N:load}. The "
            "readings are widened upward by that much. Pull more slowly, or use a faster display.",
        ),
        "refresh-without-rate": (
            "The display shows a new value only every {refresh_s} s, but the loading speed is "
            "not stated, so what it may have missed cannot be reckoned.",
            "The display shows a new value only now and then, but the loading speed is not "
            "stated, so what it may have missed cannot be reckoned.",
        ),
    }
)
