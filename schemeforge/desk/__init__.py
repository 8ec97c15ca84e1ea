"""The open document at the desk: state, history, files, and work done beside the window."""

from schemeforge.desk.history import Entry, History
from schemeforge.desk.jobs import CancelToken, JobRunner
from schemeforge.desk.journal import Journal, Leftover
from schemeforge.desk.looking import Looking
from schemeforge.desk.places import Places, default_places
from schemeforge.desk.session import Session
from schemeforge.desk.state import (
    DeskState,
    Direction,
    Document,
    Page,
    Preferences,
    Selection,
    Surround,
)

__all__ = [
    "CancelToken",
    "DeskState",
    "Direction",
    "Document",
    "Entry",
    "History",
    "JobRunner",
    "Journal",
    "Leftover",
    "Looking",
    "Page",
    "Places",
    "Preferences",
    "Selection",
    "Session",
    "Surround",
    "default_places",
]
