"""The air side."""
