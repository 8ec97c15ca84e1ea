"""Makes the view of a page; each is imported when first shown."""

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.page import PageView


def make_page(page: Page, bridge: Bridge) -> PageView:
    """The view of that page, watching the bridge."""
    if page is Page.PAINTS:
        from schemeforge.gui.paints.page import PaintsPage

        return PaintsPage(bridge)
    if page is Page.COATS:
        from schemeforge.gui.coats.page import CoatsPage

        return CoatsPage(bridge)
    if page is Page.SCHEMES:
        from schemeforge.gui.schemes.page import SchemesPage

        return SchemesPage(bridge)
    if page is Page.BATCH:
        from schemeforge.gui.batch.page import BatchPage

        return BatchPage(bridge)
    from schemeforge.gui.sheet.page import SheetPage

    return SheetPage(bridge)
