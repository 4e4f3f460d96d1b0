"""From rated depths and observations to the numbers of a lure, with their uncertainty."""
