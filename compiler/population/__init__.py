"""What is counted of many bodies, as whole numbers: sums of chunks are then the same in any order and any parts."""
