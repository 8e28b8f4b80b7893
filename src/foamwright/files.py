"""Write files so that a crash never leaves half of one."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from foamwright.errors import FoamwrightError


def write_atomically(path: Path, content: bytes) -> None:
    """Write `content` beside `path` under another name, then move it into place.

    Parameters
    ----------
    path : Path
        Where it goes; its folder must exist.
    content : bytes
        The whole file.

    Raises
    ------
    FoamwrightError
        When the folder cannot be written to; the old file, if any, is untouched.
    """
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        temporary = Path(name)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            temporary.chmod(path.stat().st_mode if path.exists() else 0o644)
            temporary.replace(path)
        finally:
            temporary.unlink(missing_ok=True)
    except OSError as error:
        raise FoamwrightError(f"cannot write {path}: {error.strerror or error}") from error
