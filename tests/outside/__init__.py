"""Units that the shipped tables have never seen: a second model, and pressures printed for sound units.

Second model, same hands: other equations, written by the authors of the first. It tests physics that differ, not
the field.
"""
