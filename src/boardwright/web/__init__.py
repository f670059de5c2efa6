"""The page of a job on this machine: thin routes over the same functions as the command line.

A request passes ``door`` and comes to a route of ``pages`` or ``api``. What it brings, ``forms``
turn into edits and events; ``homes`` keep them and give designs, worked out in ``working``;
``views`` say as frozen values what a page shows, and ``frame`` sets it with what all pages have in
common. ``devices`` knows who may ask, ``look`` how it looks, and ``server`` starts it all. Which
of them may import which stands in ``pyproject.toml``.
"""
