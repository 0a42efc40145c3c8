"""Predicted breaking loads: one function an equation, one file a mechanism, sources named."""
