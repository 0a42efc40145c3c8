"""The steps of the work before the first break, in their order."""

from dataclasses import dataclass

__all__ = ["STEPS", "Step"]


@dataclass(frozen=True, slots=True)
class Step:
    """``key`` is the last part of the step's address."""

    key: str
    title: str
    hint: str


STEPS = (
    Step("question", "Question and groups", "What you ask, and what you compare."),
    Step("scales", "Scales", "How far they reach, how finely they read, whether they tell true."),
    Step("rig", "Rig", "Every part from the bench to the jack: which one gives first?"),
    Step("numbers", "Number of pieces", "What you expect, what you wish, how many it takes."),
    Step("order", "Pieces and order", "Labels, and whose turn it is, drawn by lot."),
    Step("log", "Preparation log", "Coats, glue, curing: when each piece may be broken."),
    Step("measure", "Weigh and measure", "What the pieces are like before they break."),
    Step("print", "Print", "The bench sheet and labels for the pieces."),
)
