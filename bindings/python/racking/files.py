"""Files that appear whole or not at all."""
from __future__ import annotations

import contextlib
import os
import tempfile
from typing import IO, Iterator, Union

__all__ = ["written_whole"]


@contextlib.contextmanager
def written_whole(path: Union[str, os.PathLike[str]]) -> Iterator[IO[bytes]]:
    """A file to write, moved to its place if nothing fails. A pipe or device is written as it
    comes."""
    name = os.fspath(path)
    if os.path.exists(name) and not os.path.isfile(name):
        with open(name, "wb") as file:
            yield file
        return
    target = os.path.realpath(name)
    descriptor, temporary = tempfile.mkstemp(
        prefix=os.path.basename(target) + ".", dir=os.path.dirname(target))
    try:
        with os.fdopen(descriptor, "wb") as file:
            yield file
        os.chmod(temporary, mode_of(target))
        os.replace(temporary, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise


def mode_of(path: str) -> int:
    """That of the file it replaces, else what the umask leaves of a new one."""
    try:
        return os.stat(path).st_mode & 0o7777
    except OSError:
        umask = os.umask(0o077)
        os.umask(umask)
        return 0o666 & ~umask
