"""Files that are wholly old or wholly new, whatever stops the saving half way.

A save goes into a temporary file in the same folder, is forced to the disk, and only then takes
the old file's place in one step. A failure raises :class:`SaveError`, in words that say what to
do. A kill leaves at most one temporary file, which :func:`remove_leftovers` finds at the next
start: its name tells the computer and the process that wrote it.

A symbolic link stays, and the file that it leads to is replaced. A hard link to the old file keeps
the old text, because the new text is a new file.
"""

from __future__ import annotations

import hashlib
import os
import platform
import re
import secrets
import stat
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from workbench.file_reasons import RefusedError, kind_of, shown, why_not_read, why_not_saved
from workbench.words import tr

if sys.platform == "win32":
    import ctypes
else:
    import fcntl

_DAY = 24 * 3600.0
# Bounded, so that a name as long as the disk allows still has room for the temporary name.
_NAME_KEPT = 40
_TEMPORARY = re.compile(
    rf"\..{{1,{_NAME_KEPT}}}\.(?P<host>[0-9a-f]{{8}})-(?P<pid>[0-9]{{1,10}})\.[0-9a-f]{{12}}\.part",
    re.DOTALL,
)
_NOT_ON_WINDOWS = re.compile(
    r'[<>:"|?*\x00-\x1f]|[. ]$|^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]) *(\.|$)', re.IGNORECASE
)
# What a file system answers that has no such call: there is nothing to wait for, or to keep.
_NO_SYNC = {"EINVAL", "ENOTSUP", "EOPNOTSUPP", "ENOSYS", "ENOTTY"}
_NO_MODES = {"EPERM", "ENOTSUP", "EOPNOTSUPP", "ENOSYS"}
# A folder, besides, may be open to those only who may list it.
_NO_FOLDER_SYNC = _NO_SYNC | {"EBADF", "EACCES", "EPERM"}


class FileError(Exception):
    """A file could not be saved or read.

    ``message`` names the file and the reason, ``remedy`` says what to do; both are for the user.
    """

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message, remedy)
        self.message = message
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.message} {self.remedy}"


class SaveError(FileError):
    """A file could not be saved; the old one is untouched, unless ``written`` is true.

    ``written`` is true when the new file is wholly in place but the disk did not confirm it, so
    that a power cut could still bring the old one back.
    """

    written = False


class ReadError(FileError):
    """A file could not be read."""


def digest(data: bytes) -> str:
    """Return the SHA-256 of ``data`` in hexadecimal: the same text means the same content."""
    return hashlib.sha256(data).hexdigest()


def write_atomic(path: Path, data: bytes) -> None:
    """Make ``data`` the content of ``path``, in one step and for good.

    The mode bits of a file that is replaced are kept. Raises :class:`SaveError`.
    """
    _save(path, data, mode=None)


def read_bytes(path: Path, limit: int) -> bytes:
    """Return the content of ``path``, at most ``limit`` bytes. Raises :class:`ReadError`."""
    try:
        # Looked at first: the opening of a pipe would wait for ever.
        _must_be_a_file(path.stat())
        with path.open("rb") as file:
            data = file.read(limit + 1)
    except (OSError, ValueError) as error:
        reason, remedy = why_not_read(error)
        raise ReadError(
            tr("“{name}” could not be read: {reason}.", name=shown(path.name), reason=reason),
            remedy,
        ) from error
    if len(data) > limit:
        raise ReadError(
            tr("“{name}” could not be read: it is too large.", name=shown(path.name)),
            tr("At most {limit} bytes are read. Is it the right file?", limit=f"{limit:,}"),
        )
    return data


