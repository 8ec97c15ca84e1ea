"""Waiting for the measures of what is shown."""

from pytestqt.qtbot import QtBot

from schemeforge.gui.schemes.page import SchemesPage


def measured(qtbot: QtBot, page: SchemesPage) -> None:
    """Wait until what is shown is measured."""

    def done() -> bool:
        found = page.comparison
        return (
            not page.measuring.is_busy
            and found is not None
            and [entry.scheme for entry in found.schemes] == list(page.shown)
        )

    qtbot.waitUntil(done)
