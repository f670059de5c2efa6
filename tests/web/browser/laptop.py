"""The circuits' table as a test reaches into it."""

from __future__ import annotations

from playwright.sync_api import Locator, Page


def cell(page: Page, path: str) -> Locator:
    """Return the cell of an entry, by its path within the circuits."""
    return page.locator(f'[data-path="circuits.{path}"]')


def paste(page: Page, block: str) -> None:
    """Paste a block where the keyboard is, as from a spreadsheet."""
    page.evaluate(
        """block => { const data = new DataTransfer(); data.setData('text/plain', block);
        document.activeElement.dispatchEvent(new ClipboardEvent('paste',
        { clipboardData: data, bubbles: true, cancelable: true })); }""",
        block,
    )


def note_outlines(page: Page) -> None:
    """Have the page note which cells are outlined: two seconds may pass unseen by a test."""
    page.evaluate(
        """() => { window.outlined = []; new MutationObserver(all => all.forEach(({ target }) =>
        target.classList.contains('changed') && window.outlined.push(target.dataset.path)))
        .observe(document.body, { subtree: true, attributeFilter: ['class'] }); }"""
    )
