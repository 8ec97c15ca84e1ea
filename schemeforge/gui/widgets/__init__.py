"""Small widgets of our own that several pages use."""
