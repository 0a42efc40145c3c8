"""Films in: frames with their own times, sound, the network that reads digits."""
