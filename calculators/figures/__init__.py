"""What formulas draw, a module for each kind of shape. Sizes are in any one unit of length."""
