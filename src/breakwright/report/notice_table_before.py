"""Sentences for what is noticed before the first cut: parts, rig, scales. See ``notice_words``."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["BEFORE_NOTICES"]

BEFORE_NOTICES: Mapping[str, str | tuple[str, ...]] = MappingProxyType(
    {
        "no-parts": "The study describes no part: write the load path into [[part]] tables, one "
        "of them with tested = true.",
        "no-tested-part": "No part is marked as the piece under test: add tested = true to it.",
        "no-intended-mechanism": "{part:quote} can break in several ways, and none is marked as "
        "the one you ask about ('breaks'); the weakest, {taken}, is taken for it.",
        "no-strength-known": "Nothing says how strong the pieces are: mark a part with tested = "
        "true, or give a median or pilots under [expected].",
        "break-three-first": "How {groups} will hold is known to a factor of two only: "
        "{median_N:load}, nine of ten between {p5_N:load} and {p95_N:load}. Break three first and "
        "write them into own_tests.",
        "calibrated-on-own": "The foretelling for {groups} is calibrated on your {n:piece|pieces}.",
        "scatter-assumed": "Nothing says how much pieces of {groups} scatter; {cv:percent} is "
        "taken, as is usual for such joints.",
        "ratio-assumed": "How much stronger {groups} {groups:is|are} than the reference is not "
        "said; the smallest ratio worth knowing is taken, which makes it {median_N:load}.",
        "groups-taken-alike": "Nothing says how {groups} {groups:differs|differ} from the "
        "reference, so {groups:it is|they are} taken to be as strong. Give a ratio under "
        "[expected] if you expect one.",
        "part-weaker-than-piece": "{part:quote} may go before the piece: {mechanism} at about "
        "{median_N:load}, {margin} times what the strongest piece of {groups} can reach "
        "({strongest_piece_N:load}). Under 1.5 times is dangerous.",
        "part-margin-low": "{part:quote}: {mechanism} at about {median_N:load} is only {margin} "
        "times what the strongest piece of {groups} can reach ({strongest_piece_N:load}); 2.5 "
        "times is wanted.",
        "part-margin-uncertain": "{part:quote}: {mechanism} is at {margin} times the strongest "
        "piece in the middle, but a weak one of this part (1 in 20, {p5_N:load}) would go before "
        "it.",
        "part-order-of-magnitude": "When {part:quote} gives way ({mechanism}) is known to a factor "
        "of two only: test it beyond the strongest piece before you trust it.",
        "rated-part-overloaded": "{part:quote} is rated for {rated_N:load}, and the strongest "
        "piece of {groups} would put {on_one_N:load} on it. A maker's rating is not to be passed, "
        "however large the factor behind it.",
        "intended-not-first": "Pieces of {groups} break the way they should in "
        "{intended_chance:percent} of all pulls; {part:quote} ({mechanism}) comes first in "
        "{rival_chance:percent}.",
        "stroke-short": "The jack has {stroke_mm} mm of stroke, and the rig alone takes up "
        "{needed_mm} mm or more.",
        "energy-high": (
            "At {load_N:load} the rig holds {energy_J} J or more; a loose part of {mass_kg} kg "
            "could fly at {speed_m_s} m/s. Tie everything down, and stand behind a shield.",
            "At {load_N:load} the rig holds {energy_J} J or more, all let go at the break. Tie "
            "everything down, and stand behind a shield.",
        ),
        "deflection-partly-unknown": "How far {count:part gives|parts give} way is not known "
        "({parts}), so give and energy are at least what is shown.",
        "no-scale": "The study names no scale: describe it as [[instrument]] with its capacity.",
        "sharing-not-stated": "Nobody said whether the {count:scale shares|scales share} the load; "
        "{scale:quote} is taken to bear it alone. Give 'sharing' in study.toml.",
        "scale-too-small": (
            "{chance:percent} of the pieces of {groups} are stronger than the scales read for "
            "certain ({limit_N:load}): about {expected} of {pieces}. {first_out:quote?the scale} "
            "runs out first; {buy_N:load} would do for all but 1 in 100.",
            "{chance:percent} of the pieces of {groups} are stronger than the scales read for "
            "certain ({limit_N:load}).",
        ),
        "shares-assumed-equal": "Where the {count:scale stands|scales stand} is not said, so equal "
        "shares are taken: give scale_at_mm under [layout].",
        "shares-not-known": "{count:scale bears|scales bear} the load together, and statics alone "
        "does not say how it is shared; the widest possible range is taken.",
        "load-position-assumed": "Where the load comes on is not said; the middle, {at_mm} mm, is "
        "taken. Give load_at_mm under [layout].",
        "load-outside-supports": "The load may come on at {load_at_mm} mm give or take "
        "{wander_mm} mm, and the scales stand from {first_mm} to {last_mm} mm: outside them one "
        "scale lifts off.",
        "off-centre": "With the load at {load_at_mm} mm the scales read up to {limit_N:load} "
        "({first_out:quote?one} runs out first); at {best_at_mm} mm they would read up to "
        "{best_limit_N:load}.",
        "one-scale-doubled": "One scale read and doubled may be off by {error:percent}, as the "
        "load lies up to {off_centre_mm} mm from the middle: read both and add them.",
        "capacity-not-stated": "The capacity of {scale:quote} is not stated, so nobody can say "
        "when it runs out.",
        "tare-eats-range": "{tare_N:load} zeroed away on {scale:quote} leave {usable_N:load} of "
        "its {capacity_N:load}.",
        "missed-at-peak": "Between two numbers on the display the load may rise by "
        "{missed_N:load}, {share:percent} of what the weakest group holds. Load more slowly, or "
        "use a quicker display.",
        "unverified-range": "{scale:quote} was checked with known weights up to "
        "{verified_N:load}; {chance:percent} of the pieces of {groups} load it beyond that. Check "
        "it with a heavier weight.",
        "peak-may-be-missed": "How often {scales:quote?the display} shows a new number is not "
        "said, so nobody knows how much of a peak goes unseen: give refresh_s.",
        "coarse-display": "One step of the display is {step_N:load}, {share:percent} of what the "
        "weakest group holds.",
        "rig-factor-wide": "Levers, friction and checks leave every load open by {width:percent} "
        "to either side: no number of pieces makes that smaller.",
        "no-piece-fits": "No single change of the piece keeps it within what the scales read "
        "({limit_N:load}).",
    }
)
