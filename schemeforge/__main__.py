"""``python -m schemeforge`` is the same as ``schemeforge``."""

import sys

from schemeforge.cli.main import run

if __name__ == "__main__":
    sys.exit(run())
