"""Synthetic films of displays on a bench, with the truth of every frame.

``python -m training.clips NAME --to FOLDER`` makes one of the catalogue's clips;
``training.clips.shoot.film`` makes one of any scene. Digits are drawn here by code of its own:
nothing is shared with what draws the strips that the network learns from, so that these clips are
an honest test of it.
"""
