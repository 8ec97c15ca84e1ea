"""Names of files made from names of the document."""

import re

_UNFIT = re.compile(r'[\x00-\x1f\x7f<>:"/\\|?*]+')


def plain_name(text: str, otherwise: str = "project") -> str:
    """The text as a file's name that every system takes.

    Args:
        text: Any name.
        otherwise: The name where nothing of it can be used.
    """
    return _UNFIT.sub("-", text).strip(" .-")[:100].rstrip(" .") or otherwise
