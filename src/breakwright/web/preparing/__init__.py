"""Prepare: everything before the first break, step by step, in the order of the work."""
