"""The demo study, as data: invented readings of pegs pulled out of a coat rail."""
