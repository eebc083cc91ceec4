"""The garment: which panels a style cuts, how its seams join them, and whether they make one garment."""
