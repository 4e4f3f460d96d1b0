"""Beliefs over depth and cover, and how much of an edge is covered: shared by plan and log."""
