"""Counts in words, one and many."""


def counted(count: int, one: str, many: str) -> str:
    """The text for that many: ``one`` for exactly one, else ``many``; "{0}" is the count."""
    return (one if count == 1 else many).format(count)
