"""The window: Qt views over one session. Nothing here computes but pixels and text."""
