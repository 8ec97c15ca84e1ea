"""The three surrounds: neutral greys around every colour, one restrained accent.

Surround greys have equal red, green and blue, so that nothing tints judgment. Text keeps a
contrast of at least 4.5:1 on each; a test works the ratios out.
"""

from dataclasses import dataclass

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication

from schemeforge.desk import Surround
from schemeforge.resources import asset

# One spacing scale, device-independent pixels.
GAP_TIGHT = 4
GAP = 8
GAP_WIDE = 16
GAP_PAGE = 24
RADIUS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """Colours of one surround as ``#rrggbb``.

    Args:
        window: Around every colour.
        panel: Raised areas with controls.
        well: Sunken areas: fields, lists.
        line: Hairlines and control borders (3:1 against window and panel).
        text: Main text.
        muted: Secondary text.
        accent: The one accent, for what is picked and for focus.
        on_accent: Text on the accent.
        caution: Marks of warnings, always beside a word or sign.
    """

    window: str
    panel: str
    well: str
    line: str
    text: str
    muted: str
    accent: str
    on_accent: str
    caution: str


THEMES = {
    Surround.GREY: Theme(
        window="#969696",
        panel="#a4a4a4",
        well="#b4b4b4",
        line="#484848",
        text="#0e0e0e",
        muted="#242424",
        accent="#06384a",
        on_accent="#ffffff",
        caution="#551b00",
    ),
    Surround.DARK: Theme(
        window="#242424",
        panel="#303030",
        well="#1a1a1a",
        line="#828282",
        text="#ededed",
        muted="#bcbcbc",
        accent="#74c2d6",
        on_accent="#08222a",
        caution="#ffb27a",
    ),
    Surround.LIGHT: Theme(
        window="#e6e6e6",
        panel="#f3f3f3",
        well="#ffffff",
        line="#7c7c7c",
        text="#161616",
        muted="#4a4a4a",
        accent="#0b566f",
        on_accent="#ffffff",
        caution="#8a3200",
    ),
}


def theme_of(surround: Surround) -> Theme:
    """The colours of a surround."""
    return THEMES[surround]


def apply_theme(app: QApplication, surround: Surround) -> None:
    """Dress the whole application in a surround.

    Best before any widget is made: each that exists is dressed anew, which takes a while.
    """
    theme = theme_of(surround)
    sheet = _sheet(theme)
    if app.styleSheet() != sheet:
        app.setPalette(_palette(theme))
        app.setStyleSheet(sheet)


def _palette(theme: Theme) -> QPalette:
    palette = QPalette()
    role = QPalette.ColorRole
    for target, colour in (
        (role.Window, theme.window),
        (role.WindowText, theme.text),
        (role.Base, theme.well),
        (role.AlternateBase, theme.panel),
        (role.Text, theme.text),
        (role.PlaceholderText, theme.muted),
        (role.Button, theme.panel),
        (role.ButtonText, theme.text),
        (role.Highlight, theme.accent),
        (role.HighlightedText, theme.on_accent),
        (role.ToolTipBase, theme.well),
        (role.ToolTipText, theme.text),
        (role.Link, theme.accent),
        (role.Mid, theme.line),
    ):
        palette.setColor(target, QColor(colour))
    disabled = QPalette.ColorGroup.Disabled
    for target in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(disabled, target, QColor(theme.line))
    return palette


def _arrow(way: str, t: Theme) -> str:
    ink = "chalk" if QColor(t.text).lightness() > 128 else "ink"
    return asset("icons", f"arrow-{way}-{ink}.svg").as_posix()


def _mark(name: str, t: Theme) -> str:
    ink = "chalk" if QColor(t.on_accent).lightness() > 128 else "ink"
    return asset("icons", f"{name}-{ink}.svg").as_posix()


