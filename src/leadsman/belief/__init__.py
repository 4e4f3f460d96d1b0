"""Beliefs over depth and cover, and rates of bites: types and pure arithmetic."""
