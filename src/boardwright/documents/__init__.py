"""What leaves the house: drawing, charts, schedules, pack, design file.

Each document is one module with ``TITLE``, ``FILE`` and ``build(design)``; the command
line and the page find them by themselves.
"""
