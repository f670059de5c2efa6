"""The calculated risk level, CRL: how often surges come in by the lines outside.

The editions in force since A2:2022 do not decide by it; it is shown as an indicator.
"""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.core.errors import FieldError


@dataclass(frozen=True, slots=True)
class LineLengths:
    """Real lengths of the lines from the origin towards the network. [m]"""

    lv_overhead_m: float
    lv_underground_m: float
    hv_overhead_m: float
    hv_underground_m: float

    @property
    def total_m(self) -> float:
        """Sum of the real lengths. [m]"""
        return (
            self.lv_overhead_m + self.lv_underground_m + self.hv_overhead_m + self.hv_underground_m
        )


@dataclass(frozen=True, slots=True)
class LineWeights:
    """What one metre of each line counts."""

    lv_overhead_factor: float
    lv_underground_factor: float
    hv_overhead_factor: float
    hv_underground_factor: float


def weighted_length_m(lines: LineLengths, weights: LineWeights, total_max_m: float) -> float:
    """Return LP, the length that counts. [m]

    References
    ----------
    IEC 60364-4-44, 443.5; BS 7671:2018 as first issued, 443.5.

    Raises
    ------
    FieldError
        The real lengths exceed the part of the network that is considered.
    """
    # A millimetre is the rounding of a sum, not a line.
    if lines.total_m > total_max_m + 1e-3:
        raise FieldError(
            "surge_environment",
            f"{lines.total_m:g} m of lines in all",
            f"at most {total_max_m:g} m from the home",
            remedy="Count only the first kilometre, or up to the first surge protection outside.",
        )
    return (
        weights.lv_overhead_factor * lines.lv_overhead_m
        + weights.lv_underground_factor * lines.lv_underground_m
        + weights.hv_overhead_factor * lines.hv_overhead_m
        + weights.hv_underground_factor * lines.hv_underground_m
    )


def risk_level(env_factor: float, lp_m: float, ng_per_km2_year: float) -> float | None:
    """Return CRL = fenv / (LP · Ng), or None without a line: no line is not no risk.

    Parameters
    ----------
    env_factor
        fenv, for the country, the suburb or the town.
    lp_m
        Weighted length of the lines, LP. [m]
    ng_per_km2_year
        Ground flash density, Ng. [1/(km²·year)]

    References
    ----------
    IEC 60364-4-44, 443.5.

    Raises
    ------
    FieldError
        The flash density is not above 0.

    Examples
    --------
    >>> round(risk_level(env_factor=85, lp_m=1040, ng_per_km2_year=1), 1)
    81.7
    """
    if ng_per_km2_year <= 0:
        path = "surge_environment.ng_per_km2_year"
        raise FieldError(path, ng_per_km2_year, "flashes to ground per km² and year, above 0")
    if lp_m <= 0:
        return None
    return env_factor / (lp_m / 1000 * ng_per_km2_year)
