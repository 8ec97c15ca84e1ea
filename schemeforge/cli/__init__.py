"""The command line: one file per command, the same engine without a screen."""
