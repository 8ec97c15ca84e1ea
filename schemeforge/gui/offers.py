"""What the window offers when it opens: work to take up again, and the first thing to try."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from schemeforge.desk import Leftover, Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import FileActions
from schemeforge.gui.widgets.notice import NoticeLine, Offer


class Offers(QObject):
    """Puts offers on the notice line.

    Signals:
        clock_wanted: The user wants to see the step clock.

    Args:
        bridge: The session joined to Qt.
        files: Asks before work is left.
        notice: Where offers stand.
        focus_page: Puts the focus on the first widget of the page shown.
    """

    clock_wanted = Signal()

    def __init__(
        self,
        bridge: Bridge,
        files: FileActions,
        notice: NoticeLine,
        focus_page: Callable[[], None],
    ) -> None:
        super().__init__(notice)
        self.bridge = bridge
        self._files = files
        self._notice = notice
        self._focus_page = focus_page

    def offer_recovery(self) -> None:
        """Offer unsaved work of runs that ended badly, newest first; dismissed it is kept."""
        for left in self.bridge.session.leftovers():
            self._notice.offer(self._recovery(left))

    def offer_first_thing(self) -> None:
        """Point to the first thing to try, unless that was dismissed for good."""
        if not self.bridge.state.preferences.pointer_dismissed:
            self.point_to_first_thing()

    def point_to_first_thing(self) -> None:
        """Point to the first thing to try, whether that was dismissed before or not."""
        sentence = self.tr(
            "Try this first, on Coats: drag the upper edge of a band, or press + on it. The coat "
            "gets heavier and every colour follows."
        )
        answer = (self.tr("Take me there"), self._go_to_the_cutaway)
        self._notice.offer(Offer(sentence=sentence, answers=(answer,), dismissed=self._forget))

    def offer_clock(self) -> None:
        """Say that the step clock of the project waits for an answer, or still has something."""
        state, places = self.bridge.state, self.bridge.session.places
        if not places.clock_file(state.project.id, state.path).exists():
            return  # most projects have none, and the plan need not be loaded to tell
        from schemeforge.gui.batch.keeper import keeper_of

        clock = keeper_of(self.bridge)
        if clock.state.gap is not None:
            sentence = clock.state.gap.sentence
        elif clock.loose():
            sentence = self.tr("The step clock has models on record that this project lacks.")
        elif not clock.state.is_idle:
            sentence = self.tr("The step clock still has a step in hand.")
        else:
            return
        answer = (self.tr("Go to the clock"), self._go_to_the_clock)
        self._notice.offer(Offer(sentence=sentence, answers=(answer,)))

    def _recovery(self, left: Leftover) -> Offer:
        def take_up() -> None:
            if self._files.may_leave():
                self.bridge.attempt(lambda: self.bridge.session.recover(left))
            else:
                self._notice.offer(self._recovery(left))

        sentence = self.tr('Unsaved work on "{0}" was found from a run that did not end well.')
        answers = ((self.tr("Take it up"), take_up), (self.tr("Drop it"), left.discard))
        return Offer(sentence=sentence.format(left.project.name), answers=answers)

    def _forget(self) -> None:
        self.bridge.session.prefer(pointer_dismissed=True)

    def _go_to_the_clock(self) -> None:
        self.bridge.session.select(page=Page.BATCH)
        self.clock_wanted.emit()

    def _go_to_the_cutaway(self) -> None:
        self._forget()
        self.bridge.session.select(page=Page.COATS)
        self._focus_page()
