"""Refusals of files, by the name that a painter knows them by. No Qt."""

from collections.abc import Iterable
from pathlib import Path


def by_file_name(sentence: str, paths: Iterable[Path]) -> tuple[str, str]:
    """The sentence with file names in place of whole paths, and the path that stood there."""
    for path in sorted(paths, key=lambda one: -len(str(one))):
        if str(path) != path.name and str(path) in sentence:
            return sentence.replace(str(path), path.name), str(path)
    return sentence, ""
