"""What is timed or simulated at length: run by ``make bench`` and ``make bench-coverage``."""
