"""Write arrays to an archive that is the same, byte for byte, every time."""

import io
import zipfile
from pathlib import Path

import numpy as np

FIRST_DATE = (1980, 1, 1, 0, 0, 0)
# Arrays of symmetric matrices (.., n, n) are kept as their lower triangles.
SYMMETRIC = ("covariances", "baseline_covariances")
SIGNIFICANT_BITS = 18


def write_archive(path: Path, arrays: dict[str, np.ndarray]) -> int:
    """Write arrays as single precision to an uncompressed ``.npz`` without dates; returns its size in bytes."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name in sorted(arrays):
            content = io.BytesIO()
            np.lib.format.write_array(content, _packed(name, arrays[name]), version=(1, 0), allow_pickle=False)
            entry = zipfile.ZipInfo(f"{name}.npy", FIRST_DATE)
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, content.getvalue(), zipfile.ZIP_DEFLATED, 9)
    return path.stat().st_size


def _packed(name: str, values: np.ndarray) -> np.ndarray:
    if values.dtype.kind == "U":
        return values
    if name.rsplit("/", maxsplit=1)[-1] in SYMMETRIC:
        rows, columns = np.tril_indices(values.shape[-1])
        values = values[..., rows, columns]
    return _rounded(values)


def _rounded(values: np.ndarray) -> np.ndarray:
    # Dropping the bits below the sampling noise compresses the file and hides rounding between machines.
    mantissa, exponent = np.frexp(values)
    scale = float(2**SIGNIFICANT_BITS)
    return np.asarray(np.ldexp(np.round(mantissa * scale) / scale, exponent), dtype=np.float32)
