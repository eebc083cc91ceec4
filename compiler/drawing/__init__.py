"""Pattern -> sheets: neutral strokes and texts in millimetres on named layers, for any writer to put on paper."""
