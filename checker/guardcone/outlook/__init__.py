"""What a firing means to people: cones, clock, bands and advice, from a plan."""
