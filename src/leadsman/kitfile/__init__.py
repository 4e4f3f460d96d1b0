"""The kit file and the observations beside it, read and written."""