def keep_backup(path: Path) -> Path | None:
    """Copy the present file to the same name with ``.bak`` added; return that path.

    Returns None if there is no file yet. Raises :class:`SaveError`; then an older backup is
    untouched, and so is ``path``.
    """
    try:
        present = path.stat()
        _must_be_a_file(present)
        data = path.read_bytes()
    except FileNotFoundError:
        return None
    except (OSError, ValueError) as error:
        reason, remedy = why_not_read(error)
        raise SaveError(
            tr(
                "No backup of “{name}” could be made: {reason}.",
                name=shown(path.name),
                reason=reason,
            ),
            remedy,
        ) from error
    backup = path.with_name(path.name + ".bak")
    _save(backup, data, stat.S_IMODE(present.st_mode))
    return backup


def remove_leftovers(folder: Path) -> list[Path]:
    """Delete what killed saves left in ``folder``; return what was deleted.

    Only temporary files of this module's naming, and of these only such as belong to a process of
    this computer that has ended, or have not been touched for a day. What cannot be deleted stays.
    """
    removed = []
    with suppress(OSError, ValueError), os.scandir(folder) as entries:
        for entry in entries:
            name = _TEMPORARY.fullmatch(entry.name)
            if name is None:
                continue
            with suppress(OSError):
                info = entry.stat(follow_symlinks=False)
                ended = name["host"] == _host() and not _alive(int(name["pid"]))
                if stat.S_ISREG(info.st_mode) and (ended or time.time() - info.st_mtime > _DAY):
                    Path(entry.path).unlink()
                    removed.append(Path(entry.path))
    return removed


def _save(path: Path, data: bytes, mode: int | None) -> None:
    """Save, with ``mode`` or else that of the present file or else the usual one."""
    try:
        if sys.platform == "win32" and not _allowed_on_windows(path.name):
            raise RefusedError("EINVAL")
        target, present = _look(path)
        if present is not None:
            _must_be_writable(target, present)
            mode = stat.S_IMODE(present.st_mode) if mode is None else mode
        temporary = _write_beside(target, data, mode, present)
        try:
            _replace(temporary, target)
        except BaseException:
            _remove(temporary)
            raise
    except (OSError, ValueError) as error:
        reason, remedy = why_not_saved(error, path.parent)
        raise SaveError(
            tr("“{name}” could not be saved: {reason}.", name=shown(path.name), reason=reason),
            remedy,
        ) from error
    try:
        _folder_to_disk(target.parent)
    except OSError as error:
        reason, remedy = why_not_saved(error, path.parent)
        unconfirmed = SaveError(
            tr(
                "“{name}” is saved, but not for certain: {reason}.",
                name=shown(path.name),
                reason=reason,
            ),
            remedy,
        )
        unconfirmed.written = True
        raise unconfirmed from error


def _look(path: Path) -> tuple[Path, os.stat_result | None]:
    """Return the path behind any symbolic link, and what is there now."""
    try:
        is_link = stat.S_ISLNK(path.lstat().st_mode)
    except FileNotFoundError:
        return path, None
    target = Path(os.path.realpath(path)) if is_link else path
    try:
        return target, target.stat()
    except FileNotFoundError:
        return target, None  # a link to nothing yet


def _must_be_a_file(present: os.stat_result) -> None:
    if not stat.S_ISREG(present.st_mode):
        raise RefusedError("EISDIR" if stat.S_ISDIR(present.st_mode) else "no file")


def _must_be_writable(target: Path, present: os.stat_result) -> None:
    """Raise OSError if the file itself may not be changed.

    To replace it takes no more than permission in the folder, but who marks an old quote read only
    means the quote. Mode bits are looked at too, because an administrator may open everything.
    """
    _must_be_a_file(present)
    if not present.st_mode & 0o222:
        raise RefusedError("read only")
    with _denied_means_open_elsewhere():
        os.close(os.open(target, os.O_WRONLY))


def _write_beside(
    target: Path, data: bytes, mode: int | None, present: os.stat_result | None
) -> Path:
    """Write ``data`` to a temporary file beside ``target``, on the disk for good; return it."""
    unique = f"{_host()}-{os.getpid()}.{secrets.token_hex(6)}"
    temporary = target.with_name(f".{target.name[:_NAME_KEPT]}.{unique}.part")
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    descriptor = os.open(temporary, flags, 0o666 if mode is None else mode)
    try:
        try:
            if mode is not None:
                _keep_access(descriptor, mode, present)
            _write_all(descriptor, data)
            _to_disk(descriptor)
        finally:
            os.close(descriptor)  # some shares report only now that there was no room
    except BaseException:
        _remove(temporary)
        raise
    return temporary


