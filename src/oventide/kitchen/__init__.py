"""The place: room, fridge, oven, mixer, bench, tin, scale, altitude, and how well each is known."""
