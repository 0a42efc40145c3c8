"""At the bench: what happened, what it comes to, and what a store must be able to do."""
