"""From soundings, contours or grids to the bottom and what grows on it."""
