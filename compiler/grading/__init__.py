"""A piece over a run of sizes: how its sizes are laid on one another, which corners are the same, how each grows."""
