"""How large a shelf and its files may be, so that a hostile file cannot fill memory."""

MOST_PAINTS = 20_000
MOST_BYTES = 256 * 1024**2
MOST_BYTES_EXCHANGED = 32 * 1024**2