def _keep_access(descriptor: int, mode: int, present: os.stat_result | None) -> None:
    """Give the new file the mode bits, and where possible the group, of the one it replaces."""
    if sys.platform != "win32":
        now = os.fstat(descriptor)
        if present is not None and present.st_gid != now.st_gid:
            with suppress(OSError):  # not a member of that group: the owner's own has to do
                os.fchown(descriptor, -1, present.st_gid)
        if stat.S_IMODE(now.st_mode) != mode:
            with _unless(_NO_MODES):
                os.fchmod(descriptor, mode)


def _write_all(descriptor: int, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        count = os.write(descriptor, rest)
        if count == 0:
            raise RefusedError("EIO")  # or it would go round for ever
        rest = rest[count:]


def _to_disk(descriptor: int) -> None:
    """Wait until what was written is on the disk, not only on its way."""
    if sys.platform != "win32" and hasattr(fcntl, "F_FULLFSYNC"):
        # On macOS fsync leaves the data in the drive's own memory; only this call empties it.
        with _unless(_NO_SYNC):
            fcntl.fcntl(descriptor, fcntl.F_FULLFSYNC)
            return
    with _unless(_NO_SYNC):
        os.fsync(descriptor)


def _folder_to_disk(folder: Path) -> None:
    """Wait until the file's new name is on the disk too, where the system knows such a call."""
    if sys.platform != "win32":
        with _unless(_NO_FOLDER_SYNC):
            descriptor = os.open(folder, os.O_RDONLY)
            try:
                _to_disk(descriptor)
            finally:
                os.close(descriptor)


def _replace(temporary: Path, target: Path) -> None:
    if sys.platform == "win32":
        # A virus scanner or a synchronised folder holds a fresh file for a moment.
        for pause in (0.05, 0.1, 0.2, 0.4):
            with suppress(PermissionError):
                temporary.replace(target)
                return
            time.sleep(pause)
    with _denied_means_open_elsewhere():
        temporary.replace(target)


def _remove(temporary: Path) -> None:
    with suppress(OSError):  # the next start will find it
        temporary.unlink()


@contextmanager
def _unless(kinds: set[str]) -> Iterator[None]:
    """Pass over the errors of these kinds; raise all others."""
    try:
        yield
    except OSError as error:
        if kind_of(error) not in kinds:
            raise


@contextmanager
def _denied_means_open_elsewhere() -> Iterator[None]:
    """Say what Windows means when it denies access to a file that is not marked read only."""
    try:
        yield
    except PermissionError as error:
        if sys.platform != "win32":
            raise
        raise RefusedError("EBUSY") from error


def _host() -> str:
    """Return a short mark of this computer that does not tell its name."""
    return digest(platform.node().encode("utf-8", "replace"))[:8]


def _alive(pid: int) -> bool:
    """Tell whether a process of this computer still runs."""
    if sys.platform == "win32":
        kernel = ctypes.WinDLL("kernel32", use_last_error=True)
        handle = kernel.OpenProcess(0x100000, 0, pid)  # with the right to wait for its end
        if not handle:
            return ctypes.get_last_error() == 5  # it is there, but not ours
        try:
            return bool(kernel.WaitForSingleObject(handle, 0) == 0x102)  # not ended yet
        finally:
            kernel.CloseHandle(handle)
    else:
        try:
            os.kill(pid, 0)
        except OSError as error:
            return not isinstance(error, ProcessLookupError)  # it may be somebody else's
        except OverflowError:
            return False
        return True


def _allowed_on_windows(name: str) -> bool:
    return _NOT_ON_WINDOWS.search(name) is None
