"""A renderer of synthetic strips: rows of digits as a film shows them, each with its text."""
