"""Before the first cut: how many pieces, and in what order."""
