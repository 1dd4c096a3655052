"""Kinds of unit, as data/kinds has them; written by `python -m service spec`, not by hand."""

KINDS = (
    "split_air_conditioner",
    "split_heat_pump",
    "packaged_air_conditioner",
    "packaged_heat_pump",
    "ductless_split",
    "multi_split",
)
