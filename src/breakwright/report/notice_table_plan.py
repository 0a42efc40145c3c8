"""Sentences for what is noticed while pieces are counted and ordered. See ``notice_words``."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["PLAN_NOTICES"]

PLAN_NOTICES: Mapping[str, str | tuple[str, ...]] = MappingProxyType(
    {
        "plan-one-group": "There is only one group, {groups}, so nothing can be compared and no "
        "number of pieces follows; an order is drawn all the same.",
        "plan-cannot-with-this-scale": (
            "With the scale at hand no number of pieces up to 40 does what was wished for "
            "{groups} ({what} {wish}); {without_limit} would do with a scale that does not run "
            "out. {capped:percent} of {groups} are beyond {capacity:load}.",
            "With the scale at hand no number of pieces up to 40 does what was wished for "
            "{groups} ({what} {wish}): {capped:percent} of them are out of range.",
            "With the scale at hand no number of pieces up to 40 does what was wished for "
            "{groups}.",
        ),
        "plan-beyond-table": (
            "More than 40 pieces a group would be needed for {groups} ({what} {wish} at a ratio "
            "of {ratio}); 40 give {best}.",
            "More than 40 pieces a group would be needed for {groups}.",
        ),
        "plan-too-few-pieces": (
            "The {own} pieces a group that you have in mind are too few for {groups} "
            "({what} {wish}): {needed} are needed; yours give a chance of {chance:percent}.",
            "The {own} pieces a group that you have in mind are too few for {groups}: {needed} "
            "are needed.",
        ),
        "plan-scale-costs": "Pieces out of range cost something with {pieces:piece|pieces} a "
        "group: the chance for {groups} falls from {chance_without_limit:percent} to "
        "{chance:percent}.",
        "plan-pilots-first": "Break {more:pilot|pilots} first and plan anew from them: the number "
        "of pieces hangs on a scatter or a load that nobody knows well yet.",
        "plan-ratio-assumed": "Neither a ratio worth knowing nor an expected one is stated for "
        "{groups}; {used} is taken.",
        "plan-ratio-of-one": "{groups} {groups:is|are} expected to be exactly as strong as the "
        "reference: no number of pieces shows a difference that is not there.",
        "plan-no-median": "How strong the reference is, nobody said, so no piece is taken to be "
        "out of range ({capacity:load}): the plan may be too hopeful.",
        "plan-scatter-from-pilots": (
            "The scatter, {cv:percent}, comes from {pilots:pilot|pilots} and may be as large as "
            "{cv_upper:percent}: then {pieces_upper} pieces a group are needed, not {pieces}.",
            "The scatter, {cv:percent}, comes from {pilots:pilot|pilots}.",
        ),
        "plan-error-shared": "{comparisons} groups are compared with one reference, so each may "
        "err only {error:percent} of the time, which takes more pieces.",
        "plan-separate-peaks": "Peaks of several scales that were not read at the same moment tell "
        "only an upper limit of their sum; the plan supposes that they are read together.",
        "plan-coarse-display": "One step of the display, {step:load}, is not small beside the "
        "scatter, {scatter:load}; the plan takes readings as exact.",
        "plan-order-for": "No number of pieces was found, so the order is drawn for "
        "{pieces:piece|pieces} a group.",
        "plan-unused": "{parts} {what} for {pieces:piece|pieces} a group: some go unused.",
        "plan-uneven": "{pieces:piece|pieces} a group do not spread evenly over {parts} {what}; a "
        "multiple of {parts} would.",
        "plan-pilots-alike": "The {pilots:pilot is|pilots are} all alike, so they show no scatter; "
        "a usual one is taken.",
        "plan-scatter-disagrees": "The scatter you gave, {given:percent}, does not agree with the "
        "{found:percent} that {pilots:pilot shows|pilots show}; yours is used.",
        "plan-scatter-too-small": "The prediction's scatter, {predicted:percent}, is smaller than "
        "such pieces ever show, so {used:percent} is taken.",
        "plan-scatter-assumed": "Nothing says how much the pieces scatter; {used:percent} is "
        "taken, as is usual for such joints.",
        "plan-wrong-way-from-rig": "{share:percent} of the pieces are supposed to break another "
        "way, as the check of the rig says.",
        "plan-scales-unclear": "Several scales are named and nobody said how they share the load, "
        "so no limit is taken: give 'sharing' in study.toml.",
    }
)
