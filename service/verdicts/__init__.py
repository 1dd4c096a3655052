"""The kit that every check, procedure and the reasoning build a verdict with."""
