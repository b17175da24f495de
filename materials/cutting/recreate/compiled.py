"""Compile the inner loops, where that can be done: numba's machine code, kept on disk between runs."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar, cast

FunctionT = TypeVar("FunctionT", bound=Callable[..., object])


def compiled(function: FunctionT) -> FunctionT:
    """The function in machine code, which lets go of the interpreter lock while it runs.

    Compiled on the first call and kept beside the source, in the user's cache or, where neither can be
    written, in the temporary folder.
    """
    import numba  # slow import, and only wanted once there is a first plan

    numba.config.CACHE_DIR = numba.config.CACHE_DIR or _fallback_folder()
    return cast(FunctionT, numba.njit(cache=True, nogil=True, error_model="numpy")(function))


def woven_in(function: FunctionT) -> FunctionT:
    """A small function whose text is put into those that call it, which spares compiling it by itself."""
    import numba  # slow import, as above

    return cast(FunctionT, numba.njit(inline="always", nogil=True, error_model="numpy")(function))


def _fallback_folder() -> str:
    """Where to keep machine code if neither the source folder nor the user's cache can be written."""
    if os.access(Path(__file__).parent, os.W_OK) or os.access(Path.home(), os.W_OK):
        return ""
    return str(Path(tempfile.gettempdir()) / f"kerfbook-compiled-{os.getuid()}")
