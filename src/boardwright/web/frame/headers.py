"""What the browser may do with an answer: the headers of every one, and the content policy."""

from __future__ import annotations

import base64
import hashlib
import re

_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)

ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    # To this page itself the browser says where a form came from; to nobody else.
    "Referrer-Policy": "same-origin",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
"""Headers of every answer."""


def policy(drawing: str = "") -> str:
    """Return the content policy of a page; only the styles inside its drawing pass by their hash.

    No script but the page's own files ever runs, and nothing is fetched from elsewhere.
    """
    hashes = " ".join(f"'sha256-{_hash(style)}'" for style in _STYLE.findall(drawing))
    return (
        f"default-src 'none'; style-src 'self'{f' {hashes}' if hashes else ''}; "
        "script-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; "
        "img-src 'self' blob:; font-src 'self'; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    )


FILE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; sandbox"
"""Of a drawing served as a file: it brings its own style, and may do nothing else."""


def _hash(style: str) -> str:
    return base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()


__all__ = ["ALWAYS", "FILE_POLICY", "policy"]
