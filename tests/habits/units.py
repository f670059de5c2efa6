"""The units a name may end in, and the numbers that have none (docs/nomenclature.md explains)."""

UNITS = (
    "_a",
    "_v",
    "_w",
    "_ohm",
    "_mohm",  # megohm, as every insulation tester reads
    "_s",
    "_h",
    "_f",
    "_j",
    "_hz",
    "_c",
    "_m",
    "_mm",
    "_mm2",
    "_m2",
    "_nm",  # newton metre, as a torque screwdriver reads
    "_modules",
    "_gbp",
    "_as",  # charge
    "_a2s",  # let-through energy
    "_years",
    "_per_km2_year",  # ground flash density
    "_per_year",  # how often
    "_degrees",
)

# Words that say "no unit" by themselves.
PURE_ENDINGS = ("factor", "fraction", "multiple", "ratio", "share")

# Numbers without a unit: a ratio, a factor, a count, a weight. Each says what it is.
PURE_NUMBERS = {
    "b1": "coefficient of a fit over logarithms",
    "b2": "as b1",
    "b3": "as b1",
    "b4": "as b1",
    "cmin": "minimum voltage factor",
    "correction": "ratio of a waveform's named peak to its true one",
    "cost": "value of the arrangement's objective",
    "count": "how many; a length counts in the unit beside it",
    "crl": "calculated risk level",
    "gap": "proven distance to the optimum, a fraction",
    "high": "as low",
    "limit": "a finding's limit; its unit stands beside it",
    "low": "lower point of an assumed input; its unit ends the input's name",
    "path": "points of the enclosure's frame, which is in mm",
    "points": "pairs of A and V, as a maker prints them",
    "rdf": "rated diversity factor of an assembly",
    "rows": "a table's cells; each column is named with its unit",
    "score": "weights of a candidate, compared in order",
    "span": "how far an axis goes, in its own unit",
    "step": "between two ticks of an axis, as span",
    "typical": "as low",
    "value": "a finding's value; its unit stands beside it",
    "values": "a formula's figures by name; each name ends in its unit",
    "vi_points": "as points",
    "weight": "weight of a preference",
}
