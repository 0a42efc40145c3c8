"""The Answer page: what is known so far, what is being computed, and what can be taken home."""
