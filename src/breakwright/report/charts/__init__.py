"""Charts of an answer, one file a chart. Each returns a ``Figure``: a Vega-Lite spec and words."""
