"""What is owned, as pure types: lures, lines, reels, rods, and setups made of them."""
