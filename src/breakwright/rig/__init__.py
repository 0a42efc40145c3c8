"""The rig: its parts and their load path, the weakest link, the scales."""
