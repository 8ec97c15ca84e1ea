"""Predict, compare and plan layered glaze schemes for batches of painted miniatures."""

__version__ = "0.1.0"
