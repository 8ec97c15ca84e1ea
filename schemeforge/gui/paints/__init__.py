"""The Paints page: the shelf as swatch cards."""
