"""The parts of `python -m service bench`: servers to compare, load, what the kernel says of them."""
