"""The pages: a second face over the same use cases. No computing here."""
