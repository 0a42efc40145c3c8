"""Sentences for what the statistics and the use case warn of. Fields: see ``notice_words``."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["ANSWER_NOTICES"]

ANSWER_NOTICES: Mapping[str, str | tuple[str, ...]] = MappingProxyType(
    {
        "few-pieces": (
            "{groups} {groups:has|have} only {n:piece|pieces}. Take at least 3 for any answer "
            "and 5 or more for a useful one; until then the limits are wide.",
            "{groups} {groups:has|have} few pieces. Take at least 3 for any answer and 5 or more "
            "for a useful one; until then the limits are wide.",
        ),
        "one-exact-reading": (
            "Only one of the {n:piece|pieces} of {groups} was read to the end. An estimate "
            "exists, but it hangs on that one reading.",
            "Only one piece of {groups} was read to the end. An estimate exists, but it hangs on "
            "that one reading.",
        ),
        "one-piece": "{groups} {groups:has|have} only one piece. One piece shows no scatter: test "
        "three at least, five if you can.",
        "two-pieces": "{groups} {groups:has|have} two pieces. That can be reckoned, but the "
        "limits are very wide: test three at least, five if you can.",
        "no-scatter": "All readings of {groups} are the same, because the display is coarse or "
        "because they were rounded, and its resolution is not stated. State the smallest step of "
        "the display; the readings then count as 'somewhere within the step'.",
        "all-capped": (
            "All {n:piece|pieces} of {groups} outlasted what could be read. They give a lower "
            "limit; nothing here says how strong they are.",
            "Every piece of {groups} outlasted what could be read. They give a lower limit; "
            "nothing here says how strong they are.",
        ),
        "hidden-ceiling": (
            "{count:reading|readings} of {groups} pile up within a hair of the same top value, "
            "{value_N:load}. That is almost certainly where the scale stops and not a strength. "
            "Here they are taken '{taken}'; the answer is given the other way as well. Find out, "
            "and mark them in the sheet.",
            "{count:reading|readings} of {groups} pile up within a hair of the same top value, "
            "{value_N:load}. That is almost certainly where the scale stops and not a strength. "
            "The answer is given with them taken either way.",
        ),
        "confounded-covariate": (
            "{one} and {other} differ in {covariate} as well (on average {group_mean} against "
            "{reference_mean}). Which of the two made the difference, these "
            "pieces cannot say. The ratio with {covariate} held equal is shown beside the plain "
            "one.",
            "{groups} {groups:differs|differ} in {covariate} as well. Which "
            "of the two made the difference, these pieces cannot say.",
        ),
        "confounded-block": "{one} and {other} share no block: each has boards, sheets or "
        "batches of its own. A difference between those looks just like one between groups. Cut "
        "some pieces of every group from every board next time.",
        "confounded-date": "{one} and {other} were tested on different days. A difference "
        "between days (moisture, cure, rig) looks just like one between groups. Test some of each "
        "group every day.",
        "covariate-differs": "{one} and {other} differ in {covariate} "
        "(p {p:p}). The ratio with {covariate} held equal is shown beside the plain one.",
        "wrong-way-independence": (
            "{count:piece|pieces} broke another way than the one that counts and {count:/is|are} "
            "taken as 'at least'. That holds only if the two ways of breaking have nothing to do "
            "with each other; the answer without them is shown too.",
        ),
        "no-worth-stated": "No smallest ratio worth knowing was stated, so 'stronger' here means "
        "'more than nothing'. Say how large a difference would matter to you, before testing.",
        "no-reference-stated": "No reference was stated, so the first group, "
        "{reference:quote?the first one}, is taken as the one to compare with.",
        "sessions-disagree": "The sessions do not tell the same story (p {p:p}). Look at each of "
        "them before believing the whole.",
        "sessions-agree": "The sessions tell the same story as far as these few pieces can show "
        "(p {p:p}).",
        "families-disagree": "Whether the difference is more than chance depends on the shape of "
        "scatter that is supposed (the ratio is {lowest} to {highest} with the three of them, and "
        "not all of their limits leave 1 out). More pieces would help.",
        "unequal-spread": "{wider:quote?One group} scatters {ratio} times as much as the other. "
        "The ratio is one of middle values; among the weakest pieces it is another.",
        "left-out": "{count:piece|pieces} {count:/was|were} left out, with the reason beside "
        "{count:/it|each}. Where there is a load, the answer with {count:/it|them} put back is "
        "shown.",
        "left-out-changes-verdict": "The verdict hangs on the pieces that were left out: put "
        "back, they change it. Say so wherever you show this result.",
        "wrong-way-changes-verdict": "The verdict hangs on how the pieces that broke another way "
        "are counted. See the table of other readings of the data.",
        "ceiling-changes-verdict": "The verdict hangs on whether the readings at the top are "
        "strengths or the end of the scale. Find out before you publish.",
        "several-groups": "{k:comparison|comparisons} with the reference were made. Each has "
        "wider limits for it, so that all of them together stay within the stated confidence.",
        "large-groups": (
            "The groups are so large ({n:piece|pieces} and more) that calibrating the interval "
            "by simulation changes nothing; the likelihood-ratio interval is given.",
            "The groups are so large that calibrating the interval by simulation changes "
            "nothing; the likelihood-ratio interval is given.",
        ),
        "order-not-recorded": "The order of testing is not recorded. If the rig, the scale or "
        "the weather drifted, nobody can tell.",
        "block-unbalanced": "{one} and {other} do not come from the same blocks in the same "
        "shares (p {p:p}). A difference between boards, sheets or batches may pass for one between "
        "groups. The ratio with the block held equal is shown beside the plain one.",
        "date-unbalanced": "{one} and {other} were not tested on the same days in the same shares "
        "(p {p:p}). A difference between days may pass for one between groups. The ratio with the "
        "day held equal is shown beside the plain one.",
        "order-confounded": "{one} and {other} were tested one after another. Whatever drifted "
        "in the meantime looks like a difference between them. Mix the order next time.",
        "poor-fit": (
            "The readings of {groups} do not lie along the {family} curve. The middle value is "
            "still sound; be careful with what is said about the weakest pieces.",
            "The readings of {groups} do not lie along the fitted curve. The middle value is "
            "still sound; be careful with what is said about the weakest pieces.",
        ),
        "interval-readings-logrank": "There are 'at most' readings, which the Kaplan-Meier curve "
        "and the log-rank test cannot take, so those are left out. The answer itself uses every "
        "reading.",
    }
)
