"""Break: the page at the rig, one piece at a time, and the page of one piece."""
