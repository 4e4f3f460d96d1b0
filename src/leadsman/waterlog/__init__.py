"""The log of the day and what it says."""
