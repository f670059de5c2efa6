"""What leaves the house: drawings, charts, schedules, pack, design file.

A paper is one module, called as on the shelf, with ``TITLE``, ``FILE`` and ``build(design)``;
the command line and the page find it by itself, in whichever of these folders it stands.

==========  =====================================================================
words       figures, names and sentences as every paper writes them
look        the tokens, the typeface and the marks of a verdict
workings    every number opened to its signs, formula, figures and clause
drawing     the board with cover off and on, single-line and wiring diagrams, DXF
readings    what was typed on site, held against the limits
surge       charts and sentences of the surge study
duty        what stands ahead of the SPD and how it wears
lists       findings, steps, conductors, materials, ways as text and tables
answers     one question answered on a terminal
record      the design file
pack        the PDFs: the pack for site and home, the page of schemes
==========  =====================================================================
"""
