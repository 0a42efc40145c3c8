"""Honest statistics of few and capped readings, on arrays of closed intervals."""
