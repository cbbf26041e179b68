"""Makes names last: what was made, renamed or removed in a folder survives a power cut."""

from __future__ import annotations

import errno
import os
from pathlib import Path

# What a file system answers that cannot be asked for it: sticks, some network folders.
CANNOT = (errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EMLINK, errno.ENOSYS, errno.EINVAL)


def keep_names(folder: Path) -> None:
    """Writes the folder's names out, where the system lets a folder be opened for that.

    Raises `OSError` where the disk fails.
    """
    directory = getattr(os, "O_DIRECTORY", None)
    if directory is None:
        return
    descriptor = os.open(folder, os.O_RDONLY | directory)
    try:
        os.fsync(descriptor)
    except OSError as error:
        if error.errno not in CANNOT:
            raise
    finally:
        os.close(descriptor)
