"""What stands on every result, whatever it says."""

__all__ = ["NOTHING_REPLACES_THE_RULES", "NOT_A_RATING", "OBEY_THE_RULES"]

NOT_A_RATING = "Not a rating for lifting people or loads overhead."
OBEY_THE_RULES = (
    "Where a building code, a local rule or licensed practice asks for a tested or engineered "
    "part, this comparison does not take its place."
)
NOTHING_REPLACES_THE_RULES = (
    "Where a building code, a local rule or licensed practice asks for a tested or engineered "
    "part, nothing that is foretold here takes its place."
)
