"""What to tie on, where to hold the boat, which way to cast, in which order."""
