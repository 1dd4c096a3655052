"""A small steady-state model of the vapour-compression cycle, solved for many systems at once.

Used offline to simulate populations and for one-off solves.
"""
