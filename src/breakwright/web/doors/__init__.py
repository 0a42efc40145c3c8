"""The doors: who may come in, by which name, from which page, with how much in hand."""
