"""What a test of the batch's page does again and again."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLineEdit, QPushButton

from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.batch.zones import ZoneEditor


def click(button: QPushButton) -> None:
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def choose(box: QComboBox, value: str) -> None:
    box.setCurrentIndex(box.findData(value))
    box.activated.emit(box.currentIndex())


def type_into(line: QLineEdit, text: str) -> None:
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, text) if text else QTest.keyClick(line, Qt.Key.Key_Delete)
    QTest.keyClick(line, Qt.Key.Key_Return)


def editor(page: BatchPage, zone_id: str) -> ZoneEditor:
    row = page.zones.list.rows[zone_id]
    if page.zones.open_id != zone_id:
        click(row.line)
    assert row.editor is not None
    return row.editor
