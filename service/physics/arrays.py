"""The array type of the numerical parts."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
"""An array of 64-bit floats; shape and unit stand where it is used."""
