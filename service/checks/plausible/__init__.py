"""Readings that cannot be, or cannot all be true."""
