"""Pictures, cards and files for other programs."""