def _sheet(t: Theme) -> str:
    up, down = _arrow("up", t), _arrow("down", t)
    tick, dot = _mark("tick", t), _mark("dot", t)
    return f"""
    QWidget {{ font-size: 10.5pt; }}
    QToolTip {{ background: {t.well}; color: {t.text}; border: 1px solid {t.line}; padding: 4px; }}
    QLabel[role="title"] {{ font-size: 15pt; font-weight: 600; }}
    QLabel[role="heading"] {{ font-weight: 600; }}
    QLabel[role="muted"] {{ color: {t.muted}; font-size: 9.5pt; }}
    QLabel[role="caution"] {{ color: {t.caution}; }}
    QFrame[role="panel"] {{ background: {t.panel}; border-radius: {RADIUS}px; }}
    QFrame[role="notice"] {{
        background: {t.panel}; border: 1px solid {t.line}; border-radius: {RADIUS}px;
    }}
    QPushButton, QToolButton {{
        background: {t.panel}; color: {t.text}; border: 1px solid {t.line};
        border-radius: {RADIUS}px; padding: 4px 10px; min-height: 21px;
    }}
    QPushButton:hover, QToolButton:hover {{ background: {t.well}; }}
    QPushButton:focus, QToolButton:focus, QComboBox:focus, QLineEdit:focus,
    QAbstractSpinBox:focus, QPlainTextEdit:focus, QAbstractItemView:focus
    {{ border: 2px solid {t.accent}; }}
    QPushButton:checked, QToolButton:checked
    {{ background: {t.accent}; color: {t.on_accent}; border-color: {t.accent}; }}
    QPushButton:checked:focus, QToolButton:checked:focus
    {{ border: 2px solid {t.on_accent}; }}
    QPushButton[role="primary"]
    {{ background: {t.accent}; color: {t.on_accent}; border-color: {t.accent}; }}
    QPushButton[role="primary"]:hover {{ border-color: {t.on_accent}; }}
    QPushButton[role="primary"]:focus {{ border: 2px solid {t.on_accent}; }}
    QPushButton:disabled, QToolButton:disabled {{ color: {t.line}; }}
    QPushButton[role="primary"]:disabled
    {{ background: transparent; color: {t.line}; border-color: {t.line}; }}
    QPushButton:checked:disabled, QToolButton:checked:disabled
    {{ background: {t.well}; color: {t.muted}; border: 2px solid {t.line}; padding: 3px 9px; }}
    QPushButton:focus, QToolButton:focus {{ padding: 3px 9px; }}
    QPushButton[role="quiet"], QToolButton[role="quiet"]
    {{ background: transparent; border: 1px solid transparent; }}
    QPushButton[role="quiet"]:focus, QToolButton[role="quiet"]:focus
    {{ border: 2px solid {t.accent}; }}
    QPushButton[role="quiet"]:checked, QToolButton[role="quiet"]:checked
    {{ background: {t.accent}; color: {t.on_accent}; border-color: {t.accent}; }}
    QPushButton[role="link"] {{
        background: transparent; color: {t.accent}; border: 1px solid transparent;
        padding: 0 4px; min-height: 0; text-decoration: underline;
    }}
    QPushButton[role="link"]:focus {{ border: 1px solid {t.accent}; padding: 0 4px; }}
    QPushButton::menu-indicator, QToolButton::menu-indicator {{ image: none; width: 0px; }}
    QLineEdit, QAbstractSpinBox, QComboBox, QPlainTextEdit {{
        background: {t.well}; color: {t.text}; border: 1px solid {t.line};
        border-radius: {RADIUS}px; padding: 3px 6px; min-height: 20px;
        selection-background-color: {t.accent}; selection-color: {t.on_accent};
    }}
    /* As high as a spin box, and no higher with the wider border of the focus. */
    QLineEdit, QComboBox {{ padding: 5px 6px 4px 6px; }}
    QLineEdit:focus, QComboBox:focus {{ padding: 4px 5px 3px 5px; }}
    QLineEdit QToolButton {{ min-height: 0; padding: 0; border: none; background: transparent; }}
    QLineEdit, QPlainTextEdit {{ placeholder-text-color: {t.muted}; }}
    QAbstractSpinBox {{ padding-right: 18px; }}
    QAbstractSpinBox::up-button, QAbstractSpinBox::down-button {{
        subcontrol-origin: border; width: 16px; border: none; background: transparent;
    }}
    QAbstractSpinBox::up-button {{ subcontrol-position: top right; }}
    QAbstractSpinBox::down-button {{ subcontrol-position: bottom right; }}
    QAbstractSpinBox::up-arrow {{ image: url("{up}"); width: 9px; height: 9px; }}
    QAbstractSpinBox::down-arrow, QComboBox::down-arrow
    {{ image: url("{down}"); width: 9px; height: 9px; }}
    QComboBox {{ padding-right: 20px; }}
    QComboBox:focus {{ padding-right: 19px; }}
    QComboBox::drop-down {{ border: none; width: 18px; }}
    QAbstractItemView {{
        background: {t.well}; color: {t.text}; border: 1px solid {t.line};
        gridline-color: {t.line}; alternate-background-color: {t.panel};
        selection-background-color: {t.accent}; selection-color: {t.on_accent};
    }}
    QHeaderView::section {{
        background: {t.panel}; color: {t.text}; border: none;
        border-bottom: 1px solid {t.line}; padding: 4px 8px; font-weight: 600;
    }}
    QTableCornerButton::section {{
        background: {t.panel}; border: none; border-bottom: 1px solid {t.line};
    }}
    QScrollArea {{ border: none; background: transparent; }}
    QScrollArea > QWidget > QWidget {{ background: transparent; }}
    QScrollBar {{ background: transparent; border: none; margin: 0; }}
    QScrollBar:vertical {{ width: 12px; }}
    QScrollBar:horizontal {{ height: 12px; }}
    QScrollBar::handle {{ background: {t.line}; border-radius: 3px; margin: 0 3px; }}
    QScrollBar::handle:horizontal {{ margin: 3px 0; min-width: 32px; }}
    QScrollBar::handle:vertical {{ min-height: 32px; }}
    QScrollBar::handle:hover {{ background: {t.accent}; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; border: none; }}
    QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
    QMenu {{ background: {t.well}; color: {t.text}; border: 1px solid {t.line}; }}
    QMenu::item:selected {{ background: {t.accent}; color: {t.on_accent}; }}
    QMenuBar {{ background: {t.window}; color: {t.text}; }}
    QMenuBar::item:selected {{ background: {t.accent}; color: {t.on_accent}; }}
    QCheckBox, QRadioButton {{ border: 2px solid transparent; border-radius: {RADIUS}px; }}
    QCheckBox:focus, QRadioButton:focus {{ border-color: {t.accent}; }}
    QCheckBox::indicator, QRadioButton::indicator {{
        width: 14px; height: 14px; background: {t.well}; border: 1px solid {t.line};
    }}
    QCheckBox::indicator {{ border-radius: 3px; }}
    QRadioButton::indicator {{ border-radius: 8px; }}
    QCheckBox::indicator:checked, QRadioButton::indicator:checked
    {{ background: {t.accent}; border-color: {t.accent}; }}
    QCheckBox::indicator:checked {{ image: url("{tick}"); }}
    QRadioButton::indicator:checked {{ image: url("{dot}"); }}
    QCheckBox::indicator:disabled, QRadioButton::indicator:disabled
    {{ background: transparent; }}
    QProgressBar {{
        background: {t.well}; border: 1px solid {t.line}; border-radius: {RADIUS}px;
        text-align: center; min-height: 16px;
    }}
    QProgressBar::chunk {{ background: {t.accent}; }}
    """
