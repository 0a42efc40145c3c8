"""From displays to readings: pure functions over what a display or a load cell said."""
