"""What a system's error means for a person's file: the plain reason, and what to do.

Reasons go on from "could not be saved:", in lower case and without a full stop.
"""

from __future__ import annotations

import errno

from workbench.words import tr

_SHARE_SILENT = {"ETIMEDOUT", "ESTALE", "ENOTCONN", "ECONNRESET", "EHOSTDOWN", "EHOSTUNREACH"}
# Windows' own numbers, where Python's translation of them to an errno tells less.
_WINDOWS_KINDS = {19: "EROFS", 32: "EBUSY", 33: "EBUSY", 39: "ENOSPC", 112: "ENOSPC"}
_WINDOWS_KINDS |= {53: "ETIMEDOUT", 59: "ETIMEDOUT", 64: "ETIMEDOUT"}
_WINDOWS_KINDS |= {123: "EINVAL", 206: "ENAMETOOLONG"}


class RefusedError(OSError):
    """What the program itself refuses; ``kind`` is the name of an errno or a word of our own."""

    def __init__(self, kind: str) -> None:
        super().__init__(kind)
        self.kind = kind


def shown(name: object) -> str:
    """Return a name without what a terminal would obey, or could not write."""
    return "".join(c if c.isprintable() else "·" for c in str(name))


def kind_of(error: Exception) -> str:
    """Return the errno's name, the same on every system, or our own word for the reason."""
    if isinstance(error, RefusedError):
        return error.kind
    if not isinstance(error, OSError):
        return "EINVAL"  # Python itself does not pass such a name on
    windows = _WINDOWS_KINDS.get(getattr(error, "winerror", None) or 0)
    return windows or errno.errorcode.get(error.errno or 0, "").removeprefix("WSA")


def why_not_saved(error: Exception, folder: object) -> tuple[str, str]:
    """Return the plain reason why a file could not be saved, and what to do."""
    elsewhere = tr("Save it in another folder or on another disk.")
    match kind_of(error):
        case "ENOSPC" | "EDQUOT":
            return tr("the disk is full"), tr("Make room on it, or save on another disk.")
        case "EFBIG":
            return tr("it is larger than this disk or account allows"), elsewhere
        case "EROFS":
            return tr("the disk is read only"), elsewhere
        case "read only":
            remedy = tr("Save it under another name, or take that mark away first.")
            return tr("it is marked read only"), remedy
        case "EACCES" | "EPERM":
            remedy = tr("Save it in a folder of your own, or ask for the right to write there.")
            return tr("there is no permission to write there"), remedy
        case "ENOENT" | "ENOTDIR":
            remedy = tr("Connect that disk or share again, or save it in another folder.")
            return tr("its folder “{folder}” is not there", folder=shown(folder)), remedy
        case "EBUSY" | "ETXTBSY":
            remedy = tr("Close it there and save again, or save under another name.")
            return tr("it is open in another program"), remedy
        case "EINTR":
            return tr("the saving was interrupted"), tr("Save it again.")
        case "ENAMETOOLONG" | "EINVAL" | "EILSEQ" | "EISDIR":
            return _common_reason(error), tr("Choose a shorter or simpler name.")
    return _common_reason(error), elsewhere


def why_not_read(error: Exception) -> tuple[str, str]:
    """Return the plain reason why a file could not be read, and what to do."""
    match kind_of(error):
        case "ENOENT" | "ENOTDIR":
            remedy = tr("It may be elsewhere now, or its disk or share is not connected.")
            return tr("there is no such file"), remedy
        case "EACCES" | "EPERM":
            return tr("there is no permission to read it"), tr("Ask its owner for the right to.")
        case "EBUSY":
            return tr("it is open in another program"), tr("Close it there and try again.")
    return _common_reason(error), tr("Choose another file, or try again later.")


def _common_reason(error: Exception) -> str:
    match kind_of(error):
        case "EISDIR":
            return tr("there is a folder of that name")
        case "no file":
            return tr("it is a device or a pipe, not a file")
        case "ENAMETOOLONG":
            return tr("its name or path is too long")
        case "EINVAL" | "EILSEQ":
            return tr("its name is not allowed here")
        case "ELOOP":
            return tr("it is a link that leads in a circle")
        case "EIO":
            return tr("the disk reported a fault")
        case kind if kind in _SHARE_SILENT:
            return tr("the shared folder does not answer")
    told = error.strerror if isinstance(error, OSError) else None
    return tr("the system says “{told}”", told=told or error)
