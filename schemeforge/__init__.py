"""Predict, compare and plan layered glaze schemes for batches of painted miniatures."""

import os

# Matrix products here are small: a second thread in the linear algebra library only makes the
# first wait, by milliseconds where the other core is busy. Read when numpy is first imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__version__ = "0.1.0"
