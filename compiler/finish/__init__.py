"""Making a piece ready for the shears: allowances, corners, dart caps, notch strokes."""
