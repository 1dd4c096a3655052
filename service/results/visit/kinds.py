"""Kinds of unit, as data/kinds has them; written by `python -m service spec`, not by hand."""

KINDS = (
    "split_air_conditioner",
    "split_heat_pump",
    "packaged_air_conditioner",
    "packaged_heat_pump",
    "ductless_split",
    "multi_split",
    "single_package_vertical_air_conditioner",
    "single_package_vertical_heat_pump",
    "packaged_terminal_air_conditioner",
    "packaged_terminal_heat_pump",
    "room_air_conditioner",
    "room_air_conditioner_reverse_cycle",
)
