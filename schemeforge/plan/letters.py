"""Pot letters: one for each mix that a coloured step uses, in the order of first use."""

from schemeforge.scheme import Scheme

_ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def pot_letters(scheme: Scheme) -> dict[str, str]:
    """Letter by mix id: A, B, ... Z, AA, AB, ...; a mix that no step uses has none.

    Letters follow the steps' order alone, not who gets what, so that a pot keeps its letter when
    a group is turned from full to short.
    """
    letters: dict[str, str] = {}
    for step in scheme.steps:
        if step.mix_id is not None and step.mix_id not in letters:
            letters[step.mix_id] = letter(len(letters))
    return letters


def letter(position: int) -> str:
    """Letters of the pot at that place, counted from 0."""
    tail = _ALPHABET[position % 26]
    return tail if position < 26 else letter(position // 26 - 1) + tail
